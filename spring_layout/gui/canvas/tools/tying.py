"""Ties in the hand: look at them, drag a tack point along its rail, join and part springs."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from spring_layout.deck import edits
from spring_layout.deck.model import Run
from spring_layout.gui.canvas.hits import (
    AnchorHit,
    anchor_at,
    crossing_at,
    side_at,
    span_at,
    spring_at,
    tie_at,
)
from spring_layout.gui.canvas.layers.guides import Dimension
from spring_layout.gui.canvas.tools.base import STARTS, Pointer, Tool, nudge_of
from spring_layout.gui.selection import Picked, TieKey
from spring_layout.gui.words import RUN_WORDS
from spring_layout.planning.parts import Crossing, Line

ALONG = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
"""Which way an arrow key moves a tack point along its rail."""
_OUTSIDE = 1.5
"""Times the reach: tack points are taken hold of a little earlier than the tie itself."""


@dataclass
class _AnchorDrag:
    """A tack point in the hand."""

    hit: AnchorHit
    pressed: Pointer
    moving: bool = False


@dataclass(frozen=True)
class _Nudge:
    """A tack point on its way under a held arrow key: of which tie and end, and where it is."""

    line: Line
    end: Literal["start", "finish"]
    along: float


class TieTool(Tool):
    """Point at a {tie} to read it, click to pick it, drag its tack point along the rail."""

    name = "Look at {ties}"
    hint = "Point at a {tie} to read it, click to pick it. Drag a tack point along its rail."

    def __init__(self, *context: object) -> None:
        super().__init__(*context)  # type: ignore[arg-type]  # the two arguments of Tool
        self._drag: _AnchorDrag | None = None
        self._nudged: _Nudge | None = None

    def put_down(self) -> None:
        self.view.deck_scene.hover(None)
        super().put_down()

    def leave(self) -> None:
        self.view.deck_scene.hover(None)

    def press(self, at: Pointer) -> None:
        self.settle_up()
        plan = self.bench.planner.catch_up()
        if plan is None:
            return
        hit = anchor_at(plan.parts.ties, at.place, at.reach * _OUTSIDE)
        if hit is not None:
            self._pick(hit.line)
            self._drag = _AnchorDrag(hit, at)
            return
        line = tie_at(plan.parts.ties, at.place, at.reach)
        spring = spring_at(plan.parts.standing, at.place, 0.0)
        if line is not None:
            self._pick(line)
        else:
            self.bench.selection.pick_springs([spring] if spring else [])

    def _pick(self, line: Line) -> None:
        self.bench.selection.pick(Picked(tie=TieKey(line.run, line.springs[0])))

    def move(self, at: Pointer) -> None:
        if self._drag is None:
            self._hover(at)
        elif self._drag.moving or (
            (at.pixel - self._drag.pressed.pixel).manhattanLength() >= STARTS
        ):
            self._drag.moving = True
            self._slide(self._drag, at)

    def _hover(self, at: Pointer) -> None:
        plan = self.bench.planner.plan
        if plan is None:
            return
        ties = plan.parts.ties
        hit = anchor_at(ties, at.place, at.reach * _OUTSIDE)
        knot = crossing_at(ties, at.place, at.reach * 0.75)
        line = hit.line if hit else tie_at(ties, at.place, at.reach)
        self.view.deck_scene.hover(TieKey(line.run, line.springs[0]) if line else None)
        words = ""
        if hit is not None:
            words = f"Tack point of {self._title(hit.line)}"
        elif knot is not None and len(knot.lines) > 1:
            words = self._knot_words(knot)
        elif line is not None:
            words = self._line_words(line)
        self.view.note.say(words, at.pixel)
        shape = Qt.CursorShape.SizeAllCursor if hit else Qt.CursorShape.ArrowCursor
        self.view.viewport().setCursor(shape)

    def _title(self, line: Line) -> str:
        return f"{self.bench.words.tie} {line.number}, {RUN_WORDS[line.run]}"

    def _line_words(self, line: Line) -> str:
        title = self._title(line)
        springs = ", ".join(self.bench.label(name) for name in line.springs)
        plan = self.bench.planner.plan
        twine = plan.parts.twine.lines if plan else ()
        cut = next((t.cut_length for t in twine if t.number == line.number), None)
        told = f"{title[0].upper()}{title[1:]}\nover {springs}"
        return f"{told}\ncut {self.bench.length(cut, 'cut')}" if cut is not None else told

    def _knot_words(self, knot: Crossing) -> str:
        numbers = " and ".join(str(number) for number in knot.lines)
        where = f" over {self.bench.label(knot.spring)}" if knot.spring else ""
        return f"Cross knot of {numbers}{where},\nmade with {knot.tied_by}"

    def _slide(self, drag: _AnchorDrag, at: Pointer) -> None:
        standing = self.bench.planner.standing
        if standing is None:
            return
        outline, line, end = standing.outline, drag.hit.line, drag.hit.end
        side = self._side_near(at)
        if side is None:
            return
        curve = outline.sides[side]
        along = float(curve.nearest_along(np.asarray(at.place)))
        moved = self.try_out(
            lambda deck: edits.move_anchor(
                deck, line.run, line.springs[0], end, side, along, line.springs
            ),
            at,
        )
        if moved:
            middle = curve.point(curve.length / 2)
            here = curve.point(along)
            off = abs(along - curve.length / 2)
            words = self.bench.length(off, unit=False)
            start, finish = (tuple(float(v) for v in p) for p in (middle, here))
            self.view.deck_scene.guides.measure(
                [Dimension((start[0], start[1]), (finish[0], finish[1]), words)]
            )
            self.view.note.say(f"{self.bench.length(off)} from the rail's middle", at.pixel)

    def _side_near(self, at: Pointer) -> int | None:
        """The railed side nearest to the pointer."""
        standing, deck = self.bench.planner.standing, self.bench.deck
        if standing is None or deck is None:
            return None
        side = side_at(standing.outline, at.place, math.inf)
        if side is None or deck.frame.sides[side].rail == "none":
            return None
        return side

    def release(self, at: Pointer) -> None:
        drag, self._drag = self._drag, None
        if drag is not None and drag.moving:
            self.bench.document.keep_preview("Move a tack point")
        self.view.deck_scene.guides.clear()
        self.view.note.hide()

    def cancel(self) -> None:
        self._drag = self._nudged = None
        super().cancel()

    # keys ---------------------------------------------------------------------------------------

    def key(self, event: QKeyEvent) -> bool:
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape:
            busy = self._drag is not None or self._nudged is not None
            had_some = not self.bench.selection.picked.is_empty
            self.cancel() if busy else self.bench.selection.clear()
            return busy or had_some
        if key in (Qt.Key.Key_BracketLeft, Qt.Key.Key_BracketRight):
            self._next(1 if key == Qt.Key.Key_BracketRight else -1)
            return True
        if key in ALONG:
            far = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
            by = ALONG[key] * nudge_of(event, self.bench.units)
            return self._nudge("finish" if far else "start", by)
        return False

    def _next(self, step: int) -> None:
        """Picks the next or previous tie in tying order."""
        plan = self.bench.planner.catch_up()
        if plan is None or not plan.parts.ties.lines:
            return
        lines = plan.parts.ties.lines
        picked = self.bench.picked_line()
        index = (lines.index(picked) + step) % len(lines) if picked in lines else 0
        self._pick(lines[index])
        self.bench.say(self._line_words(lines[index]).replace("\n", ", "))

    def _nudge(self, end: Literal["start", "finish"], by: float) -> bool:
        """Moves a tack point of the picked tie along its rail: the start, with Ctrl the finish.

        A held key moves it on, and the step is made when it comes up.
        """
        if self._nudged is not None and self._nudged.end != end:
            self.settle_up()
        line = self._nudged.line if self._nudged else self.bench.picked_line()
        standing = self.bench.planner.standing
        if line is None or standing is None:
            return False
        index = 0 if end == "start" else 1
        side, along = line.sides[index], line.along[index]
        if side is None or along is None:
            return False
        along = self._nudged.along if self._nudged else along
        tangent = standing.outline.sides[side].tangent(along)
        forward = 1 if abs(tangent[0]) < 0.01 or tangent[0] > 0 else -1
        now = max(along + forward * by, 0.0)
        held, name = line.springs, line.springs[0]
        if self.try_out(lambda d: edits.move_anchor(d, line.run, name, end, side, now, held)):
            self._nudged = _Nudge(line, end, now)
        return True

    def key_up(self, event: QKeyEvent) -> None:
        if Qt.Key(event.key()) in ALONG:
            self.settle_up()

    def settle_up(self) -> None:
        if self._nudged is not None:
            self._nudged = None
            self.bench.document.keep_preview("Move a tack point")


class JoinTool(Tool):
    """Drag from spring to spring to join them; click a stretch of a tie to part its springs."""

    name = "Join or part"
    hint = (
        "Drag from one spring to another to join them on a {tie}. "
        "Click a {tie} between two springs to part them."
    )
    cursor = Qt.CursorShape.CrossCursor

    def __init__(self, *context: object) -> None:
        super().__init__(*context)  # type: ignore[arg-type]  # the two arguments of Tool
        self._from: str | None = None

    def press(self, at: Pointer) -> None:
        plan = self.bench.planner.catch_up()
        if plan is None:
            return
        self._from = spring_at(plan.parts.standing, at.place, 0.0)
        if self._from is None:
            self._part(at)

    def _part(self, at: Pointer) -> None:
        plan = self.bench.planner.plan
        found = span_at(plan.parts.ties, at.place, at.reach) if plan else None
        if found is None:
            return
        line, span = found
        first = span - (1 if line.anchors[0] is not None else 0)
        if not 0 <= first < len(line.springs) - 1:
            self.bench.say("That stretch leads to the rail; part two springs.")
            return
        a, b = line.springs[first], line.springs[first + 1]
        words = f"Part {self.bench.label(a)} and {self.bench.label(b)}"
        self.attempt(words, lambda deck: edits.part_springs(deck, line.run, a, b), at)

    def move(self, at: Pointer) -> None:
        plan = self.bench.planner.plan
        if plan is None:
            return
        if self._from is None:
            found = span_at(plan.parts.ties, at.place, at.reach)
            line = found[0] if found else None
            self.view.deck_scene.hover(TieKey(line.run, line.springs[0]) if line else None)
            return
        start = self._place(self._from)
        other = spring_at(plan.parts.standing, at.place, 0.0)
        ends = (start, self._place(other) if other else at.place)
        self.view.deck_scene.guides.sketch(ends)
        words = ""
        if other is not None and other != self._from:
            run = self._run(self._from, other)
            names = f"{self.bench.label(self._from)} and {self.bench.label(other)}"
            words = f"Join {names}, {RUN_WORDS[run]}"
        self.view.note.say(words, at.pixel)

    def release(self, at: Pointer) -> None:
        first, self._from = self._from, None
        plan = self.bench.planner.plan
        self.view.deck_scene.guides.clear()
        self.view.note.hide()
        other = spring_at(plan.parts.standing, at.place, 0.0) if plan else None
        if first is None or other is None or other == first:
            return
        run = self._run(first, other)
        words = f"Join {self.bench.label(first)} and {self.bench.label(other)}"
        self.attempt(words, lambda deck: edits.join_springs(deck, run, first, other), at)

    def _place(self, spring: str) -> tuple[float, float]:
        deck = self.bench.deck
        assert deck is not None
        found = deck.spring(spring)
        return found.x, found.y

    def _run(self, first: str, other: str) -> Run:
        return run_between(self._place(first), self._place(other))

    def key(self, event: QKeyEvent) -> bool:
        if Qt.Key(event.key()) == Qt.Key.Key_Escape and self._from is not None:
            self.cancel()
            return True
        return False

    def put_down(self) -> None:
        self.view.deck_scene.hover(None)
        super().put_down()

    def cancel(self) -> None:
        self._from = None
        super().cancel()


def run_between(one: tuple[float, float], other: tuple[float, float]) -> Run:
    """The run that the way between two springs most looks like, by its angle."""
    dx, dy = other[0] - one[0], other[1] - one[1]
    angle = math.degrees(math.atan2(-dy, dx)) % 180
    if angle < 22.5 or angle >= 157.5:
        return "side-to-side"
    if angle < 67.5:
        return "diagonal-rising"
    return "front-to-back" if angle < 112.5 else "diagonal-falling"
