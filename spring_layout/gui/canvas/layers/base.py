"""The base on the canvas: the strip that is picked, and the stitches in the order they are sewn."""

import math
from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QPointF
from PySide6.QtGui import QBrush, QPainterPath
from PySide6.QtWidgets import QGraphicsPathItem, QGraphicsScene

from spring_layout.gui.canvas.items import GUIDE, KNOT, LABEL, Label, Symbol, add_path
from spring_layout.gui.canvas.layers.webbing import rectangle
from spring_layout.gui.canvas.pens import Pens
from spring_layout.planning.parts import Strip
from spring_layout.planning.stitching import StitchingPlan

Place = tuple[float, float]
STITCH = 5.0
"""mm; half a stitch's length across the wire."""


class BaseLayer:
    """Stitches as short bars, the way of their twine, each foot's number, the new lengths."""

    def __init__(self, scene: QGraphicsScene, pens: Pens) -> None:
        self._scene = scene
        self._pens = pens
        self._zoom = 1.0
        self._route: StitchingPlan | None = None
        self._centres: dict[str, Place] = {}
        self._picked = add_path(scene, GUIDE, pens.picked_edge, QBrush())
        self._way = add_path(scene, KNOT, pens.none, QBrush())
        self.stitches: list[Symbol] = []
        self.numbers: list[Label] = []
        self.begins: list[Symbol] = []
        self.restyle(pens)

    @property
    def way(self) -> QGraphicsPathItem:
        """The way of the stitching twine."""
        return self._way

    def restyle(self, pens: Pens) -> None:
        """Takes another palette."""
        self._pens = pens
        self._picked.setPen(pens.picked_edge)
        self._way.setPen(pens.steady(pens.palette.ink, 1.25))
        route, self._route = self._route, None
        self.show_route(route, self._centres)

    def show_picked(self, strips: Sequence[Strip]) -> None:
        """Outlines the strip that is picked."""
        path = QPainterPath()
        for strip in strips:
            path.addRect(rectangle(strip))
        self._picked.setPath(path)

    def show_route(self, route: StitchingPlan | None, centres: dict[str, Place]) -> None:
        """Shows this route over springs that stand at ``centres``; None shows none."""
        if route is self._route and centres == self._centres:
            return
        self._clear()
        self._route, self._centres = route, centres
        if route is None or not route.stitches:
            return
        path = QPainterPath(QPointF(*route.stitches[0].place))
        for stitch in route.stitches[1:]:
            path.lineTo(*stitch.place)
        self._way.setPath(path)
        for stitch in route.stitches:
            self._add_stitch(stitch.place, centres[stitch.spring])
        self._number_feet(route)
        for i in route.new_lengths:
            self._add(
                self.begins, Symbol(_begin(), self._pens.accent_edge, self._pens.field, LABEL)
            )
            self.begins[-1].setPos(*route.stitches[i].place)

    def keep_size(self, zoom: float) -> None:
        """Keeps stitches and numbers as large as they are at ``zoom`` px/mm."""
        self._zoom = zoom
        for label in self.numbers:
            label.keep_size(zoom)
        for sign in self.begins:
            sign.keep_size(zoom)

    def _clear(self) -> None:
        for item in (*self.stitches, *self.numbers, *self.begins):
            self._scene.removeItem(item)
        self.stitches, self.numbers, self.begins = [], [], []
        self._way.setPath(QPainterPath())

    def _add(self, items: list[Any], item: Symbol | Label) -> None:
        item.keep_size(self._zoom)
        self._scene.addItem(item)
        items.append(item)

    def _add_stitch(self, place: Place, centre: Place) -> None:
        stitch = Symbol(_stitch(), self._pens.steady(self._pens.palette.ink, 3.0), QBrush(), LABEL)
        stitch.setPos(*place)
        stitch.setRotation(math.degrees(math.atan2(place[1] - centre[1], place[0] - centre[0])))
        self._scene.addItem(stitch)
        self.stitches.append(stitch)

    def _number_feet(self, route: StitchingPlan) -> None:
        """Beside each foot's first stitch its number in the order of sewing."""
        seen: set[str] = set()
        for stitch in route.stitches:
            if stitch.spring in seen:
                continue
            seen.add(stitch.spring)
            label = Label(LABEL, 9.0, bold=True)
            palette = self._pens.palette
            label.write(str(len(seen)), palette.ink, palette.paper, palette.hair)
            label.setPos(*self._centres[stitch.spring])
            self._add(self.numbers, label)


def _stitch() -> QPainterPath:
    """A short bar across the wire, along the x axis."""
    path = QPainterPath(QPointF(-STITCH, 0))
    path.lineTo(STITCH, 0)
    return path


def _begin() -> QPainterPath:
    """A square on its corner where a new length of twine begins."""
    path = QPainterPath(QPointF(0, -6.5))
    for x, y in ((6.5, 0), (0, 6.5), (-6.5, 0)):
        path.lineTo(x, y)
    path.closeSubpath()
    return path
