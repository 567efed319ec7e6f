"""Space evenly, before the user's eyes: the springs glide; it can be stopped at any moment."""

from PySide6.QtCore import QEasingCurve, QObject, QVariantAnimation, Signal

from spring_layout.deck import edits
from spring_layout.deck.model import Deck
from spring_layout.gui.helper import Helper
from spring_layout.gui.placing_work import Places, evenly_spaced
from spring_layout.gui.workbench import Workbench

ANY = -1
"""Stands for the ticket of a question that is just being asked."""
GLIDE = 250
"""ms that a spring glides to where it is to stand."""


class Evening(QObject):
    """One wish to space evenly at a time; every place on the way is a usable one."""

    began = Signal()
    ended = Signal()

    def __init__(self, bench: Workbench, helper: Helper, parent: QObject) -> None:
        super().__init__(parent)
        self._bench = bench
        self.helper = helper
        self._deck: Deck | None = None
        self._ticket = 0
        self._from: Places = {}
        self._to: Places = {}
        self._is_answered = False
        self._glide = QVariantAnimation(self)
        self._glide.setDuration(GLIDE)
        self._glide.setStartValue(0.0)
        self._glide.setEndValue(1.0)
        self._glide.setEasingCurve(QEasingCurve.Type.InOutCubic)
        self._glide.valueChanged.connect(self._show_share)
        self._glide.finished.connect(self._glided)
        helper.told.connect(self._told)
        helper.answered.connect(self._answered)
        helper.failed.connect(self._failed)
        bench.document.decided_changed.connect(self.drop)
        bench.hand_down.connect(self.stop)

    @property
    def is_running(self) -> bool:
        """Whether springs are being spaced."""
        return self._deck is not None

    def start(self) -> None:
        """Begins to space the springs of the deck evenly."""
        deck = self._bench.document.deck
        if deck is None or self.is_running:
            return
        if all(spring.held for spring in deck.springs):
            self._bench.say("Every spring is kept where it is; let some go first.")
            return
        self._deck = deck
        self._from = self._to = {s.id: (s.x, s.y) for s in deck.springs}
        self._is_answered = False
        self.began.emit()
        self._bench.say("Spacing evenly. Stop keeps what is reached; Esc takes it back.")
        self._ticket = ANY
        self._ticket = self.helper.ask(evenly_spaced, deck)

    def stop(self) -> None:
        """Keeps what is reached."""
        if not self.is_running:
            return
        self.helper.stop()
        before, reached = self._deck, self._bench.deck
        self._finish(reached, "Stopped: the springs stay where they had come to.")
        if reached == before:
            self._bench.say("Stopped: the springs stand as they did.")

    def drop(self) -> None:
        """Takes it all back."""
        if self.is_running:
            self.helper.stop()
            self._finish(None)

    def _told(self, ticket: int, places: Places) -> None:
        if self._is_mine(ticket) and self._bench.moves:
            self._glide_to(places)

    def _answered(self, ticket: int, places: Places) -> None:
        if not self._is_mine(ticket):
            return
        self._is_answered = True
        deck = self._deck
        if not places or deck is None:
            self._finish(None)
            self._bench.say("The springs stand as evenly as they can.")
        elif not self._bench.moves:
            self._finish(edits.place_springs(deck, places))
        elif places != self._to:
            self._glide_to(places)
        elif self._glide.state() != QVariantAnimation.State.Running:
            self._glided()

    def _failed(self, ticket: int, why: str) -> None:
        if self._is_mine(ticket):
            self._finish(None)
            self._bench.say(f"The springs cannot be spaced evenly: {why}")

    def _is_mine(self, ticket: int) -> bool:
        # a question answered at once is answered before its ticket is known
        return self.is_running and self._ticket in (ANY, ticket)

    def _glide_to(self, places: Places) -> None:
        share = self._glide.currentValue() if self._glide.state().value else 1.0
        self._from = _between(self._from, self._to, float(share))
        self._to = places
        self._glide.stop()
        self._glide.start()

    def _show_share(self, share: float) -> None:
        if self._deck is not None:
            places = _between(self._from, self._to, share)
            self._bench.document.preview(edits.place_springs(self._deck, places))

    def _glided(self) -> None:
        if self._deck is not None and self._is_answered:
            self._finish(edits.place_springs(self._deck, self._to))

    def _finish(self, after: Deck | None, told: str = "The springs are spaced evenly.") -> None:
        self._deck = None
        self._glide.stop()
        if after is not None:
            self._bench.document.edit("Space evenly", after)
            self._bench.say(told)
        else:
            self._bench.document.drop_preview()
        self.ended.emit()


def _between(start: Places, finish: Places, share: float) -> Places:
    """The places ``share`` of the way from ``start`` to ``finish``."""
    return {
        name: (
            start[name][0] + (x - start[name][0]) * share,
            start[name][1] + (y - start[name][1]) * share,
        )
        for name, (x, y) in finish.items()
    }
