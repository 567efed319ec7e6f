"""Where the deck lies on the paper, and shapes of the deck as steps of a path."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spring_layout.drawing.primitives import Arc, Line, Move, Place, Step, polyline
from spring_layout.geometry.sides import SideCurve

Array = NDArray[np.float64]


@dataclass(frozen=True)
class View:
    """The deck at 1 : ``scale``, its origin at ``x``, ``y`` on the paper, mm.

    ``fine`` is how much finer than usual ties and knots are drawn where springs stand close
    together on the paper; 1 is as usual.
    """

    scale: float
    x: float
    y: float
    fine: float = 1.0

    def place(self, point: Sequence[float] | Array) -> Place:
        """A place of the deck (mm) on the paper (mm)."""
        return self.x + float(point[0]) / self.scale, self.y + float(point[1]) / self.scale

    def places(self, points: Array) -> Array:
        """The same for (n, 2) places, mm."""
        return np.asarray(points, float) / self.scale + (self.x, self.y)

    def length(self, mm: float) -> float:
        """A length of the deck as it is on the paper, mm."""
        return mm / self.scale

    def polyline(self, points: Sequence[Sequence[float]], closed: bool = False) -> tuple[Step, ...]:
        """Straight lines through places of the deck, mm, on the paper."""
        return polyline((self.place(point) for point in points), closed)

    def side(self, side: SideCurve) -> tuple[Step, ...]:
        """The inside edge of a side: a move and a line or a true arc."""
        begin = self.place(side.start)
        if side.is_straight:
            return (Move(*begin), Line(*self.place(side.end)))
        x, y = self.place(side.centre)
        start = math.degrees(math.atan2(begin[1] - y, begin[0] - x))
        radius = self.length(abs(1 / side.curvature))
        return (Move(*begin), Arc(x, y, radius, start, math.degrees(side.sweep)))
