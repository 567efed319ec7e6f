"""A field for a whole number."""

from collections.abc import Callable

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import QSizePolicy, QSpinBox


class CountField(QSpinBox):
    """A whole number; ``changed`` is called only when the user changes it."""

    def __init__(self, name: str, least: int, most: int, changed: Callable[[int], object]) -> None:
        super().__init__()
        self.setRange(least, most)
        self.setAccessibleName(name)
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.setKeyboardTracking(False)
        self.setButtonSymbols(QSpinBox.ButtonSymbols.NoButtons)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.valueChanged.connect(lambda value: changed(value))

    def show_count(self, count: int) -> None:
        """Shows a number without telling anybody."""
        with QSignalBlocker(self):
            self.setValue(count)
