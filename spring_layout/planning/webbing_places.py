"""Where the webbing strips of one direction go: under the springs first, then to fill.

Across the strips (x for strips that run front to back, y for side to side) the springs stand in
rows. The rule, in its order:

1. A strip is centred under every row of springs, so that the springs stand on crossings (Johnson
   1919 starts his strips from the springs). Springs within a third of a strip's width of each
   other are one row. Rows nearer together than a strip is wide share the room: the strips lie
   side by side, each as near to its row as it can.
2. The school's gap says how many strips the opening usually takes: round((span - gap) / (width +
   gap)). As many as are then still missing fill the widest gaps, spaced evenly in them, wherever
   that leaves a gap of ``CLOSEST_GAP`` or the school's own, whichever is less.
3. Equal gaps are filled alike. Where there are not strips enough for that, front-to-back strips
   keep the deck's two halves alike, and a side-to-side strip goes to the front, where most of the
   load comes (common practice, no source).
"""

import math
from collections.abc import Sequence

CLOSEST_GAP = 6.35
"""mm (1/4 in), the smallest gap that a school leaves between strips on purpose (US workshops)."""

_ROW_SHARE = 1 / 3
_SAME_GAIN = 1e-6


def usual_count(span: float, width: float, gap: float) -> int:
    """How many strips of ``width`` the school's ``gap`` puts into an opening of ``span``, mm."""
    return max(1, min(round((span - gap) / (width + gap)), math.floor(span / width)))


def rows_across(coordinates: Sequence[float], width: float) -> list[float]:
    """The middles of the rows that springs at those ``coordinates`` (mm) make across strips."""
    rows: list[list[float]] = []
    for value in sorted(coordinates):
        if rows and value - rows[-1][-1] <= width * _ROW_SHARE:
            rows[-1].append(value)
        else:
            rows.append([value])
    return [middle for row in rows for middle in _middles(row[0], row[-1], width)]


def _middles(low: float, high: float, width: float) -> list[float]:
    """One middle for a row that fits on a strip, else as many as it takes."""
    parts = max(1, math.ceil((high - low) / width))
    return [low + (high - low) * (i + 0.5) / parts for i in range(parts)]


def strip_places(
    coordinates: Sequence[float],
    low: float,
    high: float,
    width: float,
    gap: float,
    front_first: bool,
) -> tuple[float, ...]:
    """The middles of the strips, ascending, mm, in an opening from ``low`` to ``high``.

    ``coordinates`` are those of the springs; ``front_first`` gives a strip that has no twin to
    the higher end. An opening narrower than one strip has none.
    """
    most = math.floor((high - low) / width + _SAME_GAIN)
    if most < 1:
        return ()
    usual = usual_count(high - low, width, gap)
    rows = rows_across(coordinates, width)
    if not 0 < len(rows) <= most:
        return _even(low, high, usual)
    main = side_by_side(rows, low + width / 2, high - width / 2, width)
    fills = _fills(main, low, high, width, gap, usual - len(main), front_first)
    return _with_fills(main, fills, low, high, width)


def _even(low: float, high: float, count: int) -> tuple[float, ...]:
    return tuple(low + (high - low) * (i + 0.5) / count for i in range(count))


def side_by_side(wished: Sequence[float], low: float, high: float, width: float) -> list[float]:
    """The places, mm, nearest to the ``wished`` ones (least squares) that are ``width`` apart.

    They are ascending and stay from ``low`` to ``high``; there must be room for them.
    """
    blocks: list[tuple[float, int]] = []
    for i, value in enumerate(wished):
        mean, count = value - i * width, 1
        while blocks and blocks[-1][0] > mean:
            before, size = blocks.pop()
            mean, count = (before * size + mean * count) / (size + count), size + count
        blocks.append((mean, count))
    flat = [mean for mean, count in blocks for _ in range(count)]
    top = high - (len(flat) - 1) * width
    return [min(max(value, low), top) + i * width for i, value in enumerate(flat)]


def _frees(main: Sequence[float], low: float, high: float, width: float) -> list[float]:
    """The free lengths: before the first strip, between strips, after the last."""
    edges = [low, *(e for at in main for e in (at - width / 2, at + width / 2)), high]
    return [b - a for a, b in zip(edges[::2], edges[1::2], strict=True)]


def _fills(
    main: Sequence[float],
    low: float,
    high: float,
    width: float,
    gap: float,
    missing: int,
    front_first: bool,
) -> list[int]:
    """How many strips to fill into each free length."""
    frees = _frees(main, low, high, width)
    fills = [0] * len(frees)
    least = min(gap, CLOSEST_GAP)
    while missing > 0:
        gains = [_gain(free, n, width, least) for free, n in zip(frees, fills, strict=True)]
        best = max(gains)
        alike = [i for i, g in enumerate(gains) if g > 0 and g >= best * (1 - _SAME_GAIN)]
        chosen = alike if len(alike) <= missing else _chosen(alike, missing, front_first)
        if not chosen:
            break
        for i in chosen:
            fills[i] += 1
        missing -= len(chosen)
    return fills


def _gain(free: float, count: int, width: float, least: float) -> float:
    """How much one strip more evens the gaps of a free length (sum of squares); 0 if none fits."""
    now, then = (free - count * width), (free - (count + 1) * width)
    if then / (count + 2) < least - _SAME_GAIN:
        return 0.0
    return now * now / (count + 1) - then * then / (count + 2)


def _chosen(alike: Sequence[int], missing: int, front_first: bool) -> list[int]:
    """Which of more equally good places than there are strips: the ends, in pairs, then one."""
    pairs = missing // 2
    chosen = [*alike[:pairs], *alike[len(alike) - pairs :]]
    if missing % 2 and len(alike) % 2:
        chosen.append(alike[len(alike) // 2])
    elif missing % 2 and front_first:
        chosen.append(alike[len(alike) - pairs - 1])
    return chosen


def _with_fills(
    main: Sequence[float], fills: Sequence[int], low: float, high: float, width: float
) -> tuple[float, ...]:
    frees = _frees(main, low, high, width)
    starts = [low, *(at + width / 2 for at in main)]
    places = list(main)
    for start, free, count in zip(starts, frees, fills, strict=True):
        gap = (free - count * width) / (count + 1)
        places += [start + gap + width / 2 + i * (width + gap) for i in range(count)]
    return tuple(sorted(places))
