"""The view of the deck: zoom about the pointer, pan, fit; everything else goes to the tool."""

from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QResizeEvent,
    QShowEvent,
    QTransform,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QGraphicsView

from spring_layout.gui.canvas.layers.frame import BEYOND
from spring_layout.gui.canvas.note import PointerNote
from spring_layout.gui.canvas.scene import DeckScene
from spring_layout.gui.canvas.tools.base import Pointer, Tool
from spring_layout.gui.workbench import Workbench

LEAST_ZOOM, MOST_ZOOM = 0.02, 40.0
"""px/mm."""
NAMES, PLAIN = BEYOND + 16.0, 26.0
"""px round the frame when it is fitted: with tack points' numbers and sides' names, and without."""
REACH = 8.0
"""px from a thing at which the pointer still takes hold of it."""


@dataclass
class _Pan:
    """A pan in progress: where the pointer was last."""

    at: QPoint


class DeckView(QGraphicsView):
    """The canvas. The tool in hand gets every press, move and key that is not zoom or pan."""

    zoomed = Signal(float)
    pointer_moved = Signal(float, float)
    tool_changed = Signal(object)
    holding_changed = Signal()

    def __init__(self, bench: Workbench) -> None:
        self.deck_scene = DeckScene(bench)
        super().__init__(self.deck_scene)
        self._bench = bench
        self.tool: Tool | None = None
        self.traced: list[tuple[float, float]] = []
        """Corners of an outline that was begun and laid aside for another tool, mm."""
        self.note = PointerNote(self.viewport(), bench)
        self._pan: _Pan | None = None
        self._space = False
        self._is_fitted = True
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.MinimalViewportUpdate)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setResizeAnchor(QGraphicsView.ViewportAnchor.AnchorViewCenter)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Deck seen from above")
        self.setAccessibleDescription(
            "The springs are listed in the table of springs, which shares the selection."
        )
        bench.document.replaced.connect(self.traced.clear)
        bench.document.replaced.connect(self.fit)
        bench.look_at.connect(self.show_place)
        bench.stage_changed.connect(lambda _: self.fit() if self._is_fitted else None)

    # zoom and pan -----------------------------------------------------------------------------

    @property
    def zoom(self) -> float:
        """Screen pixels for a millimetre."""
        return self.transform().m11()

    @property
    def reach(self) -> float:
        """How far from a thing the pointer still takes hold of it, mm."""
        return REACH / self.zoom

    def zoom_by(self, factor: float, about: QPointF | None = None) -> None:
        """Zooms by ``factor`` about a place of the viewport (its middle), px."""
        factor = min(max(self.zoom * factor, LEAST_ZOOM), MOST_ZOOM) / self.zoom
        centre = about if about is not None else QPointF(self.viewport().rect().center())
        before = self.mapToScene(centre.toPoint())
        self.scale(factor, factor)
        after = self.mapToScene(centre.toPoint())
        self.translate(after.x() - before.x(), after.y() - before.y())
        self._is_fitted = False
        self._zoomed()

    def fit(self) -> None:
        """Shows the whole frame."""
        standing = self._bench.planner.standing
        if standing is None or self.viewport().width() < 2:
            return
        x0, y0, x1, y1 = standing.outline.bounds
        widths = [standing.deck.frame.width_of(i) for i in range(len(standing.outline.sides))]
        rim = max(widths)
        box = QRectF(x0 - rim, y0 - rim, x1 - x0 + 2 * rim, y1 - y0 + 2 * rim)
        self.setSceneRect(self.deck_scene.sceneRect())
        room = self.viewport().size()
        margin = NAMES if self._bench.stage in ("ties", "paper") else PLAIN
        across = max(room.width() - 2 * margin, 40.0) / box.width()
        down = max(room.height() - 2 * margin, 40.0) / box.height()
        zoom = min(max(min(across, down), LEAST_ZOOM), MOST_ZOOM)
        self.setTransform(QTransform.fromScale(zoom, zoom))
        self.centerOn(box.center())
        self._is_fitted = True
        self._zoomed()

    def show_place(self, x: float, y: float) -> None:
        """Brings a place into view, without moving when it is there already."""
        self.ensureVisible(QRectF(x - 1, y - 1, 2, 2), 80, 80)
        self.zoomed.emit(self.zoom)

    def _zoomed(self) -> None:
        self.deck_scene.keep_size(self.zoom)
        self.zoomed.emit(self.zoom)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        window = self.window().windowHandle()
        if window is not None:
            window.screenChanged.connect(self._follow_screen)
        self._follow_screen()

    def _follow_screen(self) -> None:
        """Lines are as wide on a fine screen as on a coarse one."""
        if self.devicePixelRatioF() != self._bench.ratio:
            self._bench.ratio = self.devicePixelRatioF()
            self._bench.look_changed.emit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._is_fitted:
            self.fit()
        self.zoomed.emit(self.zoom)

    def wheelEvent(self, event: QWheelEvent) -> None:
        steps = event.angleDelta().y() / 120
        self.zoom_by(1.2**steps, event.position())
        event.accept()

    def viewportEvent(self, event: QEvent) -> bool:
        if isinstance(event, QNativeGestureEvent) and (
            event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture
        ):
            self.zoom_by(1 + event.value(), event.position())
            return True
        if event.type() == QEvent.Type.Leave:
            self.note.hide()
            if self.tool is not None:
                self.tool.leave()
        return super().viewportEvent(event)

    # the tool in hand -------------------------------------------------------------------------

    def take(self, tool: Tool) -> None:
        """Puts another tool in hand; the one before is laid aside and put down."""
        if self.tool is not None:
            self.tool.lay_aside()
            self.tool.put_down()
        self.tool = tool
        self.deck_scene.show_handles(tool.wants_handles)
        self.viewport().setCursor(tool.cursor)
        tool.pick_up()
        self._bench.set_hint(tool.hint)
        self.tool_changed.emit(tool)

    def pointer(self, event: QMouseEvent) -> Pointer:
        """A mouse event as tools see it."""
        pixel = event.position()
        place = self.mapToScene(pixel.toPoint())
        exact = self.viewportTransform().inverted()[0].map(pixel)
        return Pointer(
            (exact.x(), exact.y()) if not place.isNull() else (place.x(), place.y()),
            pixel,
            event.modifiers(),
            self.reach,
        )

    def mousePressEvent(self, event: QMouseEvent) -> None:
        pans = event.button() == Qt.MouseButton.MiddleButton or self._space
        if pans:
            self._pan = _Pan(event.position().toPoint())
            self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)
        elif event.button() == Qt.MouseButton.LeftButton and self.tool is not None:
            self._bench.hand_down.emit()
            self.tool.press(self.pointer(event))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._pan is not None:
            moved = event.position().toPoint() - self._pan.at
            self._pan.at = event.position().toPoint()
            self._scroll(moved)
            return
        pointer = self.pointer(event)
        self.pointer_moved.emit(*pointer.place)
        if self.tool is not None:
            self.tool.move(pointer)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._pan is not None:
            self._pan = None
            self._set_cursor()
        elif event.button() == Qt.MouseButton.LeftButton and self.tool is not None:
            self.tool.release(self.pointer(event))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self.tool is not None:
            self.tool.double_click(self.pointer(event))

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ShortcutOverride and self._is_typed(event):
            event.accept()  # the c of 57 cm is written, it takes no tool
            return True
        return super().event(event)

    def _is_typed(self, event: QEvent) -> bool:
        """Whether a key belongs to what is being typed or traced on the canvas."""
        if self.tool is None or not isinstance(event, QKeyEvent):
            return False
        return self.tool.takes(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        is_space = event.key() == Qt.Key.Key_Space and not self._is_typed(event)
        if is_space and not event.isAutoRepeat():
            self._space = True
            self._set_cursor()
            return
        if event.key() != Qt.Key.Key_Escape:
            self._bench.hand_down.emit()
        if self.tool is None or not self.tool.key(event):
            event.ignore()

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
            self._set_cursor()
        elif self.tool is not None and not event.isAutoRepeat():
            self.tool.key_up(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self._space = False
        if self.tool is not None:
            self.tool.settle_up()
        super().focusOutEvent(event)

    def _set_cursor(self) -> None:
        if self._space:
            self.viewport().setCursor(Qt.CursorShape.OpenHandCursor)
        elif self.tool is not None:
            self.viewport().setCursor(self.tool.cursor)

    def _scroll(self, moved: QPoint) -> None:
        self._is_fitted = False
        across, down = self.horizontalScrollBar(), self.verticalScrollBar()
        across.setValue(across.value() - moved.x())
        down.setValue(down.value() - moved.y())
        self.zoomed.emit(self.zoom)
