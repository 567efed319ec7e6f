"""The sewing-in route, which takes up to a second or so: worked out while nobody waits for it."""

from PySide6.QtCore import QObject, Signal

from spring_layout.deck.model import Deck
from spring_layout.gui.helper import Helper, Here
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
        self._here = Here(self)
        self._away: Helper | Here = Helper(self)
        self._ticket = 0
        self._deck: Deck | None = None
        self.route: StitchingPlan | None = None
        self._use(self._here)
        self._use(self._away)
        bench.document.shown_changed.connect(self.follow)
        bench.stage_changed.connect(lambda _: self.follow())

    def work_here(self) -> None:
        """Works out every route in the window's own process."""
        self._away.stop()
        self._away = self._here

    def end(self) -> None:
        """Ends the helper process."""
        self._away.stop()
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
        self._deck, self.route = deck, None
        helper = self._here if len(deck.springs) <= AT_ONCE else self._away
        self._ticket = -1
        self._ticket = helper.ask(stitching_of, deck)
        self.changed.emit()

    def _use(self, helper: Helper | Here) -> None:
        helper.answered.connect(self._answered)
        helper.failed.connect(self._failed)

    def _answered(self, ticket: int, route: StitchingPlan) -> None:
        # a question answered at once is answered before its ticket is known
        if self._ticket in (-1, ticket) and self._deck is not None:
            self.route = route
            self.changed.emit()

    def _failed(self, ticket: int, why: str) -> None:
        if self._ticket in (-1, ticket) and self._deck is not None:
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
