"""The nail line: where tacks may go, measured along, and where a way out meets it.

Sides with a rail that run on into each other (no corner) make one *stretch* of nail line; a place
on it is its distance ``at`` from the stretch's first end, mm. A round frame railed all round is
one closed stretch. Tacks keep ``corner_least`` from real corners, along the inside edge; a side
too short for that at both ends takes its tack in the middle.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from spring_layout.geometry.sides import SideCurve
from spring_layout.planning.parts import Array, Standing
from spring_layout.planning.tying.meeting import HAIR, Sides
from spring_layout.planning.tying.touch import Flags, Rows
from spring_layout.tolerances import SAME_PLACE


@dataclass(frozen=True, eq=False)
class Rays:
    """What m straight ways out meet.

    ``leaves``: (m,) side whose inside edge is passed first; ``side``: (m,) side on whose nail
    line the way ends, -1 where it meets none; ``along``, ``anchor``: (m,), (m, 2) that place;
    ``in_corner``: (m,) whether it is too near a corner.
    """

    leaves: Rows
    side: Rows
    along: Array
    anchor: Array
    in_corner: Flags


@dataclass(frozen=True, eq=False)
class NailLine:
    """The nail line of a deck's frame; arrays have a row a side."""

    standing: Standing

    @cached_property
    def _sides(self) -> tuple[SideCurve, ...]:
        return self.standing.outline.sides

    @cached_property
    def _table(self) -> Sides:
        return Sides(self._sides)

    @cached_property
    def outside(self) -> Array:
        """How far outside the inside edge each side's tacks go, mm."""
        frame = self.standing.deck.frame
        return np.array([frame.nail_line_of(i) for i in range(len(self._sides))])

    @cached_property
    def has_rail(self) -> Flags:
        """Whether each side takes tacks."""
        return np.array([side.rail != "none" for side in self.standing.deck.frame.sides])

    @cached_property
    def lengths(self) -> Array:
        """The length of each side's inside edge, mm."""
        return np.array([side.length for side in self._sides])

    @cached_property
    def stretching(self) -> Array:
        """How much longer the nail line is than the inside edge, as a ratio."""
        bend = np.array([side.curvature for side in self._sides])
        return np.asarray(np.maximum(1 + self.outside * bend, HAIR))

    @cached_property
    def is_corner(self) -> Flags:
        """Whether each side begins at a real corner."""
        outline = self.standing.outline
        return np.array([outline.is_corner(i) for i in range(len(self._sides))])

    @cached_property
    def limits(self) -> Array:
        """(sides, 2) the least and most ``along`` that keep clear of the corners, mm."""
        middle, short = self.lengths / 2, self.is_short
        first, last = self._clear_of_corners
        return np.stack([np.where(short, middle, first), np.where(short, middle, last)], axis=-1)

    @cached_property
    def is_short(self) -> Flags:
        """Whether a side is too short for a tack to keep clear of both its corners."""
        first, last = self._clear_of_corners
        return np.asarray(first > last)

    @cached_property
    def _clear_of_corners(self) -> tuple[Array, Array]:
        clear = self.standing.deck.spacing.limits.corner_least
        first = np.where(self.is_corner, clear, 0.0)
        return first, self.lengths - np.where(np.roll(self.is_corner, -1), clear, 0.0)

    @cached_property
    def _runs_on(self) -> Flags:
        """Whether each side carries on the stretch of the side before it."""
        return ~self.is_corner & self.has_rail & np.roll(self.has_rail, 1)

    @cached_property
    def stretches(self) -> tuple[tuple[int, ...], ...]:
        """The sides of each stretch, in order."""
        count = len(self._sides)
        firsts = [i for i in range(count) if self.has_rail[i] and not self._runs_on[i]]
        if not firsts and self.has_rail.all():
            firsts = [0]
        found = []
        for first in firsts:
            sides = [first]
            while self._runs_on[(sides[-1] + 1) % count] and (sides[-1] + 1) % count != first:
                sides.append((sides[-1] + 1) % count)
            found.append(tuple(sides))
        return tuple(found)

    @cached_property
    def stretch_of(self) -> Rows:
        """The stretch that each side belongs to; -1 without a rail."""
        numbers = np.full(len(self._sides), -1, np.intp)
        for number, sides in enumerate(self.stretches):
            numbers[list(sides)] = number
        return numbers

    @cached_property
    def begins(self) -> Array:
        """Where on its stretch each side begins, mm."""
        begins = np.zeros(len(self._sides))
        for sides in self.stretches:
            long = (self.lengths * self.stretching)[list(sides)]
            begins[list(sides)] = np.cumsum(long) - long
        return begins

    def is_closed(self, stretch: int) -> bool:
        """Whether a stretch runs all the way round."""
        first = self.stretches[stretch][0]
        return len(self.stretches[stretch]) == len(self._sides) and bool(self._runs_on[first])

    def length(self, stretch: int) -> float:
        """The length of a stretch of nail line, mm."""
        sides = list(self.stretches[stretch])
        return float((self.lengths * self.stretching)[sides].sum())

    def at(self, side: Rows, along: Array) -> Array:
        """The places on their stretches of tacks ``along`` their sides, mm."""
        return np.asarray(self.begins[side] + along * self.stretching[side])

    def too_near(self, stretch: Rows, at: Array, others: Rows, other_at: Array) -> Flags:
        """Whether tacks stand nearer than ``anchor_spacing`` to others, broadcast."""
        apart = np.abs(at - other_at)
        for number in range(len(self.stretches)):
            if self.is_closed(number):
                around = np.where(stretch == number, self.length(number), np.inf)
                apart = np.minimum(apart, around - apart)
        least = self.standing.deck.spacing.limits.anchor_spacing
        return np.asarray((stretch == others) & (stretch >= 0) & (apart < least - HAIR))

    def sides_at(self, stretch: int, at: Array) -> tuple[Rows, Array]:
        """(m,) the side, and the place along it, of tacks ``at`` places on a stretch."""
        sides = np.array(self.stretches[stretch])
        if self.is_closed(stretch):
            at = at % self.length(stretch)
        # A hair past a joint is still the side that ends there: rounding must not choose.
        row = np.searchsorted(self.begins[sides], at - HAIR, side="right") - 1
        side = sides[np.maximum(row, 0)]
        along = (at - self.begins[side]) / self.stretching[side]
        return side, np.clip(along, 0.0, self.lengths[side])

    def places(self, side: Rows, along: Array) -> Array:
        """(m, 2) the places of tacks, mm."""
        places = np.empty((len(side), 2))
        for number in set(side.tolist()):
            own = side == number
            places[own] = self._sides[number].point(along[own], float(self.outside[number]))
        return places

    def headings(self, side: Rows, along: Array) -> Array:
        """(m, 2) the unit directions of the sides at tacks."""
        headings = np.empty((len(side), 2))
        for number in set(side.tolist()):
            own = side == number
            headings[own] = self._sides[number].tangent(along[own])
        return headings

    @cached_property
    def corner_tacks(self) -> Array:
        """(m, 2) the tacks as near to real corners as may be, mm."""
        count = len(self._sides)
        ends = [
            (side, self.limits[side, end])
            for side in np.flatnonzero(self.has_rail).tolist()
            for end, corner in ((0, side), (1, (side + 1) % count))
            if self.is_corner[corner]
        ]
        side, along = np.array(ends).reshape(-1, 2).T
        return self.places(side.astype(np.intp), along)

    def edge_distance(self, places: Array, angles: Array) -> Array:
        """(m,) how far from each place the inside edge is in a direction (radians), mm."""
        ways = np.stack([np.cos(angles), np.sin(angles)], axis=-1)
        ((far, _),) = self._table.meetings(places, ways, np.zeros(len(self._sides)))
        return np.asarray(far.reshape(len(places), -1).min(axis=1, initial=np.inf))

    def rays(self, places: Array, angles: Array) -> Rays:
        """What the ways out from ``places`` (m, 2), inside, at ``angles`` (m,) meet."""
        ways = np.stack([np.cos(angles), np.sin(angles)], axis=-1)
        rows = np.arange(len(places))
        (edge, _), (nails, along) = self._table.meetings(
            places, ways, np.zeros(len(self._sides)), self.outside
        )
        first = edge.min(axis=2)
        leaves = np.asarray(first.argmin(axis=1))
        out = first[rows, leaves]
        stretch = self.stretch_of[leaves]
        own = (self.stretch_of == stretch[:, None]) & (stretch >= 0)[:, None]
        good = own[..., None] & (nails >= out[:, None, None] - HAIR)
        nails = np.where(good, nails, np.inf).reshape(len(places), -1)
        which = nails.argmin(axis=1)
        far = nails[rows, which]
        again = (edge > out[:, None, None] + SAME_PLACE) & (edge < far[:, None, None] - HAIR)
        met = np.isfinite(far) & ~again.any(axis=(1, 2))
        side = np.where(met, which // 2, -1)
        along = np.where(met, along.reshape(len(places), -1)[rows, which], 0.0)
        anchor = places + np.where(met, far, 0.0)[:, None] * ways
        low, high = self.limits[side, 0], self.limits[side, 1]
        in_corner = met & ((along < low - HAIR) | (along > high + HAIR))
        return Rays(leaves, side, along, anchor, np.asarray(in_corner))
