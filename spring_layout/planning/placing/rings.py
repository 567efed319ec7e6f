"""Layouts in rings, for round openings: a spring in the middle, or none, and rings around it."""

import math
from collections.abc import Iterator

import numpy as np
import shapely

from spring_layout.geometry.outline import Outline
from spring_layout.planning.parts import Array
from spring_layout.planning.placing.layouts import Sketch
from spring_layout.planning.placing.measure import Wish

ROUNDNESS = 0.94
"""4 pi area / circumference squared, 1 for a circle: an octagon still counts as round."""


def ring_sketches(outline: Outline, radius: float, wish: Wish) -> Iterator[Sketch]:
    """Ring layouts of rings of ``radius`` mm worth a look; none in an opening that is not round."""
    area, length = float(outline.polygon.area), float(outline.polygon.length)
    if 4 * math.pi * area / length**2 < ROUNDNESS:
        return
    circle = shapely.maximum_inscribed_circle(outline.polygon)
    middle = np.asarray(outline.polygon.centroid.coords[0])
    outer = float(circle.length) - radius
    for share in (1.0, 1.2, 0.7, 1.4):
        yield from _with_rings(
            middle, outer - share * wish.clearance, 2 * radius + share * wish.gap
        )


def _with_rings(middle: Array, reach: float, pitch: float) -> Iterator[Sketch]:
    """Rings from ``reach`` inward, a pitch apart, with and without a spring in the middle."""
    if reach < 0:
        return
    rings: list[tuple[float, int]] = []
    while reach > pitch / 2:
        rings.insert(0, (reach, _ring_count(reach, pitch)))
        reach -= pitch
    if rings:
        yield _sketch(middle, [(0.0, 1), *rings] if rings[0][0] >= 0.9 * pitch else rings)
        yield _sketch(middle, rings)


def _ring_count(reach: float, pitch: float) -> int:
    """How many springs a ring takes at ``pitch`` from centre to centre."""
    return max(2, math.floor(math.pi / math.asin(min(1.0, pitch / 2 / reach)) + 1e-6))


def _sketch(middle: Array, rings: list[tuple[float, int]]) -> Sketch:
    places, rows, start = [], [], 0
    about_one = rings[0][1] == 1
    for reach, count in rings:
        angles = _first_angle(count, about_one) + 2 * math.pi * np.arange(count) / count
        places.append(middle + reach * np.stack([np.cos(angles), np.sin(angles)], axis=1))
        rows.append(tuple(range(start, start + count)))
        start += count
    return Sketch("ring", np.concatenate(places), tuple(rows), ())


def _first_angle(count: int, about_one: bool) -> float:
    """Where a ring begins so that its springs also stand in rows: 2-3-2 rather than 1-2-1-2-1.

    ``about_one``: a spring stands in the middle; eight or sixteen around it then stand in line
    with it front to back, side to side and on both diagonals, so that it is tied in all eight.
    """
    if count % 2:
        return -math.pi / 2
    aligned = about_one and count % 8 == 0
    return math.pi / count if count % 4 == 0 and not aligned else 0.0
