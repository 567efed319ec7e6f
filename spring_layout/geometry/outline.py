"""The opening of a frame: its sides as exact curves and as one shapely polygon."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from spring_layout.geometry.sides import Array, SideCurve
from spring_layout.tolerances import SAME_PLACE, SMOOTH_TURN

Fold = Literal["", "cross itself", "turn inside out"]


class OutlineError(ValueError):
    """The corners and bows make no usable opening; the message says why, and the mend, in words.

    It is a sentence without its first capital and its full stop, and counts sides and corners
    from 1. ``sides`` are the sides at fault, as indices; ``side`` is the first of them or None;
    ``place`` is where it shows, mm, or None. ``fold`` says whether the edge crosses itself or runs
    the wrong way round, which to somebody who moves a corner is a frame turned inside out.
    """

    def __init__(
        self,
        reason: str,
        sides: tuple[int, ...] = (),
        place: tuple[float, float] | None = None,
        fold: Fold = "",
    ) -> None:
        super().__init__(reason)
        self.reason = reason
        self.sides = sides
        self.side = sides[0] if sides else None
        self.place = place
        self.fold: Fold = fold


_STRAIGHT = 1e-9
"""radians. An edge that turns by less runs straight: rounding of the corners' places."""


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

    @cached_property
    def has_hollow(self) -> bool:
        """Whether the edge turns outward anywhere, be it ever so little."""
        ahead = np.roll(self.ring, -1, axis=0) - self.ring
        ahead = ahead / np.hypot(ahead[:, 0], ahead[:, 1])[:, None]
        after = np.roll(ahead, -1, axis=0)
        turn = ahead[:, 0] * after[:, 1] - ahead[:, 1] * after[:, 0]
        return bool((turn < -_STRAIGHT).any())

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

    A bow is the rise of a circular arc above the chord, + outward, at most a half circle. Raises
    OutlineError, with a reason in words, where they make no usable opening.
    """
    count = len(corners)
    if len(bows) != count:
        raise OutlineError(
            f"{count} corners need {count} sides, not {len(bows)}; give one side for each corner"
        )
    if count < 2 or (count == 2 and not any(bows)):
        raise OutlineError(
            "the frame needs at least three sides, or two with bows; add a corner, or bow a side"
        )
    sides = tuple(SideCurve(corners[i], corners[(i + 1) % count], bows[i]) for i in range(count))
    for i, side in enumerate(sides):
        _check_side(i, side)
    outline = Outline(sides)
    _check_crossings(outline)
    _check_area(outline)
    return outline


def _check_side(number: int, side: SideCurve) -> None:
    if side.chord < SAME_PLACE:
        raise OutlineError(
            f"side {number + 1} has no length: both its corners stand at the same place; move one "
            "of them, or take one out",
            (number,),
            side.start,
        )
    if abs(side.bow) > side.chord / 2 + SAME_PLACE:
        raise OutlineError(
            f"the bow of side {number + 1} is more than a half circle; lower it to half the "
            "distance between the side's corners, or less",
            (number,),
            side.start,
        )


def _check_crossings(outline: Outline) -> None:
    """Raises OutlineError, naming the sides, where the edge crosses or touches itself."""
    if outline.polygon.is_valid:
        return
    tree = shapely.STRtree(outline.lines)
    pairs = tree.query(outline.lines, predicate="intersects").T
    for first, second in sorted((int(i), int(j)) for i, j in pairs if i < j):
        place = _clash(outline, first, second)
        if place is not None:
            raise OutlineError(
                f"the outline crosses itself: side {first + 1} meets side {second + 1}; move a "
                "corner of one of them, or put the corners in their order round the opening",
                (first, second),
                place,
                "cross itself",
            )
    raise OutlineError(
        "the outline crosses itself or lies all in one line; put the corners in their order round "
        "the opening",
        fold="cross itself",
    )


def _clash(outline: Outline, first: int, second: int) -> tuple[float, float] | None:
    """Where two sides meet other than in a corner that both own."""
    meeting = outline.lines[first].intersection(outline.lines[second])
    corners = [outline.sides[i].start for i in (first, second)]
    corners += [outline.sides[i].end for i in (first, second)]
    own = {place for place in corners if corners.count(place) > 1}
    places = (tuple(map(float, place)) for place in shapely.get_coordinates(meeting))
    return next(((x, y) for x, y in places if (x, y) not in own), None)


def _check_area(outline: Outline) -> None:
    x, y = outline.ring.T
    twice = float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))
    if abs(twice) / 2 <= SAME_PLACE * float(outline.polygon.length):
        raise OutlineError(
            "the outline encloses no opening: its corners lie in one line; move one off it"
        )
    if twice < 0:
        raise OutlineError(
            "the corners run anticlockwise; list them the other way round", fold="turn inside out"
        )
