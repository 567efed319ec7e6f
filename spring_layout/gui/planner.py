"""Keeps the plan in step with the deck on show, without holding up the hand.

While the hand is moving something the plan comes from the helper process and may lag a few
frames; gaps and clearances are worked out at once. Without a helper (not started yet, or lost)
the plan is made here, as soon as the hand pauses.
"""

import logging

from PySide6.QtCore import QObject, QTimer, Signal

from spring_layout.deck.model import Deck
from spring_layout.geometry.outline import OutlineError
from spring_layout.gui.document import Document
from spring_layout.gui.helper import Helper
from spring_layout.plan import Plan, make_plan
from spring_layout.planning.parts import Spaces, Standing
from spring_layout.planning.spacing import spaces_of
from spring_layout.planning.standing import standing_of

_log = logging.getLogger(__name__)

PAUSE = 25
"""ms without a movement before a plan is made in the window's own process."""


class Planner(QObject):
    """The plan of the deck on show (None: no deck), and its gaps, which never lag."""

    plan_changed = Signal()
    spaces_changed = Signal()
    failed = Signal(str)

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.plan: Plan | None = None
        self.standing: Standing | None = None
        self.spaces: Spaces | None = None
        self.helper: Helper | None = None
        self._has_ended = False
        self._pause = QTimer(self, singleShot=True, interval=PAUSE)
        self._pause.timeout.connect(self._make_here)
        document.shown_changed.connect(self.follow)

    def start_helper(self) -> None:
        """From now on plans are made in a process of their own, unless the window has ended."""
        if self._has_ended:
            return
        self.helper = Helper(self)
        self.helper.answered.connect(self._answered)
        self.helper.failed.connect(self._refused)
        try:
            self.helper.start()
        except (OSError, RuntimeError):  # this machine starts no more processes
            self.helper = None

    def stop_helper(self) -> None:
        """Ends the helper process for good."""
        self._has_ended = True
        if self.helper is not None:
            self.helper.stop()
            self.helper = None

    @property
    def is_behind(self) -> bool:
        """Whether the plan belongs to an earlier deck than the one on show."""
        return (self.plan.deck if self.plan else None) != self._document.shown

    def follow(self) -> None:
        """Takes up the deck on show: spaces at once, the plan now or shortly after."""
        deck = self._document.shown
        if deck is None:
            self._take(None)
            return
        self._measure(deck)
        if not self._document.is_previewing and not self._has_helper:
            self._make_here()
        elif self._has_helper and self.helper is not None:
            self.helper.ask(make_plan, deck)
        else:
            self._pause.start()

    @property
    def _has_helper(self) -> bool:
        return self.helper is not None and self.helper.is_ready

    def catch_up(self) -> Plan | None:
        """The plan of the deck on show, made here and now where it lags."""
        if self.is_behind:
            self._make_here()
        return self.plan

    def _measure(self, deck: Deck) -> None:
        try:
            self.standing = standing_of(deck)
            self.spaces = spaces_of(self.standing)
        except OutlineError as error:
            self.failed.emit(error.reason)
            return
        self.spaces_changed.emit()

    def _make_here(self) -> None:
        self._pause.stop()
        deck = self._document.shown
        if deck is None:
            return
        try:
            plan = make_plan(deck)
        except Exception as error:  # the deck stays workable, and the user is told
            _log.exception("no plan of %s", deck.name)
            self.failed.emit(str(error) or type(error).__name__)
            return
        self._take(plan)

    def _answered(self, _ticket: int, plan: Plan) -> None:
        if self._document.shown is not None:
            self._take(plan)

    def _refused(self, _ticket: int, reason: str) -> None:
        self.failed.emit(reason)
        self._pause.start()

    def _take(self, plan: Plan | None) -> None:
        self.plan = plan
        if plan is None:
            self.standing = self.spaces = None
            self.spaces_changed.emit()
        self.plan_changed.emit()
