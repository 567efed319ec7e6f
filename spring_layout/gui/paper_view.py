"""The sheet as it will print, on the desk: fitted, or looked at closely."""

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPicture, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import (
    QFrame,
    QGraphicsItem,
    QGraphicsScene,
    QGraphicsView,
    QStyleOptionGraphicsItem,
    QWidget,
)

from spring_layout.drawing.primitives import Drawing
from spring_layout.gui.panels.fields import label
from spring_layout.gui.panels.page_turner import HEIGHT, PageTurner
from spring_layout.gui.workbench import Workbench
from spring_layout.qtrender.painter_pen import paint

MARGIN = 6.0
"""mm of desk round the sheet."""
PAPER = "#FFFFFF"
BESIDE = 48
"""px of desk at both sides of a sentence that stands in for the page."""
SHADOW = 1.2
"""mm."""


class SheetItem(QGraphicsItem):
    """One sheet of paper with its drawing, in millimetres."""

    def __init__(self) -> None:
        super().__init__()
        self._picture = QPicture()
        self._sheet = QRectF()
        self._edge = QColor("#000000")

    def show_drawing(self, drawing: Drawing, edge: str) -> None:
        """Takes another drawing."""
        self.prepareGeometryChange()
        self._edge = QColor(edge)
        self._sheet = QRectF(0, 0, drawing.width, drawing.height)
        self._picture = QPicture()
        painter = QPainter(self._picture)
        paint(drawing, painter, 1.0)
        painter.end()
        self.update()

    def show_nothing(self) -> None:
        """There is no sheet."""
        self.prepareGeometryChange()
        self._sheet, self._picture = QRectF(), QPicture()
        self.update()

    @property
    def sheet(self) -> QRectF:
        """The sheet, mm."""
        return self._sheet

    def boundingRect(self) -> QRectF:
        return self._sheet.adjusted(-1, -1, SHADOW + 1, SHADOW + 1)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        painter.fillRect(self._sheet.translated(SHADOW, SHADOW), self._edge)
        painter.fillRect(self._sheet, QColor(PAPER))
        painter.save()
        painter.setClipRect(self._sheet)
        self._picture.play(painter)
        painter.restore()


class PaperView(QGraphicsView):
    """Shows a page; wheel zooms about the pointer, dragging moves it, page keys turn it.

    Under it lies the bar that turns the pages.
    """

    turned = Signal(int)
    """By so many pages, forward or back."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__()
        self._bench = bench
        self._scene = QGraphicsScene(self)
        self.sheet = SheetItem()
        self._scene.addItem(self.sheet)
        self.setScene(self._scene)
        self._is_fitted = True
        self.turner = PageTurner(bench)
        self.turner.setParent(self)
        self.why = label("")
        self.why.setParent(self.viewport())
        self.why.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.why.setWordWrap(True)
        self.why.hide()
        self.setViewportMargins(0, 0, 0, HEIGHT)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setDragMode(QGraphicsView.DragMode.ScrollHandDrag)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.AnchorUnderMouse)
        self.setAccessibleName("The sheet as it will print")
        bench.look_changed.connect(self._restyle)
        self._restyle()

    def show_drawing(self, drawing: Drawing) -> None:
        """Shows a drawing; fitted unless the user looks closely."""
        self.why.hide()
        self.setAccessibleDescription(drawing.description)
        self.sheet.show_drawing(drawing, self._bench.palette.hair)
        room = self.sheet.sheet.adjusted(-MARGIN, -MARGIN, MARGIN, MARGIN)
        if room != self._scene.sceneRect():
            self._scene.setSceneRect(room)
            self._is_fitted = True
        if self._is_fitted:
            self.fit()

    def show_nothing(self, why: str) -> None:
        """Shows no page, and says why."""
        self.setAccessibleDescription(why)
        self.sheet.show_nothing()
        self.why.setText(f"There is no page to show.\n{why}")
        self._place_why()
        self.why.show()
        self.turner.show_wrong("")

    def fit(self) -> None:
        """The whole sheet."""
        self._is_fitted = True
        self.fitInView(self._scene.sceneRect(), Qt.AspectRatioMode.KeepAspectRatio)

    def zoom_by(self, factor: float) -> None:
        """Looks closer, or from farther away."""
        self._is_fitted = False
        zoom = min(max(self.transform().m11() * factor, 0.5), 60.0)
        self.scale(zoom / self.transform().m11(), zoom / self.transform().m11())

    def wheelEvent(self, event: QWheelEvent) -> None:
        self.zoom_by(1.2 ** (event.angleDelta().y() / 120))
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_PageUp: -1, Qt.Key.Key_PageDown: 1}
        if event.key() in steps:
            self.turned.emit(steps[Qt.Key(event.key())])
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.turner.setGeometry(0, self.height() - HEIGHT, self.width(), HEIGHT)
        self._place_why()
        if self._is_fitted:
            self.fit()

    def _place_why(self) -> None:
        self.why.setGeometry(self.viewport().rect().adjusted(BESIDE, 0, -BESIDE, 0))

    def _restyle(self) -> None:
        self.setBackgroundBrush(QColor(self._bench.palette.desk))
