"""The cross knots: where ties of different runs meet.

Meeting places that are chained by steps of at most ``CROSSING_REACH`` are one knot at the mean of
its meeting places (each counted once), naming all their lines. It is at a spring when it lies
inside that spring's top coil, at the nearest where several overlap. The line tied last makes it.
"""

from collections.abc import Sequence

import numpy as np
import shapely

from spring_layout.planning.parts import Array, Crossing, Line, Standing
from spring_layout.planning.tying.touch import Rows, pieces_of
from spring_layout.tolerances import CROSSING_REACH

HAIR = 1e-6
"""mm. Meetings nearer than this are one place met several times, at a spring's centre."""


def crossings_of(standing: Standing, lines: Sequence[Line]) -> tuple[Crossing, ...]:
    """The cross knots of ``lines`` (in tying order), by their lines, then from the back left."""
    places, pairs = _meetings(lines)
    if not len(places):
        return ()
    knots = [_knot(standing, places[rows], pairs[rows]) for rows in _chained(places)]
    return tuple(sorted(knots, key=lambda knot: (knot.lines, knot.place)))


def _meetings(lines: Sequence[Line]) -> tuple[Array, Rows]:
    """(k, 2) places where lines of different runs meet, and (k, 2) their numbers."""
    paths = [line.path for line in lines]
    rows = [
        (*a, *b, line.number, run)
        for line, path in zip(lines, paths, strict=True)
        for run in (hash_of_run(line),)
        for a, b in zip(path, path[1:], strict=False)
    ]
    table = np.array(rows, float).reshape(-1, 6)
    pieces, owner, run_of = table[:, :4], table[:, 4].astype(np.intp), table[:, 5]
    if not len(pieces):
        return np.zeros((0, 2)), np.zeros((0, 2), np.intp)
    shapes = shapely.linestrings(pieces.reshape(-1, 2, 2))
    first, second = shapely.STRtree(shapes).query(shapes, predicate="intersects")
    kept = (first < second) & (run_of[first] != run_of[second])
    first, second = first[kept], second[kept]
    met, which = _intersections(pieces[first], pieces[second])
    pairs = np.sort(np.stack([owner[first], owner[second]], axis=-1), axis=1)[which]
    return _without_doubles(met, pairs)


def hash_of_run(line: Line) -> float:
    """A number for the line's run."""
    runs = ("front-to-back", "side-to-side", "diagonal-rising", "diagonal-falling")
    return float(runs.index(line.run))


def _intersections(first: Array, second: Array) -> tuple[Array, Rows]:
    """The places where pieces meet, and which pair each belongs to; a shared stretch has two."""
    met = shapely.intersection(
        shapely.linestrings(first.reshape(-1, 2, 2)), shapely.linestrings(second.reshape(-1, 2, 2))
    )
    places, which = shapely.get_coordinates(met, return_index=True)
    return places, which.astype(np.intp)


def _without_doubles(places: Array, pairs: Rows) -> tuple[Array, Rows]:
    """Each meeting of two lines once, though several of their pieces end there."""
    key = np.column_stack([np.round(places, 6), pairs])
    _, kept = np.unique(key, axis=0, return_index=True)
    kept = np.sort(kept)
    return places[kept], pairs[kept]


def _chained(places: Array) -> list[Rows]:
    """Rows of ``places`` grouped so that steps of at most the reach join each group."""
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
            break
        group = least
    order = np.argsort(group, kind="stable")
    cuts = np.flatnonzero(np.diff(group[order])) + 1
    return np.split(order, cuts)


def _knot(standing: Standing, places: Array, pairs: Rows) -> Crossing:
    once = places[np.unique(np.round(places, 6), axis=0, return_index=True)[1]]
    middle = once.mean(axis=0)
    far = np.hypot(*(standing.centres - middle).T)
    inside = np.where(far <= standing.radii, far, np.inf)
    nearest = int(inside.argmin())
    numbers = tuple(sorted(set(pairs.ravel().tolist())))
    return Crossing(
        place=(float(middle[0]), float(middle[1])),
        lines=numbers,
        spring=standing.ids[nearest] if np.isfinite(inside[nearest]) else None,
        tied_by=numbers[-1],
    )
