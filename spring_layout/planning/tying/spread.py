"""Spreading the tacks along a stretch of nail line: apart by at least so much, moved least.

The tacks stand in the order of the places where they would best be. Keeping that order, and each
within its own window, they are moved so that the weighted sum of the squared moves is least:
neighbours that would stand too near are pooled and move together (isotonic regression). Where a
row of windows is too narrow for its tacks, that row is spaced as evenly as its windows allow.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from spring_layout.planning.parts import Array
from spring_layout.planning.tying.meeting import HAIR

LEAST_GAP = 5.0
"""mm. Nearer than this, two tacks are one hole in the rail: sooner one line turns more sharply."""


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
    gaps = _gaps(low, high, apart)
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


def _gaps(low: Array, high: Array, apart: float) -> Array:
    """(m - 1,) the gaps to keep: ``apart``, less where the windows are too narrow for it."""
    gaps = np.full(max(len(low) - 1, 0), apart)
    for _ in range(len(low)):
        tight = _tight_row(low, high, gaps)
        if tight is None:
            break
        first, last = tight
        even = max((high[last] - low[first]) / (last - first), 0.0)
        gaps[first:last] = np.minimum(gaps[first:last], even)
    return gaps


def _tight_row(low: Array, high: Array, gaps: Array) -> tuple[int, int] | None:
    """The first row of tacks whose windows cannot hold their gaps: (first, last)."""
    first, place = 0, -np.inf
    for i in range(len(low)):
        pushed = place + (gaps[i - 1] if i else 0.0)
        if low[i] >= pushed:
            first, place = i, float(low[i])
        else:
            place = pushed
        if place > high[i] + HAIR and first < i and gaps[first:i].max() > 0:
            return first, i
    return None


def widened(low: Array, high: Array, rail: tuple[Array, Array]) -> tuple[Array, Array]:
    """The windows of tacks in order, made wider where two would come within ``LEAST_GAP``.

    ``rail``: the (m,) least and most places that the rail allows, where there is room.
    """
    low, high = low.copy(), high.copy()
    gaps = np.full(max(len(low) - 1, 0), LEAST_GAP)
    for _ in range(2 * len(low)):
        tight = _tight_row(low, high, gaps)
        if tight is None:
            break
        first, last = tight
        short = float(gaps[first:last].sum() - (high[last] - low[first]))
        room = low[first] - rail[0][first], rail[1][last] - high[last]
        before, after = (max(min(short / 2, float(side)), 0.0) for side in room)
        before = max(min(short - after, float(room[0])), before)
        after = max(min(short - before, float(room[1])), after)
        low[first : last + 1] = np.minimum(low[first : last + 1], low[first] - before)
        high[first : last + 1] = np.maximum(high[first : last + 1], high[last] + after)
        even = (high[last] - low[first]) / (last - first) - HAIR
        gaps[first:last] = np.minimum(gaps[first:last], max(float(even), 0.0))
    return low, high


def missing(low: Array, high: Array, apart: float) -> float:
    """How much room is missing in all for tacks in this order, mm; 0 where they all fit."""
    return float((apart - _gaps(low, high, apart)).sum())


def roomier_order(low: Array, high: Array, kinds: Sequence[object], apart: float) -> list[int]:
    """The rows in an order that fits them better, where the one given does not fit.

    Neighbours of different ``kinds`` (runs; those of one run must not cross) change places as
    long as that leaves less room missing.
    """
    order = list(range(len(low)))
    least = missing(low, high, apart)
    while least > HAIR:
        best = min(
            ((missing(low[o], high[o], apart), i) for i, o in _swaps(order, low, high, kinds)),
            default=(least, 0),
        )
        if best[0] >= least - HAIR:
            break
        least, i = best
        order[i], order[i + 1] = order[i + 1], order[i]
    return order


def _swaps(
    order: list[int], low: Array, high: Array, kinds: Sequence[object]
) -> Iterator[tuple[int, list[int]]]:
    """Each order with two neighbours swapped whose windows overlap: (first of the two, order)."""
    for i, (a, b) in enumerate(pairwise(order)):
        if kinds[a] != kinds[b] and low[b] < high[a]:
            yield i, [*order[:i], b, a, *order[i + 2 :]]
