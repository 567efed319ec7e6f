"""The webbing as pale strips, woven over and under. The rails lie over its ends."""

import shapely
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QBrush, QPainterPath, QPolygonF
from PySide6.QtWidgets import QGraphicsScene

from spring_layout.geometry.outline import Outline
from spring_layout.gui.canvas.items import WEBBING, add_path
from spring_layout.gui.canvas.pens import Pens
from spring_layout.planning.parts import Strip, WebbingPlan
from spring_layout.planning.webbing import goes_over


class WebbingLayer:
    """Level strips, upright strips over them, and the patches where a level one comes over."""

    def __init__(self, scene: QGraphicsScene, pens: Pens) -> None:
        self.shown: WebbingPlan | None = None
        """The strips on show."""
        self._items = [add_path(scene, WEBBING, pens.hair, QBrush()) for _ in range(3)]
        self.restyle(pens)

    def restyle(self, pens: Pens) -> None:
        """Takes another palette."""
        for item in self._items:
            item.setPen(pens.webbing_edge)
            item.setBrush(pens.webbing)

    def show(self, webbing: WebbingPlan, outline: Outline) -> None:
        """Shows the strips of a plan, what lies in the opening of each."""
        if webbing == self.shown:
            return
        self.shown = webbing
        level, upright = webbing.of("side-to-side"), webbing.of("front-to-back")
        for item, strips in zip(self._items, (level, upright), strict=False):
            path = QPainterPath()
            for strip in strips:
                path.addPath(_within(outline, rectangle(strip)))
            item.setPath(path)
        self._items[2].setPath(_patches(outline, upright, level))

    def clear(self) -> None:
        """Shows no webbing."""
        self.shown = None
        for item in self._items:
            item.setPath(QPainterPath())


def rectangle(strip: Strip) -> QRectF:
    """What a strip covers, mm."""
    half, long = strip.width / 2, strip.finish - strip.start
    if strip.run == "front-to-back":
        return QRectF(strip.at - half, strip.start, strip.width, long)
    return QRectF(strip.start, strip.at - half, long, strip.width)


def _within(outline: Outline, box: QRectF) -> QPainterPath:
    """What of a rectangle lies in the opening: on a round frame its corners would stick out."""
    path = QPainterPath()
    inside = shapely.clip_by_rect(outline.polygon, box.left(), box.top(), box.right(), box.bottom())
    for part in shapely.get_parts(inside):
        if isinstance(part, shapely.Polygon) and not part.is_empty:
            path.addPolygon(QPolygonF([QPointF(x, y) for x, y in part.exterior.coords]))
    return path


def _patches(
    outline: Outline, upright: tuple[Strip, ...], level: tuple[Strip, ...]
) -> QPainterPath:
    """The pieces of level strips that pass over upright ones."""
    path = QPainterPath()
    for i, one in enumerate(upright):
        for j, other in enumerate(level):
            if not goes_over(i, j):
                path.addPath(_within(outline, rectangle(one).intersected(rectangle(other))))
    return path
