"""Change the frame by hand: drag a corner, bow a side by its middle, insert and remove corners."""

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from spring_layout.deck import edits
from spring_layout.deck.model import Deck
from spring_layout.deck.symmetry import is_symmetric
from spring_layout.gui.canvas.hits import corner_at, middle_at, side_at
from spring_layout.gui.canvas.layers.guides import Dimension
from spring_layout.gui.canvas.tools.base import FREE, STARTS, WAYS, Place, Pointer, Tool, nudge_of
from spring_layout.gui.selection import Picked


@dataclass
class _Hold:
    """A corner or a side's middle in the hand."""

    kind: str
    number: int
    home: Place
    bow: float
    pressed: Pointer
    moving: bool = False


class ShapeTool(Tool):
    """Drag the squares and the discs; double-click a side to insert a corner there."""

    name = "Change the shape"
    hint = (
        "Drag a corner, or a side's middle to bow it. Double-click a side to insert a corner, "
        "Delete removes one."
    )
    wants_handles = True

    def __init__(self, *context: object) -> None:
        super().__init__(*context)  # type: ignore[arg-type]  # the two arguments of Tool
        self._hold: _Hold | None = None
        self._nudged: Place | None = None

    @property
    def symmetric(self) -> bool:
        """Whether both sides of the frame change together."""
        deck = self.bench.document.deck
        return self.bench.same_both_sides and deck is not None and is_symmetric(deck.frame)

    def press(self, at: Pointer) -> None:
        self.settle_up()
        near, deck, standing = self._near(at), self.bench.deck, self.bench.planner.standing
        if deck is None or standing is None:
            return
        if near is None:
            side = side_at(standing.outline, at.place, at.reach * 2)
            self.bench.selection.pick(Picked(side=side))
            return
        kind, number = near
        is_corner = kind == "corner"
        self.bench.selection.pick(Picked(corner=number) if is_corner else Picked(side=number))
        home = deck.frame.corners[number]
        self._hold = _Hold(kind, number, home, deck.frame.sides[number].bow, at)

    def _near(self, at: Pointer) -> tuple[str, int] | None:
        deck, standing = self.bench.deck, self.bench.planner.standing
        if deck is None or standing is None:
            return None
        corner = corner_at(deck, at.place, at.reach * 1.5)
        if corner is not None:
            return "corner", corner
        middle = middle_at(standing.outline, at.place, at.reach * 1.5)
        return None if middle is None else ("middle", middle)

    def move(self, at: Pointer) -> None:
        hold = self._hold
        if hold is None:
            near = self._near(at)
            self.view.deck_scene.handles.point_at(near)
            shape = Qt.CursorShape.SizeAllCursor if near else Qt.CursorShape.ArrowCursor
            self.view.viewport().setCursor(shape)
            return
        if not hold.moving and (at.pixel - hold.pressed.pixel).manhattanLength() < STARTS:
            return
        hold.moving = True
        self._bow(hold, at) if hold.kind == "middle" else self._drag_corner(hold, at)

    def _drag_corner(self, hold: _Hold, at: Pointer) -> None:
        place = (
            hold.home[0] + at.place[0] - hold.pressed.place[0],
            hold.home[1] + at.place[1] - hold.pressed.place[1],
        )
        reason = ""
        if not at.has(FREE):
            place, reason = self._squared(hold, place, at.reach)
        if self.try_out(lambda deck: self._with_corner(deck, hold.number, place), at):
            self._tell_sides(hold.number)
            self.view.note.say(reason, at.pixel)

    def _squared(self, hold: _Hold, place: Place, reach: float) -> tuple[Place, str]:
        """``place`` drawn level or plumb with one of the neighbouring corners."""
        deck = self.bench.document.deck
        assert deck is not None
        corners, count = deck.frame.corners, len(deck.frame.corners)
        at, reasons = list(place), []
        for other in ((hold.number - 1) % count, (hold.number + 1) % count):
            for axis, why in ((0, "straight to the front"), (1, "straight across")):
                if other != hold.number and abs(corners[other][axis] - at[axis]) <= reach * 0.75:
                    at[axis] = corners[other][axis]
                    reasons.append(why)
        return (at[0], at[1]), ", ".join(dict.fromkeys(reasons))

    def _with_corner(self, deck: Deck, corner: int, place: Place) -> Deck:
        return edits.move_corner(deck, corner, place, symmetric=self.symmetric)

    def _bow(self, hold: _Hold, at: Pointer) -> None:
        deck = self.bench.document.deck
        assert deck is not None
        count = len(deck.frame.corners)
        start = np.array(deck.frame.corners[hold.number])
        end = np.array(deck.frame.corners[(hold.number + 1) % count])
        way = (end - start) / max(float(np.hypot(*(end - start))), 1e-9)
        moved = np.subtract(at.place, hold.pressed.place)
        bow = hold.bow + float(moved @ np.array([way[1], -way[0]]))
        if not at.has(FREE) and abs(bow) <= at.reach * 0.75:
            bow = 0.0
        if self.try_out(
            lambda d: edits.bow_side(d, hold.number, bow, symmetric=self.symmetric), at
        ):
            shown = self.bench.length(abs(bow), "exact")
            words = "straight" if bow == 0 else f"bow {shown}{'' if bow > 0 else ' inward'}"
            self.view.note.say(words, at.pixel)

    def _tell_sides(self, corner: int) -> None:
        """Dimension lines along the two sides that meet at the corner."""
        standing = self.bench.planner.standing
        if standing is None:
            return
        count = len(standing.outline.sides)
        found = []
        for side in ((corner - 1) % count, corner):
            curve = standing.outline.sides[side]
            words = self.bench.length(curve.length, unit=False)
            # clear of the handles on the corners and in the middle
            share = 0.28 if side == corner else 0.72
            found.append(Dimension(curve.start, curve.end, words, share))
        self.view.deck_scene.guides.measure(found)

    def release(self, at: Pointer) -> None:
        hold, self._hold = self._hold, None
        if hold is not None and hold.moving:
            words = "Move a corner" if hold.kind == "corner" else "Bow a side"
            self.bench.document.keep_preview(words)
        self.view.deck_scene.guides.clear()
        self.view.note.hide()

    def double_click(self, at: Pointer) -> None:
        standing = self.bench.planner.standing
        near = self._near(at)
        if standing is None or (near is not None and near[0] == "corner"):
            return
        side = near[1] if near else side_at(standing.outline, at.place, at.reach)
        if side is None:
            return
        along = float(standing.outline.sides[side].nearest_along(np.asarray(at.place)))
        symmetric = self.symmetric
        self.attempt(
            "Insert a corner",
            lambda deck: edits.insert_corner(deck, side, along, symmetric=symmetric),
            at,
        )

    # keys ---------------------------------------------------------------------------------------

    def key(self, event: QKeyEvent) -> bool:
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape:
            busy = self._hold is not None or self._nudged is not None
            had_some = not self.bench.selection.picked.is_empty
            self.cancel() if busy else self.bench.selection.clear()
            return busy or had_some
        if key in WAYS:
            self._nudge(WAYS[key], nudge_of(event, self.bench.units))
            return True
        if key in (Qt.Key.Key_BracketLeft, Qt.Key.Key_BracketRight):
            self._next(1 if key == Qt.Key.Key_BracketRight else -1)
            return True
        return False

    def _next(self, step: int) -> None:
        """Picks the next thing round the frame: corner, side, corner, side ..."""
        deck, picked = self.bench.deck, self.bench.selection.picked
        if deck is None:
            return
        at = -1
        if picked.corner is not None:
            at = 2 * picked.corner
        elif picked.side is not None:
            at = 2 * picked.side + 1
        number = (at + step if at >= 0 else 0) % (2 * len(deck.frame.corners))
        place, is_side = divmod(number, 2)
        self.bench.selection.pick(Picked(side=place) if is_side else Picked(corner=place))
        self.bench.say(f"{'Side' if is_side else 'Corner'} {place + 1} selected")

    def _nudge(self, way: tuple[int, int], size: float) -> None:
        deck, picked = self.bench.document.deck, self.bench.selection.picked
        if deck is not None and picked.corner is not None:
            self._nudge_corner(deck, picked.corner, (way[0] * size, way[1] * size))
        elif deck is not None and picked.side is not None:
            self._nudge_bow(deck, picked.side, (way[0] - way[1]) * size)
        else:
            self._next(1)

    def _nudge_corner(self, deck: Deck, corner: int, by: Place) -> None:
        before = self._nudged or deck.frame.corners[corner]
        now = (before[0] + by[0], before[1] + by[1])
        if self.try_out(lambda d: self._with_corner(d, corner, now)):
            self._nudged = now
            self._tell_sides(corner)

    def _nudge_bow(self, deck: Deck, side: int, by: float) -> None:
        """Up and right bow the side outward, down and left inward."""
        before = self._nudged[0] if self._nudged else deck.frame.sides[side].bow
        bow, symmetric = before + by, self.symmetric
        if self.try_out(lambda d: edits.bow_side(d, side, bow, symmetric=symmetric)):
            self._nudged = (bow, 0.0)

    def key_up(self, event: QKeyEvent) -> None:
        if Qt.Key(event.key()) in WAYS:
            self.settle_up()

    def settle_up(self) -> None:
        if self._nudged is not None:
            self._nudged = None
            is_side = self.bench.selection.picked.side is not None
            self.bench.document.keep_preview("Bow a side" if is_side else "Move a corner")
            self.view.deck_scene.guides.clear()

    def cancel(self) -> None:
        self._hold = self._nudged = None
        super().cancel()
