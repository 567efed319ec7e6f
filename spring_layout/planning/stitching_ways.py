"""Going from stitch to stitch: the lengths within a foot and between feet.

A foot has m stitches (3 or 4), sewn one after another in any order. Everything here is about
n feet at ``points`` (n, m, 2), mm; "in" is the stitch where the twine comes to a foot, "out" the
stitch where it leaves.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise, permutations

import numpy as np
from numpy.typing import NDArray

from spring_layout.planning.parts import Array


@dataclass(frozen=True, eq=False)
class Ways:
    """The lengths between all stitches of ``points`` (n, m, 2), mm."""

    points: Array

    @property
    def feet(self) -> int:
        """How many feet there are."""
        return len(self.points)

    @property
    def stitches(self) -> int:
        """How many stitches a foot has."""
        return int(self.points.shape[1])

    @cached_property
    def orders(self) -> NDArray[np.intp]:
        """(m!, m) every order of the stitches of a foot."""
        return np.array(list(permutations(range(self.stitches))))

    @cached_property
    def order_lengths(self) -> Array:
        """(n, m!) the length of each order in each foot."""
        steps = np.diff(self.points[:, self.orders], axis=2)
        return np.asarray(np.hypot(steps[..., 0], steps[..., 1]).sum(axis=2))

    @cached_property
    def within(self) -> Array:
        """(n, m, m) the shortest way over all stitches of a foot, by in and out (inf: the same)."""
        best = np.full((self.feet, self.stitches, self.stitches), np.inf)
        for order, lengths in zip(self.orders, self.order_lengths.T, strict=True):
            place = (slice(None), order[0], order[-1])
            best[place] = np.minimum(best[place], lengths)
        return best

    @cached_property
    def between(self) -> Array:
        """(n, m, n, m) straight from a stitch of one foot to a stitch of another, mm."""
        flat = self.points.reshape(-1, 2)
        steps = flat[:, None] - flat[None]
        shape = (self.feet, self.stitches) * 2
        return np.asarray(np.hypot(steps[..., 0], steps[..., 1]).reshape(shape))

    def straight(self, foot: int, other: int) -> Array:
        """(m, m) straight from each stitch of ``foot`` to each of ``other``, mm."""
        steps = self.points[foot][:, None] - self.points[other][None]
        return np.asarray(np.hypot(steps[..., 0], steps[..., 1]))

    def best_order(self, foot: int, first: int, last: int) -> tuple[int, ...]:
        """The shortest order of that foot's stitches from ``first`` in to ``last`` out."""
        fits = (self.orders[:, 0] == first) & (self.orders[:, -1] == last)
        lengths = np.where(fits, self.order_lengths[foot], np.inf)
        return tuple(int(i) for i in self.orders[int(np.argmin(lengths))])


@dataclass(frozen=True)
class Route:
    """A way over all stitches: the feet in order, each with its stitches in order; its length."""

    feet: tuple[int, ...]
    stitches: tuple[tuple[int, ...], ...]
    length: float


def hops(ways: Ways) -> Array:
    """(n, m, n, m) from out of one foot to out of the next, over all stitches of the next."""
    arrive = ways.between[..., :, None] + ways.within[None, None]
    return np.asarray(arrive.min(axis=3))


def lengths_along(ways: Ways, orders: NDArray[np.intp]) -> Array:
    """(s,) how long the shortest route is that takes the feet in each of ``orders`` (s, n), mm."""
    points = ways.points[orders]
    steps = points[:, :-1, :, None] - points[:, 1:, None]
    arrive = np.hypot(steps[..., 0], steps[..., 1])
    hop = (arrive[..., None] + ways.within[orders[:, 1:], None]).min(axis=3)
    total = ways.within[orders[:, 0]].min(axis=1)
    for i in range(hop.shape[1]):
        total = (total[..., None] + hop[:, i]).min(axis=1)
    return np.asarray(total.min(axis=1))


def route_along(ways: Ways, feet: Sequence[int]) -> Route:
    """The shortest route that takes the ``feet`` (at least one) in that order."""
    reach = ways.within[feet[0]]
    came: list[NDArray[np.intp]] = []
    total = reach.min(axis=0)
    entered = [reach.argmin(axis=0)]
    for before, foot in pairwise(feet):
        arrive = total[:, None] + ways.straight(before, foot)
        came.append(arrive.argmin(axis=0))
        leave = arrive.min(axis=0)[:, None] + ways.within[foot]
        entered.append(leave.argmin(axis=0))
        total = leave.min(axis=0)
    out = int(total.argmin())
    length = float(total[out])
    stitches = []
    for i in range(len(feet) - 1, -1, -1):
        first = int(entered[i][out])
        stitches.append(ways.best_order(feet[i], first, out))
        if i:
            out = int(came[i - 1][first])
    return Route(tuple(feet), tuple(reversed(stitches)), length)
