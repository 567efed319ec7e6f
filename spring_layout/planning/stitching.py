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
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np

from spring_layout.deck.model import Coil, Deck, Point
from spring_layout.planning.parts import Array, Standing
from spring_layout.planning.stitching_exact import MOST_EXACT, exact_route
from spring_layout.planning.stitching_least import floor_under
from spring_layout.planning.stitching_search import short_route, starts
from spring_layout.planning.stitching_ways import Route, Ways, route_along
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

CLOSE_ENOUGH = 1e-3
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


def feet_of(standing: Standing) -> tuple[tuple[StitchPoint, ...], ...]:
    """The names of each spring's stitches, in the order of ``foot_points``."""
    deck = standing.deck
    return tuple(tuple(name for name, _ in _quarters(deck, s.turned)) for s in deck.springs)


def foot_points(standing: Standing) -> Array:
    """(n, m, 2) the stitches of each spring's foot, mm; m is the deck's stitches a foot."""
    deck = standing.deck
    coils = {coil.id: coil for coil in deck.coils}
    turns = [[angle for _, angle in _quarters(deck, s.turned)] for s in deck.springs]
    angles = np.radians(np.array(turns, float).reshape(-1, deck.stitching.points))
    radii = np.array([coils[s.coil].foot_diameter / 2 for s in deck.springs], float)
    off = radii[:, None, None] * np.stack([_cosines(angles), _cosines(angles - np.pi / 2)], axis=-1)
    return np.asarray(standing.centres[:, None] + off)


def _cosines(angles: Array) -> Array:
    """Cosines that are exactly 0 and 1 at the quarters, so that mirrored feet mirror exactly."""
    return np.asarray(np.round(np.cos(angles), 15))


def _quarters(deck: Deck, turned: float) -> tuple[tuple[StitchPoint, float], ...]:
    """The stitches of a foot whose coil is turned so, by name and direction."""
    if deck.stitching.points == len(POINTS):
        return POINTS
    angles = [(turned + 60.0 + 120.0 * i) % 360.0 for i in range(3)]
    return tuple((_quarter(angle), angle) for angle in sorted(angles))


def _quarter(angle: float) -> StitchPoint:
    """The quarter in which a direction lies; a third of a turn apart no two share one."""
    return next(
        name for name, middle in POINTS if -45.0 <= (angle - middle + 180.0) % 360.0 - 180.0 < 45.0
    )


def stitching_of(standing: Standing) -> StitchingPlan:
    """The stitches of all feet in a short order, and their twine; none where feet are not sewn.

    Takes a second or so for hundreds of springs: work that can wait.
    """
    if not standing.ids or foot_fixing_of(standing.deck) != "stitch":
        return StitchingPlan((), 0.0, 0.0, True, (), 0.0)
    points = foot_points(standing)
    order = np.lexsort((points[:, 0, 0], points[:, 0, 1]))
    route, least = best_route(Ways(points[order]))
    names = feet_of(standing)
    stitches = [
        Stitch(standing.ids[spring], names[spring][i], _point(points[spring, i]))
        for foot, within in zip(route.feet, route.stitches, strict=True)
        for spring in [int(order[foot])]
        for i in within
    ]
    return _with_twine(standing.deck, stitches, route.length, least)


def _point(place: Array) -> Point:
    return float(place[0]), float(place[1])


def best_route(ways: Ways) -> tuple[Route, float]:
    """A route over all feet (at least one), the shortest up to MOST_EXACT, and a floor under it."""
    if ways.feet <= MOST_EXACT:
        route = exact_route(ways)
        return route, route.length
    known = min(route_along(ways, order.tolist()).length for order in starts(ways))
    least = floor_under(ways, known, CLOSE_ENOUGH * known)
    return short_route(ways, least, CLOSE_ENOUGH * known), least


def stitch_twine(deck: Deck, coil: Coil) -> float:
    """The twine that one stitch takes beside the way to it, mm."""
    twine, loops = deck.stitching.twine, deck.stitching.loops
    loop = beside_turn(coil.wire, twine) + 2 * WEB_THICKNESS
    return loops * loop + wrapped("half", twine, twine)


def _with_twine(deck: Deck, stitches: list[Stitch], length: float, least: float) -> StitchingPlan:
    coils = {spring.id: deck.coil_of(spring) for spring in deck.springs}
    takes = [stitch_twine(deck, coils[stitch.spring]) for stitch in stitches]
    steps = [0.0, *(math.dist(a.place, b.place) for a, b in pairwise(stitches))]
    new_lengths = _working_lengths(deck, steps, takes)
    sewn = math.fsum(steps) - math.fsum(steps[i] for i in new_lengths)
    return StitchingPlan(
        stitches=tuple(stitches),
        route_length=length,
        least=least,
        exact=length - least <= SAME_PLACE / 10,
        new_lengths=new_lengths,
        twine=sewn + math.fsum(takes) + 2 * TAIL * len(new_lengths),
    )


def _working_lengths(deck: Deck, steps: list[float], takes: list[float]) -> tuple[int, ...]:
    """The stitches (numbers from 0) where a new working length starts, the first among them."""
    room = deck.stitching.working_length - 2 * TAIL
    new, left = [], -1.0
    for i, (step, take) in enumerate(zip(steps, takes, strict=True)):
        left -= step + take
        if left < 0:
            new.append(i)
            left = room - take
    return tuple(new)
