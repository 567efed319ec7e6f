"""The shortest sewing-in route for a few springs, found exactly.

A dynamic programme over (set of feet already sewn, last foot, the stitch where the twine leaves
it): the best way to such a state is the best over the foot before and its out. A route can be
walked from either end, so ways over half the feet are enough: the shortest route is the best two
that meet in the middle. n feet of m stitches take about 2^(n - 2) n^2 m^2 steps: a thirtieth of a
second at fourteen feet.
"""

import numpy as np
from numpy.typing import NDArray

from spring_layout.planning.parts import Array
from spring_layout.planning.stitching_ways import Route, Ways, hops, route_along

Sets = NDArray[np.intp]
"""Sets of feet as whole numbers: bit i stands for foot i."""


def exact_route(ways: Ways) -> Route:
    """The shortest route over all feet of ``ways``; at least one foot, and few."""
    return route_along(ways, _best_feet(ways) if ways.feet > 1 else [0])


def _best_feet(ways: Ways) -> list[int]:
    """The order of the feet on the shortest route; two feet or more."""
    table = _Table(ways)
    out, sewn, into = table.meeting()
    rest = ((1 << ways.feet) - 1) ^ sewn
    return table.traced(sewn, out) + table.traced(rest, into)[::-1]


class _Table:
    """The shortest ways over each set of up to half of n feet (two or more) to each state.

    A state is a foot and a stitch in one number, foot * m + stitch. ``best[k]`` is (n m, s), a
    column a set of k feet, in the order of ``sets[k]``; inf where the foot is not in the set.
    """

    def __init__(self, ways: Ways) -> None:
        self.n, self.m = n, m = ways.feet, ways.stitches
        self.between = ways.between.reshape(n * m, n * m)
        self.step = hops(ways).reshape(n * m, n * m)
        every = np.arange(1 << n)
        self.size: Sets = np.sum([(every >> i) & 1 for i in range(n)], axis=0)
        self.sets = [every[self.size == count] for count in range(n - n // 2 + 1)]
        self.column = np.zeros(1 << n, np.intp)
        for sets in self.sets:
            self.column[sets] = np.arange(len(sets))
        self.best = [np.zeros((n * m, 0)), self._begun(ways)]
        for count in range(2, len(self.sets)):
            self.best.append(self._longer(count))

    def _begun(self, ways: Ways) -> Array:
        best = np.full((self.n * self.m, self.n), np.inf)
        for foot in range(self.n):
            best[foot * self.m : foot * self.m + self.m, foot] = ways.within[foot].min(axis=0)
        return best

    def _longer(self, count: int) -> Array:
        """The table of sets of ``count`` feet, from that of one foot fewer."""
        n, m, sets = self.n, self.m, self.sets[count]
        best = np.full((n * m, len(sets)), np.inf)
        # these two are made once: making one anew takes longer than filling it
        before, after = np.empty((2, n * m, int((sets & 1).sum())))
        for foot in range(n):
            those = np.flatnonzero((sets >> foot) & 1)
            came = self.column[sets[those] ^ (1 << foot)]
            np.take(self.best[-1], came, axis=1, out=before, mode="clip")
            for out in range(foot * m, foot * m + m):
                best[out, those] = np.add(before, self.step[:, out, None], out=after).min(axis=0)
        return best

    def meeting(self) -> tuple[int, int, int]:
        """Where the shortest route passes from one half to the rest: state, set, state."""
        sets = self.sets[-1]
        if self.n % 2 == 0:
            sets = sets[sets & 1 == 1]  # its rest is a half too: each pair once
        rest = ((1 << self.n) - 1) ^ sets
        first = self.best[-1][:, self.column[sets]]
        second = self.best[self.n // 2][:, self.column[rest]]
        joined, whole = np.empty_like(first), np.empty_like(first)
        for into in range(len(whole)):
            np.add(first, self.between[:, into, None], out=joined).min(axis=0, out=whole[into])
        whole += second
        into, which = divmod(int(whole.argmin()), len(sets))
        return int((first[:, which] + self.between[:, into]).argmin()), int(sets[which]), into

    def traced(self, sewn: int, state: int) -> list[int]:
        """The feet of the set ``sewn`` from first to last, where the last is left in ``state``."""
        feet = [state // self.m]
        while sewn ^ (1 << feet[-1]):
            sewn ^= 1 << feet[-1]
            before = self.best[self.size[sewn]][:, self.column[sewn]]
            state = int((before + self.step[:, state]).argmin())
            feet.append(state // self.m)
        return feet[::-1]
