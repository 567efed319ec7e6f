"""The heights of the rails' tops above the webbing: of all rails, and of each that differs."""

from collections.abc import Callable

from spring_layout.deck import edits
from spring_layout.deck.model import Deck, Rail
from spring_layout.gui.panels.fields import LengthField
from spring_layout.gui.panels.form import Page
from spring_layout.gui.words import RAIL_WORDS
from spring_layout.gui.workbench import Workbench

RAILS: tuple[Rail, ...] = ("back", "right", "front", "left")


class RailTops:
    """Rows of a page, one for all rails and one for each rail by its name."""

    def __init__(self, page: Page, bench: Workbench) -> None:
        self._bench = bench
        page.heading("Rail tops above the {webbing}")
        self.all = page.row(
            "All rails",
            LengthField(bench, "Top of all rails", self._set_all),
            "From the {webbing}'s upper face to the rails' upper faces",
        )
        self.fields = {
            rail: page.row(
                RAIL_WORDS[rail],
                LengthField(bench, f"Top of the {rail} rail", self._setter(rail)),
                "Where this rail is higher or lower than the others",
            )
            for rail in RAILS
        }

    def follow(self) -> None:
        """Shows the deck as it is; where sides of one name differ, that."""
        deck = self._bench.deck
        if deck is None:
            return
        tops = {rail: _tops(deck, rail) for rail in RAILS}
        every = set().union(*tops.values())
        self._show(self.all, every)
        for rail, field in self.fields.items():
            field.setEnabled(bool(tops[rail]))
            self._show(field, tops[rail])

    def _show(self, field: LengthField, tops: set[float]) -> None:
        field.show_mm(next(iter(tops)) if len(tops) == 1 else None)
        field.setPlaceholderText("differ" if tops else "no rail")

    def _set_all(self, mm: float) -> None:
        deck = self._bench.document.deck
        if deck is None:
            return
        after = edits.set_rails(deck, rail_top=mm)
        for number, side in enumerate(deck.frame.sides):
            if side.rail_top is not None:
                after = edits.change_side(after, number, rail_top=None)
        self._bench.document.edit("Height of the rails", after)

    def _setter(self, rail: Rail) -> Callable[[float], None]:
        return lambda mm: self._set(rail, mm)

    def _set(self, rail: Rail, mm: float) -> None:
        deck = self._bench.document.deck
        if deck is None:
            return
        after = deck
        for number, side in enumerate(deck.frame.sides):
            if side.rail == rail:
                after = edits.change_side(after, number, rail_top=mm)
        self._bench.document.edit(f"Height of the {rail} rail", after)


def _tops(deck: Deck, rail: Rail) -> set[float]:
    frame = deck.frame
    return {frame.top_of(i) for i, side in enumerate(frame.sides) if side.rail == rail}
