"""Labels on a full-size picture: at 1:1 there is room, so each takes the first free place.

All lettering stands level, so a label covers an upright box. It stands wholly in the picture, off
the marks that are pricked through, and off every label placed before it. One that must go farther
away gets a leader.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from spring_layout.drawing import lettering, look
from spring_layout.drawing.primitives import Item, Path, Place, Tag, Weight, polyline
from spring_layout.drawing.template_marks import Bounds

APART = 0.8
"""mm between labels."""
_STEPS = (0.0, 3.0, 7.0, 12.0, 18.0, 25.0, 34.0)
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


class Labels:
    """The boxes taken on one picture, ``room`` being where the picture is.

    ``lines`` are what is drawn there, on the paper: a label stands on none of them where it has
    the choice.
    """

    def __init__(self, room: Bounds, lines: Sequence[shapely.Geometry] = ()) -> None:
        self._room = room
        self._taken: list[Bounds] = []
        self._lines = shapely.STRtree(lines)

    def keep_clear(self, place: Place, reach: float) -> None:
        """Let no label come nearer than ``reach`` to ``place``."""
        x, y = place
        self._taken.append((x - reach, y - reach, x + reach, y + reach))

    def put(self, wanted: Wanted) -> list[Item]:
        """The label where it finds room; nothing where there is none."""
        width, height = wanted.size
        free = []
        for (x, y), step in _middles(wanted):
            box = (x - width / 2, y - height / 2, x + width / 2, y + height / 2)
            if self._is_free(box):
                free.append((box, step))
        if not free:
            return []
        crossed = self._crossed([box for box, _ in free])
        box, step = free[int(np.argmin(crossed))]
        self._taken.append(box)
        return [*_leader(wanted, box, step), *_written(wanted, box)]

    def _crossed(self, boxes: Sequence[Bounds]) -> np.ndarray:
        """How many lines each box stands on; a place nearer by may stand on none or be dearer."""
        x0, y0, x1, y1 = np.array(boxes).T
        wide = shapely.box(x0 - _OFF_LINES, y0 - _OFF_LINES, x1 + _OFF_LINES, y1 + _OFF_LINES)
        hits, _ = self._lines.query(wide, predicate="intersects")
        return np.bincount(hits, minlength=len(boxes))

    def _is_free(self, box: Bounds) -> bool:
        x0, y0, x1, y1 = self._room
        if box[0] < x0 + APART or box[1] < y0 + APART or box[2] > x1 - APART or box[3] > y1 - APART:
            return False
        return not any(_touch(box, other) for other in self._taken)


def _touch(a: Bounds, b: Bounds) -> bool:
    return (
        a[0] < b[2] + APART and b[0] < a[2] + APART and a[1] < b[3] + APART and b[1] < a[3] + APART
    )


def _middles(wanted: Wanted) -> Iterator[tuple[Place, float]]:
    """The middles that the label's box may have, nearest first, each with its step outward."""
    width, height = wanted.size
    for step in _STEPS:
        for dx, dy in wanted.ways:
            # the box's own reach in that direction, so that its edge keeps ``off``
            reach = min(
                width / 2 / abs(dx) if dx else math.inf, height / 2 / abs(dy) if dy else math.inf
            )
            far = wanted.off + step + reach
            yield (wanted.place[0] + dx * far, wanted.place[1] + dy * far), step


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


def all_round(first: Place, count: int = 16) -> tuple[Place, ...]:
    """``count`` directions, those nearest to ``first`` before the others."""
    angle = math.atan2(first[1], first[0])
    turns: Sequence[float] = sorted(
        (2 * math.pi * i / count for i in range(count)), key=lambda t: min(t, 2 * math.pi - t)
    )
    return tuple((math.cos(angle + turn), math.sin(angle + turn)) for turn in turns)
