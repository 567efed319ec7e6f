"""Where straight ways meet the sides of a frame, all at once in arrays.

m ways, s sides. A side, moved outward by so much, is met once if straight and up to twice if it
is an arc; places behind the start of a way do not count.
"""

from collections.abc import Sequence
from functools import cached_property

import numpy as np

from spring_layout.geometry.sides import SideCurve
from spring_layout.planning.parts import Array
from spring_layout.tolerances import SAME_PLACE

HAIR = 1e-6
"""mm. Rounding in the sums of ways and sides stays well below this."""


class Sides:
    """The sides of a frame as arrays; those that are straight, and those that are arcs."""

    def __init__(self, curves: Sequence[SideCurve]) -> None:
        self.curves = curves
        self.straight = np.array([i for i, c in enumerate(curves) if c.is_straight], np.intp)
        self.arcs = np.array([i for i, c in enumerate(curves) if not c.is_straight], np.intp)

    def meetings(
        self, places: Array, ways: Array, *outsides: Array
    ) -> tuple[tuple[Array, Array], ...]:
        """(m, s, 2) how far each way (unit, (m, 2)) meets each side, and the place along it.

        Both for each of ``outsides``: (s,) how far each side is moved outward, mm. Not met:
        infinitely far.
        """
        shape = (len(places), len(self.curves), 2)
        found = tuple((np.full(shape, np.inf), np.zeros(shape)) for _ in outsides)
        if len(self.straight):
            self._meet_straight(places, ways, outsides, found)
        if len(self.arcs):
            for outside, (far, along) in zip(outsides, found, strict=True):
                self._meet_arcs(places, ways, outside[self.arcs], far, along)
        return found

    @cached_property
    def _lines(self) -> tuple[Array, Array, Array, Array]:
        """Starts (k, 2), outward normals and directions (2, k), lengths (k,) of straight sides."""
        curves = [self.curves[i] for i in self.straight]
        return (
            np.array([c.start for c in curves]),
            np.array([c.normal(0.0) for c in curves]).T,
            np.array([c.tangent(0.0) for c in curves]).T,
            np.array([c.length for c in curves]),
        )

    def _meet_straight(
        self,
        places: Array,
        ways: Array,
        outsides: Sequence[Array],
        found: Sequence[tuple[Array, Array]],
    ) -> None:
        starts, out, ahead, length = self._lines
        slope, pace = ways @ out, ways @ ahead
        level = np.abs(slope) < 1e-12
        safe = np.where(level, 1.0, slope)
        # Not places @ out - starts: the same sum wherever the deck stands.
        x = places[:, 0, None] - starts[:, 0]
        y = places[:, 1, None] - starts[:, 1]
        deep, here = x * out[0] + y * out[1], x * ahead[0] + y * ahead[1]
        for outside, (far, along) in zip(outsides, found, strict=True):
            distance = (outside[self.straight] - deep) / safe
            met = here + distance * pace
            good = ~level & (distance > HAIR) & (met >= -HAIR) & (met <= length + HAIR)
            far[:, self.straight, 0] = np.where(good, distance, np.inf)
            along[:, self.straight, 0] = np.clip(met, 0.0, length)

    @cached_property
    def _circles(self) -> tuple[Array, Array, Array, Array, Array]:
        """Centres (2, k), curvatures, middle headings, lengths and half sweeps of arcs."""
        curves = [self.curves[i] for i in self.arcs]
        return (
            np.array([c.centre for c in curves]).T,
            np.array([c.curvature for c in curves]),
            np.array([float(c.heading(c.length / 2)) for c in curves]),
            np.array([c.length for c in curves]),
            np.array([abs(c.sweep) / 2 for c in curves]),
        )

    def _meet_arcs(
        self, places: Array, ways: Array, outside: Array, far: Array, along: Array
    ) -> None:
        centre, curvature, middle, length, half_sweep = self._circles
        reach = 1 / curvature + outside
        x = places[:, 0, None] - centre[0]
        y = places[:, 1, None] - centre[1]
        half = x * ways[:, 0, None] + y * ways[:, 1, None]
        root = half * half - (x * x + y * y - reach * reach)
        span = np.sqrt(np.maximum(root, 0.0))
        sign = np.sign(curvature)
        for number, distance in enumerate((-half - span, -half + span)):
            dx = (x + distance * ways[:, 0, None]) * sign
            dy = (y + distance * ways[:, 1, None]) * sign
            turn = (np.arctan2(dx, -dy) - middle + np.pi) % (2 * np.pi) - np.pi
            beyond = (np.abs(turn) - half_sweep) * np.abs(reach)
            good = (root >= 0) & (distance > HAIR) & (beyond < SAME_PLACE / 2) & (reach * sign > 0)
            far[:, self.arcs, number] = np.where(good, distance, np.inf)
            along[:, self.arcs, number] = np.clip(length / 2 + turn / curvature, 0.0, length)
