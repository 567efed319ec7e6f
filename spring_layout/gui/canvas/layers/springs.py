"""The springs as rings, with their labels and the marks of their findings."""

from collections.abc import Mapping

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath
from PySide6.QtWidgets import QGraphicsScene

from spring_layout.deck.model import Coil, Deck, Spring
from spring_layout.gui.canvas.items import LABEL, Label, SpringItem, Steady, Symbol
from spring_layout.gui.canvas.pens import Pens

_INSIDE = (0.51, 0.21)
"""Of the top coil's radius: where the label stands in a ring with room, between the ties."""
_OUTSIDE = (0.38, 0.92)
"""The way to the label of a small ring: outside it, between the tie and the diagonal."""
_BESIDE = 10.0
"""px from a small ring to the middle of its label."""
_ROOMY, _LEAST = 62.0, 20.0
"""px across: from where the label goes inside the ring, and below which there is none."""


class SpringLayer:
    """A ring, a label and, where there is a finding, a mark for every spring."""

    def __init__(self, scene: QGraphicsScene, pens: Pens) -> None:
        self._scene = scene
        self._pens = pens
        self._zoom = 1.0
        self.rings: dict[str, SpringItem] = {}
        self.labels: dict[str, Label] = {}
        self._marks: dict[str, Symbol] = {}
        self._pins: dict[str, Symbol] = {}
        self._shown: dict[str, Spring] = {}
        self._looks: object = None

    def restyle(self, pens: Pens) -> None:
        """Takes another palette."""
        self._pens = pens
        self._looks = None
        for item in [*self.labels.values(), *self._marks.values(), *self._pins.values()]:
            self._scene.removeItem(item)
        self.labels, self._marks, self._pins = {}, {}, {}
        for ring in self.rings.values():
            ring.wear(ring.coil, pens)

    def show(self, deck: Deck, picked: frozenset[str], quiet: bool) -> None:
        """Moves, adds and removes rings until they are those of ``deck``."""
        now = {spring.id: spring for spring in deck.springs}
        for gone in self.rings.keys() - now.keys():
            self._drop(gone)
        looks = (deck.coils, picked, quiet)
        same_looks, self._looks = looks == self._looks, looks
        coils = {coil.id: coil for coil in deck.coils}
        for name, spring in now.items():
            # most springs stand still while one is dragged
            if not (same_looks and self._shown.get(name) == spring):
                self._show_one(spring, coils[spring.coil], name in picked, quiet)
        self._shown = now

    def _show_one(self, spring: Spring, coil: Coil, picked: bool, quiet: bool) -> None:
        name = spring.id
        ring = self.rings.get(name)
        if ring is None:
            ring = self.rings[name] = SpringItem(coil, self._pens)
            self._scene.addItem(ring)
        elif ring.coil != coil:
            ring.wear(coil, self._pens)
        ring.setPos(spring.x, spring.y)
        self._place_label(name, spring, coil.top_radius)
        ring.show_as(picked, spring.held, quiet)
        self._pin(name, spring, coil.top_radius)

    def write(self, labels: Mapping[str, str]) -> None:
        """Writes the springs' labels."""
        for name, ring in self.rings.items():
            label = self.labels.get(name)
            if label is None:
                label = self.labels[name] = Label(LABEL, 9.0, bold=True)
                label.keep_size(self._zoom)
                self._scene.addItem(label)
                self._place_label(name, self._shown[name], ring.coil.top_radius)
            words = labels.get(name, "")
            if label.words != words:
                label.write(words, self._pens.palette.ink)
                label.setVisible(bool(words) and self._has_room(ring))

    def mark(self, wrong: frozenset[str], doubtful: frozenset[str]) -> None:
        """Marks the springs that have findings."""
        wanted = wrong | doubtful
        for gone in self._marks.keys() - wanted:
            self._scene.removeItem(self._marks.pop(gone))
        for name in wanted & self.rings.keys():
            if name not in self._marks:
                self._marks[name] = self._add(
                    Symbol(_warning(), self._pens.none, self._pens.mark, LABEL)
                )
            sign = self._marks[name]
            plain = self._pens.mark if name in wrong else self._pens.field
            sign.setBrush(plain)
            sign.setPen(self._pens.mark_edge)
            ring = self.rings[name]
            sign.setPos(ring.pos() + QPointF(0.71, -0.71) * ring.coil.top_radius)

    def keep_size(self, zoom: float) -> None:
        """Keeps labels and marks as large as they are at ``zoom`` px/mm."""
        self._zoom = zoom
        for name, label in self.labels.items():
            label.keep_size(zoom)
            label.setVisible(bool(label.words) and self._has_room(self.rings[name]))
            self._place_label(name, self._shown[name], self.rings[name].coil.top_radius)
        for sign in [*self._marks.values(), *self._pins.values()]:
            sign.keep_size(zoom)

    def steady(self) -> list[Steady]:
        """The items that keep their size on screen (kept by this layer itself)."""
        return []

    def clear(self) -> None:
        """Shows no springs."""
        for name in list(self.rings):
            self._drop(name)
        self._shown = {}
        self._looks = None

    def _has_room(self, ring: SpringItem) -> bool:
        return ring.coil.top_diameter * self._zoom >= _LEAST

    def _drop(self, name: str) -> None:
        self._scene.removeItem(self.rings.pop(name))
        for items in (self.labels, self._marks, self._pins):
            item = items.pop(name, None)
            if item is not None:
                self._scene.removeItem(item)

    def _add(self, sign: Symbol) -> Symbol:
        sign.keep_size(self._zoom)
        self._scene.addItem(sign)
        return sign

    def _place_label(self, name: str, spring: Spring, radius: float) -> None:
        label = self.labels.get(name)
        if label is not None:
            way, far = _INSIDE, radius
            if 2 * radius * self._zoom < _ROOMY:
                way, far = _OUTSIDE, radius + _BESIDE / self._zoom
            label.setPos(spring.x + way[0] * far, spring.y + way[1] * far)
        sign = self._marks.get(name)
        if sign is not None:
            sign.setPos(spring.x + 0.71 * radius, spring.y - 0.71 * radius)

    def _pin(self, name: str, spring: Spring, radius: float) -> None:
        """A small pin on a spring that is kept where it is."""
        if not spring.held:
            pin = self._pins.pop(name, None)
            if pin is not None:
                self._scene.removeItem(pin)
            return
        if name not in self._pins:
            self._pins[name] = self._add(
                Symbol(_pin_path(), self._pens.hair, self._pens.ink, LABEL)
            )
        self._pins[name].setPos(spring.x - 0.71 * radius, spring.y - 0.71 * radius)


def _warning() -> QPainterPath:
    """A small triangle."""
    path = QPainterPath(QPointF(0, -6))
    path.lineTo(6.5, 5)
    path.lineTo(-6.5, 5)
    path.closeSubpath()
    return path


def _pin_path() -> QPainterPath:
    """A pin: a round head on a point."""
    path = QPainterPath(QPointF(0, 9))
    path.lineTo(-4.5, -1)
    path.arcTo(-5, -8, 10, 10, 205, -230)
    path.closeSubpath()
    return path
