"""What must stay as it is while springs are evened out: rows stay rows, nobody jumps the queue."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from spring_layout.geometry.outline import Outline
from spring_layout.geometry.spacing import natural_neighbours
from spring_layout.planning.parts import Array, Line, Standing
from spring_layout.tolerances import SAME_PLACE

Index = NDArray[np.intp]

ROW_TURN = math.radians(2.0)
"""How far the way from a spring to the next in its row may turn beyond where it was and where the
frame would have it: rows neither tilt nor fan against the sides."""

LOOSE_TURN = math.radians(15.0)
"""The same where no side says how rows should run, as in a round frame."""

NEIGHBOUR_TURN = math.radians(45.0)
"""How far the way from a spring to its natural neighbour may turn: no spring can pass another."""


@dataclass(frozen=True)
class Constraints:
    """Rows and order to keep, an argument of their own.

    ``rows``: springs (rows of the deck's arrays) that follow each other in a line, either way.
    ``bend``: degrees that a row may bend at a spring beyond what the frame's bowed sides give
    it; one that bends more at the start is straightened as far as that costs no evenness.
    ``order``: whether no spring may pass a natural neighbour.
    ``symmetry``: how far (mm) springs may stand from a mirror image for the deck to be meant as
    symmetric; such a deck is made so. 0 leaves a lopsided deck lopsided.
    """

    rows: tuple[tuple[int, ...], ...] = ()
    bend: float = 0.05
    order: bool = False
    symmetry: float = 0.0


@dataclass(frozen=True, eq=False)
class Rules:
    """Linear rules about the next move: ``value + gradient . move >= 0`` for each of k.

    ``springs``: (k, 3) the springs concerned; ``gradient``: (k, 3, 2) per mm of each.
    """

    value: Array
    springs: Index
    gradient: Array


@dataclass(frozen=True, eq=False)
class Keeper:
    """The rules of some constraints, made for the places at the start.

    ``links``: (k, 2) springs whose way to each other keeps its direction; ``limits``: (2, k, 2)
    unit directions between which it stays, anticlockwise to clockwise on paper. ``triples``:
    (m, 3) springs that follow each other in a row; ``bows``: (m, 2) least and most curvature that
    the sides give (1/mm); ``slack``: (m,) sine of the bend allowed beyond that.
    """

    links: Index
    limits: Array
    triples: Index
    bows: Array
    slack: Array

    def order_rules(self, places: Array) -> Rules:
        """No link may turn too far, to either hand: (2 k) exact linear rules."""
        way = places[self.links[:, 1]] - places[self.links[:, 0]]
        first, last = self.limits
        pulls = np.concatenate(
            [
                np.stack([-first[:, 1], first[:, 0]], axis=1),
                np.stack([last[:, 1], -last[:, 0]], axis=1),
            ]
        )
        value = np.sum(pulls * np.concatenate([way, way]), axis=1)
        springs = np.concatenate([self.links, self.links])
        springs = np.concatenate([springs, springs[:, :1]], axis=1)
        gradient = np.stack([-pulls, pulls, np.zeros_like(pulls)], axis=1)
        return Rules(value, springs, gradient)

    def bend_rules(self, places: Array) -> Rules:
        """The sine of each bend within its limits, as two rules: (2 m), linear near here."""
        sine, gradient, reach = bends(places, self.triples)
        least = self.bows[:, 0] * reach - self.slack
        most = self.bows[:, 1] * reach + self.slack
        return Rules(
            np.concatenate([sine - least, most - sine]),
            np.concatenate([self.triples, self.triples]),
            np.concatenate([gradient, -gradient]),
        )


def bends(places: Array, triples: Index) -> tuple[Array, Array, Array]:
    """How rows turn at a spring: sine (m,), its gradient (m, 3, 2), mean length of both ways."""
    before = places[triples[:, 1]] - places[triples[:, 0]]
    after = places[triples[:, 2]] - places[triples[:, 1]]
    one = np.maximum(np.hypot(before[:, 0], before[:, 1]), SAME_PLACE)
    two = np.maximum(np.hypot(after[:, 0], after[:, 1]), SAME_PLACE)
    sine = (before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]) / (one * two)
    by_before = np.stack([after[:, 1], -after[:, 0]], axis=1) / (one * two)[:, None]
    by_before -= before * (sine / one**2)[:, None]
    by_after = np.stack([-before[:, 1], before[:, 0]], axis=1) / (one * two)[:, None]
    by_after -= after * (sine / two**2)[:, None]
    gradient = np.stack([-by_before, by_before - by_after, by_after], axis=1)
    return sine, gradient, (one + two) / 2


def keeper_of(outline: Outline, places: Array, constraints: Constraints) -> Keeper:
    """The rules of ``constraints`` for springs that start from ``places``."""
    in_row = _links(constraints.rows)
    near = natural_neighbours(outline, places) if constraints.order else in_row[:0]
    links = np.concatenate([in_row, near])
    turns = np.concatenate(
        [
            _row_turns(outline, places, in_row),
            np.tile([[-NEIGHBOUR_TURN], [NEIGHBOUR_TURN]], len(near)),
        ],
        axis=1,
    )
    ways = places[links[:, 1]] - places[links[:, 0]]
    apart = np.hypot(ways[:, 0], ways[:, 1]) > SAME_PLACE
    angles = np.arctan2(ways[:, 1], ways[:, 0]) + turns
    triples = _triples(constraints.rows)
    return Keeper(
        links=links[apart],
        limits=np.stack([np.cos(angles), np.sin(angles)], axis=2)[:, apart],
        triples=triples,
        bows=_bows(outline, places, triples),
        slack=np.full(len(triples), math.sin(math.radians(constraints.bend))),
    )


def _links(rows: tuple[tuple[int, ...], ...]) -> Index:
    links = [pair for row in rows for pair in pairwise(row)]
    return np.array(links, np.intp).reshape(-1, 2)


def _triples(rows: tuple[tuple[int, ...], ...]) -> Index:
    triples = [three for row in rows for three in zip(row, row[1:], row[2:], strict=False)]
    return np.array(triples, np.intp).reshape(-1, 3)


def _row_turns(outline: Outline, places: Array, links: Index) -> Array:
    """(2, k) how far each link of a row may turn to either hand, radians, first below 0."""
    way = places[links[:, 1]] - places[links[:, 0]]
    middle = (places[links[:, 1]] + places[links[:, 0]]) / 2
    chords = np.array(
        [math.atan2(s.end[1] - s.start[1], s.end[0] - s.start[0]) for s in outline.sides]
    )
    angle = np.arctan2(way[:, 1], way[:, 0])[:, None]
    turn = (chords - angle + math.pi / 2) % math.pi - math.pi / 2
    blend, known = _blended(outline, middle, way, turn)
    spare = np.where(known, ROW_TURN, LOOSE_TURN)
    return np.stack([np.minimum(blend, 0.0) - spare, np.maximum(blend, 0.0) + spare])


def _bows(outline: Outline, places: Array, triples: Index) -> Array:
    """(m, 2) least and most curvature that a row may have at its middle spring.

    Between straight and the blend of the bows on its two hands: a row takes up the bow of the
    front gradually.
    """
    way = places[triples[:, 2]] - places[triples[:, 0]]
    chords = np.array([np.subtract(side.end, side.start) for side in outline.sides])
    bow = np.array([side.curvature for side in outline.sides])
    blend, _ = _blended(outline, places[triples[:, 1]], way, np.sign(way @ chords.T) * bow)
    return np.stack([np.minimum(blend, 0.0), np.maximum(blend, 0.0)], axis=1)


def _blended(
    outline: Outline, places: Array, ways: Array, values: Array
) -> tuple[Array, NDArray[np.bool_]]:
    """(k,) ``values`` (k, sides) of the sides on both hands of a way, blended by nearness.

    On each hand the nearest side counts whose chord runs within 45 degrees of the way; sides of a
    round frame do not. Also (k,) whether there is any.
    """
    chords = np.array([np.subtract(side.end, side.start) / side.chord for side in outline.sides])
    counts = np.array([not side.is_round for side in outline.sides])
    inner = ways @ chords.T
    sizes = np.hypot(ways[:, 0], ways[:, 1])[:, None]
    along = (np.abs(inner) >= math.cos(math.pi / 4) * sizes) & counts
    away = _distances(outline, places)
    rows = np.arange(len(places))
    total, weight = np.zeros(len(places)), np.zeros(len(places))
    for facing in (inner > 0, inner < 0):
        distance = np.where(along & facing, away, np.inf)
        nearest = distance.argmin(axis=1)
        share = 1 / np.maximum(distance[rows, nearest], SAME_PLACE)
        total += share * values[rows, nearest]
        weight += share
    return total / np.where(weight > 0, weight, 1.0), weight > 0


def _distances(outline: Outline, places: Array) -> Array:
    """(n, sides) distance from each place to each side, mm."""
    feet = [side.point(side.nearest_along(places)) for side in outline.sides]
    away = places[:, None, :] - np.stack(feet, axis=1)
    return np.hypot(away[..., 0], away[..., 1])


def rows_of_ties(standing: Standing, lines: Iterable[Line]) -> tuple[tuple[int, ...], ...]:
    """The rows to keep so that the ties of both straight runs stay as they are."""
    return tuple(
        tuple(standing.index[name] for name in line.springs)
        for line in lines
        if line.run in ("front-to-back", "side-to-side") and len(line.springs) > 1
    )
