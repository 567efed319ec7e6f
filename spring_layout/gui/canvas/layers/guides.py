"""What helps the hand: dimension lines, settling lines, handles, the frame being traced."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QBrush, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsPathItem, QGraphicsScene

from spring_layout.gui.canvas.items import GUIDE, HANDLE, NUMBER, Label, Symbol, add_path
from spring_layout.gui.canvas.pens import Pens

Place = tuple[float, float]
TICK = 4.0
"""px; half the length of the tick at each end of a dimension line."""


@dataclass(frozen=True)
class Dimension:
    """A measured distance between two places, mm, with its number as text."""

    start: Place
    finish: Place
    words: str
    share: float = 0.5
    """How far along the line its number stands."""


class GuideLayer:
    """Dimension lines with their numbers, broken settling lines and a sketch in progress."""

    def __init__(self, scene: QGraphicsScene, pens: Pens) -> None:
        self._scene = scene
        self._zoom = 1.0
        self._pens = pens
        # an item for each line: what lies between two lines is not painted anew
        self._lines: list[QGraphicsPathItem] = []
        self._settling: list[QGraphicsPathItem] = []
        self._sketch = add_path(scene, GUIDE, pens.picked_edge, QBrush())
        self._band = add_path(scene, GUIDE, pens.guide, QBrush())
        self._dimensions: list[Dimension] = []
        self.numbers: list[Label] = []

    def restyle(self, pens: Pens) -> None:
        """Takes another palette."""
        self._pens = pens
        for item in self._lines:
            item.setPen(pens.dimension)
        for item in self._settling:
            item.setPen(pens.guide)
        self._sketch.setPen(pens.picked_edge)
        self._band.setPen(pens.guide)

    def measure(self, dimensions: Sequence[Dimension]) -> None:
        """Shows these dimension lines and no others."""
        self._dimensions = list(dimensions)
        while len(self.numbers) < len(dimensions):
            label = Label(NUMBER, 9.0, bold=True)
            label.keep_size(self._zoom)
            self._scene.addItem(label)
            self.numbers.append(label)
        self._put(self._lines, [self._drawn(d) for d in dimensions], self._pens.dimension)
        for label, dimension in zip(self.numbers, dimensions, strict=False):
            palette = self._pens.palette
            label.write(dimension.words, palette.accent, palette.field, palette.accent)
            start, way = np.array(dimension.start), np.subtract(dimension.finish, dimension.start)
            label.setPos(*(start + way * dimension.share).tolist())
            label.setVisible(True)
        for label in self.numbers[len(dimensions) :]:
            label.setVisible(False)

    def _put(self, items: list[QGraphicsPathItem], paths: list[QPainterPath], pen: QPen) -> None:
        """Shows these paths, an item for each."""
        while len(items) < len(paths):
            items.append(add_path(self._scene, GUIDE, pen, QBrush()))
        for i, item in enumerate(items):
            item.setPath(paths[i] if i < len(paths) else QPainterPath())

    def show_settling(self, lines: Sequence[tuple[Place, Place]]) -> None:
        """Shows the lines along which something settled."""
        paths = []
        for start, finish in lines:
            path = QPainterPath(QPointF(*start))
            path.lineTo(*finish)
            paths.append(path)
        self._put(self._settling, paths, self._pens.guide)

    def sketch(self, places: Sequence[Place], refused: bool = False) -> None:
        """Shows a line being drawn through these places."""
        path = QPainterPath()
        half = 4 / self._zoom
        for i, place in enumerate(places):
            (path.lineTo if i else path.moveTo)(*place)
        for x, y in places:
            path.addRect(x - half, y - half, 2 * half, 2 * half)
        self._sketch.setPen(self._pens.mark_edge if refused else self._pens.picked_edge)
        self._sketch.setPath(path)

    def band(self, corners: tuple[Place, Place] | None) -> None:
        """Shows the rectangle that the pointer draws round springs."""
        path = QPainterPath()
        if corners is not None:
            path.addRect(QRectF(QPointF(*corners[0]), QPointF(*corners[1])).normalized())
        self._band.setPath(path)

    def keep_size(self, zoom: float) -> None:
        """Keeps ticks and numbers as large as they are at ``zoom`` px/mm."""
        self._zoom = zoom
        for label in self.numbers:
            label.keep_size(zoom)
        self.measure(self._dimensions)

    def clear(self) -> None:
        """Takes everything away."""
        self.measure(())
        self.show_settling(())
        self.sketch(())
        self.band(None)

    def _drawn(self, dimension: Dimension) -> QPainterPath:
        """A line with a tick at each end."""
        start, finish = np.array(dimension.start), np.array(dimension.finish)
        path = QPainterPath(QPointF(*dimension.start))
        path.lineTo(*dimension.finish)
        way = finish - start
        length = float(np.hypot(*way))
        if length == 0:
            return path
        tick = np.array([-way[1], way[0]]) / length * TICK / self._zoom
        for end in (start, finish):
            path.moveTo(*(end - tick).tolist())
            path.lineTo(*(end + tick).tolist())
        return path


class HandleLayer:
    """Squares on the corners, discs on the sides' middles; the one near the pointer grows."""

    def __init__(self, scene: QGraphicsScene, pens: Pens) -> None:
        self._scene = scene
        self._pens = pens
        self._zoom = 1.0
        self._near: tuple[str, int] | None = None
        self.handles: dict[tuple[str, int], Symbol] = {}

    def restyle(self, pens: Pens) -> None:
        """Takes another palette."""
        self._pens = pens
        for handle in self.handles.values():
            handle.setPen(pens.accent_edge)
            handle.setBrush(pens.field)

    def show(self, corners: Sequence[Place], middles: Sequence[Place], picked: int | None) -> None:
        """Shows handles at these corners and middles (mm); corner ``picked`` is filled."""
        wanted = {("corner", i): place for i, place in enumerate(corners)}
        wanted |= {("middle", i): place for i, place in enumerate(middles)}
        for gone in self.handles.keys() - wanted.keys():
            self._scene.removeItem(self.handles.pop(gone))
        for key, place in wanted.items():
            handle = self.handles.get(key)
            if handle is None:
                path = _square() if key[0] == "corner" else _disc()
                handle = Symbol(path, self._pens.accent_edge, self._pens.field, HANDLE)
                self._scene.addItem(handle)
                self.handles[key] = handle
            handle.setPos(*place)
            handle.setBrush(self._pens.accent if key == ("corner", picked) else self._pens.field)
            self._size(key)

    def point_at(self, near: tuple[str, int] | None) -> None:
        """The handle that the pointer is near grows."""
        if near != self._near:
            before, self._near = self._near, near
            for key in (before, near):
                if key in self.handles:
                    self._size(key)

    def keep_size(self, zoom: float) -> None:
        """Keeps the handles as large as they are at ``zoom`` px/mm."""
        self._zoom = zoom
        for key in self.handles:
            self._size(key)

    def clear(self) -> None:
        """Shows no handles."""
        self.show((), (), None)

    def _size(self, key: tuple[str, int]) -> None:
        grown = 1.5 if key == self._near else 1.0
        self.handles[key].setScale(grown / self._zoom)


def _square() -> QPainterPath:
    path = QPainterPath()
    path.addRect(-5, -5, 10, 10)
    return path


def _disc() -> QPainterPath:
    path = QPainterPath()
    path.addEllipse(QPointF(0, 0), 5, 5)
    return path
