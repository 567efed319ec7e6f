"""Which springs to buy for the tied height, and what comes out with springs that are there."""

from collections.abc import Callable

from spring_layout.deck.model import Deck
from spring_layout.gui.panels.fields import LengthField
from spring_layout.gui.panels.form import Page, button
from spring_layout.gui.workbench import Workbench
from spring_layout.planning.height_stack import (
    FRENCH_BLOCK,
    SQUEEZED_BY,
    FreeHeightAdvice,
    Outcome,
    free_heights_to_buy,
    outcome_of,
)
from spring_layout.planning.heights import typical_coil


class SpringAdvice:
    """Rows of a page: the schools' free heights, and the springs in hand."""

    def __init__(self, page: Page, bench: Workbench, tie_to: Callable[[float], None]) -> None:
        self._bench, self._tie_to = bench, tie_to
        self._free: float | None = None
        page.heading("Free height to buy")
        page.note("The schools differ; each goes by its own rule.")
        self.advice = [page.note(" ", "plain") for _ in range(3)]
        for told in self.advice:
            told.setWordWrap(True)
        page.heading("I have these springs")
        self.free = page.row(
            "Their free height",
            LengthField(bench, "Free height of the springs at hand", self._measure),
            "Standing loose on the bench; nothing in the deck changes",
        )
        self.outcome = page.note(" ", "plain")
        self.outcome.setWordWrap(True)
        self.use = button("Tie to this height", "Sets the tied height to what usually comes out")
        self.use.clicked.connect(self._use)
        page.put(self.use)
        bench.document.replaced.connect(self._forget)

    @property
    def free_height(self) -> float | None:
        """The free height that is asked about, mm: what was typed, else the deck's usual one."""
        deck = self._bench.deck
        coil = typical_coil(deck) if deck else None
        return self._free if self._free is not None else (coil.free_height if coil else None)

    def follow(self) -> None:
        """Shows what the deck asks for."""
        deck = self._bench.deck
        if deck is None:
            return
        advice = free_heights_to_buy(deck.tying.tied_height, front_top(deck))
        for told, one in zip(self.advice, advice, strict=True):
            told.setText(self._advice_words(one))
            told.setToolTip(one.source)
        self.free.show_mm(self.free_height)
        known = self.free_height is not None
        self.use.setEnabled(known)
        self.outcome.setVisible(known)
        if self.free_height is not None:
            out = outcome_of(deck, self.free_height)
            self.outcome.setText(self._outcome_words(out))
            self.use.setText(f"Tie to {self._bench.length(out.tied[1])}")

    def _advice_words(self, advice: FreeHeightAdvice) -> str:
        usual, school = self._bench.length(advice.usual), self._school_words(advice)
        if advice.most <= advice.least:
            return f"{usual}: {school}"
        return f"{usual} ({self._range(advice.least, advice.most)}): {school}"

    def _school_words(self, advice: FreeHeightAdvice) -> str:
        """The school's rule, its lengths in the deck's units."""
        if advice.school.startswith("French"):
            return f"French, the rail and {self._bench.length(FRENCH_BLOCK)}, and a third more"
        if advice.school.endswith(" in"):
            return f"American, tied down by {self._range(*SQUEEZED_BY)}"
        return f"British and French, {advice.school}"

    def _outcome_words(self, out: Outcome) -> str:
        least, usual, most = out.tied
        told = f"Tied to about {self._bench.length(usual)} ({self._range(least, most)})."
        if out.finished is None:
            return told
        low, middle, high = out.finished
        return (
            f"{told} The seat finishes at {self._bench.length(middle)} ({self._range(low, high)})."
        )

    def _range(self, least: float, most: float) -> str:
        return f"{self._bench.length(least, unit=False)} to {self._bench.length(most)}"

    def _measure(self, mm: float) -> None:
        if mm <= 0:
            raise ValueError("A spring has some height; measure it standing loose.")
        self._free = mm
        self.follow()

    def _forget(self) -> None:
        """Another deck: the springs that were asked about belong to the one before."""
        self._free = None
        self.follow()

    def _use(self) -> None:
        deck = self._bench.document.deck
        if deck is not None and self.free_height is not None:
            self._tie_to(round(outcome_of(deck, self.free_height).tied[1], 3))


def front_top(deck: Deck) -> float:
    """The front rail's top above the webbing, mm; without a front rail the frame's own."""
    fronts = [i for i, side in enumerate(deck.frame.sides) if side.rail == "front"]
    return deck.frame.top_of(fronts[0]) if fronts else deck.frame.rail_top
