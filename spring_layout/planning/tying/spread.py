"""Spreading the tacks along a stretch of nail line: apart by at least so much, moved least.

The tacks stand in the order of the places where they would best be. Keeping that order, and each
within its own window, they are moved so that the weighted sum of the squared moves is least:
neighbours that would stand too near are pooled and move together (isotonic regression). Where a
row of windows is too narrow for its tacks, that row is spaced as evenly as its windows allow.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from spring_layout.planning.parts import Array
from spring_layout.planning.tying.meeting import HAIR

LEAST_GAP = 5.0
"""mm. Nearer than this, two tacks are one hole in the rail: sooner one line turns more sharply."""


LOOKS = 20_000
"""How many tacks are looked at, order after order, on one stretch that has too little room."""
ROOM = 1e-3
"""mm. Less room than this is none: it is rounding."""


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
    lows, highs = low.tolist(), high.tolist()
    gaps = [apart] * max(len(lows) - 1, 0)
    for first, last in _tight_rows(lows, highs, gaps):
        even = max((highs[last] - lows[first]) / (last - first) - HAIR / len(lows), 0.0)
        gaps[first:last] = [min(gap, even) for gap in gaps[first:last]]
    return np.array(gaps)


def _tight_rows(
    low: list[float], high: list[float], gaps: list[float]
) -> Iterator[tuple[int, int]]:
    """Rows of tacks whose windows cannot hold their gaps: (first, last), from the left.

    Whoever asks makes windows wider or ``gaps`` smaller; the row is then looked at again.
    """
    first, place, i, tries = 0, -math.inf, 0, 0
    while i < len(low):
        pushed = place + (gaps[i - 1] if i else 0.0)
        if low[i] >= pushed:
            first, tries = i, tries if first == i else 0
        place = max(low[i], pushed)
        if place > high[i] + HAIR and first < i and max(gaps[first:i]) > 0 and tries < len(low):
            yield first, i
            i, place, tries = first, low[first], tries + 1
        i += 1


def widened(low: Array, high: Array, rail: tuple[Array, Array]) -> tuple[Array, Array]:
    """The windows of tacks in order, made wider where two would come within ``LEAST_GAP``.

    ``rail``: the (m,) least and most places that the rail allows, where there is room.
    """
    lows, highs = low.tolist(), high.tolist()
    gaps = [LEAST_GAP] * max(len(lows) - 1, 0)
    for first, last in _tight_rows(lows, highs, gaps):
        short = sum(gaps[first:last]) - (highs[last] - lows[first])
        room = float(lows[first] - rail[0][first]), float(rail[1][last] - highs[last])
        before, after = (max(min(short / 2, side), 0.0) for side in room)
        before = max(min(short - after, room[0]), before)
        after = max(min(short - before, room[1]), after)
        least, most = lows[first] - before, highs[last] + after
        lows[first : last + 1] = [min(place, least) for place in lows[first : last + 1]]
        highs[first : last + 1] = [max(place, most) for place in highs[first : last + 1]]
        even = max((most - least) / (last - first) - HAIR / len(lows), 0.0)
        gaps[first:last] = [min(gap, even) for gap in gaps[first:last]]
    return np.array(lows), np.array(highs)


def missing(low: Array, high: Array, apart: float) -> float:
    """How much room is missing in all for tacks in this order, mm; 0 where they all fit."""
    return float((apart - _gaps(low, high, apart)).sum())


def roomier_order(
    low: Array, high: Array, kinds: Sequence[object], odds: Array, apart: float
) -> list[int]:
    """The rows in an order that fits them better, where the one given does not fit.

    Neighbours of different ``kinds`` (runs; those of one run must not cross) change places as
    long as that leaves less room missing, within ``LOOKS``; of swaps that leave the same,
    that of the least ``odds``.
    """
    order, tries = list(range(len(low))), LOOKS // (len(low) + 1)
    least = missing(low, high, apart)
    while least > ROOM:
        swaps = list(_swaps(order, low, high, kinds, apart))
        tries -= len(swaps)
        if tries < 0:
            break
        rows = [
            (round(missing(low[o], high[o], apart) / ROOM), odds[o[i]] + odds[o[i + 1]], i)
            for i, o in swaps
        ]
        room, _, i = min(rows, default=(math.inf, 0.0, 0))
        if room * ROOM >= least - ROOM:
            break
        least = room * ROOM
        order[i], order[i + 1] = order[i + 1], order[i]
    return order


def _swaps(
    order: list[int], low: Array, high: Array, kinds: Sequence[object], apart: float
) -> Iterator[tuple[int, list[int]]]:
    """Each order with two neighbours swapped, beside a gap too small: (first of the two, order)."""
    small = np.append(_gaps(low[order], high[order], apart) < apart - HAIR, False)
    beside = small | np.append(small[1:], False) | np.append(False, small[:-1])
    for i, (a, b) in enumerate(pairwise(order)):
        if beside[i] and kinds[a] != kinds[b] and low[b] < high[a]:
            yield i, [*order[:i], b, a, *order[i + 2 :]]
