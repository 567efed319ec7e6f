"""Where a spring stands as far from the rail as from its neighbour."""

import shapely

Place = tuple[float, float]
ROUNDS = 4
"""Steps to the place: one is enough before a straight rail, a bowed one takes two or three."""
FACES = 0.7
"""Least share of the way to the rail that runs along the row: beyond it the rail lies beside."""


def even_with_rail(
    edge: shapely.LinearRing, axis: int, place: Place, radius: float, ring: float, way: int
) -> float | None:
    """The coordinate where a ring of ``radius`` mm is as far from the rail as from ``ring``.

    ``place`` is where the spring is now, mm; ``ring`` the neighbour's edge along ``axis`` (0 for
    x, 1 for y); ``way`` is +1 where the neighbour stands before it along that axis, else -1. None
    where the rail nearest to the spring does not lie on the other side of it.
    """
    value = place[axis]
    for _ in range(ROUNDS):
        at = (value, place[1]) if axis == 0 else (place[0], value)
        point = shapely.Point(at)
        away = edge.distance(point)
        foot = edge.interpolate(edge.project(point))
        ahead = ((foot.x, foot.y)[axis] - value) * way
        if away <= 0 or ahead < FACES * away:
            return None
        # a step lessens the way to the rail by its share along the row, and adds to the gap
        surplus = (away - radius) - (abs(value - ring) - radius)
        value += way * surplus / (1 + ahead / away)
    return value
