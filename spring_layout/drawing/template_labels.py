"""Labels on a full-size picture: at 1:1 there is room, so each takes the first free place.

All lettering stands level, so a label covers an upright box. It stands wholly in the picture, off
the marks that are pricked through, and off every label placed before it. One that must go farther
away gets a leader.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray

from spring_layout.drawing import lettering, look
from spring_layout.drawing.primitives import Item, Path, Place, Tag, Weight, polyline
from spring_layout.drawing.template_marks import Bounds
from spring_layout.drawing.view import Array

APART = 0.8
"""mm between labels."""
_STEPS = np.array([0.0, 3.0, 7.0, 12.0, 18.0, 25.0, 34.0])
_FIRST, _NEAR = 32, 24
"""How many of the nearest places are looked at before the others, where most labels find room; how
many of the free ones before they may stand on a line."""
_LEADER_FROM = 7.0
"""mm farther out than the nearest place: from there on a label has a leader."""
_LINE_GAP = 1.3
_OFF_LINES = 0.9
"""mm that a label keeps from a line where it can: more than g and y hang below it."""


@dataclass(frozen=True)
class Row:
    """One line of a label: its words, the height of its capitals, mm, and its weight."""

    words: str
    height: float
    weight: Weight = "regular"

    @property
    def width(self) -> float:
        """How wide the words are, mm."""
        return lettering.width(self.words, self.height, self.weight)


@dataclass(frozen=True)
class Wanted:
    """A label that is wanted at ``place``: its lines, and the ways it may go from there.

    ``ways`` are directions (unit vectors), the best first; ``off`` is how far the label's box
    keeps from the place, mm.
    """

    place: Place
    rows: tuple[Row, ...]
    ways: tuple[Place, ...]
    off: float
    kind: str

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the label's box, mm."""
        high = sum(row.height for row in self.rows) + _LINE_GAP * (len(self.rows) - 1)
        return max(row.width for row in self.rows), high


class Labels:
    """The boxes taken on one picture, ``room`` being where the picture is.

    ``lines`` are what is drawn there, on the paper: a label stands on none of them where it has
    the choice.
    """

    def __init__(self, room: Bounds, lines: Sequence[shapely.Geometry] = ()) -> None:
        self._room = np.array(room)
        self._taken = np.empty((0, 4))
        self._lines = shapely.STRtree(lines)

    def keep_clear(self, place: Place, reach: float) -> None:
        """Let no label come nearer than ``reach`` to ``place``."""
        x, y = place
        self._take(np.array([x - reach, y - reach, x + reach, y + reach]))

    def put(self, wanted: Wanted) -> list[Item]:
        """The label where it finds room; nothing where there is none."""
        boxes, steps = _boxes(wanted)
        best = self._first_clear(boxes[:_FIRST])
        best = self._least_crossed(boxes) if best is None else best
        if best is None:
            return []
        self._take(boxes[best])
        x0, y0, x1, y1 = boxes[best].tolist()
        box = x0, y0, x1, y1
        return [*_leader(wanted, box, float(steps[best])), *_written(wanted, box)]

    def _take(self, box: Array) -> None:
        self._taken = np.concatenate([self._taken, box[None]])

    def _first_clear(self, boxes: Array) -> int | None:
        """The first of a few boxes that is free and stands on no line."""
        free = np.flatnonzero(self._free(boxes))
        if not len(free):
            return None
        clear = free[self._crossed(boxes[free]) == 0]
        return int(clear[0]) if len(clear) else None

    def _least_crossed(self, boxes: Array) -> int | None:
        """The first free box that stands on no line, else the first that stands on fewest."""
        free = np.flatnonzero(self._free(boxes))
        if not len(free):
            return None
        for some in (free[:_NEAR], free):
            crossed = self._crossed(boxes[some])
            if not crossed.min():
                break
        return int(free[crossed.argmin()])

    def _crossed(self, boxes: Array) -> NDArray[np.intp]:
        """(m,) how many lines each box stands on."""
        wide = shapely.box(*_wider(boxes, _OFF_LINES).T)
        hits, _ = self._lines.query(wide, predicate="intersects")
        return np.bincount(hits, minlength=len(boxes))

    def _free(self, boxes: Array) -> NDArray[np.bool_]:
        """(m,) whether each box lies in the room and off all those taken."""
        wide = _wider(boxes, APART)
        low, high = wide[:, :2], wide[:, 2:]
        inside = np.all((low >= self._room[:2]) & (high <= self._room[2:]), axis=1)
        before, after = low[:, None] < self._taken[:, 2:], high[:, None] > self._taken[:, :2]
        touch = np.all(before & after, axis=2)
        return np.asarray(inside & ~np.any(touch, axis=1))


def _wider(boxes: Array, by: float) -> Array:
    return np.asarray(boxes + np.array([-by, -by, by, by]))


def _boxes(wanted: Wanted) -> tuple[Array, Array]:
    """(m, 4) the boxes that a label may have, nearest first, and (m,) their steps outward, mm."""
    boxes, steps = _boxes_about(wanted.size, wanted.ways, wanted.off)
    return boxes + np.array(wanted.place * 2), steps


@lru_cache(maxsize=4096)
def _boxes_about(
    size: tuple[float, float], ways: tuple[Place, ...], off: float
) -> tuple[Array, Array]:
    """The same for a label that is wanted at 0, 0."""
    half, unit = np.array(size) / 2, np.array(ways)
    with np.errstate(divide="ignore"):
        # the box's own reach in that direction, so that its edge keeps ``off``
        reach = (half / np.abs(unit)).min(axis=1)
    steps = np.repeat(_STEPS, len(ways))
    far = off + steps + np.tile(reach, len(_STEPS))
    middles = np.tile(unit, (len(_STEPS), 1)) * far[:, None]
    return np.concatenate([middles - half, middles + half], axis=1), steps


def _leader(wanted: Wanted, box: Bounds, step: float) -> list[Item]:
    if step < _LEADER_FROM:
        return []
    x, y = wanted.place
    near = (min(max(x, box[0] - 0.5), box[2] + 0.5), min(max(y, box[1] - 0.5), box[3] + 0.5))
    return [Path(polyline((wanted.place, near)), look.HAIRLINE)]


def _written(wanted: Wanted, box: Bounds) -> list[Item]:
    x, y = (box[0] + box[2]) / 2, box[1]
    items: list[Item] = []
    for row in wanted.rows:
        y += row.height
        items.append(
            lettering.lettered(
                (x, y),
                row.words,
                row.height,
                look.INK,
                anchor="middle",
                weight=row.weight,
                tag=Tag(kind=wanted.kind),
            )
        )
        y += _LINE_GAP
    return items


DIAGONAL: tuple[Place, ...] = tuple(
    (x * math.sqrt(0.5), y * math.sqrt(0.5)) for x, y in ((1, -1), (1, 1), (-1, -1), (-1, 1))
)
"""The four ways between upright and level, up to the right first."""


@lru_cache(maxsize=512)
def all_round(first: Place, count: int = 16) -> tuple[Place, ...]:
    """``count`` directions, those nearest to ``first`` before the others."""
    angle = math.atan2(first[1], first[0])
    turns: Sequence[float] = sorted(
        (2 * math.pi * i / count for i in range(count)), key=lambda t: min(t, 2 * math.pi - t)
    )
    return tuple((math.cos(angle + turn), math.sin(angle + turn)) for turn in turns)
