"""The opening of a frame: its sides as exact curves and as one shapely polygon."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from spring_layout.geometry.sides import Array, SideCurve
from spring_layout.tolerances import SAME_PLACE, SMOOTH_TURN


class OutlineError(ValueError):
    """The corners and bows make no usable opening; the message says why, in words."""

    def __init__(self, reason: str, side: int | None = None) -> None:
        super().__init__(reason)
        self.reason = reason
        self.side = side


@dataclass(frozen=True, eq=False)
class Outline:
    """The opening. Side i runs from corner i to corner i + 1, clockwise on paper (y down)."""

    sides: tuple[SideCurve, ...]

    @cached_property
    def corners(self) -> Array:
        """(n, 2) inside corners, mm."""
        return np.array([side.start for side in self.sides])

    @cached_property
    def ring(self) -> Array:
        """(m, 2) places round the inside edge, chords within 0.05 mm, not closed."""
        return np.concatenate([side.polyline()[:-1] for side in self.sides])

    @cached_property
    def polygon(self) -> shapely.Polygon:
        """The opening as a shapely polygon."""
        return shapely.Polygon(self.ring)

    @cached_property
    def is_convex(self) -> bool:
        """Whether every straight way between two places of the opening stays in it."""
        hull = float(self.polygon.convex_hull.area)
        return hull - float(self.polygon.area) <= SAME_PLACE * float(self.polygon.length)

    def holds(self, points: Array) -> NDArray[np.bool_]:
        """(n,) whether each of ``points`` (n, 2) lies in the polygon or on its edge."""
        shapely.prepare(self.polygon)
        return np.asarray(shapely.covers(self.polygon, shapely.points(points)))

    @cached_property
    def lines(self) -> NDArray[np.object_]:
        """(n,) array of shapely LineStrings, one a side."""
        return np.array([shapely.LineString(side.polyline()) for side in self.sides], dtype=object)

    @cached_property
    def turns(self) -> Array:
        """(n,) degrees that the edge turns at each corner; + toward the inside."""
        return np.array([self._turn(i) for i in range(len(self.sides))])

    def _turn(self, corner: int) -> float:
        before, after = self.sides[corner - 1], self.sides[corner]
        turn = float(after.heading(0.0)) - float(before.heading(before.length))
        return math.degrees((turn + math.pi) % (2 * math.pi) - math.pi)

    def is_corner(self, corner: int) -> bool:
        """Whether the sides at ``corner`` really meet in one, and do not just run on."""
        return abs(float(self.turns[corner])) >= SMOOTH_TURN

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """(least x, least y, most x, most y), mm."""
        x0, y0, x1, y1 = self.polygon.bounds
        return float(x0), float(y0), float(x1), float(y1)


def make_outline(corners: Sequence[tuple[float, float]], bows: Sequence[float]) -> Outline:
    """The opening with ``corners`` ((n, 2), mm, clockwise on paper) and a bow for each side (mm).

    Raises OutlineError, with a reason in words, where they make no usable opening.
    """
    count = len(corners)
    if count < 2 or (count == 2 and not any(bows)):
        raise OutlineError("the frame needs at least three sides, or two with bows")
    sides = tuple(SideCurve(corners[i], corners[(i + 1) % count], bows[i]) for i in range(count))
    for i, side in enumerate(sides):
        _check_side(i, side)
    outline = Outline(sides)
    _check_polygon(outline)
    return outline


def _check_side(number: int, side: SideCurve) -> None:
    if side.chord < SAME_PLACE:
        raise OutlineError("two corners stand at the same place", number)
    if abs(side.bow) > side.chord / 2 + SAME_PLACE:
        raise OutlineError("the bow is more than a half circle", number)


def _check_polygon(outline: Outline) -> None:
    if not outline.polygon.is_valid:
        raise OutlineError(
            f"the outline crosses itself ({shapely.is_valid_reason(outline.polygon)})"
        )
    x, y = outline.ring.T
    if float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) <= 0:
        raise OutlineError("the corners run anticlockwise; list them the other way round")
