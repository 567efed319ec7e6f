"""Where the sheets of a template are joined: the lines to cut and to lay on, with ticks to match.

A sheet is cut along its left and upper lines; its neighbours there carry the same lines, with the
same ticks every 50 mm, to lay it on. The words are placed like labels, so that none hides a mark.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import shapely

from spring_layout.drawing import look
from spring_layout.drawing.primitives import Item, Path, Place, Stroke, Tag, polyline
from spring_layout.drawing.template_labels import Labels, Row, Wanted, all_round
from spring_layout.drawing.template_tiles import Tile, Tiling
from spring_layout.drawing.view import View

CUT = Stroke(look.INK, 0.25)
LAY = Stroke(look.INK, 0.25, (3.0, 2.0))
_TICK_EVERY, _TICK = 50.0, 2.5
_TRIM = 2.0


@dataclass(frozen=True)
class Seam:
    """One line where ``tile`` meets another: its two ends on the deck, mm, and what to do there."""

    ends: tuple[Place, Place]
    is_cut: bool
    words: str

    @property
    def upright(self) -> bool:
        """Whether the line runs down the sheet."""
        return self.ends[0][0] == self.ends[1][0]

    @property
    def lines(self) -> shapely.Geometry:
        """The line and its ticks on the deck, mm: what no words should stand on."""
        lines: shapely.Geometry = shapely.multilinestrings(
            shapely.linestrings([self.ends, *_ticks(self)])
        )
        return lines


def seams_of(layout: Tiling, tile: Tile) -> Iterator[Seam]:
    """The lines of one sheet: left and upper ones to cut, right and lower ones to lay on."""
    x0, y0, x1, y1 = tile.shows
    columns, rows = layout.columns_at(), layout.rows_at()
    for step, is_cut in ((-1, True), (1, False)):
        other = layout.beside(tile, 0, step)
        if other:
            x = columns[tile.column - 2 if is_cut else tile.column - 1]
            yield Seam(((x, y0), (x, y1)), is_cut, _words(other, is_cut))
        other = layout.beside(tile, step, 0)
        if other:
            y = rows[tile.row - 2 if is_cut else tile.row - 1]
            yield Seam(((x0, y), (x1, y)), is_cut, _words(other, is_cut))


def _words(other: Tile, is_cut: bool) -> str:
    return f"cut, lay on {other.name}" if is_cut else f"{other.name} lies here"


def seam_items(seam: Seam, view: View, labels: Labels) -> list[Item]:
    """A line with its ticks and words."""
    stroke, kind = (CUT, "cut-line") if seam.is_cut else (LAY, "lay-line")
    return [
        Path(view.polyline(seam.ends), stroke, tag=Tag(kind=kind)),
        *(Path(view.polyline(tick), CUT, tag=Tag(kind="tick")) for tick in _ticks(seam)),
        *labels.put(_label(seam, view)),
    ]


def _ticks(seam: Seam) -> Iterator[tuple[Place, Place]]:
    """Short lines across the seam wherever the deck's own measure passes another 50 mm."""
    (x0, y0), (x1, y1) = seam.ends
    low, high = (y0, y1) if seam.upright else (x0, x1)
    for i in range(math.ceil(low / _TICK_EVERY), math.floor(high / _TICK_EVERY) + 1):
        at = i * _TICK_EVERY
        if seam.upright:
            yield (x0 - _TICK, at), (x0 + _TICK, at)
        else:
            yield (at, y0 - _TICK), (at, y0 + _TICK)


def _label(seam: Seam, view: View) -> Wanted:
    """The words, a third of the way along: inside the line to cut, outside the line to lay on."""
    (x0, y0), (x1, y1) = (view.place(end) for end in seam.ends)
    place = x0 + (x1 - x0) / 3, y0 + (y1 - y0) / 3
    inward = (1.0, 0.0) if seam.upright else (0.0, 1.0)
    first = inward if seam.is_cut else (-inward[0], -inward[1])
    return Wanted(place, (Row(seam.words, look.NORMAL),), all_round(first), 1.5, "seam")


def trim_marks(layout: Tiling, tile: Tile, view: View) -> list[Item]:
    """Short lines in the margin beside the picture, where the knife goes in and out."""
    x0, y0, x1, y1 = (*view.place(tile.shows[:2]), *view.place(tile.shows[2:]))
    items: list[Item] = []
    for seam in seams_of(layout, tile):
        x, y = view.place(seam.ends[0])
        marks = (
            (((x, y0 - _TRIM), (x, y0)), ((x, y1), (x, y1 + _TRIM)))
            if seam.upright
            else (((x0 - _TRIM, y), (x0, y)), ((x1, y), (x1 + _TRIM, y)))
        )
        items += [Path(polyline(mark), CUT, tag=Tag(kind="trim-mark")) for mark in marks]
    return items
