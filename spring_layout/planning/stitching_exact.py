"""The shortest sewing-in route for a few springs, found exactly.

A dynamic programme over (set of feet already sewn, last foot, the stitch where the twine leaves
it): the best way to such a state is the best over the foot before and its out. n feet of m
stitches take about 2^n n^2 m^2 / 2 steps: a quarter of a second at fourteen feet.
"""

import numpy as np

from spring_layout.planning.parts import Array
from spring_layout.planning.stitching_ways import Route, Ways, route_along

MOST_EXACT = 14
"""feet. Each foot more doubles the time; fourteen are sewn in well under a second."""


def exact_route(ways: Ways) -> Route:
    """The shortest route over all feet of ``ways``; at least one foot, at most MOST_EXACT."""
    return route_along(ways, _best_feet(ways))


def hops(ways: Ways) -> Array:
    """(n, m, n, m) from out of one foot to out of the next, over all stitches of the next."""
    arrive = ways.between[..., :, None] + ways.within[None, None]
    return np.asarray(arrive.min(axis=3))


def _best_feet(ways: Ways) -> list[int]:
    """The order of the feet on the shortest route."""
    n, m = ways.feet, ways.stitches
    step = hops(ways).reshape(n * m, n, m)
    best = np.full((1 << n, n, m), np.inf)
    for foot in range(n):
        best[1 << foot, foot] = ways.within[foot].min(axis=0)
    sets = np.arange(1 << n)
    size = sum((sets >> i) & 1 for i in range(n))
    for count in range(2, n + 1):
        for foot in range(n):
            those = sets[(size == count) & ((sets >> foot) & 1 == 1)]
            before = best[those ^ (1 << foot)].reshape(len(those), n * m)
            for out in range(m):
                best[those, foot, out] = (before + step[:, foot, out]).min(axis=1)
    return _traced(best, step, n, m)


def _traced(best: Array, step: Array, n: int, m: int) -> list[int]:
    """The feet from first to last, read back from the table."""
    sewn = (1 << n) - 1
    foot, out = divmod(int(best[sewn].argmin()), m)
    feet = [foot]
    while sewn ^ (1 << foot):
        sewn ^= 1 << foot
        came = best[sewn].reshape(-1) + step[:, foot, out]
        foot, out = divmod(int(came.argmin()), m)
        feet.append(foot)
    return feet[::-1]
