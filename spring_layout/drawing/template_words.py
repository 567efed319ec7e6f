"""What is written in the picture of a template sheet: springs, tacks, rails, centres, webbing.

The springs come first, then the tack points, then the rest: what is pricked through must have its
name; the others can be read off the next sheet.
"""

from collections.abc import Iterator

import numpy as np
import shapely

from spring_layout.drawing import look
from spring_layout.drawing.primitives import Item, Place
from spring_layout.drawing.tacks import Tack, distance_words, tacks_of
from spring_layout.drawing.template_labels import DIAGONAL, Labels, Row, Wanted, all_round
from spring_layout.drawing.template_marks import Bounds, middle_of
from spring_layout.drawing.template_tiles import Tile
from spring_layout.drawing.view import Array, View
from spring_layout.planning.parts import Parts, Strip

_SPRING, _TIE, _RAIL = 5.0, 3.5, 5.0
_CLEAR_OF_CENTRE, _CLEAR_OF_TACK = 3.2, 1.6


class TemplateWords:
    """The labels of a whole template, of which each sheet takes those that lie in its picture."""

    def __init__(self, parts: Parts) -> None:
        self._parts = parts
        self._tacks = [tack for tacks in tacks_of(parts).values() for tack in tacks]
        self._anchors = np.array([tack.anchor for tack in self._tacks]).reshape(-1, 2)
        opening = parts.standing.outline.polygon
        self._strips = [(strip, _middle_line(strip, opening)) for strip in parts.webbing.strips]

    def keep_clear(self, tile: Tile, view: View, labels: Labels) -> None:
        """Keep labels off the places that are pricked through."""
        for row in self._springs_in(tile):
            labels.keep_clear(view.place(self._parts.standing.centres[row]), _CLEAR_OF_CENTRE)
        for tack in self._tacks_in(tile):
            labels.keep_clear(view.place(tack.anchor), _CLEAR_OF_TACK)

    def items(self, tile: Tile, view: View, labels: Labels) -> list[Item]:
        """The labels of one sheet, those needed most first."""
        items: list[Item] = []
        for wanted in self._wanted(tile, view):
            items += labels.put(wanted)
        return items

    def _springs_in(self, tile: Tile) -> list[int]:
        """The rows of the springs whose centres the sheet shows."""
        return _shown(self._parts.standing.centres, tile.shows)

    def _tacks_in(self, tile: Tile) -> list[Tack]:
        return [self._tacks[row] for row in _shown(self._anchors, tile.shows)]

    def _wanted(self, tile: Tile, view: View) -> Iterator[Wanted]:
        parts, shows = self._parts, tile.shows
        for row in self._springs_in(tile):
            label = parts.labels[parts.standing.ids[row]]
            yield _spring_label(label, view.place(parts.standing.centres[row]))
        for tack in self._tacks_in(tile):
            yield _tack_label(parts, tack, view)
        yield from self._rail_labels(shows, view)
        for strip, line in self._strips:
            if _passes(strip, shows):
                yield from _strip_label(strip, line, parts, shows, view)

    def _rail_labels(self, shows: Bounds, view: View) -> Iterator[Wanted]:
        """Centre marks, then the rails' names, on every sheet that shows some of the rail."""
        window = shapely.box(*shows)
        outline = self._parts.standing.outline
        named = list(zip(self._parts.deck.frame.sides, outline.sides, outline.lines, strict=True))
        for side, curve, _ in named:
            if side.rail != "none" and _inside(shows, middle_of(curve)):
                out = curve.normal(curve.length / 2)
                row = Row(f"centre of {side.rail}", look.NORMAL)
                yield Wanted(
                    view.place(middle_of(curve)), (row,), all_round(_way(-out)), 3.0, "mark"
                )
        for side, curve, line in named:
            shown = line.intersection(window)
            if shown.length > _RAIL:
                piece = max(shapely.get_parts(shown), key=shapely.length)
                x, y = shapely.get_coordinates(piece.interpolate(0.5, normalized=True))[0]
                out = curve.normal(float(curve.nearest_along(np.array([x, y]))))
                words = "no rail" if side.rail == "none" else side.rail.upper()
                row = Row(words, _RAIL, "bold")
                yield Wanted(view.place((x, y)), (row,), all_round(_way(-out)), 4.0, "rail-name")


def _shown(places: Array, shows: Bounds) -> list[int]:
    """The rows of the (n, 2) places that lie within ``shows``."""
    low, high = np.array(shows[:2]), np.array(shows[2:])
    rows: list[int] = np.flatnonzero(np.all((places >= low) & (places <= high), axis=1)).tolist()
    return rows


def _inside(shows: Bounds, place: Place) -> bool:
    x0, y0, x1, y1 = shows
    return x0 <= place[0] <= x1 and y0 <= place[1] <= y1


def _way(out: np.ndarray) -> Place:
    return float(out[0]), float(out[1])


def _spring_label(words: str, place: Place) -> Wanted:
    ways = (*DIAGONAL, *all_round((1.0, 0.0)))
    return Wanted(place, (Row(words, _SPRING, "bold"),), ways, 1.5, "spring-label")


def _tack_label(parts: Parts, tack: Tack, view: View) -> Wanted:
    """The tie's number, under it the distance from the centre mark; outside the nail line."""
    out = parts.standing.outline.sides[tack.side].normal(tack.along)
    rows = (
        Row(str(tack.line.number), _TIE, "bold"),
        Row(distance_words(tack, parts), look.SMALL),
    )
    return Wanted(view.place(tack.anchor), rows, all_round(_way(out)), 3.6, "tack-label")


def _middle_line(strip: Strip, opening: shapely.Polygon) -> shapely.Geometry:
    """A strip's middle line within the opening."""
    ends = strip.start, strip.finish
    upright = strip.run == "front-to-back"
    line = shapely.LineString([(strip.at, e) if upright else (e, strip.at) for e in ends])
    return line.intersection(opening)


def _passes(strip: Strip, shows: Bounds) -> bool:
    """Whether a strip's middle line can lie within ``shows``."""
    low, high = (shows[0], shows[2]) if strip.run == "front-to-back" else (shows[1], shows[3])
    return low <= strip.at <= high


def _strip_label(
    strip: Strip, line: shapely.Geometry, parts: Parts, shows: Bounds, view: View
) -> Iterator[Wanted]:
    """A strip's number among those of its direction, on its middle line, where it is shown."""
    shown = line.intersection(shapely.box(*shows))
    if shown.length < 20.0:
        return
    piece = max(shapely.get_parts(shown), key=shapely.length)
    number = parts.webbing.of(strip.run).index(strip) + 1
    way = "front to back" if strip.run == "front-to-back" else "side to side"
    strip_word = parts.told("webbing strip").removeprefix("webbing ")
    row = Row(f"{strip_word} {number} {way}", look.SMALL)
    place = shapely.get_coordinates(piece.interpolate(0.25, normalized=True))[0]
    yield Wanted(view.place(place), (row,), all_round((1.0, 0.0)), 1.0, "strip-label")
