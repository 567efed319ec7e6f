"""A drawing inside a panel, drawn anew for the room that it has."""

import time
from collections.abc import Callable

from PySide6.QtCore import QSize, QTimer
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from spring_layout.drawing.primitives import Drawing
from spring_layout.gui.workbench import Workbench
from spring_layout.qtrender.painter_pen import paint

Draw = Callable[[tuple[float, float]], Drawing | None]
PAUSE = 80
"""ms; while the hand is moving something a picture is drawn no oftener than this."""
SHARE = 8
"""Times as long as it took to draw the picture must pass before it is drawn again."""


class DrawnPicture(QWidget):
    """Shows what ``draw`` gives for a room of so many millimetres; draws only while it is seen."""

    def __init__(self, bench: Workbench, name: str, draw: Draw, least: QSize) -> None:
        super().__init__()
        self._bench, self._draw, self._least = bench, draw, least
        self.drawing: Drawing | None = None
        self._pause = QTimer(self, singleShot=True, interval=PAUSE)
        self._pause.timeout.connect(self._draw_now)
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        bench.look_changed.connect(self.follow)

    def sizeHint(self) -> QSize:
        return self._least

    def minimumSizeHint(self) -> QSize:
        return self._least

    def follow(self) -> None:
        """Takes up the plan: at once, or shortly while the hand is moving something."""
        if not self.isVisible():
            return
        if self._bench.document.is_previewing:
            if not self._pause.isActive():
                self._pause.start()
        else:
            self._draw_now()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._draw_now()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self.isVisible():
            self._draw_now()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._bench.palette.paper))
        if self.drawing is not None:
            paint(self.drawing, painter, self._dots())
        painter.end()

    def _dots(self) -> float:
        return self.logicalDpiX() / 25.4

    def _draw_now(self) -> None:
        self._pause.stop()
        begun = time.perf_counter()
        dots = self._dots()
        self.drawing = self._draw((self.width() / dots, self.height() / dots))
        told = self.drawing.description if self.drawing else ""
        self.setAccessibleDescription(self._bench.words.retold(told))
        self.update()
        taken = 1000 * (time.perf_counter() - begun)
        self._pause.setInterval(max(PAUSE, round(SHARE * taken)))
