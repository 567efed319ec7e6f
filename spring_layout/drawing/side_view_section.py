"""The deck cut upright: where rails, webbing, springs, hitches and twine come in the cut.

Places in a cut are (u, z), mm: u along the cut, z up from the webbing's upper face.

* **Along a tie** the cut follows the tie from tack point to tack point and is laid out flat, so
  that a tie that bends at a spring keeps its true lengths from ring to ring. Its hitches then sit
  at the very edge of their rings.
* **Across** the deck the cut is straight through a place in a direction; u is 0 at the place. The
  springs that it meets are seen cut, those beyond it farther off; those before it are taken away.
  Somebody looks at it who has the direction running to the right.
"""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from spring_layout.deck.model import Point, Run
from spring_layout.drawing.rails import rail_shapes
from spring_layout.drawing.side_view_cut import (
    Across,
    Flat,
    HitchCut,
    RailCut,
    Section,
    Sight,
    SightError,
    SpringCut,
    TwineCut,
)
from spring_layout.drawing.side_view_webbing import strip_cuts
from spring_layout.planning.coil_shape import rings_of
from spring_layout.planning.hitches import COURSES, direction
from spring_layout.planning.parts import Line, LineHitches, Parts, PlacedHitch, Point3
from spring_layout.tolerances import SAME_PLACE

FARTHEST = 40_000.0
"""mm; a cut that goes on as far as this leaves every deck (twice the widest coordinate)."""
_AT_OPENING = 1.0
"""mm; a rail that begins so near to the opening begins at it."""
_HAIR = 1e-5
"""mm that rails are taken wider: a cut along the very line where two of them meet meets both."""
ALIKE = math.cos(math.radians(30.0))
"""A tie that runs within 30 degrees of a cut shows its way in it; others show their hitches."""


def section_of(parts: Parts, sight: Sight) -> Section:
    """The deck cut as ``sight`` says. Raises SightError where there is nothing to see."""
    return _across(parts, sight) if isinstance(sight, Across) else _along(parts, sight)


def line_named(parts: Parts, number: int) -> Line:
    """The tie of that number. Raises SightError."""
    lines = parts.ties.lines
    if not lines:
        told = "the deck has no ties to cut along; give a place to cut across instead"
        raise SightError(parts.told(told))
    if not 1 <= number <= len(lines):
        told = f"there is no tie {number}; give a number from 1 to {len(lines)}"
        raise SightError(parts.told(told))
    return lines[number - 1]


# along a tie ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Laid:
    """A tie laid out flat: its whole way in plan to past both rails, and u at its beginning."""

    way: shapely.LineString
    begin: float
    centres: tuple[float, ...]

    def u(self, place: Point) -> float:
        """Where a place on the way comes in the cut."""
        return self.begin + float(self.way.project(shapely.Point(place)))


def _along(parts: Parts, number: int) -> Section:
    line = line_named(parts, number)
    hitched = parts.hitches.lines[number - 1]
    laid = _laid_out(line)
    springs = [
        _spring(parts, name, u, 0.0, is_cut=True)
        for name, u in zip(line.springs, laid.centres, strict=True)
    ]
    rails = _rails(parts, laid.way, laid.begin)
    opening = _opening(parts, laid.way, laid.begin, laid.centres)
    twine, hitches = _twine(line, hitched, laid)
    sides = parts.deck.frame.sides
    names = [
        _name(sides[side].rail) if side is not None else _met(parts, rails, opening, i)
        for i, side in enumerate(line.sides)
    ]
    return Section(
        deck=parts.deck,
        ends=(names[0], names[1]),
        reach=_reach(opening, rails, springs),
        opening=opening,
        rails=_nearest_rails(rails, opening),
        strips=strip_cuts(parts.webbing, laid.way, laid.begin),
        springs=tuple(springs),
        hitches=hitches,
        ties=(twine,),
        knots=_knots(parts, line, laid, twine),
    )


def _laid_out(line: Line) -> _Laid:
    """The tie's way through its springs' centres, run on straight past both ends."""
    path = list(line.path)
    course = COURSES[line.run]
    first, last = (
        (direction(*path[:2]), direction(*path[-2:])) if len(path) > 1 else (course, course)
    )
    steps = [math.dist(a, b) for a, b in pairwise(path)]
    places = [0.0, *np.cumsum(steps).tolist()]
    skip = 0 if line.anchors[0] is None else 1
    far = 1000.0 + sum(steps)
    begin = (path[0][0] - first[0] * far, path[0][1] - first[1] * far)
    end = (path[-1][0] + last[0] * far, path[-1][1] + last[1] * far)
    way = shapely.LineString([begin, *path, end])
    return _Laid(way, -far, tuple(places[skip : skip + len(line.springs)]))


def _twine(line: Line, hitched: LineHitches, laid: _Laid) -> tuple[TwineCut, tuple[HitchCut, ...]]:
    """The tie's way and its hitches: each hitch as far from its spring's middle as it is."""
    sides = {hitch: 1 if hitch.end == "leaving" else -1 for hitch in hitched.along}
    sides |= {h: side for h, side in zip(hitched.returns, (-1, 1), strict=True) if h}
    where = {hitch: _flat(hitch, line, laid, side) for hitch, side in sides.items()}
    where_is = {hitch.place: flat for hitch, flat in where.items()}

    def flat(place: Point3) -> Flat:
        return where_is.get(place) or (laid.u((place[0], place[1])), place[2])

    cuts = tuple(HitchCut(where[h], h.ring, h.end, line.run, side) for h, side in sides.items())
    return _twine_cut(line, hitched, flat), cuts


def _twine_cut(line: Line, hitched: LineHitches, flat: Callable[[Point3], Flat]) -> TwineCut:
    """The tie's way, return ties and tacks in a cut where ``flat`` puts each place."""
    returns = [(flat(a), flat(b)) for end in (0, 1) for a, b in pairwise(hitched.return_way(end))]
    tacks = tuple(flat(anchor) for anchor in hitched.anchors if anchor)
    way = tuple(flat(place) for place in hitched.way)
    return TwineCut(line.number, line.run, way, tuple(returns), tacks)


def _flat(hitch: PlacedHitch, line: Line, laid: _Laid, way: int) -> Flat:
    i = line.springs.index(hitch.spring)
    x, y, z = hitch.place
    return laid.centres[i] + way * math.dist((x, y), line.centres[i]), z


def _knots(parts: Parts, line: Line, laid: _Laid, twine: TwineCut) -> tuple[tuple[Flat, bool], ...]:
    """The cross knots on the tie, each at the height that the twine has there."""
    us, zs = zip(*twine.way, strict=True)
    found = []
    for crossing in parts.ties.crossings:
        if line.number in crossing.lines:
            u = laid.u(crossing.place)
            found.append(((u, float(np.interp(u, us, zs))), crossing.spring is not None))
    return tuple(found)


# across the deck --------------------------------------------------------------------------------


def _across(parts: Parts, sight: Across) -> Section:
    (x, y), (dx, dy) = sight.point, sight.way
    way = shapely.LineString(
        [(x - dx * FARTHEST, y - dy * FARTHEST), (x + dx * FARTHEST, y + dy * FARTHEST)]
    )
    opening = _opening(parts, way, -FARTHEST, ())
    rails = _rails(parts, way, -FARTHEST)
    springs = _springs_seen(parts, sight)
    cut = {spring.spring for spring in springs if spring.is_cut}
    hitches, ties = _twine_seen(parts, sight, cut)
    shown = _nearest_rails(rails, opening)
    return Section(
        deck=parts.deck,
        ends=(_met(parts, shown, opening, 0), _met(parts, shown, opening, 1)),
        reach=_reach(opening, shown, springs),
        opening=opening,
        rails=shown,
        strips=strip_cuts(parts.webbing, way, -FARTHEST),
        springs=tuple(sorted(springs, key=lambda s: -s.away)),
        hitches=hitches,
        ties=ties,
        beyond=_rails_seen(parts, sight, _reach(opening, shown, springs)),
    )


def _rails_seen(parts: Parts, sight: Across, reach: Flat) -> tuple[RailCut, ...]:
    """The rails beyond the cut as far as the picture reaches, farthest first."""
    frame, found = parts.deck.frame, []
    for side, band in rail_shapes(frame, parts.standing.outline).items():
        places = [seen(sight, place) for place in shapely.get_coordinates(band).tolist()]
        beyond = [(u, away) for u, away in places if away > 0]
        start = max(min((u for u, _ in beyond), default=0.0), reach[0])
        finish = min(max((u for u, _ in beyond), default=0.0), reach[1])
        if finish - start > _AT_OPENING:
            away = max(away for _, away in beyond)
            found.append((away, RailCut(side, start, finish, frame.top_of(side))))
    return tuple(rail for _, rail in sorted(found, key=lambda pair: (-pair[0], pair[1].side)))


def seen(sight: Across, place: tuple[float, ...]) -> tuple[float, float]:
    """(u, how far beyond the cut) of a place, mm."""
    dx, dy = sight.way
    x, y = place[0] - sight.point[0], place[1] - sight.point[1]
    return x * dx + y * dy, x * dy - y * dx


def _springs_seen(parts: Parts, sight: Across) -> list[SpringCut]:
    found = []
    for spring in parts.deck.springs:
        u, away = seen(sight, (spring.x, spring.y))
        is_cut = abs(away) <= parts.deck.coil_of(spring).top_radius
        if is_cut or away > 0:
            found.append(_spring(parts, spring.id, u, away, is_cut=is_cut))
    return found


def _twine_seen(
    parts: Parts, sight: Across, cut: set[str]
) -> tuple[tuple[HitchCut, ...], tuple[TwineCut, ...]]:
    """The hitches on the springs that are cut, and the ties that run with the cut over them."""
    hitches, ties = [], []
    for line, hitched in zip(parts.ties.lines, parts.hitches.lines, strict=True):
        for hitch in hitched.in_order:
            if hitch.spring in cut:
                hitches.append(_seen_hitch(parts, sight, hitch, line.run))
        if set(line.springs) <= cut and _runs_with(line, sight):
            ties.append(_seen_tie(line, hitched, sight))
    return tuple(hitches), tuple(ties)


def _seen_hitch(parts: Parts, sight: Across, hitch: PlacedHitch, run: Run) -> HitchCut:
    u, away = seen(sight, hitch.place)
    middle = parts.standing.centres[parts.standing.index[hitch.spring]].tolist()
    mid, beyond = seen(sight, tuple(middle))
    side = -1 if u < mid else 1
    return HitchCut((u, hitch.place[2]), hitch.ring, hitch.end, run, side, away - beyond)


def _runs_with(line: Line, sight: Across) -> bool:
    (dx, dy), path = sight.way, line.path
    way = direction(path[0], path[-1])
    return abs(way[0] * dx + way[1] * dy) >= ALIKE


def _seen_tie(line: Line, hitched: LineHitches, sight: Across) -> TwineCut:
    return _twine_cut(line, hitched, lambda place: (seen(sight, place)[0], place[2]))


# what both share --------------------------------------------------------------------------------


def _spring(parts: Parts, name: str, u: float, away: float, *, is_cut: bool) -> SpringCut:
    row = parts.standing.index[name]
    coil = parts.deck.coil_of(parts.deck.springs[row])
    rings = rings_of(coil, float(parts.heights.tied[row]))
    return SpringCut(name, u, away, coil.wire, rings, is_cut)


def _rails(parts: Parts, way: shapely.LineString, begin: float) -> tuple[RailCut, ...]:
    """Where the way passes over rails."""
    frame = parts.deck.frame
    found = []
    for side, band in rail_shapes(frame, parts.standing.outline).items():
        wider = shapely.buffer(band, _HAIR, join_style="mitre")
        for start, finish in pieces_along(way, shapely.intersection(way, wider)):
            found.append(RailCut(side, begin + start, begin + finish, frame.top_of(side)))
    return tuple(sorted(found, key=lambda rail: rail.start))


def _opening(parts: Parts, way: shapely.LineString, begin: float, centres: Iterable[float]) -> Flat:
    """From where to where the way lies in the opening. Raises SightError if it never does.

    ``centres`` are places, u, that surely lie in it.
    """
    inside = pieces_along(way, shapely.intersection(way, parts.standing.outline.polygon))
    held = list(centres)
    reached = [
        (begin + start, begin + finish)
        for start, finish in inside
        if not held or any(start <= u - begin <= finish for u in held)
    ]
    if not reached:
        raise SightError("the cut does not meet the opening; move it over the deck")
    return min(start for start, _ in reached), max(finish for _, finish in reached)


def pieces_along(way: shapely.LineString, shape: shapely.Geometry) -> list[Flat]:
    """From where to where along ``way`` each straight run of ``shape`` reaches, mm."""
    pieces = []
    for part in shapely.get_parts(shape):
        if part.is_empty or part.length == 0:
            continue
        ends = [float(way.project(shapely.Point(c))) for c in (part.coords[0], part.coords[-1])]
        pieces.append((min(ends), max(ends)))
    return _joined(pieces)


def _joined(pieces: list[Flat]) -> list[Flat]:
    """Stretches that run on into each other made one."""
    joined: list[Flat] = []
    for start, finish in sorted(pieces):
        if joined and start <= joined[-1][1] + SAME_PLACE:
            joined[-1] = (joined[-1][0], max(finish, joined[-1][1]))
        else:
            joined.append((start, finish))
    return joined


def _nearest_rails(rails: tuple[RailCut, ...], opening: Flat) -> tuple[RailCut, ...]:
    """The rails in the opening and the first beyond it at either end."""
    before, after = _beyond(rails, opening)
    within = [rail for rail in rails if rail not in before and rail not in after]
    left = [rail for rail in before if opening[0] - rail.finish <= _AT_OPENING][-1:]
    right = [rail for rail in after if rail.start - opening[1] <= _AT_OPENING][:1]
    return (*left, *within, *right)


def _beyond(
    rails: tuple[RailCut, ...], opening: Flat
) -> tuple[tuple[RailCut, ...], tuple[RailCut, ...]]:
    """The rails before the opening and those after it."""
    before = tuple(rail for rail in rails if rail.finish <= opening[0] + _AT_OPENING)
    return before, tuple(rail for rail in rails if rail.start >= opening[1] - _AT_OPENING)


def _met(parts: Parts, rails: tuple[RailCut, ...], opening: Flat, end: int) -> str:
    """The name of the rail at that end of the cut; none where the side is open."""
    met = _beyond(rails, opening)[end]
    if not met:
        return ""
    return _name(parts.deck.frame.sides[met[-1 if end == 0 else 0].side].rail)


def _name(rail: str) -> str:
    return "" if rail == "none" else rail.upper()


def _reach(opening: Flat, rails: Iterable[RailCut], springs: Iterable[SpringCut]) -> Flat:
    near = _nearest_rails(tuple(rails), opening)
    wide = [(s.u - s.rings[0].radius, s.u + s.rings[0].radius) for s in springs]
    ends = [opening, *((rail.start, rail.finish) for rail in near), *wide]
    return min(start for start, _ in ends), max(finish for _, finish in ends)
