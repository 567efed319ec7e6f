"""How a full-size drawing is laid over sheets: a grid of tiles that overlap, by row and column.

Every tile shows a picture as large as its page has room for. Neighbouring pictures overlap by
``OVERLAP``; the line along which they are joined runs through the middle of that strip, on both.
The cells between these lines cover the drawing once. A tile whose cell would stay empty is blank
and is not printed.
"""

import math
from dataclasses import dataclass

import numpy as np

from spring_layout.drawing.paper import Paper
from spring_layout.drawing.template_marks import Bounds, Ink
from spring_layout.drawing.view import Array

OVERLAP = 15.0
"""mm that neighbouring pictures have in common. Common practice, no source."""
PAD = 4.0
"""mm kept round the drawing, so that no line lies on the edge of a picture."""
_FAR_ENOUGH = 30.0
"""mm; a join this far from the places that are pricked through need go no farther."""
_SHIFTS = np.array(sorted(np.linspace(-0.5, 0.5, 81), key=abs))
"""The ways to share out spare room, none to one side and all to it, the even way first."""


@dataclass(frozen=True)
class Tile:
    """One sheet: its row and column, from 1, and what of the deck its picture shows, mm."""

    row: int
    column: int
    shows: Bounds

    @property
    def name(self) -> str:
        """Row and column, as "2-1"."""
        return f"{self.row}-{self.column}"


@dataclass(frozen=True)
class Tiling:
    """The grid over a drawing: ``paper`` is the page, ``room`` its picture's width and height.

    ``tiles`` are those to print, row by row; ``blank`` the names of the others.
    """

    paper: Paper
    room: tuple[float, float]
    rows: int
    columns: int
    left: float
    top: float
    tiles: tuple[Tile, ...]
    blank: tuple[str, ...]

    def columns_at(self) -> list[float]:
        """x of the lines along which the columns are joined, mm."""
        step = self.room[0] - OVERLAP
        return [self.left + i * step + OVERLAP / 2 for i in range(1, self.columns)]

    def rows_at(self) -> list[float]:
        """y of the lines along which the rows are joined, mm."""
        step = self.room[1] - OVERLAP
        return [self.top + i * step + OVERLAP / 2 for i in range(1, self.rows)]

    def beside(self, tile: Tile, down: int, right: int) -> Tile | None:
        """The printed tile so many rows down and columns to the right of ``tile``."""
        wanted = tile.row + down, tile.column + right
        return next((t for t in self.tiles if (t.row, t.column) == wanted), None)


def tiling_of(ink: Ink, avoid: Array, paper: Paper, room: Bounds) -> Tiling:
    """The tiles over a template; ``room`` is where the picture stands on the page.

    ``avoid``: (n, 2) places that are pricked through, mm; the lines where sheets are joined are
    kept as far from them as the grid can be shifted.
    """
    width, height = room[2] - room[0], room[3] - room[1]
    x0, y0, x1, y1 = (v + pad for v, pad in zip(ink.bounds, (-PAD, -PAD, PAD, PAD), strict=True))
    columns, left = laid_out(x0, x1, width, avoid[:, 0])
    rows, top = laid_out(y0, y1, height, avoid[:, 1])
    tiles, blank = [], []
    for row in range(rows):
        for column in range(columns):
            x, y = left + column * (width - OVERLAP), top + row * (height - OVERLAP)
            tile = Tile(row + 1, column + 1, (x, y, x + width, y + height))
            if ink.within(_cell(tile, rows, columns)):
                tiles.append(tile)
            else:
                blank.append(tile.name)
    return Tiling(paper, (width, height), rows, columns, left, top, tuple(tiles), tuple(blank))


def laid_out(low: float, high: float, room: float, avoid: Array) -> tuple[int, float]:
    """How many pictures of ``room`` cover ``low`` to ``high``, and where the first one begins.

    Of the ways to share out what they cover beyond that, the one whose joins keep farthest from
    the places to avoid, the evenest among equals.
    """
    count = max(1, math.ceil((high - low - OVERLAP) / (room - OVERLAP) - 1e-9))
    spare = max(0.0, count * (room - OVERLAP) + OVERLAP - (high - low))
    begins = low - spare * (0.5 + _SHIFTS)
    if count == 1 or not len(avoid):
        return count, float(begins[0])
    joins = begins[:, None] + np.arange(1, count) * (room - OVERLAP) + OVERLAP / 2
    near = np.abs(joins[:, :, None] - avoid).min(axis=(1, 2))
    return count, float(begins[int(np.argmax(np.round(np.minimum(near, _FAR_ENOUGH), 3)))])


def _cell(tile: Tile, rows: int, columns: int) -> Bounds:
    """What remains of a tile's picture once it is cut along the lines where it is joined."""
    x0, y0, x1, y1 = tile.shows
    half = OVERLAP / 2
    return (
        x0 + (half if tile.column > 1 else 0.0),
        y0 + (half if tile.row > 1 else 0.0),
        x1 - (half if tile.column < columns else 0.0),
        y1 - (half if tile.row < rows else 0.0),
    )
