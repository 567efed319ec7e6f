"""A short sewing-in route for many springs: rows walked to and fro, then improved.

The starts are the rows (and columns) walked to and fro and the nearest foot each time from every
corner of the deck. Then as long as it shortens the route, a stretch of feet is turned round, or up
to three feet are taken out and put in elsewhere; each such move is measured exactly, with the
best stitches to come to and leave by. When nothing helps, two stretches are swapped and it begins
again, until the route meets the proven floor or the stated number of moves is spent. The draws
are seeded: the same feet give the same route.
"""

from collections.abc import Iterator
from itertools import islice

import numpy as np
from numpy.typing import NDArray

from spring_layout.planning.parts import Array
from spring_layout.planning.stitching_exact import hops
from spring_layout.planning.stitching_ways import Route, Ways, route_along

Feet = NDArray[np.intp]

MOVES_BY_FOOT = 2_400
"""Moves times feet: 40 moves at 60 feet, a tenth of a second or two."""

MOST_MOVES = 60

MOST_IMPROVED = 300
"""feet. Beyond this the tables of a move grow past some tens of MB: only the starts compete."""

_LONGEST_MOVED = 3
_GAIN = 1e-7
_NEAR = 3.0
"""times the usual way to the nearest foot: how far away a foot is put in elsewhere."""


def starts(ways: Ways) -> list[Feet]:
    """The orders of the feet to begin from."""
    centres = ways.points.mean(axis=1)
    begun = [_to_and_fro(centres[:, [a, 1 - a]] * sign) for a in (0, 1) for sign in (1, -1)]
    if ways.feet > MOST_IMPROVED:
        return begun
    corners = [centres @ np.array([sx, sy]) for sx in (1, -1) for sy in (1, -1)]
    return begun + [_nearest_each_time(ways, int(np.argmin(c))) for c in corners]


def _to_and_fro(centres: Array) -> Feet:
    """Rows along the second coordinate, walked to and fro from the least first coordinate."""
    apart = np.hypot(*(centres[:, None] - centres[None]).transpose(2, 0, 1))
    usual = float(np.median(np.where(apart > 0, apart, np.inf).min(axis=1)))
    by_row = np.argsort(centres[:, 0], kind="stable")
    row = np.concatenate([[0], np.cumsum(np.diff(centres[by_row, 0]) > usual / 3)])
    along = centres[by_row, 1] * np.where(row % 2, -1, 1)
    return np.asarray(by_row[np.lexsort((along, row))])


def _nearest_each_time(ways: Ways, first: int) -> Feet:
    near = ways.between.min(axis=(1, 3))
    left = np.ones(ways.feet, bool)
    order = [first]
    for _ in range(ways.feet - 1):
        left[order[-1]] = False
        order.append(int(np.where(left, near[order[-1]], np.inf).argmin()))
    return np.array(order)


def short_route(ways: Ways, floor: float, close: float) -> Route:
    """A short route over all feet of ``ways`` (two or more); done once within ``close`` of it."""
    routes = [route_along(ways, order.tolist()) for order in starts(ways)]
    best = min(routes, key=lambda route: round(route.length, 6))
    if ways.feet > MOST_IMPROVED or best.length <= floor + close:
        return best
    return min(best, _improved(ways, np.array(best.feet), floor + close), key=lambda r: r.length)


def _improved(ways: Ways, order: Feet, enough: float) -> Route:
    search = _Search(ways)
    draw = np.random.default_rng(0)
    moves = min(MOST_MOVES, MOVES_BY_FOOT // ways.feet)
    best, best_length = order, np.inf
    while moves > 0 and best_length > enough:
        steps = list(islice(search.descent(order), moves))
        moves -= len(steps)
        found, length = steps[-1]
        if length < best_length - _GAIN:
            best, best_length = found, length
        order = _swapped(best, draw)
    return route_along(ways, best.tolist())


def _swapped(order: Feet, draw: np.random.Generator) -> Feet:
    """``order`` with two neighbouring stretches swapped."""
    a, b, c = np.sort(draw.choice(len(order) + 1, 3, replace=False))
    return np.concatenate([order[:a], order[b:c], order[a:b], order[c:]])


class _Search:
    """Moves on an order of feet that stands between two blind feet, from which all is near.

    A position is a place in that order; N positions. Positions 0 and N - 1 are the blind feet.
    """

    def __init__(self, ways: Ways) -> None:
        n, m = ways.feet, ways.stitches
        self.m, self.n = m, n
        self.within = np.zeros((n + 2, m, m))
        self.within[:n] = ways.within
        self.between = np.zeros((n + 2, m, n + 2, m))
        self.between[:n, :, :n] = ways.between
        self.hops = np.zeros((n + 2, m, n + 2, m))
        self.hops[:n, :, :n] = hops(ways)
        self.hops[n:, :, :n] = ways.within.min(axis=1)
        near = ways.between.min(axis=(1, 3))
        nearest = np.where(np.eye(n, dtype=bool), np.inf, near).min(axis=1)
        self.near = np.ones((n + 2, n + 2), bool)
        self.near[:n, :n] = near <= _NEAR * max(float(np.median(nearest)), 1.0)

    def descent(self, order: Feet) -> Iterator[tuple[Feet, float]]:
        """Better and better orders with their lengths, from ``order`` on, till none is better."""
        tour = np.concatenate([[self.n], order, [self.n + 1]])
        while True:
            self._measure(tour)
            length = float(self.first[-1].min())
            yield tour[1:-1], length
            gain, better = max((self._turned(tour), self._moved(tour)), key=lambda t: t[0])
            if gain <= _GAIN:
                return
            tour = better

    def _measure(self, tour: Feet) -> None:
        """The shortest ways over every stretch of ``tour``, by in and out: (N, N, m, m)."""
        count = len(tour)
        self.stretch = np.full((count, count, self.m, self.m), np.inf)
        at = np.arange(count)
        self.stretch[at, at] = self.within[tour]
        for longer in range(1, count):
            a, b = at[: count - longer], at[longer:]
            hop = self.hops[tour[b - 1], :, tour[b]]
            self.stretch[a, b] = (self.stretch[a, b - 1][..., None] + hop[:, None]).min(axis=2)
        self.first = self.stretch[0].min(axis=1)
        self.last = self.stretch[:, -1].min(axis=2)
        self.length = float(self.first[-1].min())

    def _go(self, reach: Array, leave: Feet, arrive: Feet) -> Array:
        """On from each foot of ``leave`` to each of ``arrive``: (K, m) lengths so far."""
        return np.asarray((reach[..., None] + self.between[leave, :, arrive]).min(axis=1))

    def _over(self, reach: Array, stretch: Array) -> Array:
        return np.asarray((reach[..., None] + stretch).min(axis=1))

    def _turned(self, tour: Feet) -> tuple[float, Feet]:
        """The best gain from turning one stretch round, and the order after it."""
        a, b = np.triu_indices(len(tour) - 2, 1)
        a, b = a + 1, b + 1
        reach = self._go(self.first[a - 1], tour[a - 1], tour[b])
        reach = self._over(reach, self.stretch[a, b].transpose(0, 2, 1))
        reach = self._go(reach, tour[a], tour[b + 1]) + self.last[b + 1]
        best = int(reach.min(axis=1).argmin())
        i, j = int(a[best]), int(b[best])
        after = np.concatenate([tour[:i], tour[i : j + 1][::-1], tour[j + 1 :]])
        return self.length - float(reach[best].min()), after

    def _moved(self, tour: Feet) -> tuple[float, Feet]:
        """The best gain from putting up to three feet in elsewhere, and the order after it."""
        found = [
            self._put(tour, long, turned, forward)
            for long in range(1, min(_LONGEST_MOVED, self.n - 1) + 1)
            for turned in (False, True)
            for forward in (True, False)
            if long > 1 or not turned
        ]
        return max(found, key=lambda t: t[0])

    def _put(self, tour: Feet, long: int, turned: bool, forward: bool) -> tuple[float, Feet]:
        """As ``_moved``, for ``long`` feet, turned round or not, put further on or further back.

        Putting a stretch further back is read as: the ``long`` feet at a..b change places with
        the stretch before them.
        """
        count = len(tour)
        a, p = np.meshgrid(np.arange(1, count - long), np.arange(count - 1), indexing="ij")
        fits = (p >= a + long) if forward else (p < a - 1)
        fits &= self.near[tour[a], tour[p]] | self.near[tour[a + long - 1], tour[p]]
        a, p = a[fits], p[fits]
        if not len(a):
            return 0.0, tour
        b = a + long - 1
        feet = (self.stretch[a, b], tour[a], tour[b])
        if turned:
            feet = (feet[0].transpose(0, 2, 1), feet[2], feet[1])
        if forward:
            before, after = a - 1, p + 1
            other = (self.stretch[b + 1, p], tour[b + 1], tour[p])
            blocks = (other, feet)
        else:
            before, after = p, b + 1
            other = (self.stretch[p + 1, a - 1], tour[p + 1], tour[a - 1])
            blocks = (feet, other)
        reach, at = self.first[before], tour[before]
        for stretch, first, last in blocks:
            reach, at = self._over(self._go(reach, at, first), stretch), last
        reach = self._go(reach, at, tour[after]) + self.last[after]
        best = int(reach.min(axis=1).argmin())
        order = self._order(tour, int(a[best]), int(p[best]), long, turned)
        return self.length - float(reach[best].min()), order

    def _order(self, tour: Feet, a: int, p: int, long: int, turned: bool) -> Feet:
        """``tour`` with the ``long`` feet from ``a`` on put in after position ``p``."""
        moved = tour[a : a + long][:: -1 if turned else 1]
        if p > a:
            return np.concatenate([tour[:a], tour[a + long : p + 1], moved, tour[p + 1 :]])
        return np.concatenate([tour[: p + 1], moved, tour[p + 1 : a], tour[a + long :]])
