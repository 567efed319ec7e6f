"""The springs' labels: inside the ring between the ties where there is room, else beside it,
else away from it, still in the opening, with a leader.

Costs of a place, in no unit: 0 inside the ring (8 where most springs have no room there, so that
the labels of a deck stand alike), 4 and the distance in mm beside it, 8 and the
distance with a leader; up to 6 where another spring's ring is nearly as near; and up to 10 by how
far it is turned from the direction that most springs can use, so that the labels of a deck stand
alike. One that would stand elsewhere than most is also tried a little further out on their side, so
that no two stand between the same two springs. A label never touches a tie, a ring, a knot, the
inside edge or another label, and stands in the opening.
"""

import math
from dataclasses import replace
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from spring_layout.drawing import lettering, look
from spring_layout.drawing.labels import Chosen, Ways, choose
from spring_layout.drawing.obstacles import Obstacle, Pieces, Rings, Spots, clear_of
from spring_layout.drawing.view import Array, View
from spring_layout.planning.parts import Parts

_DIRECTIONS = 32
_CLEAR_OF_TIE = 0.55
_CLEAR_OF_RING = 0.45
_APART = 0.6
_BESIDE = 4.0
_AWAY = 8.0
_UNALIKE = 10.0
_LIKE = math.radians(60.0)
"""A label within that of the usual direction stands as most do; others are tried a little further
out as well, so that no two stand between the same two springs."""
_MOST_INSIDE = 0.6
"""Labels go inside the rings where more than this share of them can."""
_DOUBT, _DOUBT_REACH = 6.0, 2.5
"""The cost of standing as near to another ring as to its own, falling to 0 over so many mm."""
_SHORT = (0.8, 1.6)
"""mm between a label and its ring that need no leader."""
_LONG = (2.5, 4.0, 6.0, 8.5, 11.0)
"""mm over which a leader may reach."""
_MOST_LED = 0.5
"""Leaders are tried only where no more than this share of the labels need one."""


def place_spring_labels(parts: Parts, view: View, height: float) -> list[Chosen | None]:
    """A place for each spring's label (the deck's order), lettered ``height`` mm high."""
    sizes = _sizes(parts, height)
    obstacles = label_obstacles(parts, view)
    near = _near_ways(parts, view, sizes)
    near = near.only(_in_opening(parts, view, near))
    near = _dearer_near_others(parts, view, near.only(clear_of(obstacles, near.boxes())))
    near = _inside_or_beside(near)
    usual = _most_used(near)
    near = _alike(near, usual)
    chosen = choose(near, len(sizes), _APART)
    for lengths in (_SHORT, _LONG):
        wanting = [i for i, place in enumerate(chosen) if place is None]
        if lengths == _SHORT:
            wanting = sorted({*wanting, *_unlike(parts, view, chosen, usual)})
        if not wanting or (lengths == _LONG and len(wanting) > len(chosen) * _MOST_LED):
            break
        away = _away_ways(parts, view, sizes, wanting, lengths)
        away = away.only(_in_opening(parts, view, away))
        away = away.only(clear_of(obstacles, away.boxes()))
        if lengths == _SHORT:
            away = _alike(away, usual)
        near = near.and_also(_dearer_near_others(parts, view, away))
        chosen = choose(near, len(sizes), _APART)
    return chosen


def _most_used(ways: Ways) -> int:
    """The direction, by its number, that most springs can use."""
    uses = np.bincount(ways.slot // 2, minlength=_DIRECTIONS)
    return int(np.argmax(uses + 0.5 * (np.roll(uses, 1) + np.roll(uses, -1))))


def _alike(ways: Ways, usual: int) -> Ways:
    """The same candidates, dearer the further their direction is from the usual one."""
    away = np.abs(ways.slot // 2 - usual)
    turn = np.minimum(away, _DIRECTIONS - away) / (_DIRECTIONS / 2)
    return replace(ways, cost=ways.cost + _UNALIKE * turn)


def _unlike(parts: Parts, view: View, chosen: list[Chosen | None], usual: int) -> list[int]:
    """The labels that stand elsewhere about their springs than most do."""
    placed = [i for i, place in enumerate(chosen) if place is not None]
    middles = np.array([place.middle for place in chosen if place is not None]).reshape(-1, 2)
    x, y = (middles - view.places(parts.standing.centres[placed])).T
    turn = np.arctan2(y, x) - _angles()[usual]
    far = np.abs((turn + math.pi) % (2 * math.pi) - math.pi) > _LIKE
    return [i for i, is_far in zip(placed, far.tolist(), strict=True) if is_far]


def _angles() -> Array:
    """The directions, by their numbers, radians; 0 is up."""
    angles: Array = np.arange(_DIRECTIONS, dtype=float) * (2 * math.pi / _DIRECTIONS)
    return angles - math.pi / 2


def _inside_or_beside(ways: Ways) -> Ways:
    """The same candidates, those inside the rings dear where most springs have none of them."""
    inside = ways.slot % 2 == 0
    can = len(np.unique(ways.label[inside]))
    if can > _MOST_INSIDE * len(ways.sizes):
        return ways
    return replace(ways, cost=np.where(inside, _AWAY, ways.cost))


def _dearer_near_others(parts: Parts, view: View, ways: Ways) -> Ways:
    """The same candidates, dearer where they stand nearly as near to another spring's ring."""
    others = _neighbours(parts)[ways.label]
    centres = view.places(parts.standing.centres)
    radii = parts.standing.radii / view.scale
    own = np.hypot(*(ways.middles - centres[ways.label]).T) - radii[ways.label]
    apart = np.hypot(*np.moveaxis(ways.middles[:, None] - centres[others], -1, 0)) - radii[others]
    apart[others < 0] = np.inf
    doubt = _DOUBT_REACH - (apart.min(axis=1, initial=np.inf) - np.maximum(own, 0.0))
    return replace(ways, cost=ways.cost + _DOUBT * np.clip(doubt / _DOUBT_REACH, 0.0, 1.0))


def _neighbours(parts: Parts) -> NDArray[np.intp]:
    """(n, most) the rows of each spring's natural neighbours, -1 where it has fewer."""
    lists: list[list[int]] = [[] for _ in parts.standing.ids]
    for first, second in parts.spaces.neighbours.tolist():
        lists[first].append(second)
        lists[second].append(first)
    most = max(map(len, lists), default=0)
    return np.array([row + [-1] * (most - len(row)) for row in lists], np.intp).reshape(
        len(lists), most
    )


def _in_opening(parts: Parts, view: View, ways: Ways) -> NDArray[np.bool_]:
    """(m,) whether each candidate lies in the opening, where the springs are."""
    opening = shapely.Polygon(view.places(parts.standing.outline.ring))
    shapely.prepare(opening)
    inside: NDArray[np.bool_] = shapely.contains_xy(opening, ways.middles)
    return inside


def _sizes(parts: Parts, height: float) -> Array:
    words = [parts.labels[name] for name in parts.standing.ids]
    wide = [lettering.width(word, height, "bold") for word in words]
    return np.column_stack([wide, np.full(len(wide), height)]).reshape(-1, 2)


def label_obstacles(parts: Parts, view: View) -> list[Obstacle]:
    """What no spring's label may touch inside the frame, on the paper."""
    knots = np.array([c.place for c in parts.ties.crossings], float).reshape(-1, 2)
    edges = [chords(side.polyline()) for side in parts.standing.outline.sides]
    return [
        Pieces(tie_pieces(parts, view), _CLEAR_OF_TIE),
        Rings(
            view.places(parts.standing.centres), parts.standing.radii / view.scale, _CLEAR_OF_RING
        ),
        Spots(view.places(knots), look.KNOT_HALF * view.fine + 0.4),
        Pieces(view.places(np.concatenate(edges)), 0.6),
    ]


def tie_pieces(parts: Parts, view: View) -> Array:
    """(n, 2, 2) the straight pieces of all ties, on the paper, mm."""
    pieces = [chords(np.array(line.path)) for line in parts.ties.lines]
    return view.places(np.concatenate(pieces)) if pieces else np.empty((0, 2, 2))


def chords(points: Array) -> Array:
    """(n - 1, 2, 2) from each of the (n, 2) ``points`` to the next, mm."""
    return np.stack([points[:-1], points[1:]], axis=1)


def _near_ways(parts: Parts, view: View, sizes: Array) -> Ways:
    """Inside the ring and beside it, in every direction: two candidates a direction."""
    angles = _angles()
    ways = np.column_stack([np.cos(angles), np.sin(angles)])
    centres = view.places(parts.standing.centres)
    radii = parts.standing.radii / view.scale
    half = sizes / 2
    inner = _inside_reach(ways, half, radii - _CLEAR_OF_RING - 0.05)
    outer = _outside_reach(ways, half, radii + _CLEAR_OF_RING + 0.1)
    reach = np.stack([inner, outer], axis=-1)
    middles = centres[:, None, None] + ways[None, :, None] * reach[..., None]
    cost = np.broadcast_to([0.0, _BESIDE], reach.shape)
    keep = ~np.isnan(reach).ravel()
    label = np.repeat(np.arange(len(sizes)), _DIRECTIONS * 2)
    return Ways(
        label[keep],
        middles.reshape(-1, 2)[keep],
        cost.ravel()[keep],
        sizes,
        np.full((int(keep.sum()), 2, 2), np.nan),
        np.tile(np.arange(_DIRECTIONS * 2), len(sizes))[keep],
    )


def _inside_reach(ways: Array, half: Array, radii: Array) -> Array:
    """(springs, directions) how far a label's middle may go with its corners in the ring; nan."""
    across = np.abs(ways)[None] * half[:, None]
    along = across.sum(-1)
    squared = (half**2).sum(-1)[:, None] - along**2
    with np.errstate(invalid="ignore"):
        reach = np.sqrt(radii[:, None] ** 2 - squared) - along
    return np.asarray(np.where(reach > 0, reach, np.nan))


def _outside_reach(ways: Array, half: Array, radii: Array) -> Array:
    """(springs, directions) where a label's middle stands when it just clears the ring."""
    return np.asarray(radii[:, None] + (np.abs(ways)[None] * half[:, None]).sum(-1))


def _away_ways(
    parts: Parts, view: View, sizes: Array, labels: list[int], lengths: tuple[float, ...]
) -> Ways:
    """Further out by ``lengths`` (mm), with leaders to the ring if those are long."""
    rows = []
    for label in labels:
        centre = view.places(parts.standing.centres[label : label + 1])[0]
        radius = float(parts.standing.radii[label]) / view.scale
        rows.append(_away_of(label, centre, radius, sizes[label] / 2, lengths))
    label_of, middles, cost, leaders, slot = (
        np.concatenate(column) for column in zip(*rows, strict=True)
    )
    return Ways(label_of.astype(np.intp), middles, cost, sizes, leaders, slot)


def _away_of(
    label: int, centre: Array, radius: float, half: Array, lengths: tuple[float, ...]
) -> tuple[NDArray[Any], ...]:
    angle, length = (grid.ravel() for grid in np.meshgrid(_angles(), lengths))
    slot = np.tile(2 * np.arange(_DIRECTIONS) + 1, len(lengths))
    ways = np.column_stack([np.cos(angle), np.sin(angle)])
    reach = radius + length + (np.abs(ways) * half).sum(-1)
    middles = centre + ways * reach[:, None]
    begin = centre + ways * radius
    finish = centre + ways * (radius + length - 0.3)[:, None]
    leaders = np.stack([begin, finish], axis=1)
    if lengths == _SHORT:
        leaders[:] = np.nan
    cost = length + (_BESIDE if lengths == _SHORT else _AWAY)
    return np.full(len(angle), label), middles, cost, leaders, slot
