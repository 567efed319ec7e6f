"""How short a sewing-in route can be at all: a proven floor under its length.

Every route is a path over all stitches in which each foot's stitches follow one another. Drop the
demand that each stitch has just one way in and one way out, and what is left falls apart: in each
foot the shortest path over its stitches, between feet the shortest tree that joins them, and
two loose ends. That is never longer than the shortest route. Charging each stitch for the
ways it has too many, and paying it for those it lacks, keeps this true and raises the
floor; the charges are improved step by step (Held and Karp's method for round trips, here for an
open one, with Polyak's step and some of the step before).
"""

import numpy as np
from numpy.typing import NDArray

from spring_layout.planning.parts import Array
from spring_layout.planning.stitching_ways import Ways

ROUNDS_BY_FOOT = 6_000
"""Improvements times feet: 100 rounds at 60 feet, a thirtieth of a second."""

MOST_ROUNDS = 500

MOST_CHARGED = 400
"""feet. Beyond this the table of all ways is too large, and the floor is taken without charges."""

_PATIENCE = 5
"""rounds without a better floor before the step is halved."""

_KEPT = 0.6
"""share of the last change of the charges that is kept in the next, against going to and fro."""


def floor_under(ways: Ways, known: float, close: float) -> float:
    """A length, mm, that no route over all feet of ``ways`` (two or more) falls short of.

    ``known`` is the length of some route; the work ends when the floor comes within ``close``.
    """
    if ways.feet > MOST_CHARGED:
        return plain_floor(ways)
    relaxed = _Relaxed(ways)
    charges = np.zeros((ways.feet, ways.stitches))
    best, scale, waited = -np.inf, 1.0, 0
    change = np.zeros_like(charges)
    for _ in range(min(MOST_ROUNDS, ROUNDS_BY_FOOT // ways.feet)):
        floor, degrees = relaxed.at(charges)
        if floor > best + 1e-9 * known:
            best, waited = floor, 0
        else:
            waited += 1
        off = degrees - 2.0
        change = off + _KEPT * change
        size = float((change * change).sum())
        if not off.any() or size == 0.0 or best >= known - close or scale < 1e-4:
            break
        if waited >= _PATIENCE:
            scale, waited = scale / 2, 0
        charges = charges + scale * max(known - floor, close) / size * change
    return float(min(best, known))


def plain_floor(ways: Ways) -> float:
    """A floor, mm, without charges: each foot's shortest path, and the shortest tree between feet.

    Between feet it counts from ring to ring, which is never more than from stitch to stitch.
    """
    centres = ways.points.mean(axis=1)
    reach = np.hypot(*(ways.points - centres[:, None]).transpose(2, 0, 1)).max(axis=1)
    apart = np.hypot(*(centres[:, None] - centres[None]).transpose(2, 0, 1))
    cost = np.clip(apart - reach[:, None] - reach[None], 0.0, None)
    return float(ways.order_lengths.min(axis=1).sum() + cost[_tree(cost)].sum())


class _Relaxed:
    """The floor of ``ways`` at any charges."""

    def __init__(self, ways: Ways) -> None:
        n, m = ways.feet, ways.stitches
        self.ways, self.ends = ways, ways.orders[:, [0, -1]]
        self.between = ways.between.transpose(1, 3, 0, 2).reshape(m * m, n, n)
        self.charged = np.empty_like(self.between)  # made once: it is large

    def at(self, charges: Array) -> tuple[float, Array]:
        """The floor at these ``charges``, and how many ways each stitch has then: (n, m)."""
        inside, degrees = self._feet_alone(charges)
        joins = self._joined(charges, degrees)
        loose = _loose_ends(charges, degrees)
        return inside + joins + loose - 2 * float(charges.sum()), degrees

    def _feet_alone(self, charges: Array) -> tuple[float, Array]:
        """The shortest charged path in each foot; marks its ways in a new table of degrees."""
        # a stitch inside a path has two ways, one at its end has one
        inside = 2 * charges.sum(axis=1)[:, None] - charges[:, self.ends].sum(axis=2)
        charged = self.ways.order_lengths + inside
        best = charged.argmin(axis=1)
        degrees = np.full(charges.shape, 2.0)
        feet = np.arange(len(charges))
        for end in (0, 1):
            degrees[feet, self.ends[best, end]] -= 1
        return float(charged[feet, best].sum()), degrees

    def _joined(self, charges: Array, degrees: Array) -> float:
        """The shortest charged tree between the feet; marks its ways in ``degrees``."""
        n, m = charges.shape
        by_stitch = charges.T
        pairs = (by_stitch[:, None, :, None] + by_stitch[None, :, None]).reshape(m * m, n, n)
        charged = np.add(self.between, pairs, out=self.charged)
        cost = charged.min(axis=0)
        one, other = _tree(cost)
        which = charged[:, one, other].argmin(axis=0)
        np.add.at(degrees, (one, which // m), 1)
        np.add.at(degrees, (other, which % m), 1)
        return float(cost[one, other].sum())


def _tree(cost: Array) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """The pairs that the shortest tree over all n feet joins (Prim): (n - 1,), (n - 1,)."""
    left = cost.copy()
    near, link = left[0].copy(), np.zeros(len(cost), np.intp)
    near[0] = left[:, 0] = np.inf
    joined = np.empty(len(cost) - 1, np.intp)
    for i in range(len(joined)):
        new = joined[i] = near.argmin()
        left[:, new] = near[new] = np.inf
        row = left[new]
        closer = row < near
        np.copyto(near, row, where=closer)
        np.copyto(link, new, where=closer)
    return link[joined], joined


def _loose_ends(charges: Array, degrees: Array) -> float:
    """The two cheapest loose ends, in two feet; marks them in ``degrees``."""
    cheapest = charges.argmin(axis=1)
    cost = charges[np.arange(len(charges)), cheapest]
    total = 0.0
    for foot in np.argsort(cost, kind="stable")[:2]:
        degrees[foot, cheapest[foot]] += 1
        total += float(cost[foot])
    return total
