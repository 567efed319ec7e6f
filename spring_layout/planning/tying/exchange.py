"""In which order the tacks of a stretch stand, where room is short.

They begin in the order of the places where they would best be. Neighbours of different runs may
change places (those of one run must not cross) where their windows have too little room for them,
or where a straight line's tack would otherwise have to give way to the diagonals beside it.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from spring_layout.planning.parts import Array
from spring_layout.planning.tying.spread import gaps_kept, spread
from spring_layout.planning.tying.touch import Flags

LOOKS = 20_000
"""How many tacks are looked at, order after order, on one stretch that has too little room."""
ROOM = 1e-3
"""mm. Less room than this is none: it is rounding."""
GIVES_WAY = 1.0
"""mm. A straight line's tack that is moved by more than this is worth another order."""
MISSING = 1e6
"""mm. Room that is missing outweighs any move."""
EXCHANGES = 6
"""How many neighbours may change places for the straight lines' sake, in one crowd of tacks."""


@dataclass(frozen=True, eq=False)
class Row:
    """Tacks in order, all arrays (m,): ``wished`` places, windows from ``low`` to ``high``.

    The heavier a ``weight``, the firmer it stands. ``kinds``: their runs; ``odds``: a number that
    goes along with a mirror or a turn of the deck, which decides between orders equally good.
    """

    wished: Array
    low: Array
    high: Array
    weight: Array
    kinds: Sequence[object]
    odds: Array

    def __len__(self) -> int:
        return len(self.wished)

    def take(self, order: Sequence[int]) -> "Row":
        """The same tacks, or some, in another order."""
        at = np.array(order, np.intp)
        kinds = [self.kinds[i] for i in order]
        return Row(
            self.wished[at], self.low[at], self.high[at], self.weight[at], kinds, self.odds[at]
        )


def best_order(row: Row, apart: float) -> list[int]:
    """The order in which the tacks of ``row`` stand best, at least ``apart`` mm."""
    order = _roomier(row, apart)
    if len(row) * len(row) < LOOKS:
        order = _firmer(row, order, apart)
    return order


def missing(row: Row, apart: float) -> float:
    """How much room is missing in all for tacks in this order, mm; 0 where they all fit."""
    return float((apart - gaps_kept(row.low, row.high, apart)).sum())


def _roomier(row: Row, apart: float) -> list[int]:
    """The tacks in an order that leaves less room missing, swap by swap, within ``LOOKS``."""
    order, tries = list(range(len(row))), LOOKS // (len(row) + 1)
    least = missing(row, apart)
    while least > ROOM:
        now = row.take(order)
        small = gaps_kept(now.low, now.high, apart) < apart - ROOM
        swaps = list(_swaps(row, order, small))
        tries -= len(swaps)
        if tries < 0:
            break
        best = _best_swap(row, swaps, lambda other: missing(other, apart), ROOM)
        if best is None or best[0] >= least - ROOM:
            break
        least, order = best
    return order


def _firmer(row: Row, order: list[int], apart: float) -> list[int]:
    """The tacks in an order that moves the straight lines' less, crowd by crowd."""
    now = row.take(order)
    places = spread(now.wished, now.low, now.high, now.weight, apart)
    moved = np.abs(places - now.wished) > GIVES_WAY
    firm = now.weight >= now.weight.max(initial=0.0)
    for crowd in _crowds(places, apart):
        if len(crowd) > 2 and (moved & firm)[crowd].any():
            own = [order[i] for i in crowd]
            order[crowd[0] : crowd[-1] + 1] = _lighter(row, own, apart)
    return order


def _crowds(places: Array, apart: float) -> list[list[int]]:
    """Rows of neighbours that stand no farther apart than they must."""
    breaks = np.flatnonzero(np.diff(places) > apart + ROOM) + 1
    return [list(rows) for rows in np.split(np.arange(len(places)), breaks)]


def _lighter(row: Row, order: list[int], apart: float) -> list[int]:
    """One crowd in an order that costs less to spread: weights by squared moves, room first."""

    def cost(other: Row) -> float:
        places = spread(other.wished, other.low, other.high, other.weight, apart)
        moves = float((other.weight * (places - other.wished) ** 2).sum())
        return moves / float(other.weight.max()) + MISSING * missing(other, apart)

    least = cost(row.take(order))
    for _ in range(EXCHANGES):
        swaps = list(_swaps(row, order, np.ones(len(order) - 1, bool)))
        best = _best_swap(row, swaps, cost, ROOM)
        if best is None or best[0] >= least - GIVES_WAY:
            break
        least, order = best
    return order


def _best_swap(
    row: Row, swaps: list[tuple[int, list[int]]], cost: Callable[[Row], float], step: float
) -> tuple[float, list[int]] | None:
    """The swap that costs least, to the ``step``; of equal ones that of the least odds."""
    rated = [
        (round(cost(row.take(order)) / step), row.odds[order[i]] + row.odds[order[i + 1]], i, order)
        for i, order in swaps
    ]
    if not rated:
        return None
    least = min(rated, key=lambda swap: swap[:3])
    return least[0] * step, least[3]


def _swaps(row: Row, order: list[int], worth: Flags) -> Iterator[tuple[int, list[int]]]:
    """Each order with two neighbours swapped, in or beside a gap that is ``worth`` it."""
    gaps = np.append(worth, False)
    beside = gaps | np.append(gaps[1:], False) | np.append(False, gaps[:-1])
    for i, (a, b) in enumerate(pairwise(order)):
        if beside[i] and row.kinds[a] != row.kinds[b] and row.low[b] < row.high[a]:
            yield i, [*order[:i], b, a, *order[i + 2 :]]
