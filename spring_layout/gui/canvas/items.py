"""The items of the canvas. Paths, pens and texts are built when they change, never in ``paint``.

No item takes the mouse: the tool in hand finds what lies under the pointer from the plan.
"""

import math
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import (
    QGraphicsItem,
    QGraphicsPathItem,
    QGraphicsScene,
    QStyleOptionGraphicsItem,
    QWidget,
)

from spring_layout.deck.model import Coil
from spring_layout.gui.canvas.pens import Pens
from spring_layout.gui.theme.look import font

PAPER, WEBBING, RAIL, EDGE, SPRING, TIE, KNOT, ANCHOR, LABEL, GUIDE, NUMBER, HANDLE = range(12)
"""From below to above."""


def add_path(scene: QGraphicsScene, layer: int, pen: QPen, brush: QBrush) -> QGraphicsPathItem:
    """A new path item in ``scene``."""
    item = QGraphicsPathItem()
    item.setPen(pen)
    item.setBrush(brush)
    item.setZValue(layer)
    scene.addItem(item)
    return item


def diamond(half: float) -> QPainterPath:
    """A diamond about the origin."""
    path = QPainterPath(QPointF(0, -half))
    for x, y in ((half, 0), (0, half), (-half, 0)):
        path.lineTo(x, y)
    path.closeSubpath()
    return path


@lru_cache(maxsize=64)
def spiral(coil: Coil) -> QPainterPath:
    """The upper half of a coil seen from above, from the top coil in to the waist, mm."""
    top, waist = coil.top_radius, coil.waist_diameter / 2
    turns = max(1.0, coil.turns / 2 - 0.5)
    steps = max(12, round(turns * 20))
    path = QPainterPath(QPointF(top, 0))
    for i in range(1, steps + 1):
        share = i / steps
        radius, angle = top + (waist - top) * share, 2 * math.pi * turns * share
        path.lineTo(radius * math.cos(angle), radius * math.sin(angle))
    return path


class SpringItem(QGraphicsItem):
    """A spring seen from above: the top coil as its wire, the turns below it faintly."""

    def __init__(self, coil: Coil, pens: Pens) -> None:
        super().__init__()
        self.setZValue(SPRING)
        self.setCacheMode(QGraphicsItem.CacheMode.DeviceCoordinateCache)
        self.is_picked = self.is_held = self.is_quiet = False
        self.wear(coil, pens)

    def wear(self, coil: Coil, pens: Pens) -> None:
        """Takes the coil's size and the palette's pens."""
        self.prepareGeometryChange()
        self.coil = coil
        self._pens = pens
        self._path = spiral(coil)
        self._wire = pens.wire(coil.wire, self.is_quiet)
        radius, half = coil.top_radius, coil.wire / 2
        self._ring = QRectF(
            half - radius, half - radius, 2 * radius - 2 * half, 2 * radius - 2 * half
        )
        self._disc = QRectF(-radius, -radius, 2 * radius, 2 * radius)
        self._bounds = self._disc.adjusted(-6, -6, 6, 6)
        self.update()

    def show_as(self, picked: bool, held: bool, quiet: bool) -> None:
        """Whether it is selected, kept here, and in the background."""
        now = (picked, held, quiet)
        if now != (self.is_picked, self.is_held, self.is_quiet):
            self.is_picked, self.is_held, self.is_quiet = now
            self._wire = self._pens.wire(self.coil.wire, quiet)
            self.update()

    def boundingRect(self) -> QRectF:
        return self._bounds

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        pens = self._pens
        painter.setPen(pens.none)
        painter.setBrush(pens.picked_steel if self.is_picked else pens.steel)
        painter.drawEllipse(self._disc)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pens.ring_faint)
        painter.drawPath(self._path)
        painter.setPen(self._wire)
        painter.drawEllipse(self._ring)
        if self.is_picked:
            painter.setPen(pens.halo)
            painter.drawEllipse(self._disc)


class Symbol(QGraphicsPathItem):
    """A small sign in screen pixels."""

    def __init__(self, path: QPainterPath, pen: QPen, brush: QBrush, layer: int) -> None:
        super().__init__(path)
        self.setPen(pen)
        self.setBrush(brush)
        self.setZValue(layer)

    def keep_size(self, zoom: float) -> None:
        """Stays the same size at ``zoom`` px/mm."""
        self.setScale(1 / zoom)


class Label(QGraphicsItem):
    """A word or a number on a small ground of its own, in screen pixels."""

    def __init__(self, layer: int = LABEL, size: float = 9.0, bold: bool = False) -> None:
        super().__init__()
        self.setZValue(layer)
        self.setCacheMode(QGraphicsItem.CacheMode.DeviceCoordinateCache)
        self._font = font(size, bold)
        self._words = ""
        self._said: tuple[str | None, ...] = ()
        self._ink, self._ground, self._rim = QPen(), QBrush(), QPen(Qt.PenStyle.NoPen)
        self._box = QRectF()
        self._offset = QPointF()

    def write(
        self, words: str, ink: str, ground: str | None = None, rim: str | None = None
    ) -> None:
        """What it says, and in what colours; without ``ground`` nothing lies under the words."""
        said = (words, ink, ground, rim)
        if said == self._said:
            return
        self._said = said
        self.prepareGeometryChange()
        self._words = words
        self._ink = QPen(QColor(ink))
        self._ground = QBrush(QColor(ground)) if ground else QBrush(Qt.BrushStyle.NoBrush)
        self._rim = QPen(QColor(rim), 1.0) if rim else QPen(Qt.PenStyle.NoPen)
        width, height = _extent(words, self._font)
        self._box = QRectF(-width / 2 - 4, -height / 2 - 1, width + 8, height + 2)
        self._box.translate(self._offset)
        self.update()

    def shift(self, x: float, y: float) -> None:
        """Stands this far from its place, px."""
        self.prepareGeometryChange()
        self._box.translate(x - self._offset.x(), y - self._offset.y())
        self._offset = QPointF(x, y)

    def keep_size(self, zoom: float) -> None:
        """Stays the same size at ``zoom`` px/mm."""
        self.setScale(1 / zoom)

    @property
    def words(self) -> str:
        """What it says."""
        return self._words

    def boundingRect(self) -> QRectF:
        return self._box.adjusted(-1, -1, 1, 1)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        painter.setFont(self._font)
        if self._ground.style() != Qt.BrushStyle.NoBrush:
            painter.setPen(self._rim)
            painter.setBrush(self._ground)
            painter.drawRoundedRect(self._box, 4, 4)
        painter.setPen(self._ink)
        painter.drawText(self._box, Qt.AlignmentFlag.AlignCenter, self._words)


Steady = Symbol | Label
"""Items drawn in screen pixels about their place, as large at every zoom."""


@lru_cache(maxsize=4096)
def _measured(words: str, key: str) -> tuple[float, float]:
    made = QFont()
    made.fromString(key)
    metrics = QFontMetricsF(made)
    return metrics.horizontalAdvance(words), metrics.height()


def _extent(words: str, used: QFont) -> tuple[float, float]:
    return _measured(words, used.toString())
