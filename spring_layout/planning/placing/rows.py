"""Layouts in rows: rows run between the back and the front and take up their bows by turns.

A row is a curve across the opening, a blend of the back's and the front's by how near it is to
each. Springs stand along it where they keep their distance from every side, so a row widens with
a tapered frame and stops short of a notch. These are first places only: evening out follows.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache

import numpy as np

from spring_layout.deck.model import Frame, Rail
from spring_layout.geometry.outline import Outline
from spring_layout.geometry.sides import SideCurve
from spring_layout.geometry.spacing import side_clearances
from spring_layout.planning.parts import Array
from spring_layout.planning.placing.layouts import Pattern, Sketch
from spring_layout.planning.placing.measure import Wish
from spring_layout.tolerances import SAME_PLACE

SAMPLES = 241
"""places along a row at which its distance from the sides is measured."""


@dataclass(frozen=True, eq=False)
class Field:
    """The opening as rows see it, for rings of ``radius`` mm.

    ``x``: (SAMPLES,) across the opening; ``back``, ``front``: the y of its back and front there.
    """

    outline: Outline
    radius: float
    x: Array
    back: Array
    front: Array

    @property
    def depth(self) -> float:
        """How deep the opening is in the middle half of its width, at the least, mm."""
        middle = slice(len(self.x) // 4, -(len(self.x) // 4))
        return float((self.front - self.back)[middle].min())

    def row(self, share: float) -> "Row":
        """The row at ``share`` of the way from back (0) to front (1)."""
        y = (1 - share) * self.back + share * self.front
        places = np.stack([self.x, y], axis=1)
        clearance = side_clearances(self.outline, places, np.full(len(places), self.radius))
        return Row(places, clearance.min(axis=1))


@dataclass(frozen=True, eq=False)
class Row:
    """A row's curve: ``places`` (m, 2) mm and the ``clearance`` of a ring at each, mm."""

    places: Array
    clearance: Array

    def runs(self, clearance: float) -> list[tuple[float, float]]:
        """The stretches (first x, last x), mm, where a ring keeps ``clearance`` from every side."""
        free = np.concatenate([[False], self.clearance >= clearance, [False]])
        steps = np.flatnonzero(free[1:] != free[:-1]).reshape(-1, 2)
        return [
            (self._edge(a, a - 1, clearance), self._edge(b - 1, b, clearance)) for a, b in steps
        ]

    def _edge(self, inside: int, outside: int, clearance: float) -> float:
        """Where between two samples the clearance is just kept."""
        x = self.places[:, 0]
        if not 0 <= outside < len(x):
            return float(x[inside])
        near, far = self.clearance[inside], self.clearance[outside]
        return float(x[inside] + (x[outside] - x[inside]) * (near - clearance) / (near - far))

    def at(self, x: Array) -> Array:
        """(k, 2) the places of the row at ``x`` (k,)."""
        y = np.interp(x, self.places[:, 0], self.places[:, 1])
        return np.stack([x, y], axis=1)


def field_of(frame: Frame, outline: Outline, radius: float) -> Field:
    """The rows' view of ``frame`` for rings of ``radius`` mm."""
    x0, y0, x1, y1 = outline.bounds
    x = np.linspace(x0, x1, SAMPLES)
    back = _edge_line(frame, outline, "back", x, y0, 2 * radius)
    front = _edge_line(frame, outline, "front", x, y1, 2 * radius)
    return Field(outline, radius, x, back, front)


def _edge_line(
    frame: Frame, outline: Outline, rail: Rail, x: Array, level: float, ring: float
) -> Array:
    """The y at ``x`` of the longest side named ``rail``, drawn on straight past its ends.

    A side beyond which the opening has room for another ``ring`` (mm across), as the short leg
    of a corner seat has, is not the edge; where there is none, the edge is at ``level``.
    """
    named = [
        curve
        for side, curve in zip(frame.sides, outline.sides, strict=True)
        if side.rail == rail
        and not curve.is_round
        and abs(curve.end[0] - curve.start[0]) > abs(curve.end[1] - curve.start[1])
    ]
    rim = np.concatenate([curve.polyline() for curve in outline.sides])
    for curve in sorted(named, key=lambda curve: -curve.length):
        beyond = rim[:, 1] - _drawn_on(curve, rim[:, 0])
        if np.max(beyond if rail == "front" else -beyond) < ring:
            return _drawn_on(curve, x)
    return np.full(len(x), level)


def _drawn_on(curve: SideCurve, x: Array) -> Array:
    """The curve's y at ``x``; past its ends that of its chord."""
    line = curve.polyline()
    line = line[line[:, 0].argsort()]
    (ax, ay), (bx, by) = line[0], line[-1]
    chord = ay + (by - ay) * (x - ax) / (bx - ax)
    return np.where((x < ax) | (x > bx), chord, np.interp(x, line[:, 0], line[:, 1]))


def row_sketches(field: Field, wish: Wish, even_rows: bool) -> Iterator[Sketch]:
    """Layouts in rows worth a look: square, staggered, and fitted to each row's width.

    ``even_rows``: whether staggered rows may be even in number (not in a frame whose back and
    front are alike, which would lose its symmetry).
    """
    seen: set[tuple[Pattern, tuple[int, ...]]] = set()

    @cache
    def rows_of(count: int) -> list[Row]:
        return _rows(field, wish, count)

    for pattern, counts in _choices(field, wish, even_rows, rows_of):
        if (pattern, counts) not in seen:
            seen.add((pattern, counts))
            sketch = _sketch(field, wish, pattern, counts, rows_of(len(counts)))
            if sketch is not None:
                yield sketch


def _choices(
    field: Field, wish: Wish, even_rows: bool, rows_of: Callable[[int], list[Row]]
) -> Iterator[tuple[Pattern, tuple[int, ...]]]:
    pitch = 2 * field.radius + wish.gap
    reach = field.depth - 2 * (field.radius + wish.clearance)
    middle = field.row(0.5)
    columns = _near(_capacity(middle, pitch, wish.clearance))
    for rows in _near(reach / pitch + 1):
        for most in columns:
            yield "square", (most,) * rows
        share = min(_depth_share(field, wish, rows), 1.0)
        tight = 2 * field.radius + share * wish.gap
        fitted = [_capacity(row, tight, share * wish.clearance) for row in rows_of(rows)]
        for part in (0.25, 0.5, 0.75):
            counts = tuple(max(1, math.floor(count + part)) for count in fitted)
            if len(set(counts)) > 1:
                yield "fitted", counts
    for rows in _near(reach / (pitch * STAGGER_PITCH) + 1):
        if rows >= 3 and (rows % 2 or even_rows):
            for most in columns:
                if most >= 2:
                    yield "staggered", _alternating(rows, most, 0)
                    yield "staggered", _alternating(rows, most, 1)


STAGGER_PITCH = 0.8
"""pitches between staggered rows, about: 0.87 with equal sides, 0.71 in a square of five."""


def _near(count: float) -> list[int]:
    """The whole numbers next to ``count`` and one beyond each, from 1 up."""
    low = math.floor(count + 1e-6)
    return sorted({number for number in (low - 1, low, low + 1, low + 2) if number >= 1})


def _alternating(rows: int, most: int, first: int) -> tuple[int, ...]:
    return tuple(most - (row + first) % 2 for row in range(rows))


def _capacity(row: Row, pitch: float, clearance: float) -> float:
    """How many springs the row takes, with a fraction; 0 where none keeps the clearance."""
    runs = row.runs(clearance - SAME_PLACE)
    if not runs:
        return 0.0
    return sum((last - first) / pitch + 1 for first, last in runs)


def _rows(field: Field, wish: Wish, count: int) -> list[Row]:
    """``count`` rows from back to front, with gaps and clearances in the wished proportion."""
    edge = field.radius + _depth_share(field, wish, count) * wish.clearance
    edge = min(edge, field.depth / 2) if count > 1 else field.depth / 2
    shares = np.linspace(edge, field.depth - edge, count) / field.depth
    return [field.row(float(share)) for share in shares]


def _depth_share(field: Field, wish: Wish, count: int) -> float:
    """The share of the wishes that ``count`` rows leave from back to front."""
    free = field.depth - 2 * field.radius * count
    parts = 2 * wish.clearance + (count - 1) * wish.gap
    return max(free / parts, TIGHTEST) if parts > 0 else 1.0


TIGHTEST = 0.1
"""share of the wishes at which first places are tried; tighter ones leave no choice."""


def _sketch(
    field: Field, wish: Wish, pattern: Pattern, counts: tuple[int, ...], rows: list[Row]
) -> Sketch | None:
    """First places for ``counts`` springs a row, or None where a row has no room for a spring.

    All rows keep the same share of the wished clearance, so that columns start out straight.
    """
    if any(float(row.clearance.max()) < 0 for row in rows):
        return None
    most = max(counts)
    slots = [most if pattern == "staggered" else count for count in counts]
    share = min(_share(field, wish, row, slot) for row, slot in zip(rows, slots, strict=True))
    if pattern == "staggered":
        share = min(share, 1.0)  # wider, the springs in between would have no room
    places: list[Array] = []
    for row, count, slot in zip(rows, counts, slots, strict=True):
        places.append(row.at(_along(row, share * wish.clearance, slot, count < slot)))
        if len(places[-1]) != count:
            return None
    numbers = _numbered(counts)
    return Sketch(pattern, np.concatenate(places), numbers, _lines(pattern, numbers))


def _numbered(counts: tuple[int, ...]) -> tuple[tuple[int, ...], ...]:
    ends = [sum(counts[: i + 1]) for i in range(len(counts))]
    return tuple(tuple(range(end - n, end)) for end, n in zip(ends, counts, strict=True))


def _lines(pattern: Pattern, rows: tuple[tuple[int, ...], ...]) -> tuple[tuple[int, ...], ...]:
    """The rows and, in square layouts, the columns, as far as they hold more than one spring."""
    columns = list(zip(*rows, strict=True)) if pattern == "square" else []
    return tuple(line for line in [*rows, *columns] if len(line) > 1)


def _share(field: Field, wish: Wish, row: Row, slots: int) -> float:
    """The largest share of the wishes at which the row takes ``slots`` springs."""
    low, high = 0.0, SHARE_MOST
    for _ in range(BISECTIONS):
        share = (low + high) / 2
        pitch = 2 * field.radius + share * wish.gap
        fits = sum(_slots(row.runs(share * wish.clearance), pitch)) >= slots
        low, high = (share, high) if fits else (low, share)
    return low


SHARE_MOST = 4.0
"""Wider than this share of the wishes no first places are tried."""

BISECTIONS = 16
"""halvings of SHARE_MOST: to 0.0001, nearer than first places need."""


def _along(row: Row, clearance: float, slots: int, between: bool) -> Array:
    """x of ``slots`` springs along a row; ``between``: those halfway between them instead."""
    runs = row.runs(clearance)
    taken = _shared_out(runs, slots)
    parts = [_spread(run, number, between) for run, number in zip(runs, taken, strict=True)]
    return np.concatenate(parts)


def _slots(runs: list[tuple[float, float]], pitch: float) -> list[int]:
    return [math.floor((last - first) / pitch + 1 + 1e-9) for first, last in runs]


def _shared_out(runs: list[tuple[float, float]], slots: int) -> list[int]:
    """How many springs each run takes: one by one to the run that then has the widest pitch."""
    taken = [0] * len(runs)
    lengths = [last - first for first, last in runs]
    for _ in range(slots):
        best = max(range(len(runs)), key=lambda i: (lengths[i] / max(taken[i], 0.5), -i))
        taken[best] += 1
    return taken


def _spread(run: tuple[float, float], count: int, between: bool) -> Array:
    first, last = run
    if count == 1:
        return np.array([(first + last) / 2])
    x = np.linspace(first, last, count)
    return (x[1:] + x[:-1]) / 2 if between and count else x
