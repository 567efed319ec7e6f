"""A short sewing-in route for many springs: rows walked to and fro, then improved.

The starts are the rows, columns and diagonals walked to and fro and the nearest foot each time
from every corner of the deck. Then as long as it shortens the route, stretches of feet are turned
round, or up to three feet are taken out and put in elsewhere; each such move is measured exactly,
with the best stitches to come to and leave by, and all the best that do not touch each other are
made at once. When nothing helps, two stretches are swapped and it begins again, until the route
meets the proven floor or the stated number of rounds is spent. The draws are seeded: the same
feet give the same route.
"""

import math
from collections.abc import Iterator
from itertools import islice
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from spring_layout.planning.parts import Array
from spring_layout.planning.stitching_ways import Route, Ways, hops, lengths_along, route_along

Feet = NDArray[np.intp]

ROUNDS_BY_FOOT = 2_400
"""Rounds of moves times feet: 40 rounds at 60 feet, a tenth of a second."""

MOST_ROUNDS = 60

MOST_IMPROVED = 300
"""feet. Beyond this the tables of a round grow past some tens of MB: only the starts compete."""

_LONGEST_MOVED = 3
_LONGEST_SWAPPED = 20
_GAIN = 1e-7
_NEAR = 3.0
"""times the usual way to the nearest foot: how far away a foot is put in elsewhere."""


def first_route(ways: Ways) -> Route:
    """The shortest of the starts, improved as far as single moves go."""
    begun = starts(ways)
    order = begun[int(np.round(lengths_along(ways, np.array(begun)), 6).argmin())]
    if ways.feet <= MOST_IMPROVED:
        order = _last(islice(_Search(ways).descent(order), _rounds(ways)))[0]
    return route_along(ways, order.tolist())


def shorter_route(ways: Ways, route: Route, enough: float) -> Route:
    """A route no longer than ``route``; the search ends at ``enough`` mm or less."""
    if ways.feet > MOST_IMPROVED or route.length <= enough:
        return route
    search, left = _Search(ways), _rounds(ways)
    draw = np.random.default_rng(0)
    best, length = np.array(route.feet), route.length
    while left > 0 and length > enough:
        steps = list(islice(search.descent(_swapped(best, draw)), left))
        left -= len(steps)
        if steps[-1][1] < length - _GAIN:
            best, length = steps[-1]
    return min(route, route_along(ways, best.tolist()), key=lambda r: r.length)


def _rounds(ways: Ways) -> int:
    return min(MOST_ROUNDS, ROUNDS_BY_FOOT // ways.feet)


def _last(steps: Iterator[tuple[Feet, float]]) -> tuple[Feet, float]:
    *_, last = steps
    return last


def starts(ways: Ways) -> list[Feet]:
    """The orders of the feet to begin from."""
    centres = ways.points.mean(axis=1)
    usual = _usual(centres)
    begun = [_rows(centres[:, [a, 1 - a]] * sign, usual) for a in (0, 1) for sign in (1, -1)]
    slanted = centres @ np.array([[1.0, -1.0], [1.0, 1.0]]) * math.sqrt(0.5)
    begun += [_bands(slanted[:, [a, 1 - a]] * sign, usual) for a in (0, 1) for sign in (1, -1)]
    if ways.feet > MOST_IMPROVED:
        return begun
    corners = [centres @ np.array([sx, sy]) for sx in (1, -1) for sy in (1, -1)]
    near = ways.between.min(axis=(1, 3))
    return begun + [_nearest_each_time(near, int(np.argmin(c))) for c in corners]


def _usual(centres: Array) -> float:
    """The usual distance from a foot's centre to the nearest other, mm."""
    apart = np.hypot(*(centres[:, None] - centres[None]).transpose(2, 0, 1))
    return float(np.median(np.where(apart > 0, apart, np.inf).min(axis=1)))


def _rows(centres: Array, usual: float) -> Feet:
    """Rows along the second coordinate, walked to and fro from the least first coordinate."""
    by_row = np.argsort(centres[:, 0], kind="stable")
    row = np.concatenate([[0], np.cumsum(np.diff(centres[by_row, 0]) > usual / 3)])
    along = centres[by_row, 1] * np.where(row % 2, -1, 1)
    return np.asarray(by_row[np.lexsort((along, row))])


def _bands(centres: Array, usual: float) -> Feet:
    """Bands along the second coordinate, two slanted rows of a square deck wide: as stairs.

    A foot that is left a quarter of a turn from where it was come to takes less twine than one
    that is left straight across.
    """
    off = (centres[:, 0] - centres[:, 0].min()) / usual if usual < np.inf else centres[:, 0]
    band = np.floor(off / math.sqrt(2) + 0.25)
    return np.lexsort((centres[:, 1] * np.where(band % 2, -1, 1), band))


def _nearest_each_time(near: Array, first: int) -> Feet:
    """From ``first`` on to the nearest foot not yet sewn; ``near``: (n, n) the ways between."""
    left = near.copy()
    order = [first]
    for _ in range(len(near) - 1):
        left[:, order[-1]] = np.inf
        order.append(int(left[order[-1]].argmin()))
    return np.array(order)


def _swapped(order: Feet, draw: np.random.Generator) -> Feet:
    """``order`` with two neighbouring stretches swapped, too long for one move to swap back."""
    most = min(_LONGEST_SWAPPED, len(order) // 2)
    first, second = draw.integers(min(_LONGEST_MOVED + 1, most), most + 1, 2)
    a = int(draw.integers(len(order) - first - second + 1))
    b, c = a + int(first), a + int(first + second)
    return np.concatenate([order[:a], order[b:c], order[a:b], order[c:]])


class _Moves(NamedTuple):
    """Moves on a tour, each within the positions ``lo`` to ``hi``: (k,) arrays.

    ``shift`` 0 turns the stretch round; otherwise so many feet are taken from its beginning to
    its end, or where it is negative from its end to its beginning, and ``turned`` round on the
    way. ``gain`` is by how much that shortens the route, mm.
    """

    lo: Feet
    hi: Feet
    shift: Feet
    turned: NDArray[np.bool_]
    gain: Array

    def make(self, which: int, tour: Feet) -> None:
        """Make the move in ``tour`` itself."""
        lo, hi, shift = int(self.lo[which]), int(self.hi[which]) + 1, int(self.shift[which])
        window = tour[lo:hi].copy()
        if not shift:
            tour[lo:hi] = window[::-1]
            return
        ends = window[:shift], window[shift:]
        moved, rest = ends if shift > 0 else ends[::-1]
        moved = moved[::-1] if self.turned[which] else moved
        tour[lo:hi] = np.concatenate([rest, moved] if shift > 0 else [moved, rest])


class _Search:
    """Moves on an order of feet that stands between two blind feet, from which all is near.

    A tour is such an order with its blind feet, N feet in all. ``stretch[a, b]`` is the shortest
    way over its positions a to b, by in and out (backward where a > b); ``first[a]`` the
    shortest way from its beginning by out of a, ``last[a]`` from in to a to its end.
    """

    def __init__(self, ways: Ways) -> None:
        n, m = ways.feet, ways.stitches
        self.m, self.n, self.count = m, n, n + 2
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
        self.stretch = np.full((n + 2, n + 2, m, m), np.inf)

    def descent(self, order: Feet) -> Iterator[tuple[Feet, float]]:
        """Better and better orders with their lengths, from ``order`` on, till none is better."""
        tour = np.concatenate([[self.n], order, [self.n + 1]])
        length = self._measure(tour)
        while True:
            yield tour[1:-1], length
            moves = self._moves(tour)
            if not len(moves.gain):
                return
            by_gain = np.argsort(-moves.gain, kind="stable")
            best = float(moves.gain[by_gain[0]])
            after = tour.copy()
            for which in self._apart(moves, by_gain):
                moves.make(which, after)
            new = self._measure(after)
            if new > length - best:  # moves that lie near each other can spoil each other
                after = tour.copy()
                moves.make(int(by_gain[0]), after)
                new = self._measure(after)
            tour, length = after, new

    def _apart(self, moves: _Moves, by_gain: Feet) -> Iterator[int]:
        """The best moves whose stretches leave a foot between them."""
        taken = np.zeros(self.count, bool)
        for which in by_gain.tolist():
            lo, hi = int(moves.lo[which]), int(moves.hi[which])
            if not taken[lo - 1 : hi + 2].any():
                taken[lo : hi + 1] = True
                yield which

    def _measure(self, tour: Feet) -> float:
        """Fill ``stretch``, ``first`` and ``last`` for ``tour``; its length, mm."""
        at = np.arange(self.count)
        self.stretch[at, at] = self.within[tour]
        for longer in range(1, self.count):
            a, b = at[: self.count - longer], at[longer:]
            hop = self.hops[tour[b - 1], :, tour[b]]
            ways = (self.stretch[a, b - 1][..., None] + hop[:, None]).min(axis=2)
            self.stretch[a, b] = ways
            self.stretch[b, a] = ways.transpose(0, 2, 1)
        self.first = self.stretch[0].min(axis=1)
        self.last = self.stretch[:, -1].min(axis=2)
        return float(self.first[-1].min())

    def _moves(self, tour: Feet) -> _Moves:
        """Every move that shortens the route."""
        near = self.near[tour[:, None], tour]
        longest = min(_LONGEST_MOVED, self.n - 1)
        windows = [
            (*_windows(near, shift), shift, turned)
            for long in range(1, longest + 1)
            for shift in (long, -long)
            for turned in ((False, True) if long > 1 else (False,))
        ]
        found = (self._turned(tour, near), self._shifted(tour, windows))
        return _Moves(*(np.concatenate(column) for column in zip(*found, strict=True)))

    def _turned(self, tour: Feet, near: NDArray[np.bool_]) -> _Moves:
        """Stretches turned round."""
        lo, hi = np.nonzero(np.triu(near[:-2, 1:-1] | near[1:-1, 2:], 1))
        lo, hi = lo + 1, hi + 1
        none = np.zeros(len(lo))
        moves = _Moves(lo, hi, np.zeros_like(lo), none > 0, none)
        return self._better(tour, moves, [(hi, lo)])

    def _shifted(self, tour: Feet, windows: list[tuple[Feet, Feet, int, bool]]) -> _Moves:
        """Up to three feet put in elsewhere."""
        sizes = [len(lo) for lo, _, _, _ in windows]
        lo, hi = (np.concatenate([window[i] for window in windows]) for i in (0, 1))
        shift = np.repeat([window[2] for window in windows], sizes)
        turned = np.repeat([window[3] for window in windows], sizes)
        on, long = shift > 0, np.abs(shift)
        begin = np.where(on, lo, hi - long + 1)
        end = begin + long - 1
        moved = np.where(turned, end, begin), np.where(turned, begin, end)
        rest = np.where(on, lo + long, lo), np.where(on, hi, hi - long)
        blocks = [
            (np.where(on, rest[0], moved[0]), np.where(on, rest[1], moved[1])),
            (np.where(on, moved[0], rest[0]), np.where(on, moved[1], rest[1])),
        ]
        return self._better(tour, _Moves(lo, hi, shift, turned, np.zeros(len(lo))), blocks)

    def _better(self, tour: Feet, moves: _Moves, blocks: list[tuple[Feet, Feet]]) -> _Moves:
        """Those of ``moves`` that shorten the route, with their gains.

        ``blocks``: the stretches of ``tour``, each from a position to a position, that stand one
        after another between ``lo`` and ``hi`` once a move is made.
        """
        before, after = moves.lo - 1, moves.hi + 1
        reach, at = self.first[before], tour[before]
        for begin, end in blocks:
            reach = (reach[..., None] + self.between[at, :, tour[begin]]).min(axis=1)
            reach = (reach[..., None] + self.stretch[begin, end]).min(axis=1)
            at = tour[end]
        reach = (reach[..., None] + self.between[at, :, tour[after]]).min(axis=1) + self.last[after]
        gain = float(self.first[-1].min()) - reach.min(axis=1)
        kept = gain > _GAIN
        return _Moves(*(column[kept] for column in moves._replace(gain=gain)))


def _windows(near: NDArray[np.bool_], shift: int) -> tuple[Feet, Feet]:
    """The stretches lo to hi from one end of which so many feet may be taken to the other.

    ``near``: by positions. The first or the last of them must be near to the foot after which
    they are put in.
    """
    long = abs(shift)
    if shift > 0:
        fits = (near[1 : -1 - long] | near[long:-2])[:, 1:-1]
    else:
        fits = near[:-2, 1:-1].copy()
        fits[:, long - 1 :] |= near[:-2, 1 : len(near) - long]
    lo, hi = np.nonzero(np.triu(fits, long))
    return lo + 1, hi + 1
