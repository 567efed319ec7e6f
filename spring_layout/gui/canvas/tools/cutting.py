"""Cut the deck: a line drawn across it is what the side view shows."""

import math
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from spring_layout.drawing.side_view import Across
from spring_layout.gui.canvas.hits import tie_at
from spring_layout.gui.canvas.tools.base import FREE, STARTS, WAYS, Place, Pointer, Tool, nudge_of
from spring_layout.gui.selection import TieKey

STEP = 15.0
"""degrees to which the direction of a cut settles."""


@dataclass
class _Cut:
    """A cut being drawn: where it began."""

    pressed: Pointer
    moving: bool = False


class CutTool(Tool):
    """Drag a line across the deck to see it cut there; click a tie to see it along that."""

    name = "Look from the side"
    hint = (
        "Drag across the deck to see it cut along that line, or click a {tie}. "
        "Arrow keys move the cut, [ and ] turn it."
    )
    cursor = Qt.CursorShape.CrossCursor

    def __init__(self, *context: object) -> None:
        super().__init__(*context)  # type: ignore[arg-type]  # the two arguments of Tool
        self._cut: _Cut | None = None

    def pick_up(self) -> None:
        self.bench.looking.changed.connect(self.show_cut)
        self.bench.planner.plan_changed.connect(self.show_cut)
        self.show_cut()

    def put_down(self) -> None:
        self.bench.looking.changed.disconnect(self.show_cut)
        self.bench.planner.plan_changed.disconnect(self.show_cut)
        self.view.deck_scene.hover(None)
        super().put_down()

    def show_cut(self) -> None:
        """Shows where the deck is cut, with the side that is looked at from."""
        at, standing = self.bench.looking.at, self.bench.planner.standing
        guides = self.view.deck_scene.guides
        self.view.deck_scene.hover(self._tie())
        if not isinstance(at, Across) or standing is None:
            guides.show_settling(())
            return
        x0, y0, x1, y1 = standing.outline.bounds
        reach = math.hypot(x1 - x0, y1 - y0) * 0.62
        (x, y), (dx, dy) = at.point, at.way
        ends = ((x - dx * reach, y - dy * reach), (x + dx * reach, y + dy * reach))
        guides.show_settling([ends, *_look_marks(ends, at, reach * 0.07)])

    def _tie(self) -> TieKey | None:
        """The tie along which the deck is cut; None for a cut across."""
        plan = self.bench.planner.plan
        sight = self.bench.looking.sight(plan) if plan else None
        if plan is None or not isinstance(sight, int):
            return None
        line = plan.parts.ties.lines[sight - 1]
        return TieKey(line.run, line.springs[0])

    def press(self, at: Pointer) -> None:
        self._cut = _Cut(at)

    def move(self, at: Pointer) -> None:
        cut = self._cut
        if cut is None:
            return
        moved = at.pixel - cut.pressed.pixel
        if not cut.moving and moved.manhattanLength() < STARTS * 2:
            return
        cut.moving = True
        angle = _angle(cut.pressed.place, at.place, free=at.has(FREE))
        self.bench.looking.look(Across(cut.pressed.place, angle))
        self.view.note.say(f"{angle:.0f}°", at.pixel)

    def release(self, at: Pointer) -> None:
        cut, self._cut = self._cut, None
        self.view.note.hide()
        if cut is None or cut.moving:
            return
        plan = self.bench.planner.catch_up()
        line = tie_at(plan.parts.ties, at.place, at.reach) if plan else None
        if line is not None:
            self.bench.looking.look(TieKey(line.run, line.springs[0]))

    def key(self, event: QKeyEvent) -> bool:
        key = Qt.Key(event.key())
        at = self.bench.looking.at
        if key == Qt.Key.Key_Escape:
            self.cancel()
            self.bench.looking.look(None)
            return True
        if not isinstance(at, Across):
            return False
        if key in WAYS:
            size = nudge_of(event, self.bench.units)
            (x, y), (dx, dy) = at.point, WAYS[key]
            self.bench.looking.look(Across((x + dx * size, y + dy * size), at.angle))
            return True
        if key in (Qt.Key.Key_BracketLeft, Qt.Key.Key_BracketRight):
            turn = STEP if key == Qt.Key.Key_BracketRight else -STEP
            self.bench.looking.look(Across(at.point, (at.angle + turn) % 360.0))
            return True
        return False

    def cancel(self) -> None:
        self._cut = None
        super().cancel()
        self.show_cut()


def _angle(start: Place, finish: Place, *, free: bool) -> float:
    """The direction from start to finish, degrees; settled to whole steps unless ``free``."""
    angle = math.degrees(math.atan2(finish[1] - start[1], finish[0] - start[0])) % 360.0
    return angle if free else round(angle / STEP) * STEP % 360.0


def _look_marks(ends: tuple[Place, Place], cut: Across, size: float) -> list[tuple[Place, Place]]:
    """A short mark at each end that points the way one looks."""
    dx, dy = cut.way
    return [((x, y), (x + dy * size, y - dx * size)) for x, y in ends]
