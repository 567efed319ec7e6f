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
_LOOKS = slice(0, 6), slice(6, 16), slice(16, 48), slice(48, None)
"""The places are looked at in these lots, nearest first."""
_LEADER_FROM = 7.0
"""mm farther out than the nearest place: from there on a label has a leader."""
_LINE_GAP = 1.3
_OFF_LINES = 0.6
"""mm that a label keeps from a line where it can."""


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

    @property
    def hangs(self) -> float:
        """How far the last line's words hang below the box, mm."""
        last = self.rows[-1]
        return lettering.hang(last.words, lettering.font_size(last.height))


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
        best = self._best(boxes, wanted.hangs)
        if best is None:
            return []
        self._take(boxes[best])
        x0, y0, x1, y1 = boxes[best].tolist()
        box = x0, y0, x1, y1
        return [*_leader(wanted, box, float(steps[best])), *_written(wanted, box)]

    def _take(self, box: Array) -> None:
        self._taken = np.concatenate([self._taken, box[None]])

    def _best(self, boxes: Array, hangs: float) -> int | None:
        """The first free box that stands on no line, else the first that stands on fewest.

        Its words hang ``hangs`` mm below it. A few are looked at at a time, since most labels find
        room near by.
        """
        best: int | None = None
        fewest = math.inf
        for some in _LOOKS:
            free = np.flatnonzero(self._free(boxes[some])) + some.start
            if not len(free):
                continue
            crossed = self._crossed(boxes[free] + np.array([0.0, 0.0, 0.0, hangs]))
            least = int(crossed.argmin())
            if crossed[least] < fewest:
                best, fewest = int(free[least]), crossed[least]
            if not fewest:
                break
        return best

    def _crossed(self, boxes: Array) -> NDArray[np.intp]:
        """(m,) how many lines each box stands on."""
        wide = shapely.box(*_wider(boxes, _OFF_LINES).T)
        hits, _ = self._lines.query(wide, predicate="intersects")
        return np.bincount(hits, minlength=len(boxes))

    def _free(self, boxes: Array) -> NDArray[np.bool_]:
        """(m,) whether each box lies in the room and off all those taken."""
        x0, y0, x1, y1 = _wider(boxes, APART).T
        left, top, right, bottom = self._room
        inside = (x0 >= left) & (y0 >= top) & (x1 <= right) & (y1 <= bottom)
        left, top, right, bottom = self._taken.T[:, None]
        across = (x0[:, None] < right) & (x1[:, None] > left)
        touch = across & (y0[:, None] < bottom) & (y1[:, None] > top)
        return np.asarray(inside & ~touch.any(axis=1))


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
