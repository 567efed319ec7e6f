"""The sewing-in route, which takes up to a second or so: worked out while nobody waits for it."""

from PySide6.QtCore import QObject, Signal

from spring_layout.deck.model import Deck
from spring_layout.gui.helper import Helper
from spring_layout.gui.workbench import Workbench
from spring_layout.planning.stitching import StitchingPlan, stitching_of

AT_ONCE = 10
"""springs; up to so many the route is found within milliseconds and nobody waits."""


class Routing(QObject):
    """The route of the decided deck, None while it is worked out.

    It is asked for only while the base is looked at, and never while something is in the hand.
    """

    changed = Signal()

    def __init__(self, bench: Workbench, parent: QObject) -> None:
        super().__init__(parent)
        self._bench = bench
        self.helper = Helper(self)
        self.works_here = False
        """Whether every route is worked out in the window's own process."""
        self._ticket = 0
        self._deck: Deck | None = None
        self.route: StitchingPlan | None = None
        self.helper.answered.connect(self._answered)
        self.helper.failed.connect(self._failed)
        bench.document.shown_changed.connect(self.follow)
        bench.stage_changed.connect(lambda _: self.follow())

    def end(self) -> None:
        """Ends the helper process."""
        self.helper.stop()
        self._deck = None

    @property
    def is_working(self) -> bool:
        """Whether a route is being worked out."""
        return self._deck is not None and self.route is None

    def follow(self) -> None:
        """Asks for the route of another deck; one in the hand waits."""
        deck = self._bench.document.deck
        if self._bench.stage != "base" or self._bench.document.is_previewing or deck is None:
            return
        if self._deck is not None and _same_sewing(self._deck, deck):
            return
        self._deck, self.route, self._ticket = deck, None, 0
        if self.works_here or len(deck.springs) <= AT_ONCE:
            self.route = stitching_of(deck)
        else:
            self._ticket = self.helper.ask(stitching_of, deck)
        self.changed.emit()

    def _answered(self, ticket: int, route: StitchingPlan) -> None:
        if ticket == self._ticket and self._deck is not None:
            self.route = route
            self.changed.emit()

    def _failed(self, ticket: int, why: str) -> None:
        if ticket == self._ticket and self._deck is not None:
            self._deck = None
            self._bench.say(f"The sewing-in order is not worked out: {why}")
            self.changed.emit()


def _same_sewing(one: Deck, other: Deck) -> bool:
    """Whether both decks are sewn in alike."""
    return (
        one.springs == other.springs
        and one.coils == other.coils
        and one.stitching == other.stitching
        and one.webbing.foot_fixing == other.webbing.foot_fixing
        and one.webbing.fixed == other.webbing.fixed
    )
