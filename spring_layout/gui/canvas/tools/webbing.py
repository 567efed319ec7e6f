"""Strips of webbing in the hand: picked, dragged across, nudged; they settle under the springs."""

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from spring_layout.gui.canvas.strip_settling import Settling, gaps_beside, settle_strip
from spring_layout.gui.canvas.tools.base import FREE, STARTS, Place, Pointer, Tool, nudge_of
from spring_layout.gui.selection import NOTHING, Picked, StripKey
from spring_layout.gui.strips import (
    key_of,
    parts_of,
    places_of,
    room_for,
    strip_words,
    with_strip_at,
    without_strip,
)
from spring_layout.planning.parts import WebbingPlan
from spring_layout.planning.webbing import goes_over, webbing_of


@dataclass
class _Drag:
    """A strip in the hand: the strips as they lay, which one, where its middle was."""

    webbing: WebbingPlan
    key: StripKey
    home: float
    pressed: Pointer
    moving: bool = False


class StripTool(Tool):
    """Press on a strip to pick it, drag it across; arrow keys nudge it."""

    name = "Move strips of {webbing}"
    hint = (
        "Drag a strip of {webbing} to move it. Arrow keys nudge it, [ and ] go to the next, "
        "Alt keeps it from settling."
    )

    def __init__(self, *context: object) -> None:
        super().__init__(*context)  # type: ignore[arg-type]  # the two arguments of Tool
        self._drag: _Drag | None = None
        self._nudged: _Drag | None = None
        self._by = 0.0

    def press(self, at: Pointer) -> None:
        self.settle_up()
        plan = self.bench.planner.catch_up()
        webbing = plan.parts.webbing if plan else None
        key = strip_under(webbing, at.place) if webbing else None
        if webbing is None or key is None:
            self.bench.selection.pick(NOTHING)
            return
        self.bench.selection.pick(Picked(strip=key))
        self._drag = _Drag(webbing, key, places_of(webbing, key.run)[key.number], at)

    def move(self, at: Pointer) -> None:
        drag = self._drag
        if drag is None:
            self._hover(at)
            return
        moved = at.pixel - drag.pressed.pixel
        if not drag.moving and moved.manhattanLength() < STARTS:
            return
        drag.moving = True
        axis = _axis(drag.key)
        wanted = drag.home + at.place[axis] - drag.pressed.place[axis]
        self._carry(drag, wanted, at)

    def _carry(self, drag: _Drag, wanted: float, at: Pointer) -> None:
        deck = self.bench.document.deck
        if deck is None:
            return
        low, high = room_for(drag.webbing, deck, drag.key)
        wanted = min(max(wanted, low), high)
        settled = Settling(wanted, "")
        if not at.has(FREE):
            settled = settle_strip(deck, drag.webbing, drag.key, wanted, at.reach * 0.75)
        done = self.try_out(lambda d: with_strip_at(d, drag.webbing, drag.key, settled.at), at)
        if done:
            self._measure(drag.key, at.place)
            self.view.note.say(settled.reason, at.pixel)

    def _measure(self, key: StripKey, place: Place) -> None:
        standing = self.bench.planner.standing
        if standing is not None:
            webbing = webbing_of(standing)
            along = place[1 - _axis(key)]
            self.view.deck_scene.guides.measure(gaps_beside(self.bench, webbing, key, along))

    def _hover(self, at: Pointer) -> None:
        plan = self.bench.planner.plan
        key = strip_under(plan.parts.webbing, at.place) if plan else None
        shape = Qt.CursorShape.ArrowCursor
        if key is not None:
            across = key.run == "front-to-back"
            shape = Qt.CursorShape.SizeHorCursor if across else Qt.CursorShape.SizeVerCursor
        if self.view.viewport().cursor().shape() != shape:
            self.view.viewport().setCursor(shape)

    def release(self, at: Pointer) -> None:
        drag, self._drag = self._drag, None
        if drag is not None and drag.moving:
            self.bench.document.keep_preview("Move a strip")
        self.view.deck_scene.guides.clear()
        self.view.note.hide()

    # keys ---------------------------------------------------------------------------------------

    def key(self, event: QKeyEvent) -> bool:
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape:
            return self._escape()
        if key in (Qt.Key.Key_BracketLeft, Qt.Key.Key_BracketRight):
            self._step(1 if key == Qt.Key.Key_BracketRight else -1)
            return True
        if key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            return self._remove()
        return self._nudge(key, nudge_of(event, self.bench.units))

    def _escape(self) -> bool:
        if self._drag is None and self._nudged is None:
            had_some = self.bench.selection.picked.strip is not None
            self.bench.selection.clear()
            return had_some
        self.cancel()
        return True

    def _step(self, step: int) -> None:
        plan = self.bench.planner.plan
        strips = plan.parts.webbing.strips if plan else ()
        if plan is None or not strips:
            return
        keys = list(dict.fromkeys(key_of(plan.parts.webbing, strip) for strip in strips))
        now = self.bench.selection.picked.strip
        at = keys.index(now) + step if now in keys else (0 if step > 0 else -1)
        key = keys[at % len(keys)]
        self.bench.selection.pick(Picked(strip=key))
        self.bench.say(f"{strip_words(key)}, selected")

    def _remove(self) -> bool:
        plan, key = self.bench.planner.catch_up(), self.bench.selection.picked.strip
        if plan is None or not parts_of(plan.parts.webbing, key) or key is None:
            return False
        webbing = plan.parts.webbing
        self.bench.selection.pick(NOTHING)
        return self.bench.attempt("Take out a strip", lambda d: without_strip(d, webbing, key))

    def _nudge(self, key: Qt.Key, size: float) -> bool:
        picked = self.bench.selection.picked.strip
        ways = _WAYS.get(picked.run, {}) if picked else {}
        if picked is None or key not in ways:
            return False
        drag = self._nudged or self._begin_nudging(picked)
        if drag is None:
            return False
        self._nudged = drag
        self._by += ways[key] * size
        to = drag.home + self._by
        if self.try_out(lambda d: with_strip_at(d, drag.webbing, drag.key, to)):
            self._measure(picked, self._middle())
        return True

    def _begin_nudging(self, key: StripKey) -> _Drag | None:
        plan = self.bench.planner.catch_up()
        if plan is None or not parts_of(plan.parts.webbing, key):
            return None
        self._by = 0.0
        home = places_of(plan.parts.webbing, key.run)[key.number]
        nowhere = Pointer((0.0, 0.0), self.view.viewport().rect().center().toPointF(), _NONE, 0.0)
        return _Drag(plan.parts.webbing, key, home, nowhere)

    def _middle(self) -> Place:
        standing = self.bench.planner.standing
        assert standing is not None
        x0, y0, x1, y1 = standing.outline.bounds
        return (x0 + x1) / 2, (y0 + y1) / 2

    def key_up(self, event: QKeyEvent) -> None:
        if any(Qt.Key(event.key()) in ways for ways in _WAYS.values()):
            self.settle_up()

    def settle_up(self) -> None:
        if self._nudged is not None:
            self._nudged = None
            self.bench.document.keep_preview("Nudge a strip")
            self.view.deck_scene.guides.clear()

    def cancel(self) -> None:
        self._drag = self._nudged = None
        super().cancel()


_NONE = Qt.KeyboardModifier.NoModifier
_WAYS = {
    "front-to-back": {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1},
    "side-to-side": {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1},
}


def _axis(key: StripKey) -> int:
    """The coordinate across the strip: 0 (x) for front to back, 1 (y) for side to side."""
    return 0 if key.run == "front-to-back" else 1


def strip_under(webbing: WebbingPlan, place: Place) -> StripKey | None:
    """The strip at a place, where two cross the upper one."""
    found: dict[str, StripKey] = {}
    for strip in webbing.strips:
        axis = 0 if strip.run == "front-to-back" else 1
        inside = abs(place[axis] - strip.at) <= strip.width / 2
        if inside and strip.start <= place[1 - axis] <= strip.finish:
            found[strip.run] = key_of(webbing, strip)
    along, across = found.get("front-to-back"), found.get("side-to-side")
    if along and across:
        return along if goes_over(along.number, across.number) else across
    return along or across
