"""The rulers along two edges of the canvas, in the deck's units, from the middle and the back."""

import math

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPixmap
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from spring_layout.gui.canvas.view import DeckView
from spring_layout.gui.theme.look import font
from spring_layout.gui.workbench import Workbench
from spring_layout.units import MM_PER_INCH

BREADTH = 26
"""px."""
LEAST_STEP = 8.0
"""px between the smallest marks."""
LEAST_NUMBER = 46.0
"""px between two numbers."""
MARGIN = 12
"""px from the ruler's ends that no number crosses."""
_STEPS_IN = (1 / 8, 1 / 4, 1 / 2, 1, 2, 6, 12, 24, 48)
_STEPS_MM = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000)


def steps_for(zoom: float, inches: bool) -> tuple[float, float]:
    """(step of the marks, step of the numbers), mm, at ``zoom`` px/mm."""
    unit = MM_PER_INCH if inches else 1.0
    steps = [step * unit for step in (_STEPS_IN if inches else _STEPS_MM)]
    mark = next((s for s in steps if s * zoom >= LEAST_STEP), steps[-1])
    multiples = [s for s in steps if s >= mark and abs(s / mark - round(s / mark)) < 1e-9]
    number = next((s for s in multiples if s * zoom >= LEAST_NUMBER), multiples[-1])
    return mark, number


class Ruler(QWidget):
    """One ruler; ``across`` is the one along the upper edge."""

    def __init__(self, bench: Workbench, view: DeckView, across: bool) -> None:
        super().__init__()
        self._bench, self._view, self._across = bench, view, across
        self._pointer: float | None = None
        self._drawn: tuple[object, ...] = ()
        self._marks = QPixmap()
        policy = QSizePolicy.Policy
        if across:
            self.setSizePolicy(policy.Expanding, policy.Fixed)
        else:
            self.setSizePolicy(policy.Fixed, policy.Expanding)
        self._font = font(8.0)
        # the marks cover it whole: nothing below it need be painted
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        view.zoomed.connect(lambda _: self.update())
        view.pointer_moved.connect(self._point)
        bench.planner.spaces_changed.connect(self._follow)
        bench.look_changed.connect(self.update)

    def sizeHint(self) -> QSize:
        return QSize(BREADTH, BREADTH)

    def paintEvent(self, event: QPaintEvent) -> None:
        self._draw_marks()
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._marks)
        self._paint_pointer(painter)
        painter.end()

    def _follow(self) -> None:
        """Paints anew where the deck has other marks; a spring in the hand changes none."""
        if self._wanted() != self._drawn:
            self.update()

    def _wanted(self) -> tuple[object, ...]:
        bench, way = self._bench, self._view.viewportTransform()
        at = (way.m11(), way.dx() if self._across else way.dy(), self.width(), self.height())
        return at, bench.units, bench.origin(), bench.palette.name, self.devicePixelRatioF()

    def _draw_marks(self) -> None:
        """Draws the ruler without the pointer's mark, unless it is drawn already."""
        wanted = self._wanted()
        if wanted == self._drawn:
            return
        self._drawn = wanted
        scale = self.devicePixelRatioF()
        self._marks = QPixmap(self.size() * scale)
        self._marks.setDevicePixelRatio(scale)
        painter = QPainter(self._marks)
        self._paint_ruler(painter)
        painter.end()

    def _paint_ruler(self, painter: QPainter) -> None:
        palette = self._bench.palette
        painter.fillRect(self.rect(), QColor(palette.paper))
        painter.setFont(self._font)
        painter.setPen(QPen(QColor(palette.hair), 1))
        if self._across:
            painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)
        else:
            painter.drawLine(self.width() - 1, 0, self.width() - 1, self.height())
        self._paint_marks(painter)

    def _paint_marks(self, painter: QPainter) -> None:
        mark, number = steps_for(self._view.zoom, self._bench.units == "in")
        origin = self._bench.origin()[0 if self._across else 1]
        low, high = self._range()
        painter.setPen(QPen(QColor(self._bench.palette.faint), 1))
        for i in range(math.ceil((low - origin) / mark), math.floor((high - origin) / mark) + 1):
            value = i * mark
            at = self._pixel(origin + value)
            is_number = abs(value / number - round(value / number)) < 1e-6
            self._paint_mark(painter, at, 9 if is_number else 4)
            if is_number and MARGIN < at < self._long - MARGIN:
                self._paint_number(painter, at, abs(value))

    def _paint_mark(self, painter: QPainter, at: float, long: float) -> None:
        if self._across:
            painter.drawLine(QPointF(at, BREADTH - long), QPointF(at, BREADTH))
        else:
            painter.drawLine(QPointF(BREADTH - long, at), QPointF(BREADTH, at))

    def _paint_number(self, painter: QPainter, at: float, value: float) -> None:
        words = self._bench.length(value, "exact", unit=False)
        painter.save()
        if self._across:
            painter.drawText(
                QRectF(at - 40, 0, 80, BREADTH - 9), Qt.AlignmentFlag.AlignCenter, words
            )
        else:
            painter.translate(0, at)
            painter.rotate(-90)
            painter.drawText(QRectF(-40, 0, 80, BREADTH - 9), Qt.AlignmentFlag.AlignCenter, words)
        painter.restore()

    def _paint_pointer(self, painter: QPainter) -> None:
        if self._pointer is None:
            return
        painter.setPen(QPen(QColor(self._bench.palette.accent), 1.5))
        self._paint_mark(painter, self._pixel(self._pointer), BREADTH)

    @property
    def _long(self) -> int:
        return self.width() if self._across else self.height()

    def _range(self) -> tuple[float, float]:
        size = self._long
        back = self._view.viewportTransform().inverted()[0]
        low, high = back.map(QPointF(0, 0)), back.map(QPointF(size, size))
        return (low.x(), high.x()) if self._across else (low.y(), high.y())

    def _pixel(self, value: float) -> float:
        at = self._view.viewportTransform().map(QPointF(value, value))
        return at.x() if self._across else at.y()

    def _point(self, x: float, y: float) -> None:
        old, self._pointer = self._pointer, x if self._across else y
        for value in (old, self._pointer):
            if value is not None:
                at = round(self._pixel(value))
                strip = (at - 2, 0, 5, BREADTH) if self._across else (0, at - 2, BREADTH, 5)
                self.update(*strip)


class RuledView(QWidget):
    """The canvas with its two rulers."""

    def __init__(self, bench: Workbench, view: DeckView) -> None:
        super().__init__()
        self._corner = QWidget()
        self._corner.setObjectName("sheet")
        self._corner.setFixedSize(BREADTH, BREADTH)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(0)
        grid.addWidget(self._corner, 0, 0)
        grid.addWidget(Ruler(bench, view, across=True), 0, 1)
        grid.addWidget(Ruler(bench, view, across=False), 1, 0)
        grid.addWidget(view, 1, 1)
