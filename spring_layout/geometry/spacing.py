"""Distances between round things in an opening: to each other and to the sides.

Everything takes and gives arrays. ``centres``: (n, 2) mm; ``radii``: (n,) mm. Distances to a
bowed side are to the true arc, not to its chords.
"""

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from spring_layout.geometry.outline import Outline
from spring_layout.geometry.sides import Array
from spring_layout.tolerances import CHORD_ERROR, NEIGHBOUR_ANGLE, SAME_GAP, SAME_PLACE

Index = NDArray[np.intp]

Joined = tuple[Index, Array]
"""What ``joined_pairs`` gives; whoever has it already hands it on."""


def centre_inside(outline: Outline, points: Array) -> NDArray[np.bool_]:
    """(n,) whether each of ``points`` (n, 2) lies in the opening or on its edge."""
    distance, along = _side_distances(outline, points)
    return _inside(outline, np.asarray(points, float), distance, along)


def side_clearances(outline: Outline, centres: Array, radii: Array) -> Array:
    """(n, sides) signed distance from each ring to the inside edge of each side, mm.

    Negative where the ring passes the edge. For a centre outside the opening the sides nearest
    to it count as passed, so that the smallest of a row is the clearance over all sides.
    """
    distance, along = _side_distances(outline, centres)
    passed = _passed(outline, centres, distance, along)
    return np.asarray(np.where(passed, -distance, distance) - np.asarray(radii, float)[:, None])


def side_feet(outline: Outline, centres: Array, radii: Array) -> tuple[Array, Array]:
    """``side_clearances`` and (n, sides, 2) the unit direction in which each grows fastest."""
    distance, along = _side_distances(outline, centres)
    passed = _passed(outline, centres, distance, along)
    away = np.empty((*distance.shape, 2))
    for number, side in enumerate(outline.sides):
        away[:, number] = centres - side.point(along[:, number])
        on_edge = distance[:, number] < SAME_GAP
        away[on_edge, number] = -side.normal(along[on_edge, number])
    size = np.hypot(away[..., 0], away[..., 1])
    sign = np.where(passed & (distance >= SAME_GAP), -1.0, 1.0)
    clearance = np.where(passed, -distance, distance) - np.asarray(radii, float)[:, None]
    return clearance, away * (sign / size)[..., None]


def _passed(outline: Outline, centres: Array, distance: Array, along: Array) -> NDArray[np.bool_]:
    """(n, sides) whether the centre lies outside the opening, past this side."""
    inside = _inside(outline, np.asarray(centres, float), distance, along)
    nearest = distance <= distance.min(axis=1, keepdims=True, initial=np.inf) + SAME_GAP
    return np.asarray(nearest & ~inside[:, None])


def _side_distances(outline: Outline, points: Array) -> tuple[Array, Array]:
    """(n, sides) distance to each side and the place ``along`` it, mm."""
    points = np.asarray(points, float).reshape(-1, 2)
    along = np.stack([side.nearest_along(points) for side in outline.sides], axis=1)
    feet = np.stack([side.point(along[:, i]) for i, side in enumerate(outline.sides)], axis=1)
    away = points[:, None, :] - feet
    return np.hypot(away[..., 0], away[..., 1]), along


def _inside(outline: Outline, points: Array, distance: Array, along: Array) -> NDArray[np.bool_]:
    """The polygon of chords decides, but near a bowed side the true arc does."""
    inside = np.asarray(outline.holds(points))
    nearest = distance.argmin(axis=1)
    rows = np.flatnonzero(distance.min(axis=1, initial=np.inf) <= 2 * CHORD_ERROR)
    for row in rows:
        side, here = outline.sides[nearest[row]], float(along[row, nearest[row]])
        if 0.0 < here < side.length:
            outward = float((points[row] - side.point(here)) @ side.normal(here))
            inside[row] = outward <= SAME_GAP
    return inside


def gaps(centres: Array, radii: Array, pairs: Index) -> Array:
    """(k,) clear distance between the rings of each of ``pairs`` (k, 2), mm; may be negative."""
    first, second = pairs[:, 0], pairs[:, 1]
    apart = centres[first] - centres[second]
    return np.asarray(np.hypot(apart[:, 0], apart[:, 1]) - radii[first] - radii[second])


def joined_pairs(centres: Array) -> Joined:
    """The pairs of a Delaunay triangulation and the widest angle under which each is seen.

    (k, 2) rows, first < second, sorted; (k,) degrees: the wider of the angles at the two springs
    that make a triangle with the pair (0 without any). No spring on that side of the pair sees it
    under a wider angle. Centres in one straight row give the pairs that follow each other; of
    several centres at one place the first stands for all, and is paired with each of the others.
    """
    first = first_of_each(*centres.T)
    twins, stands_for = _twins(centres, first)
    doubled = np.stack([stands_for, twins], axis=1)
    pairs, seen = _triangulated(centres[first])
    pairs = np.concatenate([np.sort(first[pairs], axis=1), doubled])
    seen = np.concatenate([seen, np.zeros(len(twins))])
    order = np.lexsort((pairs[:, 1], pairs[:, 0]))
    return pairs[order], seen[order]


def first_of_each(*columns: NDArray[Any]) -> Index:
    """The first of each kind of rows of a table (its (n,) columns), sorted by the columns."""
    order = np.lexsort(columns[::-1])
    return order[_is_new(columns, order)]


def _is_new(columns: Sequence[NDArray[Any]], order: Index) -> NDArray[np.bool_]:
    """(n,) whether each row, in ``order``, differs from the one before it."""
    new = np.zeros(len(order), bool)
    new[:1] = True
    for column in columns:
        values = column[order]
        new[1:] |= values[1:] != values[:-1]
    return new


def _twins(centres: Array, first: Index) -> tuple[Index, Index]:
    """The springs that stand where an earlier one does, and those earlier ones."""
    if len(first) == len(centres):
        return np.empty(0, np.intp), np.empty(0, np.intp)
    order = np.lexsort(centres.T[::-1])
    stands_for = np.empty(len(centres), np.intp)
    stands_for[order] = first[np.cumsum(_is_new([*centres.T], order)) - 1]
    twins = np.flatnonzero(stands_for != np.arange(len(centres)))
    return twins, stands_for[twins]


def _triangulated(places: Array) -> tuple[Index, Array]:
    """``joined_pairs`` for places (n, 2) that all differ and are sorted by x, then y."""
    triangles = _triangles(places)
    if len(triangles) == 0:
        row = np.arange(len(places), dtype=np.intp)
        return np.stack([row[:-1], row[1:]], axis=1), np.zeros(max(0, len(places) - 1))
    corners = triangles[:, [[0, 1, 2], [1, 2, 0], [2, 0, 1]]].reshape(-1, 3)
    to_first = places[corners[:, 0]] - places[corners[:, 2]]
    to_second = places[corners[:, 1]] - places[corners[:, 2]]
    cross = to_first[:, 0] * to_second[:, 1] - to_first[:, 1] * to_second[:, 0]
    angle = np.degrees(np.arctan2(np.abs(cross), np.sum(to_first * to_second, axis=1)))
    low, high = corners[:, :2].min(axis=1), corners[:, :2].max(axis=1)
    numbers, which = np.unique(low * len(places) + high, return_inverse=True)
    seen = np.zeros(len(numbers))
    np.maximum.at(seen, which, angle)
    return np.stack(np.divmod(numbers, len(places)), axis=1), seen


def _triangles(places: Array) -> Index:
    """(t, 3) rows of ``places``; none for places in one straight row."""
    made = shapely.get_parts(shapely.delaunay_triangles(shapely.multipoints(places)))
    corners = shapely.get_coordinates(made).reshape(-1, 4, 2)[:, :3].reshape(-1, 2)
    keys = places[:, 0] + 1j * places[:, 1]
    found = np.searchsorted(keys, corners[:, 0] + 1j * corners[:, 1])
    return np.asarray(found, np.intp).reshape(-1, 3)


def natural_neighbours(outline: Outline, centres: Array, joined: Joined | None = None) -> Index:
    """(k, 2) rows of springs that are each other's natural neighbours, first < second, sorted.

    Two springs are natural neighbours when they are joined in the Delaunay triangulation, no
    other spring sees them under 75 degrees or more (it then stands between them) unless one is
    the nearest to the other, and the straight way between them stays in the opening. In square
    rows those are the springs before, behind, left and right, never the diagonal ones (seen under
    90 degrees, whichever way the triangulation happens to cut the square); in staggered rows with
    equal sides all six around (seen under 60). In one straight row they are the springs that
    follow each other. No spring is left without a neighbour by the others.
    """
    if len(centres) < 2:
        return np.empty((0, 2), np.intp)
    pairs, seen = joined or joined_pairs(centres)
    free = (seen < NEIGHBOUR_ANGLE) | _nearest_of_one(centres, pairs)
    return _in_sight(outline, centres, pairs[free])


def _nearest_of_one(centres: Array, pairs: Index) -> NDArray[np.bool_]:
    """(k,) whether in a pair either centre is the other's nearest, or as near."""
    distance = gaps(centres, np.zeros(len(centres)), pairs)
    least = np.full(len(centres), np.inf)
    np.minimum.at(least, pairs.ravel(), np.repeat(distance, 2))
    return np.asarray((distance[:, None] <= least[pairs] + SAME_GAP).any(axis=1))


def _in_sight(outline: Outline, centres: Array, pairs: Index) -> Index:
    if outline.is_convex:
        return pairs
    ways = shapely.linestrings(centres[pairs])
    return np.asarray(pairs[shapely.covers(outline.polygon, ways)], np.intp)


def nearest_rings(
    centres: Array, radii: Array, joined: Joined | None = None
) -> tuple[Index, Array]:
    """For each ring the one with the smallest gap to it (row, -1 for a lone one) and that gap, mm.

    Of equal gaps (within ``SAME_GAP``) the one with the smaller y, then the smaller x.
    """
    count = len(centres)
    nearest, gap = np.full(count, -1, np.intp), np.full(count, np.nan)
    if count < 2:
        return nearest, gap
    pairs = _near_pairs(centres, radii, joined)
    pairs = np.concatenate([pairs, pairs[:, ::-1]])
    found = gaps(centres, radii, pairs)
    steps = np.round(found / SAME_GAP)
    other = centres[pairs[:, 1]]
    order = np.lexsort((other[:, 0], other[:, 1], steps, pairs[:, 0]))
    rows, firsts = np.unique(pairs[order, 0], return_index=True)
    nearest[rows], gap[rows] = pairs[order[firsts], 1], found[order[firsts]]
    return nearest, gap


def _near_pairs(centres: Array, radii: Array, joined: Joined | None) -> Index:
    """Pairs (k, 2), first < second, among which each ring's smallest gap is found.

    Between equal rings the nearest centre is always joined in the triangulation. A larger ring
    can be nearer though its centre is farther; those within reach are asked of a search tree.
    """
    pairs, _ = joined or joined_pairs(centres)
    if np.ptp(radii) == 0:
        return pairs
    between = gaps(centres, radii, pairs)
    most = np.full(len(centres), np.inf)
    np.minimum.at(most, pairs.ravel(), np.repeat(between, 2))
    reach = np.maximum(most + radii + radii.max() + SAME_GAP, 0.0)
    points = shapely.points(centres)
    near = shapely.STRtree(points).query(points, predicate="dwithin", distance=reach).T
    return np.unique(np.sort(near[near[:, 0] != near[:, 1]], axis=1), axis=0)


def facing_sides(outline: Outline, centres: Array) -> Index:
    """(k, 2) rows (spring, side) of the rim: which spring faces which side, sorted.

    A spring faces a side when its nearest place on that side is not the side's end (unless the
    edge turns inward there, as at a notch, when it counts for the side that begins there), the
    way to it stays in the opening, and no spring stands between: none that lies within 60 degrees
    of the way to the side and sees the two under 60 degrees or more.
    """
    distance, along = _side_distances(outline, centres)
    lengths = np.array([side.length for side in outline.sides])
    within = (along > SAME_PLACE) & (along < lengths - SAME_PLACE)
    begins = (along <= SAME_PLACE) & (outline.turns < 0)
    rows, sides = np.nonzero((within | begins) & (distance > 0))
    feet = np.empty((len(rows), 2))
    for number, side in enumerate(outline.sides):
        feet[sides == number] = side.point(along[rows[sides == number], number])
    free = _ways_inside(outline, centres[rows], feet)
    free[free] = _unblocked(centres, rows[free], feet[free])
    return np.stack([rows[free], sides[free]], axis=1)


def _unblocked(centres: Array, rows: Index, feet: Array) -> NDArray[np.bool_]:
    """(k,) whether no spring stands between springs ``rows`` and their ``feet`` on a side.

    Springs joined to one are asked first, as most ways are blocked there, then the search tree.
    """
    free = np.ones(len(rows), bool)
    for near in (_neighbours_of, _around):
        left = np.flatnonzero(free)
        asked, other = near(centres, rows[left], feet[left])
        way = left[asked]
        here, foot, eye = centres[rows[way]], feet[way], centres[other]
        free[way[~_sees(here, foot, eye, beyond=True) & _sees(eye, here, foot)]] = False
    return free


FACING_ANGLE = 60.0
"""degrees. A spring that lies within this of a way to a side, seen from the spring at its start,
and sees that way under at least this, stands in it."""


def _neighbours_of(centres: Array, rows: Index, _: Array) -> tuple[Index, Index]:
    """For each of ``rows`` (k,) the springs joined to it: which of the k, and the spring."""
    pairs, _ = joined_pairs(centres)
    near = np.concatenate([pairs, pairs[:, ::-1]])
    near = near[near[:, 0].argsort(kind="stable")]
    starts = np.searchsorted(near[:, 0], np.arange(len(centres) + 1))
    counts = np.diff(starts)[rows]
    way = np.repeat(np.arange(len(rows)), counts)
    step = np.arange(len(way)) - np.repeat(np.cumsum(counts) - counts, counts)
    return way, near[starts[rows[way]] + step, 1]


def _around(centres: Array, rows: Index, feet: Array) -> tuple[Index, Index]:
    """The springs that could stand in the ways from ``rows`` to ``feet``: which way, the spring."""
    middles = shapely.points((centres[rows] + feet) / 2)
    reach = _BLOCKING_REACH * np.hypot(*(centres[rows] - feet).T)
    tree = shapely.STRtree(shapely.points(centres))
    asked, others = tree.query(middles, predicate="dwithin", distance=reach)
    return asked, others


_BLOCKING_REACH = 0.5 / math.tan(math.radians(FACING_ANGLE / 2)) + 0.01
"""Of a way's length: whatever sees it under the angle is no farther than this from its middle."""


def _sees(eyes: Array, first: Array, second: Array, beyond: bool = False) -> NDArray[np.bool_]:
    """(k,) whether each of ``eyes`` sees two places under ``FACING_ANGLE`` or more.

    A place at the eye itself is not seen. ``beyond``: more than the angle, not just that.
    """
    one, two = first - eyes, second - eyes
    inner = np.sum(one * two, axis=1)
    sizes = np.hypot(one[:, 0], one[:, 1]) * np.hypot(two[:, 0], two[:, 1])
    limit = sizes * math.cos(math.radians(FACING_ANGLE))
    return np.asarray((sizes > 0) & ((inner < limit) if beyond else (inner <= limit)))


def _ways_inside(outline: Outline, starts: Array, feet: Array) -> NDArray[np.bool_]:
    """(k,) whether the straight ways stay in the opening; the last hair before the edge is let."""
    if outline.is_convex:
        return np.ones(len(starts), bool)
    ends = starts + (feet - starts) * 0.99
    return np.asarray(
        shapely.covers(outline.polygon, shapely.linestrings(np.stack([starts, ends], axis=1)))
    )
