"""The course of each run, worked out once more from its stated rule, spring by spring.

The rule is that of the docstring of ``planning.tying.course``; the code is not.
"""

import math
from statistics import median

import numpy as np

from spring_layout.deck.model import RUNS, Deck, Frame, Run
from tests.frame_shapes import chord_angle, chord_length, distance_to_side, opening, turn_across

BOW_LEAN = math.radians(20)
SIDE_LEAN = math.radians(50)
LANE = math.radians(20)
BELL = 1.5
LEVEL = 1e-6
AXIS: dict[Run, float] = {
    "front-to-back": -math.pi / 2,
    "side-to-side": 0.0,
    "diagonal-rising": -math.pi / 4,
    "diagonal-falling": math.pi / 4,
}


def turned(angle: float) -> float:
    """``angle`` within half a turn either way, radians."""
    return math.remainder(angle, 2 * math.pi)


class PlainCourse:
    """The courses of a small deck; places are (2,) arrays, mm, angles radians."""

    def __init__(self, deck: Deck) -> None:
        self.deck = deck
        self.places = [np.array([s.x, s.y]) for s in deck.springs]
        self.pitch = self._pitch()
        own = {run: [self._own_pitch(run, i) for i in range(len(self.places))] for run in RUNS[:2]}
        self.run_pitch = {
            run: median([p for p in pitches if p is not None] or [self.pitch])
            for run, pitches in own.items()
        }
        across = math.hypot(*self.run_pitch.values())
        self.run_pitch |= {"diagonal-rising": across, "diagonal-falling": across}
        self.local = {
            run: [self._local_pitch(pitches, i) for i in range(len(self.places))]
            for run, pitches in own.items()
        }

    def _pitch(self) -> float:
        if len(self.places) < 2:
            radii = [self.deck.coil_of(s).top_radius for s in self.deck.springs]
            return 2 * sum(radii) + self.deck.spacing.gap
        nearest = [
            min(math.dist(a, b) for k, b in enumerate(self.places) if k != i)
            for i, a in enumerate(self.places)
        ]
        return max(float(median(nearest)), 1.0)

    def _own_pitch(self, run: Run, i: int) -> float | None:
        """The mean distance to the next spring ahead and the next behind in the run's lane."""
        here, course = self.places[i], self.straight(run, self.places[i])
        found = []
        for way in (course, course + math.pi):
            ahead = [
                math.dist(here, other)
                for k, other in enumerate(self.places)
                if k != i
                and math.dist(here, other) <= 6 * self.pitch
                and abs(turned(math.atan2(*(other - here)[::-1]) - way)) <= LANE
            ]
            found += [min(ahead)] if ahead else []
        return sum(found) / len(found) if found else None

    def _local_pitch(self, own: list[float | None], i: int) -> float:
        spread = 2 * (BELL * self.pitch) ** 2
        weights = [
            math.exp(-(math.dist(self.places[i], place) ** 2) / spread) + 1e-9
            for place in self.places
        ]
        known = [(w, p) for w, p in zip(weights, own, strict=True) if p is not None]
        if not known:
            return self.pitch
        return sum(w * p for w, p in known) / sum(w for w, _ in known)

    def straight(self, run: Run, place: np.ndarray) -> float:
        """The course of front to back or side to side at ``place``."""
        banks = ("left", "right") if run == "front-to-back" else ("back", "front")
        (one, near_one), (two, near_two) = (self._bank(run, rail, place) for rail in banks)
        both = near_one + near_two
        return one + (near_one / both if both > 0 else 0.5) * (two - one)

    def _bank(self, run: Run, rail: str, place: np.ndarray) -> tuple[float, float]:
        """The direction of one bank of a run, and how far off it is."""
        frame, axis = self.deck.frame, AXIS[run]
        sides = {
            i: lean
            for i, side in enumerate(frame.sides)
            for lean in [_lean(frame, i, rail, axis)]
            if side.rail == rail and abs(lean) <= SIDE_LEAN
        }
        if not sides:
            x0, y0, x1, y1 = opening(frame).bounds
            far = {"left": x0, "right": x1, "back": y0, "front": y1}[rail]
            return axis, abs(place[0 if run == "front-to-back" else 1] - far)
        far_off = {i: distance_to_side(frame, i, place) for i in sides}
        away = min(far_off.values())
        if run == "side-to-side":
            leans = [
                sides[i] + max(-BOW_LEAN, min(BOW_LEAN, turn_across(frame, i, place)))
                for i in sides
                if far_off[i] <= away + LEVEL
            ]
            return axis + sum(leans) / len(leans), away
        lengths = [chord_length(frame, i) for i in sides]
        mean = sum(a * b for a, b in zip(lengths, sides.values(), strict=True)) / sum(lengths)
        return axis + mean, away

    def at(self, run: Run, i: int, k: int) -> float:
        """The course of ``run`` midway between springs number ``i`` and ``k``."""
        middle = (self.places[i] + self.places[k]) / 2
        pitches = {r: (own[i] + own[k]) / 2 for r, own in self.local.items()}
        return self._blended(run, middle, pitches)

    def at_spring(self, run: Run, i: int) -> float:
        """The course of ``run`` at spring number ``i``."""
        return self._blended(run, self.places[i], {r: own[i] for r, own in self.local.items()})

    def _blended(self, run: Run, place: np.ndarray, pitches: dict[Run, float]) -> float:
        if run in RUNS[:2]:
            return self.straight(run, place)
        back, right = self.straight(RUNS[0], place), self.straight(RUNS[1], place)
        deep, wide = pitches[RUNS[0]], pitches[RUNS[1]]
        sign = 1 if run == "diagonal-rising" else -1
        across = wide * np.array([math.cos(right), math.sin(right)])
        along = deep * np.array([math.cos(back), math.sin(back)])
        x, y = across + sign * along
        return math.atan2(y, x)


def _lean(frame: Frame, side: int, rail: str, axis: float) -> float:
    """How far a side's chord leans from a run's axis, taken in the run's direction."""
    about = math.pi if rail in ("right", "front") else 0.0
    return turned(chord_angle(frame, side) + about - axis)
