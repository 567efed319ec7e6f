"""One side of the opening as an exact curve: a straight line or a circular arc.

A place on a side is named by its distance ``along`` the side's inside edge from the side's first
corner, mm. Sides run clockwise on paper (y down), so the outward normal of the direction
(tx, ty) is (ty, -tx).
"""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from spring_layout.tolerances import CHORD_ERROR, ROUND_SWEEP, SAME_PLACE

Array = NDArray[np.float64]
Pair = tuple[float, float]


def _pairs(x: Array, y: Array) -> Array:
    """(..., 2) from x and y; np.stack takes several times as long for a few."""
    pairs = np.empty((*np.shape(x), 2))
    pairs[..., 0], pairs[..., 1] = x, y
    return pairs


@dataclass(frozen=True, eq=False)
class SideCurve:
    """The inside edge from ``start`` to ``end``, bowed outward by ``bow`` (mm, a circular arc)."""

    start: tuple[float, float]
    end: tuple[float, float]
    bow: float

    @cached_property
    def chord(self) -> float:
        """The straight distance between the corners, mm."""
        return math.hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    @cached_property
    def is_straight(self) -> bool:
        """Whether the bow is too small to matter."""
        return abs(self.bow) < SAME_PLACE

    @cached_property
    def curvature(self) -> float:
        """1 / radius of the arc, per mm; + where the side bows outward, 0 where straight."""
        if self.is_straight:
            return 0.0
        return 8 * self.bow / (self.chord**2 + 4 * self.bow**2)

    @cached_property
    def sweep(self) -> float:
        """The angle the direction turns through from start to end, radians; + outward."""
        return 0.0 if self.is_straight else 4 * math.atan(2 * self.bow / self.chord)

    @property
    def is_round(self) -> bool:
        """Whether the side turns so far that it is part of a round frame, and no bowed side."""
        return abs(self.sweep) > ROUND_SWEEP

    @cached_property
    def length(self) -> float:
        """The length of the inside edge, mm."""
        return self.chord if self.is_straight else self.sweep / self.curvature

    @cached_property
    def _chord_angle(self) -> float:
        return math.atan2(self.end[1] - self.start[1], self.end[0] - self.start[0])

    @cached_property
    def centre(self) -> tuple[float, float]:
        """The arc's centre, mm. Raises ZeroDivisionError for a straight side."""
        radius = 1 / self.curvature
        angle = self._chord_angle - self.sweep / 2
        return (
            self.start[0] - radius * math.sin(angle),
            self.start[1] + radius * math.cos(angle),
        )

    def heading(self, along: Array | float) -> Array:
        """The direction's angle at ``along`` (any shape), radians."""
        return np.asarray(
            self._chord_angle - self.sweep / 2 + np.asarray(along, float) * self.curvature
        )

    def tangent(self, along: Array | float) -> Array:
        """Unit direction at ``along`` mm: (..., 2)."""
        angle = self.heading(along)
        return _pairs(np.cos(angle), np.sin(angle))

    def normal(self, along: Array | float) -> Array:
        """Unit outward normal at ``along`` mm: (..., 2)."""
        angle = self.heading(along)
        return _pairs(np.sin(angle), -np.cos(angle))

    def point(self, along: Array | float, outside: float = 0.0) -> Array:
        """The place at ``along`` (mm), moved ``outside`` mm off the inside edge: (..., 2)."""
        along = np.asarray(along, float)
        if not self.is_straight:
            reach = 1 / self.curvature + outside
            return np.asarray(np.asarray(self.centre) + reach * self.normal(along))
        share = along / self.chord
        base = _pairs(
            self.start[0] + share * (self.end[0] - self.start[0]),
            self.start[1] + share * (self.end[1] - self.start[1]),
        )
        return np.asarray(base + outside * self.normal(along)) if outside else base

    def polyline(self, outside: float = 0.0, error: float = CHORD_ERROR) -> Array:
        """The side as (m, 2) places from start to end, its chords within ``error`` mm."""
        if self.is_straight:
            return self.point(np.array([0.0, self.length]), outside)
        radius = abs(1 / self.curvature + outside)
        step = 2 * math.acos(max(0.0, 1 - error / max(radius, error)))
        pieces = max(2, 2 * math.ceil(abs(self.sweep) / step / 2))
        line = self.point(np.linspace(0.0, self.length, pieces + 1), outside)
        if outside == 0.0:
            line[0], line[-1] = self.start, self.end
        return line

    def nearest_along(self, points: Array) -> Array:
        """``along`` of the place on the inside edge nearest to each of ``points`` (..., 2), mm."""
        points = np.asarray(points, float)
        if self.is_straight:
            direction = self.tangent(0.0)
            along = (points - np.asarray(self.start)) @ direction
        else:
            offset = (points - np.asarray(self.centre)) * math.copysign(1.0, self.curvature)
            angle = np.arctan2(offset[..., 0], -offset[..., 1])
            middle = float(self.heading(self.length / 2))
            turn = (angle - middle + math.pi) % (2 * math.pi) - math.pi
            along = self.length / 2 + turn / self.curvature
        return np.asarray(np.clip(along, 0.0, self.length))

    def meet(
        self, origin: Array | Pair, direction: Array | Pair, outside: float = 0.0
    ) -> list[float]:
        """``along`` of each place where the ray from ``origin`` meets the side, nearest first.

        ``origin`` and ``direction``: x and y, mm; the side is moved ``outside`` mm outward. Places
        behind the origin do not count.
        """
        return [along for _, along in sorted(self._hits(origin, direction, outside))]

    def _hits(self, origin: Array | Pair, direction: Array | Pair, outside: float) -> list[Pair]:
        """(distance in lengths of ``direction``, along) of each place the ray meets the side."""
        hits = []
        ox, oy, dx, dy = (float(v) for v in (*origin, *direction))
        for distance in self._distances(ox, oy, dx, dy, outside):
            if distance >= 0:
                x, y = ox + distance * dx, oy + distance * dy
                along = self._nearest_to(x, y)
                here = self.place(along, outside)
                if math.hypot(here[0] - x, here[1] - y) < SAME_PLACE:
                    hits.append((distance, along))
        return hits

    # One place at a time, in plain floats: an array of one takes many times as long.

    @cached_property
    def _ahead(self) -> tuple[float, float]:
        """The unit direction of a straight side."""
        return math.cos(self._chord_angle), math.sin(self._chord_angle)

    def _nearest_to(self, x: float, y: float) -> float:
        """``nearest_along`` for one place."""
        if self.is_straight:
            ahead = self._ahead
            along = (x - self.start[0]) * ahead[0] + (y - self.start[1]) * ahead[1]
        else:
            sign = math.copysign(1.0, self.curvature)
            angle = math.atan2((x - self.centre[0]) * sign, -(y - self.centre[1]) * sign)
            turn = (angle - self._chord_angle + math.pi) % (2 * math.pi) - math.pi
            along = self.length / 2 + turn / self.curvature
        return min(max(along, 0.0), self.length)

    def place(self, along: float, outside: float = 0.0) -> tuple[float, float]:
        """``point`` for one place, mm."""
        if self.is_straight:
            (x, y), ahead = self.start, self._ahead
            return (
                x + along * ahead[0] + outside * ahead[1],
                y + along * ahead[1] - outside * ahead[0],
            )
        angle = self._chord_angle - self.sweep / 2 + along * self.curvature
        reach = 1 / self.curvature + outside
        return (
            self.centre[0] + reach * math.sin(angle),
            self.centre[1] - reach * math.cos(angle),
        )

    def _distances(self, ox: float, oy: float, dx: float, dy: float, outside: float) -> list[float]:
        """Where the ray's whole line meets the side's whole line or circle."""
        if self.is_straight:
            nx, ny = self._ahead[1], -self._ahead[0]
            slope = dx * nx + dy * ny
            if abs(slope) < 1e-12:
                return []
            return [
                outside / slope - ((ox - self.start[0]) * nx + (oy - self.start[1]) * ny) / slope
            ]
        radius = 1 / self.curvature + outside
        px, py = ox - self.centre[0], oy - self.centre[1]
        a, half_b = dx * dx + dy * dy, px * dx + py * dy
        root = half_b * half_b - a * (px * px + py * py - radius * radius)
        if root < 0 or a == 0:
            return []
        return [(-half_b - math.sqrt(root)) / a, (-half_b + math.sqrt(root)) / a]
