"""Small pictures of a deck: the opening, its rails, its springs."""

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPixmap, QTransform
from PySide6.QtWidgets import QWidget

from spring_layout.deck.model import Deck
from spring_layout.deck.opening import outline_of
from spring_layout.gui.canvas.layers.frame import closed, rail_paths
from spring_layout.gui.canvas.pens import steady
from spring_layout.gui.theme.palettes import Palette

ROOM = 4.0
"""px kept free round the picture."""


def deck_picture(deck: Deck, size: QSize, palette: Palette, shown_on: QWidget) -> QPixmap:
    """The deck in ``size`` logical pixels, sharp on the screen of ``shown_on``."""
    scale = shown_on.devicePixelRatioF()
    return _painted(deck, size.width(), size.height(), palette, scale)


@lru_cache(maxsize=64)
def _painted(deck: Deck, width: int, height: int, palette: Palette, scale: float) -> QPixmap:
    size = QSize(width, height)
    picture = QPixmap(size * scale)
    picture.setDevicePixelRatio(scale)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint_deck(painter, deck, QRectF(QPointF(0, 0), size.toSizeF()), palette, scale)
    painter.end()
    return picture


def paint_deck(painter: QPainter, deck: Deck, room: QRectF, palette: Palette, ratio: float) -> None:
    """Paints the deck as large as ``room`` allows, at ``ratio`` device pixels to a px."""
    outline = outline_of(deck.frame)
    bodies = rail_paths(deck.frame, outline)
    box = closed(outline.ring).boundingRect()
    for body in bodies:
        box = box.united(body.boundingRect())
    painter.setTransform(_fitting(box, room.adjusted(ROOM, ROOM, -ROOM, -ROOM)), combine=True)
    painter.setPen(steady(palette.rail_edge, ratio))
    painter.setBrush(QColor(palette.rail))
    for body in bodies:
        painter.drawPath(body)
    painter.setPen(steady(palette.rail_edge, 1.5 * ratio))
    painter.setBrush(QColor(palette.paper))
    painter.drawPath(closed(outline.ring))
    painter.setPen(steady(palette.ink, 1.5 * ratio))
    painter.setBrush(QColor(palette.steel))
    for spring in deck.springs:
        radius = deck.coil_of(spring).top_radius
        painter.drawEllipse(QPointF(spring.x, spring.y), radius, radius)


def _fitting(box: QRectF, room: QRectF) -> QTransform:
    scale = min(room.width() / box.width(), room.height() / box.height())
    made = QTransform()
    made.translate(room.center().x(), room.center().y())
    made.scale(scale, scale)
    made.translate(-box.center().x(), -box.center().y())
    return made
