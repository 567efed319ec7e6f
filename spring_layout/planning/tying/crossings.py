"""The cross knots: where ties of different runs meet.

Meeting places that are chained by steps of at most ``CROSSING_REACH`` are one knot at the mean of
its meeting places (each counted once), naming all their lines. It is at a spring when it lies
inside that spring's top coil, at the nearest where several overlap. The line tied last makes it.
"""

import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from spring_layout.deck.model import RUNS
from spring_layout.geometry.spacing import first_of_each
from spring_layout.planning.parts import Array, Crossing, Line, Standing
from spring_layout.planning.tying.touch import Rows, pieces_of
from spring_layout.tolerances import CROSSING_REACH

SAME_MEETING = 1e-6
"""mm. Meetings nearer than this are one place met several times, at a spring's centre."""
NEARLY_ALONG = 1e-9
"""Pieces whose directions' cross product is below this share of their lengths run alongside."""


def crossings_of(standing: Standing, lines: Sequence[Line]) -> tuple[Crossing, ...]:
    """The cross knots of ``lines`` (in tying order), by their lines, then from the left."""
    places, pairs = _meetings(lines)
    if not len(places):
        return ()
    group = _chained(places)
    middles = _means(places, group)
    springs = _springs_at(standing, middles)
    numbers: list[set[int]] = [set() for _ in middles]
    for knot, (a, b) in zip(group.tolist(), pairs.tolist(), strict=True):
        numbers[knot] |= {a, b}
    found = zip(middles.tolist(), numbers, springs.tolist(), strict=True)
    return tuple(
        sorted(
            (
                Crossing(
                    (x, y), tuple(sorted(named)), standing.ids[s] if s >= 0 else None, max(named)
                )
                for (x, y), named, s in found
            ),
            key=lambda knot: (knot.lines, knot.place),
        )
    )


def _meetings(lines: Sequence[Line]) -> tuple[Array, Rows]:
    """(k, 2) places where lines of different runs meet, and (k, 2) their numbers."""
    pieces, owner, run = _pieces(lines)
    if not len(pieces):
        return np.zeros((0, 2)), np.zeros((0, 2), np.intp)
    first, second = _near(pieces)
    kept = (first < second) & (run[first] != run[second])
    first, second = first[kept], second[kept]
    places, which = _intersections(pieces[first], pieces[second])
    pairs = np.sort(np.stack([owner[first], owner[second]], axis=-1), axis=1)[which]
    x, y = np.round(places / SAME_MEETING).T
    once = np.sort(first_of_each(x, y, *pairs.T))
    return places[once], pairs[once]


def _pieces(lines: Sequence[Line]) -> tuple[Array, Rows, Rows]:
    """(k, 4) every straight piece of the lines, its line's number and its run's."""
    paths = [np.array(line.path) for line in lines]
    pieces = [pieces_of(path[:-1], path[1:]) for path in paths]
    counts = [len(piece) for piece in pieces]
    owner = np.repeat(np.array([line.number for line in lines], np.intp), counts)
    run = np.repeat(np.array([RUNS.index(line.run) for line in lines], np.intp), counts)
    return np.concatenate([*pieces, np.zeros((0, 4))]), owner, run


def _near(pieces: Array) -> tuple[Rows, Rows]:
    """Pairs of pieces whose boxes overlap."""
    shapes = shapely.linestrings(pieces.reshape(-1, 2, 2))
    first, second = shapely.STRtree(shapes).query(shapes)
    return first, second


def _intersections(first: Array, second: Array) -> tuple[Array, Rows]:
    """The places where pieces meet, and the pair each belongs to; a shared stretch has two."""
    (ax, ay, bx, by), (cx, cy, dx, dy) = first.T, second.T
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    long, wide = np.hypot(ux, uy), np.hypot(vx, vy)
    turn = ux * vy - uy * vx
    along = np.abs(turn) <= NEARLY_ALONG * long * wide
    safe = np.where(along, 1.0, turn)
    s = ((cx - ax) * vy - (cy - ay) * vx) / safe
    t = ((cx - ax) * uy - (cy - ay) * ux) / safe
    slack_s, slack_t = SAME_MEETING / np.maximum(long, 1e-9), SAME_MEETING / np.maximum(wide, 1e-9)
    met = ~along & (s >= -slack_s) & (s <= 1 + slack_s) & (t >= -slack_t) & (t <= 1 + slack_t)
    places = np.stack([ax + s * ux, ay + s * uy], axis=-1)[met]
    shared, whose = _shared(first[along], second[along])
    which = np.concatenate([np.flatnonzero(met), np.flatnonzero(along)[whose]])
    return np.concatenate([places, shared]), which


def _shared(first: Array, second: Array) -> tuple[Array, Rows]:
    """The ends of the stretches that pieces running alongside share, and whose they are."""
    met = shapely.intersection(
        shapely.linestrings(first.reshape(-1, 2, 2)), shapely.linestrings(second.reshape(-1, 2, 2))
    )
    places, which = shapely.get_coordinates(met, return_index=True)
    return places, which.astype(np.intp)


def _chained(places: Array) -> Rows:
    """(k,) the number of the knot that each place belongs to."""
    points = shapely.points(places)
    first, second = shapely.STRtree(points).query(
        points, predicate="dwithin", distance=CROSSING_REACH
    )
    group = np.arange(len(places))
    while True:
        least = group.copy()
        np.minimum.at(least, first, group[second])
        least = least[least]
        if (least == group).all():
            is_used = np.zeros(len(places), np.intp)
            is_used[group] = 1
            return np.asarray((np.cumsum(is_used) - 1)[group])
        group = least


def _means(places: Array, group: Rows) -> Array:
    """(knots, 2) the mean of each group's places, each place counted once."""
    once = first_of_each(*np.round(places / SAME_MEETING).T, group)
    counts = np.bincount(group[once])
    sums = [np.bincount(group[once], weights=places[once, axis]) for axis in (0, 1)]
    return np.stack(sums, axis=-1) / counts[:, None]


def _springs_at(standing: Standing, places: Array) -> NDArray[np.intp]:
    """(k,) row of the nearest spring inside whose top coil each place lies, or -1."""
    points, centres = shapely.points(places), shapely.points(standing.centres)
    reach = float(standing.radii.max())
    place, spring = shapely.STRtree(centres).query(points, predicate="dwithin", distance=reach)
    rows = np.full(len(places), -1, np.intp)
    nearest = [(math.inf, "")] * len(places)
    for knot, row in zip(place.tolist(), spring.tolist(), strict=True):
        far = (math.dist(places[knot], standing.centres[row]), standing.ids[row])
        if far[0] <= standing.radii[row] and far < nearest[knot]:
            nearest[knot], rows[knot] = far, row
    return rows
