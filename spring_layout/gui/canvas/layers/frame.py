"""The frame: paper in the opening, rails to width, the names of the sides, centre marks."""

import math

import numpy as np
from PySide6.QtCore import QPointF
from PySide6.QtGui import QBrush, QPainterPath, QPolygonF
from PySide6.QtWidgets import QGraphicsPathItem, QGraphicsScene

from spring_layout.deck.model import Frame
from spring_layout.drawing.rails import rail_shapes
from spring_layout.geometry.outline import Outline
from spring_layout.gui.canvas.items import EDGE, LABEL, PAPER, RAIL, Label, Steady, add_path
from spring_layout.gui.canvas.pens import Pens
from spring_layout.planning.parts import Array

BEYOND = 42.0
"""px from the rail's outer edge to a side's name, past the numbers of the tack points."""


def closed(places: Array) -> QPainterPath:
    """A closed path through (n, 2) places, mm."""
    path = opened(places)
    path.closeSubpath()
    return path


def opened(places: Array) -> QPainterPath:
    """A path through (n, 2) places, mm."""
    path = QPainterPath()
    path.addPolygon(QPolygonF([QPointF(x, y) for x, y in places.tolist()]))
    return path


def rail_paths(frame: Frame, outline: Outline) -> list[QPainterPath]:
    """The rails drawn to width, mm."""
    shapes = rail_shapes(frame, outline).values()
    return [closed(np.array(shape.exterior.coords)) for shape in shapes if not shape.is_empty]


class FrameLayer:
    """The items of the frame; built anew only when the frame is another one."""

    def __init__(self, scene: QGraphicsScene, pens: Pens) -> None:
        self._scene = scene
        self._pens = pens
        self._shown: tuple[Frame, int | None] | None = None
        self._paper = add_path(scene, PAPER, pens.none, pens.paper)
        self._rails: list[QGraphicsPathItem] = []
        self._edges: list[QGraphicsPathItem] = []
        self._marks = add_path(scene, LABEL, pens.rail_edge, QBrush())
        self.names: list[Label] = []
        self._clear = False

    def restyle(self, pens: Pens) -> None:
        """Takes another palette."""
        self._pens = pens
        self._paper.setBrush(pens.paper)
        self._marks.setPen(pens.rail_edge)
        self._shown = None

    def show(self, frame: Frame, outline: Outline, picked: int | None) -> None:
        """Shows ``frame`` with side ``picked`` selected."""
        if self._shown == (frame, picked):
            return
        self._shown = (frame, picked)
        self._paper.setPath(closed(outline.ring))
        self._show_rails(frame, outline)
        self._show_edges(frame, outline, picked)
        self._show_names(frame, outline)

    def clear_rails(self, clear: bool) -> None:
        """The names stand outside the rails, where tack points need the rails."""
        if clear != self._clear:
            self._clear = clear
            self._shown = None

    def clear(self) -> None:
        """Shows no frame."""
        self._shown = None
        for item in (self._paper, self._marks):
            item.setPath(QPainterPath())
        self._resize(self._rails, 0, RAIL)
        self._resize(self._edges, 0, EDGE)
        self._name(0)

    def steady(self) -> list[Steady]:
        """The items that keep their size on screen."""
        return list(self.names)

    def _show_rails(self, frame: Frame, outline: Outline) -> None:
        bodies = rail_paths(frame, outline)
        self._resize(self._rails, len(bodies), RAIL)
        for item, body in zip(self._rails, bodies, strict=True):
            item.setPath(body)
            item.setPen(self._pens.rail_edge)
            item.setBrush(self._pens.rail)

    def _show_edges(self, frame: Frame, outline: Outline, picked: int | None) -> None:
        self._resize(self._edges, len(frame.sides), EDGE)
        for i, (item, side, curve) in enumerate(
            zip(self._edges, frame.sides, outline.sides, strict=True)
        ):
            item.setPath(opened(curve.polyline()))
            item.setBrush(QBrush())
            plain = self._pens.open_edge if side.rail == "none" else self._pens.inside_edge
            item.setPen(self._pens.picked_edge if i == picked else plain)

    def _show_names(self, frame: Frame, outline: Outline) -> None:
        """Each name once, on the longest of the sides that bear it; a mark at each middle."""
        longest: dict[str, int] = {}
        for i, side in enumerate(frame.sides):
            best = longest.get(side.rail)
            if best is None or outline.sides[i].length > outline.sides[best].length:
                longest[side.rail] = i
        longest.pop("none", None)
        self._name(len(longest))
        marks = QPainterPath()
        for label, (rail, i) in zip(self.names, longest.items(), strict=True):
            self._set_name(label, rail.upper(), frame, outline, i)
            curve, width = outline.sides[i], frame.width_of(i)
            middle = curve.length / 2
            marks.moveTo(*curve.point(middle, width * 0.0).tolist())
            marks.lineTo(*curve.point(middle, width * 0.3).tolist())
        self._marks.setPath(marks)

    def _set_name(self, label: Label, name: str, frame: Frame, outline: Outline, side: int) -> None:
        curve = outline.sides[side]
        middle = curve.length / 2
        label.write(name, self._pens.palette.ink)
        out = frame.width_of(side) * (1.0 if self._clear else 0.64)
        label.setPos(*curve.point(middle, out).tolist())
        turned = math.degrees(float(curve.heading(middle))) % 360
        flipped = 90 < turned <= 270
        label.setRotation(turned - 180 if flipped else turned)
        label.shift(0.0, BEYOND * (1 if flipped else -1) if self._clear else 0.0)

    def _name(self, count: int) -> None:
        while len(self.names) > count:
            self._scene.removeItem(self.names.pop())
        while len(self.names) < count:
            label = Label(LABEL, 8.0, bold=True)
            self._scene.addItem(label)
            self.names.append(label)

    def _resize(self, items: list[QGraphicsPathItem], count: int, layer: int) -> None:
        while len(items) > count:
            self._scene.removeItem(items.pop())
        while len(items) < count:
            items.append(add_path(self._scene, layer, self._pens.none, QBrush()))
