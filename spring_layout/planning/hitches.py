"""Where every hitch sits: on which spring, on which ring, at which place in space.

A line takes two hitches on each spring that it passes over, where it enters the ring and where
it leaves it: straight from the spring's centre toward the place before and the place after. They
sit on the top coil, but for the outer hitches of front-to-back and side-to-side lines: toward a
rail, those go on the ring nearest in height to that rail's top, or on the ring of the setting.
From a lower ring the return tie then leads back from the rail to the outside of the top coil and
sets its height (Johnson 1919 and common practice). Diagonals stay on the top coil, and so does
an end that meets no rail. From a hitch that lies lower than the rail's top the twine comes up over
the rail's inside edge; it cannot go straight to the tack through the wood.
"""

import math
from collections.abc import Mapping
from itertools import pairwise

from spring_layout.deck.model import Coil, Deck, Frame, Point, RimRing, Run
from spring_layout.planning.coil_shape import Ring, nearest_ring, rings_of
from spring_layout.planning.parts import (
    Heights,
    HitchEnd,
    HitchPlan,
    Line,
    LineHitches,
    PlacedHitch,
    Point3,
    Standing,
    Ties,
)
from spring_layout.planning.twine import edge_place
from spring_layout.tolerances import SAME_PLACE

COURSES: Mapping[Run, Point] = {
    "front-to-back": (0.0, -1.0),
    "side-to-side": (1.0, 0.0),
    "diagonal-rising": (math.sqrt(0.5), -math.sqrt(0.5)),
    "diagonal-falling": (math.sqrt(0.5), math.sqrt(0.5)),
}
"""The direction of a line over one spring that has no other place to point to."""

FIXED_RINGS: Mapping[RimRing, int] = {"ring-2": 2, "ring-3": 3, "top": 1}
"""The settings that name the rim's ring outright."""


def hitches_of(deck: Deck, standing: Standing, heights: Heights, ties: Ties) -> HitchPlan:
    """The hitches of every line of ``ties``, in tying order."""
    rings = _rings_by_spring(deck, standing, heights)
    return HitchPlan(tuple(_line_hitches(standing, line, rings) for line in ties.lines))


def _rings_by_spring(
    deck: Deck, standing: Standing, heights: Heights
) -> dict[str, tuple[Ring, ...]]:
    coils: dict[str, Coil] = {coil.id: coil for coil in deck.coils}
    known: dict[tuple[str, float], tuple[Ring, ...]] = {}
    rings = {}
    for spring, tied in zip(deck.springs, heights.tied.tolist(), strict=True):
        key = (spring.coil, tied)
        if key not in known:
            known[key] = rings_of(coils[spring.coil], tied)
        rings[spring.id] = known[key]
    return {name: rings[name] for name in standing.ids}


def _line_hitches(
    standing: Standing, line: Line, rings: Mapping[str, tuple[Ring, ...]]
) -> LineHitches:
    deck, ways = standing.deck, _ways(line)
    outer = [
        _outer_ring(deck, line, 0, rings[line.springs[0]]),
        _outer_ring(deck, line, 1, rings[line.springs[-1]]),
    ]
    last = len(line.springs) - 1
    along = []
    for i, spring in enumerate(line.springs):
        top = rings[spring][0]
        centre, (before, after) = line.centres[i], ways[i]
        entered, left = (outer[0] if i == 0 else top), (outer[1] if i == last else top)
        along.append(_hitch(line.number, spring, "entering", entered, centre, before))
        along.append(_hitch(line.number, spring, "leaving", left, centre, after))
    ends = ((0, 0, ways[0][0]), (1, last, ways[last][1]))
    returns = [
        _return(deck, line, i, way, outer[end], rings[line.springs[i]][0]) for end, i, way in ends
    ]
    return LineHitches(
        number=line.number,
        anchors=(anchor_in_space(deck.frame, line, 0), anchor_in_space(deck.frame, line, 1)),
        along=tuple(along),
        returns=(returns[0], returns[1]),
        edges=(_edge(standing, line, 0, along[0]), _edge(standing, line, 1, along[-1])),
    )


def _edge(standing: Standing, line: Line, end: int, outer: PlacedHitch) -> Point3 | None:
    """Where the twine from the ``outer`` hitch at ``end`` comes over the rail's inside edge.

    None where it rises clear of the rail, meets none, or starts over the wood already.
    """
    side = line.sides[end]
    if side is None or line.anchors[end] is None:
        return None
    x, y, z = outer.place
    top = standing.deck.frame.top_of(side)
    if z >= top - SAME_PLACE:
        return None
    place, centre = edge_place(standing.outline, line, end), line.centres[0 if end == 0 else -1]
    if math.dist(place, centre) <= math.dist((x, y), centre):
        return None
    return (*place, top)


def _return(
    deck: Deck, line: Line, spring: int, way: Point, outer: Ring, top: Ring
) -> PlacedHitch | None:
    """The hitch of the return tie above an outer hitch on a lower ring, where it is wanted."""
    if outer.number == 1 or not deck.twine.return_tie:
        return None
    return _hitch(line.number, line.springs[spring], "return", top, line.centres[spring], way)


def _outer_ring(deck: Deck, line: Line, end: int, rings: tuple[Ring, ...]) -> Ring:
    """The ring that the outer hitch at ``end`` (0 start, 1 finish) of ``line`` goes on."""
    side, choice = line.sides[end], deck.tying.rim_ring
    if side is None or line.run not in ("front-to-back", "side-to-side"):
        return rings[0]
    if choice == "nearest-rail-top":
        return nearest_ring(rings, deck.frame.top_of(side))
    return rings[min(FIXED_RINGS[choice], len(rings)) - 1]


def anchor_in_space(frame: Frame, line: Line, end: int) -> Point3 | None:
    """Where the line is fixed at ``end`` (0 start, 1 finish), at its rail's top, or None."""
    anchor, side = line.anchors[end], line.sides[end]
    if anchor is None or side is None:
        return None
    return (anchor[0], anchor[1], frame.top_of(side))


def _ways(line: Line) -> list[tuple[Point, Point]]:
    """For each spring of ``line`` the directions to the place before and to the place after it."""
    path = line.path
    first = 0 if line.anchors[0] is None else 1
    forward = [direction(a, b) for a, b in pairwise(path)] or [COURSES[line.run]]
    ways = []
    for i in range(first, first + len(line.springs)):
        before = forward[max(i - 1, 0)]
        ways.append(((-before[0], -before[1]), forward[min(i, len(forward) - 1)]))
    return ways


def direction(start: Point, end: Point) -> Point:
    """The unit direction from ``start`` to ``end``; (0, 0) where they are the same place."""
    length = math.dist(start, end)
    return ((end[0] - start[0]) / length, (end[1] - start[1]) / length) if length else (0.0, 0.0)


def _hitch(
    line: int, spring: str, end: HitchEnd, ring: Ring, centre: Point, way: Point
) -> PlacedHitch:
    x, y = centre[0] + ring.radius * way[0], centre[1] + ring.radius * way[1]
    return PlacedHitch(line, spring, end, ring.number, (x, y, ring.height))
