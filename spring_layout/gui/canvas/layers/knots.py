"""Cross knots as diamonds, tack points as bars with the number of their tie."""

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath
from PySide6.QtWidgets import QGraphicsScene

from spring_layout.deck.model import Deck, Run
from spring_layout.geometry.outline import Outline
from spring_layout.gui.canvas.items import ANCHOR, KNOT, LABEL, Label, Symbol, diamond
from spring_layout.gui.canvas.pens import Pens
from spring_layout.planning.parts import Crossing, Line, Ties

HALF = 4.5
"""px; half the height of a diamond."""
AWAY = 13.0
"""px from the rail's outer edge to the middle of a tack point's number."""
LEVEL = 15.0
"""px farther out for a number that has no room beside the one before it."""
MOST_LEVELS = 3


class KnotLayer:
    """An open diamond for each cross knot between springs, a filled one for those at a spring."""

    def __init__(self, scene: QGraphicsScene, pens: Pens) -> None:
        self._scene = scene
        self._pens = pens
        self._zoom = 1.0
        self._visible = True
        self._waiting: tuple[Crossing, ...] = ()
        self._looks: object = None
        self._shown: list[Crossing] = []
        self.signs: list[Symbol] = []

    def restyle(self, pens: Pens) -> None:
        """Takes another palette."""
        self._pens = pens
        for sign, crossing in zip(self.signs, self._shown, strict=True):
            self._wear(sign, crossing)

    def show(self, crossings: tuple[Crossing, ...]) -> None:
        """Shows the cross knots of a plan; while they are hidden they wait."""
        self._waiting = crossings
        if self._visible:
            self._show(crossings)

    def _show(self, crossings: tuple[Crossing, ...]) -> None:
        while len(self.signs) > len(crossings):
            self._scene.removeItem(self.signs.pop())
        while len(self.signs) < len(crossings):
            sign = Symbol(diamond(HALF), self._pens.knot, self._pens.paper, KNOT)
            sign.setScale(1 / self._zoom)
            sign.setVisible(self._visible)
            self._scene.addItem(sign)
            self.signs.append(sign)
        for i, (sign, crossing) in enumerate(zip(self.signs, crossings, strict=True)):
            if i >= len(self._shown) or self._shown[i] != crossing:
                sign.setPos(*crossing.place)
                self._wear(sign, crossing)
        self._shown = list(crossings)

    def _wear(self, sign: Symbol, crossing: Crossing) -> None:
        sign.setPen(self._pens.knot)
        sign.setBrush(self._pens.paper if crossing.spring is None else self._pens.ink)

    def show_as(self, visible: bool, step: int | None) -> None:
        """Shows them at all, and of those only the ones tied up to ``step``."""
        looks = (visible, step, self._waiting)
        if looks == self._looks:
            return
        self._looks = looks
        if visible and not self._visible:
            self._visible = True
            self._show(self._waiting)
        self._visible = visible
        for sign, crossing in zip(self.signs, self._shown, strict=True):
            sign.setVisible(visible and (step is None or crossing.tied_by <= step))

    def keep_size(self, zoom: float) -> None:
        """Keeps the diamonds as large as they are at ``zoom`` px/mm."""
        self._zoom = zoom
        for sign in self.signs:
            sign.setScale(1 / zoom)


class AnchorLayer:
    """A short bar across the end of each tie, and its number outside the rail."""

    def __init__(self, scene: QGraphicsScene, pens: Pens) -> None:
        self._scene = scene
        self._pens = pens
        self._zoom = 1.0
        self._visible = True
        self._waiting: tuple[Deck, Outline, Ties] | None = None
        self._shown: list[tuple[Line, int]] = []
        self.bars: list[Symbol] = []
        self.numbers: list[Label] = []
        self._written: list[tuple[int, Run] | None] = []
        self._seats: list[_Seat] = []

    def restyle(self, pens: Pens) -> None:
        """Takes another palette."""
        self._pens = pens
        self._written = [None] * len(self.numbers)

    def show(self, deck: Deck, outline: Outline, ties: Ties) -> None:
        """Shows the tack points of a plan; while they are hidden they wait."""
        self._waiting = (deck, outline, ties)
        if self._visible:
            self._show(deck, outline, ties)

    def _show(self, deck: Deck, outline: Outline, ties: Ties) -> None:
        self._shown = [
            (line, end) for line in ties.lines for end in (0, 1) if line.anchors[end] is not None
        ]
        self._resize(len(self._shown))
        self._seats = []
        for i, (line, end) in enumerate(self._shown):
            self._place(i, deck, outline, line, end)
        self._spread()

    def clear(self) -> None:
        """Shows no tack points."""
        self._waiting = None
        self._shown, self._seats = [], []
        self._resize(0)

    def show_as(self, visible: bool, step: int | None) -> None:
        """Shows them at all, and of those only the ones tied up to ``step``."""
        if visible and not self._visible and self._waiting is not None:
            self._visible = True
            self._show(*self._waiting)
        self._visible = visible
        for bar, number, (line, _) in zip(self.bars, self.numbers, self._shown, strict=True):
            tied = step is None or line.number <= step
            bar.setVisible(visible and tied)
            number.setVisible(visible and tied)

    def keep_size(self, zoom: float) -> None:
        """Keeps bars and numbers as large as they are at ``zoom`` px/mm."""
        self._zoom = zoom
        for item in [*self.bars, *self.numbers]:
            item.setScale(1 / zoom)
        self._spread()

    def _place(self, i: int, deck: Deck, outline: Outline, line: Line, end: int) -> None:
        anchor, side, along = line.anchors[end], line.sides[end], line.along[end]
        if anchor is None or side is None or along is None:
            return
        curve = outline.sides[side]
        heading = math.degrees(float(curve.heading(along)))
        bar, number = self.bars[i], self.numbers[i]
        bar.setPos(*anchor)
        bar.setRotation(heading)
        outward = curve.normal(along)
        edge = curve.point(along, deck.frame.width_of(side))
        number.setPos(float(edge[0]), float(edge[1]))
        self._seats.append(_Seat(number, side, along, tuple(outward.tolist())))
        if self._written[i] != (line.number, line.run):
            self._written[i] = (line.number, line.run)
            bar.setPen(self._pens.anchor[line.run])
            number.write(str(line.number), self._pens.palette.run(line.run))

    def _spread(self) -> None:
        """Numbers that would overlap along their rail go farther out, in turn."""
        ends: dict[tuple[int, int], float] = {}
        for seat in sorted(self._seats, key=lambda seat: (seat.side, seat.along)):
            box = seat.number.boundingRect()
            x, y = seat.outward
            need = abs(y) * (box.width() - 4) + abs(x) * (box.height() - 4)
            at = seat.along * self._zoom
            free = (k for k in range(MOST_LEVELS) if at - need >= ends.get((seat.side, k), -1e9))
            level = next(free, 0)
            ends[seat.side, level] = at
            away = AWAY + level * LEVEL
            seat.number.shift(x * away, y * away)

    def _resize(self, count: int) -> None:
        while len(self.bars) > count:
            self._scene.removeItem(self.bars.pop())
            self._scene.removeItem(self.numbers.pop())
            self._written.pop()
        while len(self.bars) < count:
            bar = Symbol(_bar(), self._pens.none, self._pens.none.brush(), ANCHOR)
            number = Label(LABEL, 9.0)
            for item in (bar, number):
                item.setScale(1 / self._zoom)
                item.setVisible(self._visible)
                self._scene.addItem(item)
            self.bars.append(bar)
            self.numbers.append(number)
            self._written.append(None)


@dataclass(frozen=True)
class _Seat:
    """Where a number stands: its side, its place along it (mm), the way outward."""

    number: Label
    side: int
    along: float
    outward: tuple[float, ...]


def _bar() -> QPainterPath:
    path = QPainterPath(QPointF(-5.5, 0))
    path.lineTo(5.5, 0)
    return path
