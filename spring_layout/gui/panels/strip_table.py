"""The table of the webbing: every strip with its place, which can be typed, and what to cut."""

from spring_layout.gui.panels.tables import Column, Table, TableModel
from spring_layout.gui.selection import NOTHING, Picked, StripKey
from spring_layout.gui.strips import key_of, strip_words, with_strip_at
from spring_layout.gui.workbench import Workbench
from spring_layout.planning.parts import Strip, WebbingPlan
from spring_layout.units import LengthError

_ENDS = {"front-to-back": ("back", "front"), "side-to-side": ("left", "right")}


class StripRows(TableModel):
    """A row a strip; its key is the strip's key and which part of it."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__(bench)
        self._webbing: WebbingPlan | None = None
        self.columns = (
            Column(
                "Strip", "Counted from the left, and from the back", self._name, is_number=False
            ),
            Column(
                "Middle at",
                "From the frame's middle to the right, or from the back; can be typed",
                self._middle,
                write=self._move,
            ),
            Column("Span", "The longest stretch between inside edges", self._span),
            Column("Cut", "What to cut off the roll: span, rails, folds, allowance", self._cut),
            Column("Fixings", "Tacks or staples in the whole strip", self._fixings),
            Column("Ends", "Where it is split round a block", self._ends, is_number=False),
        )

    def follow(self) -> None:
        """Takes up the strips of the plan; until the next time the rows read from these."""
        plan = self.bench.planner.plan
        webbing = self._webbing = plan.parts.webbing if plan else None
        self.take(list(range(len(webbing.strips))) if webbing else [])

    def strip(self, row: int) -> Strip:
        """The strip of a row."""
        webbing = self._webbing
        assert webbing is not None
        number: int = self.keys[row]
        return webbing.strips[number]

    def key(self, row: int) -> StripKey:
        """The key of a row's strip."""
        webbing = self._webbing
        assert webbing is not None
        return key_of(webbing, self.strip(row))

    def _name(self, row: int) -> str:
        return strip_words(self.key(row))

    def _middle(self, row: int) -> str:
        return self.bench.length(self.strip(row).at - self._zero(row), "exact")

    def _zero(self, row: int) -> float:
        return self.bench.origin()[0 if self.strip(row).run == "front-to-back" else 1]

    def _span(self, row: int) -> str:
        return self.bench.length(self.strip(row).span)

    def _cut(self, row: int) -> str:
        return self.bench.length(self.strip(row).cut_length, "cut")

    def _fixings(self, row: int) -> str:
        return str(self.strip(row).fixings)

    def _ends(self, row: int) -> str:
        strip = self.strip(row)
        split = [
            name for name, is_split in zip(_ENDS[strip.run], strip.split, strict=True) if is_split
        ]
        return f"split at the {' and '.join(split)}" if split else "whole"

    def _move(self, row: int, text: str) -> bool:
        webbing = self._webbing
        if webbing is None or text == self._middle(row):
            return False
        try:
            to = self.bench.read_length(text) + self._zero(row)
        except LengthError as error:
            self.bench.say(str(error))
            return False
        key = self.key(row)
        return self.bench.attempt(
            "Place a strip", lambda deck: with_strip_at(deck, webbing, key, to)
        )


class StripTable(Table):
    """Picking a row picks the strip, and the other way round."""

    def __init__(self, bench: Workbench) -> None:
        self._bench = bench
        self._model = StripRows(bench)
        super().__init__("Webbing", self._model, self._pick)
        self.setSelectionMode(self.SelectionMode.SingleSelection)
        bench.planner.plan_changed.connect(self.follow)
        bench.selection.changed.connect(self.follow_selection)

    def _pick(self, rows: list[int]) -> None:
        picked = Picked(strip=self._model.key(rows[0])) if rows else NOTHING
        self._bench.selection.pick(picked)

    def chosen(self) -> set[int]:
        key = self._bench.selection.picked.strip
        rows = range(len(self._model.keys))
        return {row for row in rows if key is not None and self._model.key(row) == key}
