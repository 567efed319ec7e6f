"""The sewing-in: the stitches that fix each foot to the webbing, and the way of their twine.

* **Stitches.** Four at each foot, at the back, right, front and left of the bottom coil, on its
  outside diameter (French and US workshops; Johnson 1919 says at least three). With three they lie
  a third of a turn apart, the coil's wire knot halfway between two of them.
* **Route.** One twine goes over all stitches, a foot's one after another in any order, straight
  from stitch to stitch. Up to fourteen feet the route is the shortest there is; beyond that it is
  a short one, and ``least`` is a length that no route falls short of.
* **Twine.** Each loop of a stitch goes round the wire and through the web and back, and each
  stitch is locked with a half hitch round the twine itself; this is a model like that of the
  hitches. It is sewn in working lengths: where one would not reach the next stitch with
  ``TAIL`` left to finish off, a new one starts at that stitch.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Literal

import numpy as np

from spring_layout.deck.model import Coil, Deck, Point, Spring, Stitching
from spring_layout.planning.parts import Array
from spring_layout.planning.stitching_ways import Route, Ways
from spring_layout.planning.twine_geometry import beside_turn, wrapped
from spring_layout.planning.webbing import foot_fixing_of
from spring_layout.tolerances import SAME_PLACE

StitchPoint = Literal["back", "right", "front", "left"]

POINTS: tuple[tuple[StitchPoint, float], ...] = (
    ("back", 270.0),
    ("right", 0.0),
    ("front", 90.0),
    ("left", 180.0),
)
"""The four quarters of a foot and their directions, degrees from x toward the front."""

WEB_THICKNESS = 3.0
"""mm, two layers of jute webbing where strips cross. Common practice, no source."""

TAIL = 100.0
"""mm at each end of a working length, to start and to finish it off. Common practice, no source."""

MOST_EXACT = 14
"""feet. Each foot more doubles the time and the memory; fourteen take a thirtieth of a second."""

CLOSE_ENOUGH = 5e-3
"""A route that is longer than the proven floor by no more than this share is not improved."""


@dataclass(frozen=True)
class Stitch:
    """One stitch: its spring, which quarter of the foot, its place, mm."""

    spring: str
    point: StitchPoint
    place: Point


@dataclass(frozen=True)
class StitchingPlan:
    """The stitches in the order they are sewn.

    ``route_length`` goes straight from stitch to stitch, ``least`` is no longer than the shortest
    route, and ``exact`` says that they are the same. ``new_lengths`` are the numbers (from 0) of
    the stitches where a new working length of twine starts; ``twine`` is all the twine to cut, mm.
    """

    stitches: tuple[Stitch, ...]
    route_length: float
    least: float
    exact: bool
    new_lengths: tuple[int, ...]
    twine: float


def foot_points(
    springs: Sequence[Spring], coils: Sequence[Coil], stitching: Stitching
) -> tuple[list[tuple[StitchPoint, ...]], Array]:
    """The stitches of each spring's foot: their names, and (n, m, 2) their places, mm."""
    radii = {coil.id: coil.foot_diameter / 2 for coil in coils}
    quarters = [_quarters(stitching.points, spring.turned) for spring in springs]
    angles = np.radians(np.array([[angle for _, angle in foot] for foot in quarters]))
    off = np.stack([_cosines(angles), _cosines(angles - np.pi / 2)], axis=-1)
    centres = np.array([(spring.x, spring.y) for spring in springs])
    reach = np.array([radii[spring.coil] for spring in springs])
    names = [tuple(name for name, _ in foot) for foot in quarters]
    return names, np.asarray(centres[:, None] + reach[:, None, None] * off)


def _cosines(angles: Array) -> Array:
    """Cosines that are exactly 0 and 1 at the quarters, so that mirrored feet mirror exactly."""
    return np.asarray(np.round(np.cos(angles), 15))


def _quarters(points: int, turned: float) -> tuple[tuple[StitchPoint, float], ...]:
    """The ``points`` stitches of a foot whose coil is turned so, by name and direction."""
    if points == len(POINTS):
        return POINTS
    angles = [(turned + 60.0 + 120.0 * i) % 360.0 for i in range(3)]
    return tuple((_quarter(angle), angle) for angle in sorted(angles))


def _quarter(angle: float) -> StitchPoint:
    """The quarter in which a direction lies; a third of a turn apart no two share one."""
    return next(
        name for name, middle in POINTS if -45.0 <= (angle - middle + 180.0) % 360.0 - 180.0 < 45.0
    )


def stitching_of(deck: Deck) -> StitchingPlan:
    """The stitches of all feet in a short order, and their twine; none where feet are not sewn.

    Takes a second or so for hundreds of springs: work that can wait. The last few decks' are kept.
    """
    if not deck.springs or foot_fixing_of(deck) != "stitch":
        return StitchingPlan((), 0.0, 0.0, True, (), 0.0)
    return _sewn(deck.springs, deck.coils, deck.stitching)


@lru_cache(maxsize=8)
def _sewn(
    springs: tuple[Spring, ...], coils: tuple[Coil, ...], stitching: Stitching
) -> StitchingPlan:
    names, points = foot_points(springs, coils, stitching)
    order = np.lexsort((points[:, 0, 0], points[:, 0, 1]))
    route, least = best_route(Ways(points[order]))
    sewn = [(int(order[f]), i) for f, w in zip(route.feet, route.stitches, strict=True) for i in w]
    stitches = [Stitch(springs[s].id, names[s][i], _point(points[s, i])) for s, i in sewn]
    kinds = {coil.id: coil for coil in coils}
    takes = [stitch_twine(stitching, kinds[springs[s].coil]) for s, _ in sewn]
    return _with_twine(stitching, stitches, takes, route.length, least)


def _point(place: Array) -> Point:
    return float(place[0]), float(place[1])


def best_route(ways: Ways) -> tuple[Route, float]:
    """A route over all feet, the shortest up to MOST_EXACT of them, and a floor under it, mm."""
    # each deck needs one of the two ways only, and neither is worth its import for the other
    if ways.feet <= MOST_EXACT:
        from spring_layout.planning.stitching_exact import exact_route

        route = exact_route(ways)
        return route, route.length
    from spring_layout.planning.stitching_least import floor_under
    from spring_layout.planning.stitching_search import first_route, shorter_route

    route = first_route(ways)
    close = CLOSE_ENOUGH * route.length
    least = floor_under(ways, route.length, close)
    return shorter_route(ways, route, least + close), least


def stitch_twine(stitching: Stitching, coil: Coil) -> float:
    """The twine that one stitch takes beside the way to it, mm."""
    loop = beside_turn(coil.wire, stitching.twine) + 2 * WEB_THICKNESS
    return stitching.loops * loop + wrapped("half", stitching.twine, stitching.twine)


def _with_twine(
    stitching: Stitching,
    stitches: Sequence[Stitch],
    takes: Sequence[float],
    length: float,
    least: float,
) -> StitchingPlan:
    steps = [0.0, *(math.dist(a.place, b.place) for a, b in pairwise(stitches))]
    new_lengths = _working_lengths(stitching.working_length, steps, takes)
    sewn = math.fsum(steps) - math.fsum(steps[i] for i in new_lengths)
    return StitchingPlan(
        stitches=tuple(stitches),
        route_length=length,
        least=least,
        exact=length - least <= SAME_PLACE / 10,
        new_lengths=new_lengths,
        twine=sewn + math.fsum(takes) + 2 * TAIL * len(new_lengths),
    )


def _working_lengths(
    length: float, steps: Sequence[float], takes: Sequence[float]
) -> tuple[int, ...]:
    """The stitches (numbers from 0) where a new working length starts, the first among them."""
    new, left = [], -1.0
    for i, (step, take) in enumerate(zip(steps, takes, strict=True)):
        left -= step + take
        if left < 0:
            new.append(i)
            left = length - 2 * TAIL - take
    return tuple(new)
