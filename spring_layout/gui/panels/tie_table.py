"""The table of ties, in the order they are tied."""

from PySide6.QtWidgets import QHeaderView

from spring_layout.gui.panels.tables import Column, Table, TableModel
from spring_layout.gui.panels.unhurried import Unhurried
from spring_layout.gui.selection import NOTHING, Picked, TieKey
from spring_layout.gui.words import RUN_WORDS
from spring_layout.gui.workbench import Workbench
from spring_layout.plan import Plan
from spring_layout.planning.parts import Line


class TieRows(TableModel):
    """A row a tie; its key is the tie's number."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__(bench)
        self._plan: Plan | None = None
        self.columns = (
            Column("{Tie}", "Its number in the order of tying", lambda row: str(self.keys[row])),
            Column(
                "Run",
                "Which way it runs",
                lambda row: RUN_WORDS[self._line(row).run],
                is_number=False,
            ),
            Column(
                "Over",
                "The springs it is hitched to, in its direction",
                self._springs,
                is_number=False,
            ),
            Column("Length over the springs", "From rail to rail", self._drape),
            Column("Cut", "What to cut from the hank", self._cut),
            Column("Cross knots", "How many it makes on its way", self._knots),
        )

    def follow(self) -> None:
        """Takes up the ties of the plan; until the next time the rows read from this one."""
        plan = self._plan = self.bench.planner.plan
        self.take([line.number for line in plan.parts.ties.lines] if plan else [])

    def _line(self, row: int) -> Line:
        assert self._plan is not None
        number = self.keys[row]
        return next(line for line in self._plan.parts.ties.lines if line.number == number)

    def _springs(self, row: int) -> str:
        return ", ".join(self.bench.label(name) for name in self._line(row).springs)

    def _drape(self, row: int) -> str:
        return self._twine(row, "drape")

    def _cut(self, row: int) -> str:
        return self._twine(row, "cut_length")

    def _twine(self, row: int, what: str) -> str:
        plan = self._plan
        lines = plan.parts.twine.lines if plan else ()
        found = next((line for line in lines if line.number == self.keys[row]), None)
        if found is None:
            return "–"
        return self.bench.length(getattr(found, what), "cut" if what == "cut_length" else "place")

    def _knots(self, row: int) -> str:
        plan = self._plan
        crossings = plan.parts.ties.crossings if plan else ()
        return str(sum(crossing.tied_by == self.keys[row] for crossing in crossings))


class TieTable(Table):
    """Picking a row picks the tie, and the other way round."""

    def __init__(self, bench: Workbench) -> None:
        self._bench = bench
        self._model = TieRows(bench)
        super().__init__("Ties", self._model, self._pick)
        self.setSelectionMode(self.SelectionMode.SingleSelection)
        self.horizontalHeader().setStretchLastSection(False)
        self.horizontalHeader().setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        self._unhurried = Unhurried(bench.document, self.follow, self)
        bench.planner.plan_changed.connect(self._unhurried.look)
        bench.selection.changed.connect(self.follow_selection)

    def _pick(self, numbers: list[int]) -> None:
        line = self._bench.line(numbers[0]) if numbers else None
        picked = Picked(tie=TieKey(line.run, line.springs[0])) if line else NOTHING
        self._bench.selection.pick(picked)

    def chosen(self) -> set[int]:
        line = self._bench.picked_line()
        return {line.number} if line else set()
