"""Trace the frame: corner after corner with live length and angle; typed exact lengths."""

import math

import numpy as np
import shapely
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QKeyEvent

from spring_layout.deck.model import Frame, Rail, Side
from spring_layout.gui.canvas.tools.base import FREE, Place, Pointer, Tool
from spring_layout.gui.words import counted
from spring_layout.units import LengthError

_WRITTEN = "0123456789 .,/'\"-⁄½¼¾⅛⅜⅝⅞cmintf"
"""What a length is written with, units and all."""
STEP = 15.0
"""degrees; the pen settles on headings that are whole multiples of this."""


class TraceTool(Tool):
    """Click the inside corners one after another, clockwise or anticlockwise.

    Digits typed while tracing make the next side exactly that long; Backspace takes the last
    corner back; Enter, or a click on the first corner, closes the outline.
    """

    name = "Trace the frame"
    hint = (
        "Click one inside corner after another. Type a length for an exact side; "
        "Enter or a click on the first corner closes the outline."
    )
    cursor = Qt.CursorShape.CrossCursor

    def __init__(self, *context: object) -> None:
        super().__init__(*context)  # type: ignore[arg-type]  # the two arguments of Tool
        self.corners: list[Place] = []
        self.typed = ""
        self._pointer: Pointer | None = None

    @property
    def types(self) -> str:
        return _WRITTEN if self.typed else ""

    @property
    def holds(self) -> str:
        return "Set a corner" if self.corners else ""

    def take_back(self) -> bool:
        return self._back()

    def takes(self, event: QKeyEvent) -> bool:
        is_back = bool(self.corners) and event.key() == Qt.Key.Key_Backspace
        return is_back or super().takes(event)

    def pick_up(self) -> None:
        self.bench.selection.clear()
        if self.view.traced:
            self.corners = list(self.view.traced)
            self.view.traced.clear()
            self.bench.say("The outline goes on where it was left; Esc drops it.")
            self._changed()

    def lay_aside(self) -> None:
        kept = len(self.corners)
        self.view.traced[:] = self.corners
        super().lay_aside()
        if kept:
            are = "are" if kept > 1 else "is"
            told = f"{counted(kept, 'traced corner')} {are} kept"
            self.bench.say(f"{told}; trace the frame to go on with {'them' if kept > 1 else 'it'}.")

    def _changed(self) -> None:
        """Corners came or went: shows them, and what undo takes back now."""
        self._show()
        self.view.holding_changed.emit()

    def press(self, at: Pointer) -> None:
        self._pointer = at
        if self._closes(at):
            self._close()
            return
        place, _ = self._settled(at)
        self._add(place, at)

    def move(self, at: Pointer) -> None:
        self._pointer = at
        self._show()

    def double_click(self, at: Pointer) -> None:
        self.press(at)

    def _closes(self, at: Pointer) -> bool:
        return len(self.corners) >= 3 and math.dist(at.place, self.corners[0]) <= at.reach * 1.25

    def _settled(self, at: Pointer) -> tuple[Place, str]:
        """Where the next corner goes: on a round angle, level with the first, or as long as
        typed."""
        if not self.corners:
            return at.place, ""
        last = self.corners[-1]
        angle = math.atan2(at.place[1] - last[1], at.place[0] - last[0])
        length, why = math.dist(at.place, last), ""
        if not at.has(FREE):
            nearest = math.radians(round(math.degrees(angle) / STEP) * STEP)
            if abs(angle - nearest) * length <= at.reach * 0.75:
                angle = nearest
        typed = self._typed_length()
        if typed is not None:
            length = typed
        place = (last[0] + length * math.cos(angle), last[1] + length * math.sin(angle))
        if typed is None and not at.has(FREE):
            place, why = self._level(place, at.reach)
        return place, why

    def _level(self, place: Place, reach: float) -> tuple[Place, str]:
        """Level with the first corner, so that the outline closes square."""
        first = self.corners[0]
        for axis, why in ((0, "in line with the first corner"), (1, "level with the first corner")):
            if len(self.corners) > 1 and abs(place[axis] - first[axis]) <= reach * 0.75:
                drawn = (first[0], place[1]) if axis == 0 else (place[0], first[1])
                return drawn, why
        return place, ""

    def _typed_length(self) -> float | None:
        try:
            length = self.bench.read_length(self.typed) if self.typed else None
        except LengthError:
            return None
        return length if length and length > 0 else None

    def _add(self, place: Place, at: Pointer) -> None:
        fault = self._fault(place)
        if fault:
            self.refuse(fault, at)
            return
        self.corners.append(place)
        self.typed = ""
        self._changed()

    def _fault(self, place: Place) -> str:
        """Why the next corner cannot go to ``place``; empty when it can."""
        if self.corners and math.dist(self.corners[-1], place) < 1:
            return "Two corners cannot stand at the same place."
        if len(self.corners) >= 3 and self._crosses(place):
            return "The outline would cross itself; put the corner elsewhere."
        return ""

    def _crosses(self, place: Place) -> bool:
        drawn = shapely.LineString(self.corners)
        stroke = shapely.LineString([self.corners[-1], place])
        apart = (
            shapely.distance(shapely.LineString(self.corners[:-1]), stroke)
            if len(self.corners) > 2
            else 1.0
        )
        return bool(apart == 0 or shapely.crosses(drawn, stroke))

    def _show(self) -> None:
        """The outline so far, the next side, its length and angle at the pointer."""
        guides, at = self.view.deck_scene.guides, self._pointer
        if at is None or not self.corners:
            guides.sketch(self.corners)
            return
        place, why = self._settled(at)
        closes = self._closes(at)
        if closes:
            place = self.corners[0]
        fault = "" if closes else self._fault(place)
        guides.sketch([*self.corners, place], refused=bool(fault))
        words = fault or ("Close the outline" if closes else self._words(place, why))
        self.view.note.say(words, at.pixel, refused=bool(fault))

    def _words(self, place: Place, why: str) -> str:
        last = self.corners[-1]
        length = self.bench.length(math.dist(last, place))
        told = f"{length}, {_turn(self.corners, place)}"
        if self.typed:
            told = f"Typed: {self.typed}   {told}"
        return f"{told}, {why}" if why else told

    def key(self, event: QKeyEvent) -> bool:
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            return self._enter()
        if key == Qt.Key.Key_Escape:
            busy = bool(self.corners or self.typed)
            self.cancel()
            return busy
        if key == Qt.Key.Key_Backspace:
            return self._back()
        return self._type(event.text())

    def _enter(self) -> bool:
        """With a typed length: sets the corner; else closes the outline."""
        if self.typed and self.corners:
            self._type_corner()
        else:
            self._close()
        return True

    def _type_corner(self) -> None:
        if self._typed_length() is None:
            self.bench.say(f"“{self.typed}” is not a length; type it like 22 1/2.")
            return
        at = self._pointer or Pointer(
            (self.corners[-1][0] + 1, self.corners[-1][1]), QPointF(), FREE, 1.0
        )
        place, _ = self._settled(at)
        self._add(place, at)

    def _back(self) -> bool:
        if self.typed:
            self.typed = self.typed[:-1]
        elif self.corners:
            self.corners.pop()
        else:
            return False
        self._changed()
        return True

    def _type(self, text: str) -> bool:
        begins = text.isdigit() or text in (".", ",")
        if not self.corners or not text or not (begins or text.lower() in self.types):
            return False
        self.typed += text
        self._show()
        return True

    def _close(self) -> None:
        if len(self.corners) < 3:
            self.bench.say("The frame needs at least three corners.")
            return
        first = self.corners[0]
        if self._crosses_closing(first):
            self.refuse("The last side would cross the outline; move back a corner.", self._pointer)
            return
        frame = traced_frame(self.corners, self.bench.deck.frame if self.bench.deck else None)
        if self.bench.begin_with_frame(frame, "Trace the frame"):
            self.corners, self.typed = [], ""
            self.view.holding_changed.emit()
            self.view.deck_scene.guides.clear()
            self.view.note.hide()
            self.view.fit()
            self.bench.take_tool("shape")

    def _crosses_closing(self, first: Place) -> bool:
        ring = shapely.LinearRing([*self.corners, first])
        return not bool(ring.is_simple)

    def cancel(self) -> None:
        self.corners, self.typed = [], ""
        self.view.holding_changed.emit()
        super().cancel()


def traced_frame(corners: list[Place], before: Frame | None) -> Frame:
    """A frame of straight sides through ``corners``, mm, each named by the way it faces."""
    ring = np.array(corners)
    x, y = ring.T
    if float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) < 0:
        ring = ring[::-1]
    ways = np.roll(ring, -1, axis=0) - ring
    sides = tuple(Side(rail=_facing(float(dx), float(dy)), bow=0.0) for dx, dy in ways)
    width, top = (before.rail_width, before.rail_top) if before else (45.0, 75.0)
    places = tuple((float(px), float(py)) for px, py in ring)
    return Frame(corners=places, sides=sides, rail_width=width, rail_top=top)


def _facing(dx: float, dy: float) -> Rail:
    """Which rail a side that runs clockwise along (dx, dy) is, by its outward side."""
    if abs(dx) >= abs(dy):
        return "back" if dx > 0 else "front"
    return "right" if dy > 0 else "left"


def _turn(corners: list[Place], place: Place) -> str:
    """The inside angle at the last corner, or the heading of the first side."""
    last = corners[-1]
    ahead = math.atan2(place[1] - last[1], place[0] - last[0])
    if len(corners) < 2:
        return f"{round(math.degrees(-ahead)) % 360}°"
    back = math.atan2(corners[-2][1] - last[1], corners[-2][0] - last[0])
    between = abs((math.degrees(ahead - back) + 180) % 360 - 180)
    return f"{between:.0f}° corner"
