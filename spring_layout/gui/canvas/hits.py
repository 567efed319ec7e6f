"""What lies under the pointer, found from the plan and not from the picture."""

from dataclasses import dataclass

import numpy as np

from spring_layout.deck.model import Deck, End
from spring_layout.geometry.outline import Outline
from spring_layout.planning.parts import Crossing, Line, Standing, Ties

Place = tuple[float, float]


@dataclass(frozen=True)
class AnchorHit:
    """One end of a tie."""

    line: Line
    end: End


def spring_at(standing: Standing, place: Place, reach: float) -> str | None:
    """The spring whose top coil holds ``place`` (mm), or lies within ``reach`` of it."""
    if not len(standing.ids):
        return None
    away = np.hypot(*(standing.centres - place).T) - standing.radii
    nearest = int(away.argmin())
    return standing.ids[nearest] if away[nearest] <= reach else None


def springs_in(standing: Standing, one: Place, other: Place) -> frozenset[str]:
    """The springs whose centres lie in the rectangle between two places, mm."""
    low, high = np.minimum(one, other), np.maximum(one, other)
    inside = np.all((standing.centres >= low) & (standing.centres <= high), axis=1)
    return frozenset(standing.ids[i] for i in np.flatnonzero(inside))


def tie_at(ties: Ties, place: Place, reach: float) -> Line | None:
    """The tie nearest to ``place``, within ``reach`` mm."""
    found = span_at(ties, place, reach)
    return found[0] if found else None


def span_at(ties: Ties, place: Place, reach: float) -> tuple[Line, int] | None:
    """The tie nearest to ``place`` and which stretch of its path, within ``reach`` mm."""
    spans = [(line, i) for line in ties.lines for i in range(len(line.path) - 1)]
    if not spans:
        return None
    starts = np.array([line.path[i] for line, i in spans])
    ends = np.array([line.path[i + 1] for line, i in spans])
    away = _distances(np.asarray(place, float), starts, ends)
    nearest = int(away.argmin())
    return spans[nearest] if away[nearest] <= reach else None


def _distances(
    place: np.ndarray, starts: np.ndarray, ends: np.ndarray
) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    way = ends - starts
    length = np.maximum((way**2).sum(axis=1), 1e-12)
    share = np.clip(((place - starts) * way).sum(axis=1) / length, 0, 1)
    return np.asarray(np.hypot(*(starts + share[:, None] * way - place).T))


def anchor_at(ties: Ties, place: Place, reach: float) -> AnchorHit | None:
    """The tack point nearest to ``place``, within ``reach`` mm."""
    best, found = reach, None
    ends: tuple[End, End] = ("start", "finish")
    for line in ties.lines:
        for end, anchor in zip(ends, line.anchors, strict=True):
            if anchor is not None and (away := _away(anchor, place)) <= best:
                best, found = away, AnchorHit(line, end)
    return found


def crossing_at(ties: Ties, place: Place, reach: float) -> Crossing | None:
    """The cross knot nearest to ``place``, within ``reach`` mm."""
    near = [(_away(c.place, place), i) for i, c in enumerate(ties.crossings)]
    away, index = min(near, default=(np.inf, -1))
    return ties.crossings[index] if away <= reach else None


def corner_at(deck: Deck, place: Place, reach: float) -> int | None:
    """The corner of the frame nearest to ``place``, within ``reach`` mm."""
    near = [(_away(c, place), i) for i, c in enumerate(deck.frame.corners)]
    away, index = min(near, default=(np.inf, -1))
    return index if away <= reach else None


def middle_at(outline: Outline, place: Place, reach: float) -> int | None:
    """The side whose inside edge has its middle nearest to ``place``, within ``reach`` mm."""
    near = [(_away(middle_of(outline, i), place), i) for i in range(len(outline.sides))]
    away, index = min(near)
    return index if away <= reach else None


def middle_of(outline: Outline, side: int) -> Place:
    """Halfway along the inside edge of a side, mm."""
    curve = outline.sides[side]
    x, y = curve.point(curve.length / 2)
    return float(x), float(y)


def side_at(outline: Outline, place: Place, reach: float) -> int | None:
    """The side whose inside edge is nearest to ``place``, within ``reach`` mm."""
    best, found = reach, None
    for i, curve in enumerate(outline.sides):
        near = curve.point(curve.nearest_along(np.asarray(place, float)))
        away = _away((float(near[0]), float(near[1])), place)
        if away <= best:
            best, found = away, i
    return found


def _away(one: Place, other: Place) -> float:
    return float(np.hypot(one[0] - other[0], one[1] - other[1]))
