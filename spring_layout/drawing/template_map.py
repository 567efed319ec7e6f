"""The page map in the corner of every sheet of a template: all sheets small, this one grey."""

from spring_layout.drawing import look
from spring_layout.drawing.primitives import (
    Item,
    Line,
    Move,
    Path,
    Place,
    Step,
    polyline,
    rectangle,
)
from spring_layout.drawing.template_page import MAP_HEIGHT, MAP_WIDTH
from spring_layout.drawing.template_tiles import OVERLAP, Tile, Tiling
from spring_layout.drawing.view import View

_MAP_CELL = 9.0


class PageMap:
    """The map of one template; ``ring`` is the opening's outline, places of the deck, mm."""

    def __init__(self, layout: Tiling, ring: list[list[float]]) -> None:
        self._layout, self._ring = layout, ring
        self._width, self._height = (room - OVERLAP for room in layout.room)
        self._left, self._top = layout.left + OVERLAP / 2, layout.top + OVERLAP / 2
        self._scale = max(
            layout.columns * self._width / MAP_WIDTH,
            layout.rows * self._height / MAP_HEIGHT,
            max(self._width, self._height) / _MAP_CELL,
        )
        self._drawn: dict[Place, list[Item]] = {}

    def draw(self, tile: Tile, place: Place) -> list[Item]:
        """The map for ``tile``: its cell grey, the blank ones crossed, the opening over them."""
        left, top = self._left / self._scale, self._top / self._scale
        view = View(self._scale, place[0] - left, place[1] - top)
        if place not in self._drawn:
            self._drawn[place] = self._all(view)  # the same on every sheet
        return [Path(self._cell(tile.name, view), fill=look.STEEL), *self._drawn[place]]

    def _all(self, view: View) -> list[Item]:
        layout, left, top = self._layout, self._left, self._top
        xs = [left + i * self._width for i in range(layout.columns + 1)]
        ys = [top + i * self._height for i in range(layout.rows + 1)]
        lines = [((x, top), (x, ys[-1])) for x in xs] + [((left, y), (xs[-1], y)) for y in ys]
        return [
            Path(tuple(step for line in lines for step in view.polyline(line)), look.RULE),
            *(Path(_cross(self._cell(name, view)), look.HAIRLINE) for name in layout.blank),
            Path(view.polyline(self._ring, closed=True), look.HAIRLINE),
        ]

    def _cell(self, name: str, view: View) -> tuple[Step, ...]:
        row, column = (int(number) - 1 for number in name.split("-"))
        corner = view.place((self._left + column * self._width, self._top + row * self._height))
        return rectangle(*corner, self._width / self._scale, self._height / self._scale)


def _cross(cell: tuple[Step, ...]) -> tuple[Step, ...]:
    """Both diagonals of a rectangle."""
    a, b, c, d = ((step.x, step.y) for step in cell if isinstance(step, Move | Line))
    return (*polyline((a, c)), *polyline((b, d)))
