"""How short a sewing-in route can be at all: a proven floor under its length.

Every route is a path over all stitches in which each foot's stitches follow one another. Drop the
demand that each stitch has just one way in and one way out, and what is left falls apart: in each
foot the shortest path over its stitches, between feet the shortest tree that joins them, and
two loose ends. That is never longer than the shortest route. Charging each stitch for the
ways it has too many, and paying it for those it lacks, keeps this true and raises the
floor; the charges are improved step by step (Held and Karp's method for round trips, here for an
open one, with Polyak's step).
"""

import numpy as np
from numpy.typing import NDArray

from spring_layout.planning.parts import Array
from spring_layout.planning.stitching_ways import Ways

ROUNDS_BY_FOOT = 6_000
"""Improvements times feet: 100 rounds at 60 feet, a twentieth of a second."""

MOST_ROUNDS = 500

MOST_CHARGED = 400
"""feet. Beyond this the table of all ways is too large, and the floor is taken without charges."""

_PATIENCE = 5
"""rounds without a better floor before the step is halved."""


def floor_under(ways: Ways, known: float, close: float) -> float:
    """A length, mm, that no route over all feet of ``ways`` (two or more) falls short of.

    ``known`` is the length of some route; the work ends when the floor comes within ``close``.
    """
    if ways.feet > MOST_CHARGED:
        return plain_floor(ways)
    charges = np.zeros((ways.feet, ways.stitches))
    best, scale, waited = -np.inf, 2.0, 0
    for _ in range(min(MOST_ROUNDS, ROUNDS_BY_FOOT // ways.feet)):
        floor, degrees = _relaxed(ways, charges)
        if floor > best + 1e-9 * known:
            best, waited = floor, 0
        else:
            waited += 1
        off = degrees - 2.0
        size = float((off * off).sum())
        if size == 0.0 or best >= known - close or scale < 1e-4:
            break
        if waited >= _PATIENCE:
            scale, waited = scale / 2, 0
        charges = charges + scale * max(known - floor, close) / size * off
    return float(min(best, known))


def plain_floor(ways: Ways) -> float:
    """A floor, mm, without charges: each foot's shortest path, and the shortest tree between feet.

    Between feet it counts from ring to ring, which is never more than from stitch to stitch.
    """
    centres = ways.points.mean(axis=1)
    reach = np.hypot(*(ways.points - centres[:, None]).transpose(2, 0, 1)).max(axis=1)
    apart = np.hypot(*(centres[:, None] - centres[None]).transpose(2, 0, 1))
    cost = np.clip(apart - reach[:, None] - reach[None], 0.0, None)
    joined = sum(float(cost[pair]) for pair in _tree(cost))
    return float(ways.order_lengths.min(axis=1).sum()) + joined


def _relaxed(ways: Ways, charges: Array) -> tuple[float, Array]:
    """The floor at these charges, and how many ways each stitch has then: (n, m)."""
    inside, degrees = _feet_alone(ways, charges)
    joins = _joined(ways, charges, degrees)
    loose = _loose_ends(charges, degrees)
    return inside + joins + loose - 2 * float(charges.sum()), degrees


def _feet_alone(ways: Ways, charges: Array) -> tuple[float, Array]:
    """The shortest charged path in each foot; marks its ways in a new table of degrees."""
    ends = ways.orders[:, [0, -1]]
    # a stitch inside a path has two ways, one at its end has one
    charged = ways.order_lengths + 2 * charges.sum(axis=1)[:, None] - charges[:, ends].sum(axis=2)
    best = charged.argmin(axis=1)
    degrees = np.full(charges.shape, 2.0)
    feet = np.arange(ways.feet)
    for end in (0, 1):
        degrees[feet, ends[best, end]] -= 1
    return float(charged[feet, best].sum()), degrees


def _joined(ways: Ways, charges: Array, degrees: Array) -> float:
    """The shortest charged tree between the feet; marks its ways in ``degrees``."""
    n, m = charges.shape
    charged = ways.between + charges[:, :, None, None] + charges[None, None]
    pairs = charged.transpose(0, 2, 1, 3).reshape(n, n, m * m)
    which = pairs.argmin(axis=2)
    cost = np.take_along_axis(pairs, which[:, :, None], axis=2)[:, :, 0]
    total = 0.0
    for foot, other in _tree(cost):
        mine, its = divmod(int(which[foot, other]), m)
        degrees[foot, mine] += 1
        degrees[other, its] += 1
        total += float(cost[foot, other])
    return total


def _tree(cost: Array) -> list[tuple[int, int]]:
    """The pairs that the shortest tree over all feet joins (Prim)."""
    n = len(cost)
    near, link = cost[0].copy(), np.zeros(n, np.intp)
    near[0] = np.inf
    pairs = []
    for _ in range(n - 1):
        new = int(near.argmin())
        pairs.append((int(link[new]), new))
        closer: NDArray[np.bool_] = (cost[new] < near) & np.isfinite(near)
        near[closer], link[closer] = cost[new][closer], new
        near[new] = np.inf
    return pairs


def _loose_ends(charges: Array, degrees: Array) -> float:
    """The two cheapest loose ends, in two feet; marks them in ``degrees``."""
    cheapest = charges.argmin(axis=1)
    cost = charges[np.arange(len(charges)), cheapest]
    total = 0.0
    for foot in np.argsort(cost, kind="stable")[:2]:
        degrees[foot, cheapest[foot]] += 1
        total += float(cost[foot])
    return total
