"""A page of particulars: headings, rows of a word and a field, and room."""

from typing import TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from spring_layout.gui.panels.fields import Choice, LengthField, label
from spring_layout.gui.words import US, Words

W = TypeVar("W", bound=QWidget)


class Page(QScrollArea):
    """A page that scrolls when the window is low; rows are added from above."""

    def __init__(self, title: str) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._inside = QWidget()
        self._rows = QVBoxLayout(self._inside)
        self._rows.setContentsMargins(16, 12, 16, 16)
        self._rows.setSpacing(8)
        self._rows.addStretch(1)
        self._grid: QGridLayout | None = None
        self._templates: list[tuple[QWidget, str, str]] = []
        self._words = US
        self.setWidget(self._inside)
        self.title = self.put(self._told(title, "title"))
        self.title.setWordWrap(True)

    def retell(self, words: Words) -> None:
        """Puts every label and tooltip into these words."""
        self._words = words
        for widget, text, tip in self._templates:
            if text and isinstance(widget, QLabel | QAbstractButton):
                widget.setText(words.fill(text))
            if tip:
                widget.setToolTip(words.fill(tip))

    def _told(self, words: str, tone: str = "", buddy: QWidget | None = None) -> QLabel:
        made = label(self._words.fill(words), tone, buddy)
        if "{" in words:
            self._templates.append((made, words, ""))
        return made

    def _tip(self, widget: QWidget, tip: str) -> None:
        if tip:
            widget.setToolTip(self._words.fill(tip))
            self._templates.append((widget, "", tip))

    def put(self, widget: W) -> W:
        """Adds a widget over the whole width."""
        self._grid = None
        self._rows.insertWidget(self._rows.count() - 1, widget)
        return widget

    def heading(self, words: str) -> QLabel:
        """Begins a group of rows."""
        made = self.put(self._told(words, "heading"))
        made.setContentsMargins(0, 8, 0, 0)
        return made

    def note(self, words: str = "", tone: str = "small") -> QLabel:
        """A sentence between the rows."""
        made = self.put(self._told(words, tone))
        made.setVisible(bool(words))
        return made

    def row(self, words: str, field: W, tip: str = "") -> W:
        """A word and its field."""
        if self._grid is None:
            self._grid = QGridLayout()
            self._grid.setHorizontalSpacing(12)
            self._grid.setVerticalSpacing(6)
            self._grid.setColumnStretch(0, 5)
            self._grid.setColumnStretch(1, 6)
            self._rows.insertLayout(self._rows.count() - 1, self._grid)
        if isinstance(field, Choice):  # words need the whole width
            return self.area(words, field, tip)
        at = self._grid.rowCount()
        told = self._told(words, buddy=field)
        told.setWordWrap(True)
        self._tip(told, tip)
        if isinstance(field, LengthField):
            field.explain(self._words.fill(tip))
        else:
            self._tip(field, tip)
        self._grid.addWidget(told, at, 0)
        self._grid.addWidget(field, at, 1)
        return field

    def area(self, words: str, field: W, tip: str = "") -> W:
        """A word, and under it a field over the whole width."""
        self._tip(self.put(self._told(words, buddy=field)), tip)
        self._tip(field, tip)
        return self.put(field)

    def show_row(self, field: QWidget, on: bool) -> None:
        """Shows or hides a field with its word."""
        field.setVisible(on)
        for told in self._inside.findChildren(QLabel):
            if told.buddy() is field:
                told.setVisible(on)

    def fact(self, words: str) -> QLabel:
        """A word and a figure that is only shown."""
        made = QLabel("")
        made.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        made.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        made.setAccessibleName(words)
        return self.row(words, made)

    def buttons(self, *buttons: QPushButton) -> None:
        """A row of buttons."""
        holder = QWidget()
        layout = QHBoxLayout(holder)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(8)
        for button in buttons:
            layout.addWidget(button, 1)
        self.put(holder)


def button(words: str, tip: str = "", main: bool = False) -> QPushButton:
    """A push button; the main one of a page stands out."""
    made = QPushButton(words)
    made.setAutoDefault(True)  # Enter presses it, too
    made.setToolTip(tip)
    if main:
        made.setProperty("tone", "main")
    return made
