"""A field for a whole number."""

from collections.abc import Callable

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QSizePolicy

from spring_layout.gui.workbench import Workbench


class CountField(QLineEdit):
    """A whole number as it is typed; the up and down keys step it, Escape takes it back.

    ``changed`` is called only when the user changes it. ``mark`` stands behind the number.
    """

    def __init__(
        self,
        bench: Workbench,
        name: str,
        bounds: tuple[int, int],
        changed: Callable[[int], object],
        mark: str = "",
    ) -> None:
        super().__init__()
        self._bench, self._bounds, self._changed, self._mark = bench, bounds, changed, mark
        self._count = bounds[0]
        self.setAccessibleName(name)
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.setMinimumWidth(56)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.editingFinished.connect(self._read)
        self.show_count(self._count)

    @property
    def count(self) -> int:
        """The number last shown or read."""
        return self._count

    def show_count(self, count: int) -> None:
        """Shows a number; what is being typed stays."""
        if self.hasFocus() and self.text() != self._shown():
            return
        self._count = count
        with QSignalBlocker(self):
            self.setText(self._shown())

    def _shown(self) -> str:
        return f"{self._count}{self._mark}"

    def _read(self) -> None:
        text = self.text().strip().removesuffix(self._mark).strip()
        if self.text() == self._shown():
            return
        low, high = self._bounds
        if not text.isdigit() or not low <= int(text[:9]) <= high:
            self._bench.say(f"{self.accessibleName()}: a whole number from {low} to {high}.")
            self.setText(self._shown())
            return
        self._take(int(text))

    def _take(self, count: int) -> None:
        self._count = count
        self.setText(self._shown())
        self._changed(count)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, (low, high) = event.key(), self._bounds
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            step = 1 if key == Qt.Key.Key_Up else -1
            wanted = self._count + step
            if low <= wanted <= high:
                self._take(wanted)
            return
        if key == Qt.Key.Key_Escape:
            self.setText(self._shown())
            return
        super().keyPressEvent(event)
