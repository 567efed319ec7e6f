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
from spring_layout.drawing.view import View
from spring_layout.planning.parts import Parts, Strip

_SPRING, _TIE, _RAIL = 5.0, 3.5, 5.0
_CLEAR_OF_CENTRE, _CLEAR_OF_TACK = 3.2, 1.6


class TemplateWords:
    """The labels of a whole template, of which each sheet takes those that lie in its picture."""

    def __init__(self, parts: Parts) -> None:
        self._parts = parts
        self._tacks = [tack for tacks in tacks_of(parts).values() for tack in tacks]

    def keep_clear(self, tile: Tile, view: View, labels: Labels) -> None:
        """Keep labels off the places that are pricked through."""
        for spring in self._parts.deck.springs:
            if _inside(tile.shows, (spring.x, spring.y)):
                labels.keep_clear(view.place((spring.x, spring.y)), _CLEAR_OF_CENTRE)
        for tack in self._tacks:
            if _inside(tile.shows, tack.anchor):
                labels.keep_clear(view.place(tack.anchor), _CLEAR_OF_TACK)

    def items(self, tile: Tile, view: View, labels: Labels) -> list[Item]:
        """The labels of one sheet, those needed most first."""
        items: list[Item] = []
        for wanted in self._wanted(tile, view):
            items += labels.put(wanted)
        return items

    def _wanted(self, tile: Tile, view: View) -> Iterator[Wanted]:
        shows = tile.shows
        for spring in self._parts.deck.springs:
            if _inside(shows, (spring.x, spring.y)):
                yield _spring_label(self._parts.labels[spring.id], view.place((spring.x, spring.y)))
        for tack in self._tacks:
            if _inside(shows, tack.anchor):
                yield _tack_label(self._parts, tack, view)
        yield from self._rail_labels(shows, view)
        for strip in self._parts.webbing.strips:
            yield from _strip_label(strip, self._parts, shows, view)

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


def _inside(shows: Bounds, place: Place | list[float]) -> bool:
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


def _strip_label(strip: Strip, parts: Parts, shows: Bounds, view: View) -> Iterator[Wanted]:
    """A strip's number among those of its direction, on its middle line, where it is shown."""
    upright = strip.run == "front-to-back"
    ends = strip.start, strip.finish
    line = shapely.LineString([(strip.at, e) if upright else (e, strip.at) for e in ends])
    shown = line.intersection(shapely.box(*shows)).intersection(parts.standing.outline.polygon)
    if shown.length < 20.0:
        return
    piece = max(shapely.get_parts(shown), key=shapely.length)
    number = parts.webbing.of(strip.run).index(strip) + 1
    way = "front to back" if upright else "side to side"
    row = Row(f"web {number} {way}", look.SMALL)
    place = shapely.get_coordinates(piece.interpolate(0.25, normalized=True))[0]
    yield Wanted(view.place(place), (row,), all_round((1.0, 0.0)), 1.0, "strip-label")
