"""The course of each run: the direction that it should have at a place.

Front to back, the directions of the chords of the left and right sides, blended by how near each
is; side to side, the tangents of the back and front sides, likewise. Of several sides of one rail
the nearest counts, or the mean of those equally near (within ``LEVEL``). Its tangent is that
straight across from the place, square to its chord (beyond its ends, that at the end), and leans
from its own chord by ``BOW_LEAN`` at most, so that on a round frame the rows do not follow the
rim. A side whose chord leans more than ``SIDE_LEAN`` from the run's axis, and one that the deck
has not got, is taken to run along the axis at the far edge of the opening.

A diagonal steps one local pitch each way: its course is the sum of the two straight courses,
each by the local pitch of the springs in its direction. A spring's pitch in a run is the mean
distance to its next springs ahead and behind, within ``LANE`` of the course; the local pitch is
the mean of the springs' pitches, weighted by a bell curve of 1.5 pitches.

The *pitch* of the deck is the median distance from a spring to its nearest neighbour.
"""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from spring_layout.deck.model import Run
from spring_layout.geometry.sides import SideCurve
from spring_layout.planning.parts import Array, Standing
from spring_layout.planning.tying.touch import turn_between

BOW_LEAN = math.radians(20.0)
"""A tangent leans from its chord by this at most."""
SIDE_LEAN = math.radians(50.0)
"""A side that leans more than this from its run's axis gives no course."""
LANE = math.radians(20.0)
"""A spring's next one in a run lies within this of the course."""
LEVEL = 1e-6
"""mm. Sides whose distances differ by less are equally near."""
BELL = 1.5
"""pitches. How far springs count toward the local pitch (the bell curve's deviation)."""
DENSE = 300
"""springs. Up to here every pair is looked at; beyond, only pairs near each other."""

AXES: dict[Run, float] = {
    "front-to-back": -math.pi / 2,
    "side-to-side": 0.0,
    "diagonal-rising": -math.pi / 4,
    "diagonal-falling": math.pi / 4,
}
"""Each run's axis: the angle from the x axis toward y (the front), radians."""

_STRAIGHT: tuple[Run, Run] = ("front-to-back", "side-to-side")
_AHEAD_AND_BEHIND = np.array([0.0, math.pi])[:, None]


@dataclass(frozen=True, eq=False)
class Courses:
    """The courses of one deck; angles from the x axis toward y, radians."""

    standing: Standing

    @cached_property
    def pitch(self) -> float:
        """The deck's pitch, mm; for a lone spring its diameter and the wished gap."""
        centres = self.standing.centres
        if len(centres) < 2:
            return float(2 * self.standing.radii.sum() + self.standing.deck.spacing.gap) or 1.0
        nearest = _nearest_distances(centres)
        return max(float(np.median(nearest)), 1.0)

    @cached_property
    def springs(self) -> dict[Run, Array]:
        """(n,) the course of each run at each spring."""
        return _all_courses(self._straight, self.local_pitches)

    @cached_property
    def _straight(self) -> Array:
        """(2, n) the course of both straight runs at each spring."""
        return np.array([self.straight(run, self.standing.centres) for run in _STRAIGHT])

    @cached_property
    def local_pitches(self) -> Array:
        """(n, 2) the local pitch at each spring, front to back and side to side, mm."""
        own = self.spring_pitches
        centres = self.standing.centres
        dx = centres[:, 0, None] - centres[:, 0]
        dy = centres[:, 1, None] - centres[:, 1]
        weights = np.exp(-(dx * dx + dy * dy) / (2 * (BELL * self.pitch) ** 2)) + 1e-9
        known = ~np.isnan(own)
        total = weights @ np.where(known, own, 0.0)
        weight = weights @ known.astype(float)
        return np.where(weight > 0, total / np.where(weight > 0, weight, 1.0), self.pitch)

    @cached_property
    def spring_pitches(self) -> Array:
        """(n, 2) each spring's own pitch, front to back and side to side; nan without one, mm."""
        count = len(self.standing.centres)
        first, second, angle, far = self._nearby
        here, way = np.concatenate([first, second]), np.concatenate([angle, angle + math.pi])
        reach = np.concatenate([far, far])
        # Both runs, ahead and behind: (2, 2, k).
        course = self._straight[:, None, here] + _AHEAD_AND_BEHIND
        ahead = (np.abs(turn_between(course, way)) <= LANE) & (reach > 0)
        run, turned, pair = np.nonzero(ahead)
        nearest = np.full(4 * count, np.inf)
        np.minimum.at(nearest, (2 * run + turned) * count + here[pair], reach[pair])
        each = nearest.reshape(2, 2, count)
        found = np.isfinite(each)
        counts, sums = found.sum(axis=1), np.where(found, each, 0.0).sum(axis=1)
        pitches = np.where(counts > 0, sums / np.maximum(counts, 1), np.nan)
        return np.ascontiguousarray(pitches.T)

    @cached_property
    def run_pitches(self) -> dict[Run, float]:
        """The typical pitch of each run over the whole deck, mm."""
        deep, wide = (_median(column, self.pitch) for column in self.spring_pitches.T)
        across = math.hypot(deep, wide)
        return dict(zip(AXES, (deep, wide, across, across), strict=True))

    def at(self, first: NDArray[np.intp], second: NDArray[np.intp]) -> dict[Run, Array]:
        """(k,) the course of each run midway between springs ``first`` and ``second``."""
        centres, pitches = self.standing.centres, self.local_pitches
        middles = (centres[first] + centres[second]) / 2
        straight = np.array([self.straight(run, middles) for run in _STRAIGHT])
        return _all_courses(straight, (pitches[first] + pitches[second]) / 2)

    def straight(self, run: Run, places: Array) -> Array:
        """(k,) the course of a straight run at ``places`` (k, 2)."""
        return self._blends[run].at(places)

    @cached_property
    def _blends(self) -> dict[Run, "_Blend"]:
        return {
            "front-to-back": _blend(self.standing, "front-to-back", "left", "right"),
            "side-to-side": _blend(self.standing, "side-to-side", "back", "front"),
        }

    @cached_property
    def _nearby(self) -> tuple[NDArray[np.intp], NDArray[np.intp], Array, Array]:
        """Pairs of springs that may be next to each other; the angle and distance between them."""
        centres = self.standing.centres
        first, second = near_pairs(centres, 6 * self.pitch)
        x, y = (centres[second] - centres[first]).T
        return first, second, np.arctan2(y, x), np.hypot(x, y)


def _all_courses(straight: Array, pitches: Array) -> dict[Run, Array]:
    """(k,) the course of each run, from those of the straight runs (2, k) and pitches (k, 2)."""
    (back, right), (deep, wide) = straight, pitches.T
    x = np.cos(right) * wide
    y = np.sin(right) * wide
    dx = np.cos(back) * deep
    dy = np.sin(back) * deep
    rising, falling = np.arctan2(y + dy, x + dx), np.arctan2(y - dy, x - dx)
    return dict(zip(AXES, (back, right, rising, falling), strict=True))


def near_pairs(centres: Array, reach: float) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Rows of all pairs of springs within ``reach`` mm, first < second."""
    if len(centres) <= DENSE:
        first, second = np.triu_indices(len(centres), 1)
    else:
        import shapely

        points = shapely.points(centres)
        tree = shapely.STRtree(points)
        first, second = tree.query(points, predicate="dwithin", distance=reach)
        first, second = first[first < second], second[first < second]
    far = np.hypot(*(centres[second] - centres[first]).T)
    near = far <= reach
    return first[near].astype(np.intp), second[near].astype(np.intp)


def _nearest_distances(centres: Array) -> Array:
    if len(centres) <= DENSE:
        far = np.hypot(centres[:, 0, None] - centres[:, 0], centres[:, 1, None] - centres[:, 1])
        np.fill_diagonal(far, np.inf)
        return np.asarray(far.min(axis=1))
    import shapely

    points = shapely.points(centres)
    tree = shapely.STRtree(points)
    pairs, far = tree.query_nearest(points, exclusive=True, return_distance=True, all_matches=False)
    nearest = np.empty(len(centres))
    nearest[pairs[0]] = far
    return nearest


def _median(values: Array, without: float) -> float:
    known = values[~np.isnan(values)]
    return float(np.median(known)) if len(known) else without


@dataclass(frozen=True, eq=False)
class _Edge:
    """One bank of a run: its sides (turned to run with it), or the axis at ``far``."""

    sides: tuple[SideCurve, ...]
    turned: float
    chord: float
    axis: float
    is_curved: bool
    column: int
    far: float

    def at(self, places: Array) -> tuple[Array, Array]:
        """(k,) the bank's direction and its distance at each place."""
        if not self.sides:
            return np.full(len(places), self.axis), np.abs(places[:, self.column] - self.far)
        away = np.array([_distance(side, places) for side in self.sides])
        distance = np.asarray(away.min(axis=0))
        if not self.is_curved:
            return np.full(len(places), self.chord), distance
        leans = np.array([self._lean(side, places) for side in self.sides])
        near = away <= distance + LEVEL
        return np.asarray((leans * near).sum(axis=0) / near.sum(axis=0)), distance

    def _lean(self, side: SideCurve, places: Array) -> Array:
        chord = float(side.heading(side.length / 2))
        across = (places - np.asarray(side.start)) @ (math.cos(chord), math.sin(chord))
        share = np.clip(2 * across / side.chord - 1, -1.0, 1.0)
        bow = np.arcsin(share * math.sin(side.sweep / 2))
        lean = float(turn_between(np.array(self.axis), np.array(chord + self.turned)))
        return np.asarray(self.axis + lean + np.clip(bow, -BOW_LEAN, BOW_LEAN))


def _distance(side: SideCurve, places: Array) -> Array:
    """(k,) how far each of ``places`` is from the side, mm."""
    away = side.point(side.nearest_along(places)) - places
    return np.asarray(np.hypot(away[:, 0], away[:, 1]))


@dataclass(frozen=True, eq=False)
class _Blend:
    """A straight run's course: its two banks, blended by how near each is."""

    first: _Edge
    second: _Edge

    def at(self, places: Array) -> Array:
        one, near_one = self.first.at(places)
        two, near_two = self.second.at(places)
        both = near_one + near_two
        share = np.where(both > 0, near_one / np.where(both > 0, both, 1.0), 0.5)
        return np.asarray(one + share * (two - one))


def _blend(standing: Standing, run: Run, first: str, second: str) -> _Blend:
    return _Blend(_edge(standing, run, first), _edge(standing, run, second))


_BANKS: dict[str, tuple[float, int, int]] = {
    "left": (0.0, 0, 0),
    "right": (math.pi, 0, 2),
    "back": (0.0, 1, 1),
    "front": (math.pi, 1, 3),
}
"""Each rail: how its clockwise direction turns into the run's; its column; its bound."""


def _edge(standing: Standing, run: Run, rail: str) -> _Edge:
    turned, column, bound = _BANKS[rail]
    axis = AXES[run]
    curves = zip(standing.outline.sides, standing.deck.frame.sides, strict=True)
    named = [curve for curve, side in curves if side.rail == rail]
    sides = tuple(c for c in named if abs(_lean_of(c, axis, turned)) <= SIDE_LEAN)
    lengths = [c.chord for c in sides]
    leans = [_lean_of(c, axis, turned) for c in sides]
    mean = sum(a * b for a, b in zip(lengths, leans, strict=True)) / sum(lengths) if sides else 0.0
    return _Edge(
        sides=sides,
        turned=turned,
        chord=axis + mean,
        axis=axis,
        is_curved=run == "side-to-side",
        column=column,
        far=standing.outline.bounds[bound],
    )


def _lean_of(side: SideCurve, axis: float, turned: float) -> float:
    chord = float(side.heading(side.length / 2))
    return float(turn_between(np.array(axis), np.array(chord + turned)))
