"""Decks tied by hand for the drawing tests: rows by columns, without the program's own tying."""

from itertools import combinations

import numpy as np
import shapely

from spring_layout.deck.model import Deck, Point, Run
from spring_layout.plan import Plan
from spring_layout.planning.heights import heights_of
from spring_layout.planning.parts import Crossing, Line, Parts, Standing, Ties
from spring_layout.planning.spacing import spaces_of
from spring_layout.planning.standing import standing_of
from spring_layout.planning.twine import twine_of


def hand_tied(deck: Deck, rows: int, columns: int) -> Plan:
    """The plan of ``rows`` by ``columns`` springs listed row by row from the back left."""
    standing = standing_of(deck)
    lines = [
        _line(standing, number, run, springs)
        for number, (run, springs) in enumerate(_rows(rows, columns), start=1)
    ]
    ties = Ties(tuple(lines), tuple(_crossings(standing, lines)))
    spaces = spaces_of(standing)
    heights = heights_of(standing, spaces)
    ids = standing.ids
    labels = {
        ids[r * columns + c]: f"{chr(65 + r)}{c + 1}" for r in range(rows) for c in range(columns)
    }
    parts = Parts(
        deck=deck,
        standing=standing,
        labels=labels,
        rows=tuple(tuple(ids[r * columns : (r + 1) * columns]) for r in range(rows)),
        spaces=spaces,
        heights=heights,
        ties=ties,
        twine=twine_of(deck, ties, heights),
    )
    return Plan(parts, ())


def _rows(rows: int, columns: int) -> list[tuple[Run, list[int]]]:
    """The springs of each tie, by their place in the list, in each run's direction."""
    found: list[tuple[Run, list[int]]] = []
    for c in range(columns):
        found.append(("front-to-back", [r * columns + c for r in reversed(range(rows))]))
    for r in range(rows):
        found.append(("side-to-side", [r * columns + c for c in range(columns)]))
    for total in range(1, rows + columns - 2):
        rising = [(r, total - r) for r in reversed(range(rows)) if 0 <= total - r < columns]
        found.append(("diagonal-rising", [r * columns + c for r, c in rising]))
        start = total - rows + 1
        falling = [(r, start + r) for r in range(rows) if 0 <= start + r < columns]
        found.append(("diagonal-falling", [r * columns + c for r, c in falling]))
    return found


def _line(standing: Standing, number: int, run: Run, springs: list[int]) -> Line:
    centres = standing.centres[springs]
    start, finish = (_way_out(standing, centres, run, at) for at in (0, -1))
    return Line(
        number=number,
        run=run,
        springs=tuple(standing.ids[i] for i in springs),
        centres=tuple((float(x), float(y)) for x, y in centres),
        sides=(start[0], finish[0]),
        along=(start[1], finish[1]),
        anchors=(start[2], finish[2]),
    )


_WAYS = {
    "front-to-back": (0, -1),
    "side-to-side": (1, 0),
    "diagonal-rising": (1, -1),
    "diagonal-falling": (1, 1),
}


def _way_out(
    standing: Standing, centres: np.ndarray, run: Run, at: int
) -> tuple[int | None, float | None, Point | None]:
    way = np.array(_WAYS[run], float)
    if len(centres) > 1:
        way = centres[1] - centres[0] if at == 0 else centres[-1] - centres[-2]
    if at == 0:
        way = -way
    for i, side in enumerate(standing.outline.sides):
        outside = standing.deck.frame.nail_line_of(i)
        for along in side.meet(centres[at], way, outside):
            if standing.deck.frame.sides[i].rail != "none":
                x, y = side.point(along, outside)
                return i, along, (float(x), float(y))
    return _beside_corner(standing, centres[at], way)


def _beside_corner(
    standing: Standing, origin: np.ndarray, way: np.ndarray
) -> tuple[int | None, float | None, Point | None]:
    """A tie that goes out at a corner is tacked 30 mm beside it."""
    for i, side in enumerate(standing.outline.sides):
        for along in side.meet(origin, way):
            kept = min(max(along, 30.0), side.length - 30.0)
            x, y = side.point(kept, standing.deck.frame.nail_line_of(i))
            return i, kept, (float(x), float(y))
    return None, None, None


def _crossings(standing: Standing, lines: list[Line]) -> list[Crossing]:
    places: dict[tuple[float, float], set[int]] = {}
    for a, b in combinations(lines, 2):
        if a.run == b.run:
            continue
        meet = shapely.LineString(a.path).intersection(shapely.LineString(b.path))
        if not meet.is_empty:
            x, y = meet.centroid.coords[0]
            places.setdefault((round(x, 1), round(y, 1)), set()).update((a.number, b.number))
    found = []
    for place, numbers in sorted(places.items()):
        away = np.hypot(*(standing.centres - place).T)
        nearest = int(np.argmin(away))
        inside = away[nearest] < standing.radii[nearest]
        spring = standing.ids[nearest] if inside else None
        found.append(Crossing(place, tuple(sorted(numbers)), spring, max(numbers)))
    return found
