"""Spreading the tacks along a stretch of nail line: apart by at least so much, moved least.

The tacks stand in the order of the places where they would best be. Keeping that order, and each
within its own window, they are moved so that the weighted sum of the squared moves is least:
neighbours that would stand too near are pooled and move together (isotonic regression). Where a
row of windows is too narrow for its tacks, that row is spaced as evenly as its windows allow.
"""

import math
from dataclasses import dataclass

import numpy as np

from spring_layout.planning.parts import Array
from spring_layout.planning.tying.meeting import HAIR

LEAST_GAP = 5.0
"""mm. Nearer than this, two tacks are one hole in the rail: sooner one line turns more sharply,
as long as it passes over no spring."""


CROWD = 250
"""tacks. Beyond so many on one stretch, that do not fit, gaps are shared out more roughly."""


@dataclass
class _Pool:
    """Tacks that move together: weight, weighted mean, window, how many."""

    weight: float
    mean: float
    low: float
    high: float
    count: int

    @property
    def place(self) -> float:
        return min(max(self.mean, self.low), self.high)

    def joined(self, other: "_Pool") -> "_Pool":
        weight = self.weight + other.weight
        mean = (self.weight * self.mean + other.weight * other.mean) / weight
        low, high = max(self.low, other.low), min(self.high, other.high)
        return _Pool(weight, mean, low, max(low, high), self.count + other.count)


def spread(wished: Array, low: Array, high: Array, weight: Array, apart: float) -> Array:
    """(m,) places of tacks in order, at least ``apart`` mm from each other where that can be.

    ``wished`` ascend; each stays from ``low`` to ``high``; the heavier a ``weight`` the less it
    moves.
    """
    gaps = gaps_kept(low, high, apart)
    shift = np.concatenate([[0.0], np.cumsum(gaps)]) if len(wished) else np.zeros(0)
    lows = np.maximum.accumulate(low - shift)
    highs = np.minimum.accumulate((high - shift)[::-1])[::-1]
    pools: list[_Pool] = []
    for row in zip(weight, wished - shift, lows, highs, strict=True):
        w, mean, least, most = (float(v) for v in row)
        pools.append(_Pool(w, mean, least, max(least, most), 1))
        while len(pools) > 1 and pools[-2].place > pools[-1].place:
            last = pools.pop()
            pools[-1] = pools[-1].joined(last)
    places = [pool.place for pool in pools for _ in range(pool.count)]
    return np.asarray(np.array(places) + shift)


def gaps_kept(low: Array, high: Array, apart: float) -> Array:
    """(m - 1,) the gaps to keep: ``apart``, less where the windows are too narrow for it.

    The narrowest row of windows is shared out evenly, then the next, whichever side they are
    reckoned from; a row of more than ``CROWD`` tacks from its first on.
    """
    if fit(low, high, apart):
        return np.full(max(len(low) - 1, 0), apart)
    rows = _Rows(low, high, apart)
    if len(low) > CROWD:
        return rows.shared_in_turn()
    while (tight := rows.tightest()) is not None:
        rows.share(*tight)
    return rows.gaps


def fit(low: Array, high: Array, apart: float) -> bool:
    """Whether tacks in order can stand ``apart`` within their windows."""
    shift = np.arange(len(low)) * apart
    return bool((np.maximum.accumulate(low - shift) <= high - shift + HAIR).all())


class _Rows:
    """The gaps between tacks in order, made smaller row by row until they fit the windows."""

    def __init__(self, low: Array, high: Array, apart: float) -> None:
        self.low, self.high, self.apart = low.copy(), high.copy(), apart
        self.gaps = np.full(max(len(low) - 1, 0), apart)
        self.open = np.ones(len(self.gaps), bool)

    def tightest(self) -> tuple[int, int, float] | None:
        """The row (first, last) with the least even gap still open, and that gap, if too small."""
        held = np.concatenate([[0.0], np.cumsum(np.where(self.open, 0.0, self.gaps))])
        free = np.concatenate([[0], np.cumsum(self.open)])
        room = (self.high - held) - (self.low - held)[:, None]
        count = np.triu(free - free[:, None], 1)
        even = np.where(count > 0, room / np.maximum(count, 1), np.inf)
        best = int(even.argmin())
        first, last = divmod(best, len(self.low))
        least = float(even[first, last])
        return None if least >= self.apart - HAIR / len(self.low) else (first, last, least)

    def share(self, first: int, last: int, even: float) -> None:
        """Gives every gap of a row that is still open the same room."""
        row = slice(first, last)
        self.gaps[row] = np.where(self.open[row], max(even, 0.0), self.gaps[row])
        self.open[row] = False

    def widen(self, first: int, last: int, even: float, rail: tuple[Array, Array]) -> None:
        """Makes the windows of a row wide enough, as far as the ``rail`` allows it."""
        short = (self.apart - even) * int(self.open[first:last].sum())
        room = float(self.low[first] - rail[0][first]), float(rail[1][last] - self.high[last])
        before, after = (max(min(short / 2, side), 0.0) for side in room)
        before, after = (
            max(min(short - after, room[0]), before),
            max(min(short - before, room[1]), after),
        )
        row = slice(first, last + 1)
        self.low[row] = np.minimum(self.low[row], self.low[first] - before)
        self.high[row] = np.maximum(self.high[row], self.high[last] + after)
        if before + after < short - HAIR:
            self.share(first, last, even + (before + after) / (last - first))

    def shared_in_turn(self) -> Array:
        """The gaps, from the first tack on: quicker, for rows so crowded that nothing is even."""
        first, place = 0, -math.inf
        for i in range(len(self.low)):
            pushed = place + (float(self.gaps[i - 1]) if i else 0.0)
            if self.low[i] >= pushed:
                first = i
            place = max(float(self.low[i]), pushed)
            if place > self.high[i] + HAIR and first < i:
                even = max(float(self.high[i] - self.low[first]) / (i - first), 0.0)
                self.gaps[first:i] = np.minimum(self.gaps[first:i], even)
                place = float(self.low[first] + self.gaps[first:i].sum())
        return self.gaps


def widened(low: Array, high: Array, rail: tuple[Array, Array]) -> tuple[Array, Array]:
    """The windows of tacks in order, made wider where two would come within ``LEAST_GAP``.

    ``rail``: the (m,) least and most places that rail and springs allow, where there is room. A
    row of more than ``CROWD`` tacks is left as it is.
    """
    if fit(low, high, LEAST_GAP) or len(low) > CROWD:
        return low, high
    rows = _Rows(low, high, LEAST_GAP)
    for _ in range(2 * len(low)):
        tight = rows.tightest()
        if tight is None:
            break
        rows.widen(*tight, rail)
    return rows.low, rows.high
