"""The small note beside the pointer: a length and an angle, a reason, a refusal."""

from PySide6.QtCore import QPointF, Qt
from PySide6.QtWidgets import QLabel, QWidget

from spring_layout.gui.workbench import Workbench

BESIDE = 18
"""px from the pointer."""


class PointerNote(QLabel):
    """Says one short thing beside the pointer, inside the canvas."""

    def __init__(self, parent: QWidget, bench: Workbench) -> None:
        super().__init__(parent)
        self._room = parent
        self._worn = ""
        self._bench = bench
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.hide()

    def say(self, words: str, pixel: QPointF, refused: bool = False) -> None:
        """Shows ``words`` beside ``pixel``; empty words hide the note."""
        if not words:
            self.hide()
            return
        palette = self._bench.palette
        edge, ground = (
            (palette.mark, palette.mark_wash) if refused else (palette.accent, palette.field)
        )
        self._wear(
            f"background: {ground}; color: {palette.ink}; border: 1px solid {edge};"
            "border-radius: 4px; padding: 3px 7px;"
        )
        if words != self.text():
            self.setText(words)
            self.adjustSize()
        self._place(pixel)
        if not self.isVisible():
            self.show()
            self.raise_()

    def _wear(self, sheet: str) -> None:
        if sheet != self._worn:
            self._worn = sheet
            self.setStyleSheet(sheet)
            self.adjustSize()

    def _place(self, pixel: QPointF) -> None:
        room = self._room.rect()
        x, y = round(pixel.x()) + BESIDE, round(pixel.y()) + BESIDE
        if x + self.width() > room.right():
            x = round(pixel.x()) - BESIDE - self.width()
        if y + self.height() > room.bottom():
            y = round(pixel.y()) - BESIDE - self.height()
        self.move(max(x, 0), max(y, 0))
