"""The table of springs: the canvas in words."""

from dataclasses import dataclass

from spring_layout.deck import edits
from spring_layout.deck.model import Deck, Spring
from spring_layout.gui.panels.tables import Column, Table, TableModel
from spring_layout.gui.panels.unhurried import Unhurried
from spring_layout.gui.workbench import Workbench
from spring_layout.plan import Plan
from spring_layout.planning.parts import Spaces, Standing
from spring_layout.units import LengthError


@dataclass(frozen=True)
class Seen:
    """What the rows read from: one deck with its plan and its gaps."""

    deck: Deck | None = None
    plan: Plan | None = None
    standing: Standing | None = None
    spaces: Spaces | None = None


class SpringRows(TableModel):
    """A row a spring, in the order of the labels."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__(bench)
        self._seen = Seen()
        self.columns = (
            Column("Spring", "Its label", lambda row: bench.label(self.keys[row]), is_number=False),
            Column(
                "Right of the middle",
                "From the frame's middle to its centre",
                lambda row: self._place(row, 0),
                lambda row, text: self._move(row, 0, text),
            ),
            Column(
                "From the back",
                "From the opening's back edge to its centre",
                lambda row: self._place(row, 1),
                lambda row, text: self._move(row, 1, text),
            ),
            Column("Nearest gap", "To the nearest top coil", self._gap),
            Column("To the rail", "From its top coil to the nearest side", self._far),
            Column("Tied height", "From the {webbing} to its top coil", self._tied),
            Column(
                "Measured",
                "Its height once it is tied, as measured; the record prints it",
                self._measured,
                self._measure,
            ),
            Column("{Ties}", "How many {ties} run over it", self._ties),
            Column("Size", "Its spring size", lambda row: self._spring(row).coil, is_number=False),
            Column(
                "Keep here",
                "Spacing evenly leaves it in place",
                lambda _: "",
                ticked=lambda row: self._spring(row).held,
                tick=self._keep,
                is_number=False,
            ),
        )

    def follow(self) -> None:
        """Takes up the deck, its gaps and the order of its labels; the rows read from these."""
        planner = self.bench.planner
        deck, plan = self.bench.deck, planner.plan
        self._seen = Seen(deck, plan, planner.standing, planner.spaces)
        ids = {spring.id for spring in deck.springs} if deck else set()
        rows = plan.parts.rows if plan else ()
        order = [name for row in rows for name in row if name in ids]
        known = set(order)
        self.take(order + [s.id for s in deck.springs if s.id not in known] if deck else [])

    def _spring(self, row: int) -> Spring:
        assert self._seen.deck is not None
        return self._seen.deck.spring(self.keys[row])

    def _place(self, row: int, axis: int) -> str:
        spring = self._spring(row)
        return self.bench.length((spring.x, spring.y)[axis] - self.bench.origin()[axis])

    def _spaces(self, row: int) -> tuple[Spaces, int] | None:
        standing, spaces = self._seen.standing, self._seen.spaces
        index = standing.index.get(self.keys[row]) if standing else None
        return None if spaces is None or index is None else (spaces, index)

    def _gap(self, row: int) -> str:
        found, standing = self._spaces(row), self._seen.standing
        if found is None or standing is None or found[0].nearest[found[1]] < 0:
            return "–"
        spaces, index = found
        other = standing.ids[int(spaces.nearest[index])]
        return f"{self.bench.length(float(spaces.gap[index]))} to {self.bench.label(other)}"

    def _far(self, row: int) -> str:
        found = self._spaces(row)
        return self.bench.length(float(found[0].clearance[found[1]])) if found else "–"

    def _tied(self, row: int) -> str:
        plan = self._seen.plan
        index = plan.parts.standing.index.get(self.keys[row]) if plan else None
        if plan is None or index is None:
            return "–"
        return self.bench.length(float(plan.parts.heights.tied[index]))

    def _ties(self, row: int) -> str:
        plan = self._seen.plan
        lines = plan.parts.ties.lines if plan else ()
        return str(sum(self.keys[row] in line.springs for line in lines))

    def _measured(self, row: int) -> str:
        height = self._spring(row).measured_height
        return "" if height is None else self.bench.length(height, "exact")

    def _measure(self, row: int, text: str) -> bool:
        name = self.keys[row]
        try:
            height = self.bench.read_length(text) if text.strip() else None
        except LengthError as error:
            self.bench.say(str(error))
            return False
        words = f"Measured height of {self.bench.label(name)}"
        return self.bench.attempt(words, lambda deck: edits.measure_springs(deck, [name], height))

    def _move(self, row: int, axis: int, text: str) -> bool:
        spring = self._spring(row)
        try:
            value = self.bench.origin()[axis] + self.bench.read_length(text)
        except LengthError as error:
            self.bench.say(str(error))
            return False
        place = (value, spring.y) if axis == 0 else (spring.x, value)
        words = f"Place {self.bench.label(spring.id)}"
        return self.bench.attempt(words, lambda deck: edits.place_spring(deck, spring.id, *place))

    def _keep(self, row: int, on: bool) -> bool:
        name = self.keys[row]
        words = "Keep here" if on else "Let go"
        return self.bench.attempt(words, lambda deck: edits.hold_springs(deck, [name], on))


class SpringTable(Table):
    """Picking rows picks the springs, and the other way round."""

    def __init__(self, bench: Workbench) -> None:
        self._bench = bench
        self._model = SpringRows(bench)
        super().__init__("Springs", self._model, bench.selection.pick_springs)
        self._unhurried = Unhurried(bench.document, self.follow, self)
        bench.planner.plan_changed.connect(self._unhurried.look)
        bench.planner.spaces_changed.connect(self._unhurried.look)
        bench.selection.changed.connect(self.follow_selection)

    def chosen(self) -> set[str]:
        return set(self._bench.selection.springs)
