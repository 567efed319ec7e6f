"""The ways out of a line, worked out once more from their stated rule.

The rule is that of the docstrings of ``planning.tying.ways`` and ``nail_line``; the code is not.
"""

import math
from dataclasses import dataclass

import numpy as np

from spring_layout.deck.model import Deck, Run
from tests.frame_shapes import corner_turn, cuts, side_length, side_places, tacks_apart
from tests.planning.plain_course import PlainCourse, turned

MOST_BEND = math.radians(25)
STEP = math.radians(3)
MOST = math.radians(36)
SMOOTH = 15.0
HAIR = 1e-6


@dataclass(frozen=True)
class Way:
    """A clear way out: its direction outward, radians, and its tack; None ends at the spring.

    ``nail``: the side whose nail line the tack is on, and how far along the side, mm.
    """

    angle: float
    tack: tuple[float, float] | None
    nail: tuple[int, float] | None = None


class PlainWays:
    """The ways out of the springs of a small deck."""

    def __init__(self, deck: Deck, course: PlainCourse) -> None:
        self.deck, self.course, self.frame = deck, course, deck.frame
        count = len(self.frame.sides)
        self.railed = [side.rail != "none" for side in self.frame.sides]
        self.corner = [corner_turn(self.frame, i) >= SMOOTH for i in range(count)]
        self.limits = [self._limits(i) for i in range(count)]
        self.corner_tacks = self._corner_tacks()
        self.radii = np.array([deck.coil_of(s).top_radius for s in deck.springs])
        self.centres = np.array(course.places).reshape(-1, 2)

    def _limits(self, side: int) -> tuple[float, float]:
        clear = self.deck.spacing.limits.corner_least
        length = side_length(self.frame, side)
        after = (side + 1) % len(self.corner)
        low = clear if self.corner[side] else 0.0
        high = length - (clear if self.corner[after] else 0.0)
        return (low, high) if low <= high else (length / 2, length / 2)

    def _corner_tacks(self) -> list[np.ndarray]:
        tacks = []
        for side, (low, high) in enumerate(self.limits):
            after = (side + 1) % len(self.corner)
            ends = ((low, self.corner[side]), (high, self.corner[after]))
            if self.railed[side]:
                outside = self.frame.nail_line_of(side)
                tacks += [
                    side_places(self.frame, side, np.array(along), outside)
                    for along, is_real in ends
                    if is_real
                ]
        return tacks

    def same_stretch(self, side: int) -> list[int]:
        """The railed sides that run on from ``side`` without a corner."""
        count, found = len(self.corner), [side]
        for step in (1, -1):
            here = side
            while len(found) < count:
                joint = (here + 1) % count if step == 1 else here
                here = (here + step) % count
                if self.corner[joint] or not self.railed[here] or here in found:
                    break
                found.append(here)
        return found

    def outward(self, run: Run, spring: int, end: int) -> float:
        """The course outward at an end (0 start, 1 finish) of a line."""
        return self.course.at_spring(run, spring) + (0.0 if end else math.pi)

    def clear_ways(self, run: Run, spring: int, end: int) -> list[Way]:
        """Every clear way out of ``spring``; without a tack where the course meets no rail."""
        here, course = self.centres[spring], self.outward(run, spring, end)
        angles = [course + STEP * k for k in range(-12, 13)]
        for tack in self.corner_tacks:
            angle = math.atan2(*(tack - here)[::-1])
            if abs(turned(angle - course)) <= MOST + 1e-9:
                angles.append(course + turned(angle - course))
        ways = [way for angle in angles for way in [self._way(spring, angle)] if way]
        leaves, _ = self._leaves(here, course)
        if leaves is not None and not self.railed[leaves]:
            ways.append(Way(course, None))
        return ways

    def edge_distance(self, run: Run, spring: int, end: int) -> float:
        """How far the inside edge is along the course, mm."""
        _, far = self._leaves(self.centres[spring], self.outward(run, spring, end))
        return far if math.isfinite(far) else self.course.pitch

    def _leaves(self, here: np.ndarray, angle: float) -> tuple[int | None, float]:
        """The side that the ray passes over first, and how far off; None where it meets none."""
        met = self._edges(here, angle)
        return (met[0][1], met[0][0]) if met else (None, math.inf)

    def _edges(self, here: np.ndarray, angle: float) -> list[tuple[float, int]]:
        """(how far, side) of each place where the ray meets the inside edge, nearest first."""
        return sorted(
            (far, side)
            for side in range(len(self.corner))
            for far, _ in cuts(self.frame, side, here, angle)
        )

    def _nails(self, here: np.ndarray, angle: float, side: int) -> list[tuple[float, float]]:
        return cuts(self.frame, side, here, angle, self.frame.nail_line_of(side))

    def _way(self, spring: int, angle: float) -> Way | None:
        """The way out at ``angle`` if it is clear."""
        here = self.centres[spring]
        edges = self._edges(here, angle)
        if not edges or not self.railed[edges[0][1]]:
            return None
        out, side = edges[0]
        met = [
            (far, nail_side, along)
            for nail_side in self.same_stretch(side)
            for far, along in self._nails(here, angle, nail_side)
            if far >= out - HAIR
        ]
        if not met:
            return None
        far, nail_side, along = min(met)
        if any(out + 0.01 < again < far - HAIR for again, _ in edges):
            return None
        low, high = self.limits[nail_side]
        if not low - HAIR <= along <= high + HAIR:
            return None
        tack = here + far * np.array([math.cos(angle), math.sin(angle)])
        if self._passes_over(spring, here, tack):
            return None
        return Way(angle, (float(tack[0]), float(tack[1])), (nail_side, along))

    def apart(self, nail: tuple[int, float], other: tuple[int, float]) -> float:
        """How far apart two tacks are along the nail line, mm; infinite round a corner."""
        return min(self._onward(nail, other), self._onward(other, nail))

    def _onward(self, nail: tuple[int, float], other: tuple[int, float]) -> float:
        """From ``nail`` clockwise to ``other``, over joints that are no corners, mm."""
        side, along = nail
        if side == other[0] and along <= other[1]:
            return self._nail_length(side, other[1] - along)
        far = self._nail_length(side, side_length(self.frame, side) - along)
        for _ in self.corner:
            side = (side + 1) % len(self.corner)
            if self.corner[side] or not self.railed[side]:
                return math.inf
            if side == other[0]:
                return far + self._nail_length(side, other[1])
            far += self._nail_length(side, side_length(self.frame, side))
        return math.inf

    def _nail_length(self, side: int, length: float) -> float:
        """A length of inside edge, measured along the nail line, mm."""
        return tacks_apart(self.frame, side, 0.0, length, self.frame.nail_line_of(side))

    def _passes_over(self, spring: int, here: np.ndarray, tack: np.ndarray) -> bool:
        off = distances_from(here, tack, self.centres)
        off[spring] = math.inf
        return bool((off < self.radii - 0.005).any())


def distances_from(start: np.ndarray, end: np.ndarray, places: np.ndarray) -> np.ndarray:
    """(n,) distance of each of ``places`` (n, 2) from the piece ``start`` to ``end``, mm."""
    way = end - start
    share = np.clip((places - start) @ way / max(float(way @ way), 1e-12), 0, 1)
    return np.hypot(*(places - start - share[:, None] * way).T)
