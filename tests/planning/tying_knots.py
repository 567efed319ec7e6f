"""The referee's own reading of rule 10: where ties of different runs meet, and who knots there."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import shapely

from spring_layout.deck.model import Deck
from spring_layout.planning.parts import Crossing, Line, Ties

REACH = 6.0
SLACK = 0.01
Words = tuple[str, tuple[int, ...]]


@dataclass(frozen=True)
class Knot:
    """A chain of meeting places: those places (k, 2), mm, and the numbers of the lines."""

    places: np.ndarray
    lines: tuple[int, ...]


def broken_crossings(deck: Deck, ties: Ties) -> Iterator[Words]:
    """What is wrong with ``ties.crossings``, in words, with the lines that it concerns."""
    knots = knots_of(ties.lines)
    if len(knots) != len(ties.crossings):
        yield f"{len(ties.crossings)} crossings told, {len(knots)} found", ()
    for crossing in ties.crossings:
        yield from _broken_crossing(deck, crossing, knots)
    for knot in knots:
        if not any(c.lines == knot.lines and _is_at(knot, c.place) for c in ties.crossings):
            x, y = knot.places.mean(axis=0)
            yield f"no crossing told for lines {knot.lines} at ({x:.1f}, {y:.1f})", knot.lines


def _broken_crossing(deck: Deck, crossing: Crossing, knots: list[Knot]) -> Iterator[Words]:
    if not any(k.lines == crossing.lines and _is_at(k, crossing.place) for k in knots):
        yield f"lines {crossing.lines} do not meet at {crossing.place}", crossing.lines
    if crossing.tied_by != max(crossing.lines):
        yield f"the knot of {crossing.lines} is not made by the line tied last", crossing.lines
    spring = _spring_at(deck, crossing.place)
    if spring != crossing.spring:
        yield (
            f"the crossing of {crossing.lines} is at {spring}, not {crossing.spring}",
            crossing.lines,
        )


def _spring_at(deck: Deck, place: tuple[float, float]) -> str | None:
    """The spring inside whose top coil ``place`` lies; the nearest centre where several do."""
    inside = [
        (math.dist(place, (s.x, s.y)), s.id)
        for s in deck.springs
        if math.dist(place, (s.x, s.y)) <= deck.coil_of(s).top_radius + 1e-6
    ]
    return min(inside)[1] if inside else None


def _is_at(knot: Knot, place: tuple[float, float]) -> bool:
    """Whether ``place`` is the mean of the chain's places, each counted once or by pairs."""
    once = np.unique(knot.places.round(6), axis=0)
    means = (knot.places.mean(axis=0), once.mean(axis=0))
    return any(math.dist(mean, place) <= SLACK for mean in means)


def knots_of(lines: tuple[Line, ...]) -> list[Knot]:
    """Every place where lines of different runs meet, chained by steps of at most 6 mm."""
    places: list[tuple[float, float]] = []
    pairs: list[tuple[int, int]] = []
    ways = {ln.number: shapely.LineString(ln.path) for ln in lines if len(ln.path) > 1}
    for a, b in combinations([ln for ln in lines if ln.number in ways], 2):
        if a.run != b.run:
            for place in _meetings(ways[a.number], ways[b.number]):
                places.append(place)
                pairs.append((a.number, b.number))
    return [
        Knot(
            np.array([places[i] for i in chain]),
            tuple(sorted({number for i in chain for number in pairs[i]})),
        )
        for chain in _chains(places)
    ]


def _meetings(way: shapely.Geometry, other: shapely.Geometry) -> list[tuple[float, float]]:
    """Where two ways cross or touch; a stretch that they share counts at its ends."""
    met = shapely.intersection(way, other)
    if met.is_empty and way.distance(other) < SLACK / 2:
        met = shapely.Point(shapely.shortest_line(way, other).coords[0])
    return [tuple(map(float, xy)) for xy in np.unique(shapely.get_coordinates(met), axis=0)]


def _chains(places: list[tuple[float, float]]) -> list[list[int]]:
    """Rows of ``places`` grouped so that steps of at most 6 mm join each group."""
    if not places:
        return []
    near = shapely.STRtree(shapely.points(places)).query(
        shapely.points(places), predicate="dwithin", distance=REACH
    )
    group = list(range(len(places)))
    for a, b in near.T:
        ra, rb = _root(group, int(a)), _root(group, int(b))
        group[max(ra, rb)] = min(ra, rb)
    chains: dict[int, list[int]] = {}
    for i in range(len(places)):
        chains.setdefault(_root(group, i), []).append(i)
    return list(chains.values())


def _root(group: list[int], i: int) -> int:
    while group[i] != i:
        i = group[i]
    return i
