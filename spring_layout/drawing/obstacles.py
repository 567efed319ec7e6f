"""What labels keep clear of: straight pieces, rings and spots, on the paper.

Each kind says which of many upright boxes come too near to any of it. The tests are exact, but
that for straight pieces and spots a box stays square when it is widened by the distance to keep.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

import numpy as np
import shapely
from numpy.typing import NDArray

Array = NDArray[np.float64]
Rows = NDArray[np.intp]


@dataclass(frozen=True)
class Boxes:
    """Upright boxes by their lower and upper corners, (m, 2) each, mm."""

    low: Array
    high: Array

    @cached_property
    def shapes(self) -> NDArray[np.object_]:
        """(m,) the boxes as shapely shapes."""
        (x0, y0), (x1, y1) = self.low.T, self.high.T
        shapes: NDArray[np.object_] = shapely.box(x0, y0, x1, y1)
        return shapes

    def near(self, low: Array, high: Array) -> tuple[Rows, Rows]:
        """Rows of each pair of a box and a thing that reaches from ``low`` to ``high``."""
        if not len(self.low) or not len(low):
            return np.empty(0, np.intp), np.empty(0, np.intp)
        box, thing = shapely.STRtree(Boxes(low, high).shapes).query(self.shapes)
        return box, thing


class Obstacle(Protocol):
    """Things of one kind to keep clear of."""

    def hits(self, boxes: Boxes) -> Rows:
        """The rows of the boxes that come too near; a row may be named more than once."""


def clear_of(obstacles: Sequence[Obstacle], boxes: Boxes) -> NDArray[np.bool_]:
    """(m,) whether each box keeps clear of all the obstacles."""
    result = np.ones(len(boxes.low), bool)
    for obstacle in obstacles:
        result[obstacle.hits(boxes)] = False
    return result


@dataclass(frozen=True)
class Pieces:
    """Straight pieces, ``ends``: (n, 2, 2), to keep ``clear`` mm from."""

    ends: Array
    clear: float

    def hits(self, boxes: Boxes) -> Rows:
        """The boxes that a piece comes too near to."""
        low, high = self.ends.min(axis=1) - self.clear, self.ends.max(axis=1) + self.clear
        box, piece = boxes.near(low, high)
        start, way = self.ends[piece, 0], self.ends[piece, 1] - self.ends[piece, 0]
        with np.errstate(divide="ignore", invalid="ignore"):
            one = (boxes.low[box] - self.clear - start) / way
            two = (boxes.high[box] + self.clear - start) / way
        # a piece that runs along an axis lies between the box's edges there: near has seen to it
        level = way == 0
        enter = np.where(level, 0.0, np.minimum(one, two)).max(axis=1)
        leave = np.where(level, 1.0, np.maximum(one, two)).min(axis=1)
        return np.asarray(box[np.maximum(enter, 0.0) <= np.minimum(leave, 1.0)])


@dataclass(frozen=True)
class Rings:
    """Circles' lines, ``centres``: (n, 2), ``radii``: (n,), to keep ``clear`` mm from."""

    centres: Array
    radii: Array
    clear: float

    def hits(self, boxes: Boxes) -> Rows:
        """The boxes that are neither well inside nor well outside a ring."""
        reach = (self.radii + self.clear)[:, None]
        box, ring = boxes.near(self.centres - reach, self.centres + reach)
        low, high = boxes.low[box], boxes.high[box]
        centre, radius = self.centres[ring], self.radii[ring]
        nearest = np.clip(centre, low, high) - centre
        farthest = np.maximum(np.abs(low - centre), np.abs(high - centre))
        outside = np.hypot(*nearest.T) >= radius + self.clear
        inside = np.hypot(*farthest.T) <= radius - self.clear
        return np.asarray(box[~(outside | inside)])


@dataclass(frozen=True)
class Spots:
    """Places, (n, 2), to keep ``clear`` mm from both ways."""

    places: Array
    clear: float

    def hits(self, boxes: Boxes) -> Rows:
        """The boxes that a spot comes too near to."""
        return boxes.near(self.places - self.clear, self.places + self.clear)[0]
