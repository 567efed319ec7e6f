"""Something folded away under its own words, opened with a press or the space bar."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QSizePolicy, QToolButton, QVBoxLayout, QWidget

from spring_layout.gui.theme.icons import icon
from spring_layout.gui.workbench import Workbench


class Fold(QWidget):
    """A button that opens and closes what lies under it."""

    def __init__(self, bench: Workbench, words: str, inside: QWidget, tip: str = "") -> None:
        super().__init__()
        self._bench, self.inside = bench, inside
        self.button = QToolButton()
        self.button.setText(words)
        self.button.setToolTip(tip or words)
        self.button.setCheckable(True)
        self.button.setIconSize(QSize(16, 16))
        self.button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.button.setMinimumHeight(32)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.button)
        column.addWidget(inside)
        self.button.toggled.connect(self._turn)
        bench.look_changed.connect(lambda: self._turn(self.button.isChecked()))
        self._turn(False)

    @property
    def is_open(self) -> bool:
        """Whether it shows what is inside."""
        return self.button.isChecked()

    def _turn(self, opened: bool) -> None:
        self.inside.setVisible(opened)
        self.button.setIcon(icon("go-down" if opened else "go-next", self._bench.palette))
