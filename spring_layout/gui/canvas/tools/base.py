"""A tool: an object in the user's hand. It can always be cancelled, and then nothing happened."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QKeyEvent

from spring_layout.deck.model import Deck
from spring_layout.gui.workbench import Workbench
from spring_layout.units import Units, nudge_mm

if TYPE_CHECKING:
    from spring_layout.gui.canvas.view import DeckView

Place = tuple[float, float]
FREE = Qt.KeyboardModifier.AltModifier
"""Held: nothing settles."""
STARTS = 4.0
"""px that the pointer moves before a press becomes a drag."""
FAST = 10
"""How many nudges an arrow key makes with Shift."""
WAYS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}
"""Which way an arrow key goes on the deck: (x, y)."""


def nudge_of(event: QKeyEvent, units: Units) -> float:
    """How far an arrow key nudges, mm: ten times as far with Shift."""
    fast = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
    return nudge_mm(units) * (FAST if fast else 1)


@dataclass(frozen=True)
class Pointer:
    """Where the pointer is: on the deck (mm) and on the viewport (px), keys held, reach (mm)."""

    place: Place
    pixel: QPointF
    keys: Qt.KeyboardModifier
    reach: float

    def has(self, key: Qt.KeyboardModifier) -> bool:
        """Whether that modifier is held."""
        return bool(self.keys & key)


class Tool:
    """What all tools share. ``hint`` tells in the status line what the tool expects."""

    name = ""
    hint = ""
    cursor = Qt.CursorShape.ArrowCursor
    wants_handles = False

    def __init__(self, bench: Workbench, view: "DeckView") -> None:
        self.bench = bench
        self.view = view

    @property
    def types(self) -> str:
        """What can be typed on the canvas just now; those keys then do nothing else."""
        return ""

    @property
    def holds(self) -> str:
        """The name of the last thing done in the hand that can be taken back by itself."""
        return ""

    def take_back(self) -> bool:
        """Takes that last thing back; False where there is none."""
        return False

    def takes(self, event: QKeyEvent) -> bool:
        """Whether a key belongs to what is in the hand, and to no menu."""
        return bool(event.text()) and event.text().lower() in self.types

    def lay_aside(self) -> None:
        """Another tool is wanted: what is in progress is dropped, or kept for later."""
        self.cancel()

    def pick_up(self) -> None:
        """The tool was taken in hand."""

    def put_down(self) -> None:
        """The tool is put down; it has been cancelled before."""
        self.view.deck_scene.guides.clear()
        self.view.note.hide()

    def press(self, at: Pointer) -> None:
        """The main button went down."""

    def move(self, at: Pointer) -> None:
        """The pointer moved, pressed or not."""

    def release(self, at: Pointer) -> None:
        """The main button went up."""

    def double_click(self, at: Pointer) -> None:
        """The main button went down a second time."""
        self.press(at)

    def leave(self) -> None:
        """The pointer left the canvas."""

    def key(self, event: QKeyEvent) -> bool:
        """A key went down; True when the tool used it."""
        return False

    def key_up(self, event: QKeyEvent) -> None:
        """A key came up."""

    def settle_up(self) -> None:
        """The canvas loses the keyboard: finish what keys began."""

    def cancel(self) -> None:
        """Drops what is in progress; nothing happened."""
        self.bench.document.drop_preview()
        self.view.deck_scene.guides.clear()
        self.view.note.hide()

    def attempt(self, words: str, edit: Callable[[Deck], Deck], at: Pointer | None = None) -> bool:
        """Makes one undoable step with ``edit``; says why where that cannot be."""
        deck = self.bench.document.deck
        if deck is None:
            return False
        try:
            after = edit(deck)
        except ValueError as error:
            self.bench.document.drop_preview()
            self.refuse(str(error), at)
            return False
        self.bench.document.edit(words, after)
        return True

    def try_out(self, edit: Callable[[Deck], Deck], at: Pointer | None = None) -> bool:
        """Previews ``edit``; where that cannot be the last good preview stays, with the reason."""
        deck = self.bench.document.deck
        if deck is None:
            return False
        try:
            self.bench.document.preview(edit(deck))
        except ValueError as error:
            self.refuse(str(error), at)
            return False
        return True

    def refuse(self, why: str, at: Pointer | None) -> None:
        """Says why something cannot be, at the pointer and in the status line."""
        if at is not None:
            self.view.note.say(why, at.pixel, refused=True)
        self.bench.say(why)
