"""Pick springs and move them, with live gaps; settle in line, mirrored or between equal gaps."""

from dataclasses import dataclass

import msgspec
import numpy as np
import shapely
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from spring_layout.deck import edits
from spring_layout.deck.model import Deck
from spring_layout.gui.canvas.hits import side_at, spring_at, springs_in
from spring_layout.gui.canvas.settling import Others, Settled, settle
from spring_layout.gui.canvas.tools.base import FREE, STARTS, WAYS, Place, Pointer, Tool, nudge_of
from spring_layout.gui.canvas.tools.carrying import carried
from spring_layout.gui.canvas.tools.measuring import dimensions_of
from spring_layout.gui.selection import Picked
from spring_layout.gui.words import counted
from spring_layout.planning.standing import standing_of
from spring_layout.planning.webbing import webbing_of

ADDS = Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.ControlModifier


@dataclass
class _Drag:
    """Springs in the hand: the one taken hold of, where it was, where the pointer took it."""

    spring: str
    home: Place
    pressed: Pointer
    others: Others
    radius: float
    moving: bool = False
    moved: Place | None = None


@dataclass
class _Band:
    """A rectangle being drawn round springs."""

    start: Place
    before: frozenset[str]


class MoveTool(Tool):
    """Press on a spring and drag; press on nothing to draw a rectangle round several."""

    name = "Pick and move springs"
    hint = (
        "Drag a spring to move it. Arrow keys nudge it, Alt keeps it from settling. "
        "Drag on empty cloth to pick several."
    )

    def __init__(self, *context: object) -> None:
        super().__init__(*context)  # type: ignore[arg-type]  # the two arguments of Tool
        self._drag: _Drag | None = None
        self._band: _Band | None = None
        self._nudged: Place | None = None

    def press(self, at: Pointer) -> None:
        self.settle_up()
        standing, deck = self.bench.planner.standing, self.bench.deck
        if standing is None or deck is None:
            return
        spring = spring_at(standing, at.place, at.reach / 4)
        if spring is None:
            self._press_elsewhere(at)
            return
        self._select(spring, at)
        if spring in self.bench.selection.springs:
            self._take_hold(deck, spring, at)

    def _select(self, spring: str, at: Pointer) -> None:
        selection = self.bench.selection
        if at.keys & ADDS:
            selection.toggle_spring(spring)
        elif spring not in selection.springs:
            selection.pick_springs([spring])

    def _press_elsewhere(self, at: Pointer) -> None:
        standing = self.bench.planner.standing
        side = side_at(standing.outline, at.place, at.reach) if standing else None
        if side is not None:
            self.bench.selection.pick(Picked(side=side))
            return
        kept = self.bench.selection.springs if at.keys & ADDS else frozenset[str]()
        self._band = _Band(at.place, kept)
        self.bench.selection.pick_springs(kept)

    def _take_hold(self, deck: Deck, spring: str, at: Pointer) -> None:
        held = deck.spring(spring)
        self._drag = _Drag(
            spring, (held.x, held.y), at, self._others(), deck.coil_of(held).top_radius
        )

    def _others(self) -> Others:
        """The springs that stay."""
        standing = self.bench.planner.standing
        assert standing is not None
        chosen = self.bench.selection.springs
        rows = [i for i, name in enumerate(standing.ids) if name not in chosen]
        return Others(
            tuple(self.bench.label(standing.ids[i]) for i in rows),
            standing.centres[rows].reshape(-1, 2),
            standing.radii[rows],
            self.bench.origin()[0],
            self._strips(),
            shapely.LinearRing(standing.outline.ring),
        )

    def _strips(self) -> tuple[tuple[int, float], ...]:
        """The strips of webbing as they lie without the moving springs, which some would follow."""
        deck = self.bench.deck
        if deck is None:
            return ()
        chosen = self.bench.selection.springs
        staying = tuple(spring for spring in deck.springs if spring.id not in chosen)
        webbing = webbing_of(standing_of(msgspec.structs.replace(deck, springs=staying)))
        return tuple((0 if s.run == "front-to-back" else 1, s.at) for s in webbing.strips)

    def move(self, at: Pointer) -> None:
        if self._band is not None:
            self._stretch(self._band, at)
        elif self._drag is not None:
            self._carry(self._drag, at)
        else:
            self._hover(at)

    def _hover(self, at: Pointer) -> None:
        standing = self.bench.planner.standing
        spring = spring_at(standing, at.place, at.reach / 4) if standing else None
        shape = Qt.CursorShape.OpenHandCursor if spring else Qt.CursorShape.ArrowCursor
        if self.view.viewport().cursor().shape() != shape:
            self.view.viewport().setCursor(shape)

    def _stretch(self, band: _Band, at: Pointer) -> None:
        standing = self.bench.planner.standing
        if standing is not None:
            inside = springs_in(standing, band.start, at.place)
            self.bench.selection.pick_springs(band.before | inside)
        self.view.deck_scene.guides.band((band.start, at.place))

    def _carry(self, drag: _Drag, at: Pointer) -> None:
        moved = at.pixel - drag.pressed.pixel
        if not drag.moving and moved.manhattanLength() < STARTS:
            return
        drag.moving = True
        wanted = (
            drag.home[0] + at.place[0] - drag.pressed.place[0],
            drag.home[1] + at.place[1] - drag.pressed.place[1],
        )
        free = at.has(FREE)
        settled = (
            Settled(wanted) if free else settle(wanted, drag.radius, drag.others, at.reach * 0.75)
        )
        if self._move_to(drag, settled.place, at):
            self._tell(drag, settled, at)

    def _move_to(self, drag: _Drag, place: Place, at: Pointer) -> bool:
        dx, dy = place[0] - drag.home[0], place[1] - drag.home[1]
        chosen = self.bench.selection.springs
        if not self.try_out(lambda deck: carried(deck, chosen, dx, dy), at):
            return False
        drag.moved = (dx, dy)
        return True

    def _tell(self, drag: _Drag, settled: Settled, at: Pointer) -> None:
        guides = self.view.deck_scene.guides
        guides.measure(dimensions_of(self.bench, drag.spring, self.bench.selection.springs))
        guides.show_settling(settled.guides)
        self.view.note.say(", ".join(settled.reasons), at.pixel)

    def release(self, at: Pointer) -> None:
        drag, self._drag = self._drag, None
        band, self._band = self._band, None
        if band is not None:
            self.view.deck_scene.guides.band(None)
        if drag is not None and drag.moved is not None:
            chosen, by = self.bench.selection.springs, drag.moved
            words = self._step_words("Move")
            self.attempt(words, lambda deck: edits.move_springs(deck, chosen, *by))
        self.view.deck_scene.guides.clear()
        self.view.note.hide()

    def _step_words(self, verb: str) -> str:
        chosen = self.bench.selection.springs
        if len(chosen) == 1:
            return f"{verb} {self.bench.label(next(iter(chosen)))}"
        return f"{verb} {counted(len(chosen), 'spring')}"

    # keys ---------------------------------------------------------------------------------------

    def key(self, event: QKeyEvent) -> bool:
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape:
            return self._escape()
        if key in WAYS:
            self._nudge(WAYS[key], nudge_of(event, self.bench.units))
            return True
        if key in (Qt.Key.Key_BracketLeft, Qt.Key.Key_BracketRight):
            self._step_to_next(1 if key == Qt.Key.Key_BracketRight else -1)
            return True
        return False

    def _escape(self) -> bool:
        if self._drag is None and self._band is None and self._nudged is None:
            had_some = not self.bench.selection.picked.is_empty
            self.bench.selection.clear()
            return had_some
        self.cancel()
        return True

    def _nudge(self, way: tuple[int, int], size: float) -> None:
        """One nudge; a held key nudges on, and the step is made when it comes up."""
        chosen = self.bench.selection.springs
        if not chosen:
            self._step_to_next(1)
            return
        before = self._nudged or (0.0, 0.0)
        now = (before[0] + way[0] * size, before[1] + way[1] * size)
        if self.try_out(lambda deck: edits.move_springs(deck, chosen, *now)):
            self._nudged = now
            lead = min(chosen, key=self.bench.label)
            self.view.deck_scene.guides.measure(dimensions_of(self.bench, lead, chosen))

    def _step_to_next(self, step: int) -> None:
        """Picks the next or the previous spring in the order of the labels."""
        plan = self.bench.planner.plan
        if plan is None or not plan.parts.rows:
            return
        order = [name for row in plan.parts.rows for name in row]
        chosen = self.bench.selection.springs
        at = [i for i, name in enumerate(order) if name in chosen]
        start = (at[-1] if step > 0 else at[0]) + step if at else 0
        name = order[start % len(order)]
        self.bench.selection.pick_springs([name])
        self.bench.say(f"{self.bench.label(name)} selected")

    def key_up(self, event: QKeyEvent) -> None:
        if Qt.Key(event.key()) in WAYS:
            self.settle_up()

    def settle_up(self) -> None:
        if self._nudged is not None:
            self._nudged = None
            self.bench.document.keep_preview(self._step_words("Nudge"))
            self.view.deck_scene.guides.clear()

    def cancel(self) -> None:
        self._drag = self._band = self._nudged = None
        super().cancel()


def middle_of_springs(deck: Deck, chosen: frozenset[str]) -> Place:
    """The mean place of the chosen springs, mm."""
    places = np.array([(s.x, s.y) for s in deck.springs if s.id in chosen])
    x, y = places.mean(axis=0)
    return float(x), float(y)
