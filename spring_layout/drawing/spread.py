"""Set things out in a row: each as near as may be to where it belongs, none upon the next."""

from collections.abc import Sequence
from itertools import pairwise


def spread(wished: Sequence[float], sizes: Sequence[float], gap: float) -> list[float]:
    """Places for things that wish to be at ``wished`` (ascending, mm), kept ``gap`` apart.

    ``sizes`` are how long they are along the row. The order stays, and the sum of the squared
    departures from the wishes is the least there is: with the sizes taken off it is the isotonic
    regression of the wishes, found by pooling neighbours that would fall upon each other.
    """
    taken = _taken(sizes, gap)
    pools: list[tuple[float, int]] = []
    for wish, shift in zip(wished, taken, strict=True):
        mean, count = wish - shift, 1
        while pools and pools[-1][0] > mean:
            before, others = pools.pop()
            mean = (before * others + mean * count) / (others + count)
            count += others
        pools.append((mean, count))
    even = [mean for mean, count in pools for _ in range(count)]
    return [place + shift for place, shift in zip(even, taken, strict=True)]


def spread_between(
    wished: Sequence[float], sizes: Sequence[float], gap: float, least: float, most: float
) -> list[float] | None:
    """The same with everything from ``least`` to ``most`` mm; None where that has no room."""
    if not wished:
        return []
    taken = _taken(sizes, gap)
    low, high = least + sizes[0] / 2, most - sizes[-1] / 2 - taken[-1]
    if low > high:
        return None
    free = spread(wished, sizes, gap)
    return [
        min(max(place - shift, low), high) + shift for place, shift in zip(free, taken, strict=True)
    ]


def _taken(sizes: Sequence[float], gap: float) -> list[float]:
    """How far each thing's middle must lie from the first one's at least, mm."""
    taken = [0.0]
    for before, after in pairwise(sizes):
        taken.append(taken[-1] + before / 2 + gap + after / 2)
    return taken[: len(sizes)]
