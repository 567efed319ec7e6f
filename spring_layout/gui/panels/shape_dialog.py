"""The frame from the measurements taken at the bench: plain shapes, or four sides and diagonals."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QIcon, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from spring_layout.deck import shapes
from spring_layout.deck.model import Frame
from spring_layout.gui.beginnings import begun
from spring_layout.gui.panels.fields import LengthField, label
from spring_layout.gui.panels.pictures import deck_picture, paint_deck
from spring_layout.gui.workbench import Workbench


@dataclass(frozen=True)
class Measure:
    """A measurement to take: its word, a starting value (mm), how it is taken."""

    name: str
    words: str
    start: float
    tip: str = ""


@dataclass(frozen=True)
class Shape:
    """A plain shape: its name, what is measured, and how the frame comes of it."""

    name: str
    words: str
    measures: tuple[Measure, ...]
    make: Callable[..., Frame | shapes.MeasuredFrame]


BACK = Measure("back", "Back", 420, "Inside, from side rail to side rail")
FRONT = Measure("front", "Front", 480, "Inside, from side rail to side rail")
DEPTH = Measure("depth", "Depth", 450, "Inside, straight from back to front")
WIDTH = Measure("width", "Width", 500, "Inside, from side to side")

SHAPES = (
    Shape("straight", "Square corners", (WIDTH, DEPTH), shapes.straight_frame),
    Shape("tapered", "Tapered", (BACK, FRONT, DEPTH), shapes.tapered_frame),
    Shape(
        "bowed",
        "Bowed front",
        (
            BACK,
            FRONT,
            DEPTH,
            Measure("front_bow", "Bow of the front", 30, "The rise above a straightedge"),
        ),
        shapes.bowed_frame,
    ),
    Shape("round", "Round", (Measure("diameter", "Across", 480, "Inside"),), shapes.round_frame),
    Shape(
        "notched",
        "Notched round posts",
        (
            BACK,
            FRONT,
            DEPTH,
            Measure("notch_width", "Notch, side to side", 60),
            Measure("notch_depth", "Notch, front to back", 70),
        ),
        shapes.notched_frame,
    ),
    Shape(
        "measured",
        "Four sides, two diagonals",
        (
            BACK,
            Measure("right", "Right", 452),
            FRONT,
            Measure("left", "Left", 452),
            Measure("rising", "Front left to back right", 636),
            Measure("falling", "Back left to front right", 636),
        ),
        shapes.measured_frame,
    ),
)


class _Picture(QWidget):
    """The frame as the measurements make it."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__()
        self._bench = bench
        self.frame: Frame | None = None
        self.setMinimumSize(280, 220)
        self.setAccessibleName("The frame as these measurements make it")

    def paintEvent(self, event: QPaintEvent) -> None:
        if self.frame is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        deck = begun(self.frame, self._bench.units)
        ratio = self.devicePixelRatioF()
        paint_deck(painter, deck, QRectF(self.rect()), self._bench.palette, ratio)
        painter.end()


class ShapeDialog(QDialog):
    """Choose a shape, write its measurements; ``frame`` holds the outcome."""

    def __init__(self, bench: Workbench, parent: QWidget, begins: bool) -> None:
        super().__init__(parent)
        self._bench = bench
        self.frame: Frame | None = None
        self.setWindowTitle("New deck" if begins else "Frame from measurements")
        self.choices = QListWidget()
        self.choices.setAccessibleName("Shape of the opening")
        self.choices.setFixedWidth(232)
        self.choices.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.choices.setIconSize(QSize(56, 44))
        self.pages = QStackedWidget()
        self.forms: list[QWidget] = []
        self.fields: dict[str, dict[str, LengthField]] = {}
        self.picture = _Picture(bench)
        self.words = label("", "faint")
        self.words.setMinimumHeight(36)
        for shape in SHAPES:
            self._add(shape)
        self._lay_out(begins)
        self.choices.currentRowChanged.connect(self._turn)
        self.choices.setCurrentRow(0)

    def _lay_out(self, begins: bool) -> None:
        kinds = QDialogButtonBox.StandardButton
        self.answers = QDialogButtonBox(kinds.Ok | kinds.Cancel)
        self.ok = self.answers.button(kinds.Ok)
        self.ok.setText("Begin" if begins else "Use this frame")
        self.ok.setProperty("tone", "main")
        self.answers.accepted.connect(self.accept)
        self.answers.rejected.connect(self.reject)
        right = QVBoxLayout()
        right.addWidget(label("Measure inside the rails", "heading"))
        right.addWidget(self.pages)
        self.pages.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        right.addWidget(self.picture, 1)
        right.addWidget(self.words)
        row = QHBoxLayout()
        row.setSpacing(16)
        row.addWidget(self.choices)
        row.addLayout(right, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 16, 16, 16)
        column.setSpacing(12)
        column.addLayout(row, 1)
        column.addWidget(self.answers)
        column.setSizeConstraint(QVBoxLayout.SizeConstraint.SetNoConstraint)
        self.setMinimumSize(560, 640)
        self.resize(660, 680)

    def _add(self, shape: Shape) -> None:
        item = QListWidgetItem(shape.words)
        made = _made(shape, {measure.name: measure.start for measure in shape.measures})
        deck = begun(made, self._bench.units)
        picture = QIcon()
        drawn = deck_picture(deck, QSize(56, 44), self._bench.palette, self)
        for mode in (QIcon.Mode.Normal, QIcon.Mode.Selected):
            picture.addPixmap(drawn, mode)
        item.setIcon(picture)
        self.choices.addItem(item)
        page = QWidget()
        grid = QGridLayout(page)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(6)
        fields = self.fields[shape.name] = {}
        for row, measure in enumerate(shape.measures):
            field = LengthField(self._bench, measure.words, _over_nothing)
            field.explain(measure.tip)
            field.show_mm(measure.start if self._bench.units == "mm" else _inches(measure.start))
            field.entered.connect(lambda _: self._make())
            fields[measure.name] = field
            told = label(measure.words, buddy=field)
            told.setToolTip(measure.tip)
            grid.addWidget(told, row, 0)
            grid.addWidget(field, row, 1)
        grid.setRowStretch(len(shape.measures), 1)
        self.pages.addWidget(page)
        self.forms.append(page)

    def _turn(self, row: int) -> None:
        for i, page in enumerate(self.forms):  # the picture begins below the page that is shown
            high = QSizePolicy.Policy.Preferred if i == row else QSizePolicy.Policy.Ignored
            page.setSizePolicy(QSizePolicy.Policy.Preferred, high)
        self.pages.setCurrentIndex(row)
        self._make()

    def choose(self, name: str) -> dict[str, LengthField]:
        """Turns to the shape called ``name`` and gives its fields."""
        names = [shape.name for shape in SHAPES]
        self.choices.setCurrentRow(names.index(name))
        return self.fields[name]

    def _make(self) -> None:
        """Makes the frame of what is written, and says what it finds."""
        shape = SHAPES[self.choices.currentRow()]
        values = {name: field.mm or 0.0 for name, field in self.fields[shape.name].items()}
        words, wrong = "", False
        try:
            made = shape.make(**values)
            self.frame = made.frame if isinstance(made, shapes.MeasuredFrame) else made
            if isinstance(made, shapes.MeasuredFrame):
                words = made.words(self._bench.units)
        except ValueError as error:
            self.frame, words, wrong = None, str(error), True
        self.words.setText(words)
        self.words.setProperty("tone", "wrong" if wrong else "faint")
        self.words.style().unpolish(self.words)
        self.words.style().polish(self.words)
        self.ok.setEnabled(self.frame is not None)
        self.picture.frame = self.frame
        self.picture.update()

    def accept(self) -> None:
        """Takes what is still being typed before it closes."""
        field = self.focusWidget()
        if isinstance(field, LengthField):
            field.editingFinished.emit()
        if self.frame is not None:
            super().accept()


def _made(shape: Shape, values: dict[str, float]) -> Frame:
    made = shape.make(**values)
    return made.frame if isinstance(made, shapes.MeasuredFrame) else made


def _over_nothing(mm: float) -> None:
    if mm < 0:
        raise ValueError("A measurement is not less than nothing.")


def _inches(mm: float) -> float:
    """``mm`` to the nearest quarter inch, so that starting values read well."""
    return round(mm / 25.4 * 4) / 4 * 25.4
