"""The frame from the measurements taken at the bench: plain shapes, or four sides and diagonals."""

from collections.abc import Callable, Mapping
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
from spring_layout.deck.edits.common import in_units
from spring_layout.deck.model import Frame
from spring_layout.deck.plain_shapes import plain_shape_of, put_in_place
from spring_layout.deck.ranges import ALLOWANCE, LENGTH, Range
from spring_layout.gui.beginnings import begun
from spring_layout.gui.panels.fields import LengthField, label
from spring_layout.gui.panels.pictures import deck_picture, paint_deck
from spring_layout.gui.workbench import Workbench


@dataclass(frozen=True)
class Measure:
    """A measurement to take: its word, a starting value (mm), how it is taken, what it can be."""

    name: str
    words: str
    start: float
    tip: str = ""
    can_be: Range = LENGTH


@dataclass(frozen=True)
class Shape:
    """A plain shape: its name, what is measured, and how the frame comes of it."""

    name: str
    words: str
    measures: tuple[Measure, ...]
    make: Callable[..., Frame | shapes.MeasuredFrame]


BACK = Measure("back", "Back", 420, "Inside, from side rail to side rail")
FRONT = Measure("front", "Front", 480, "Inside, from side rail to side rail")
DEPTH = Measure("depth", "Depth", 450, "Inside, straight from corner to corner; a bow comes on top")
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
            Measure(
                "front_bow", "Bow of the front", 30, "The rise above a straightedge", ALLOWANCE
            ),
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
    """Choose a shape, write its measurements; ``frame`` holds the outcome.

    Where a deck is there already and no other begins, its own frame is what is written first.
    """

    def __init__(self, bench: Workbench, parent: QWidget, begins: bool) -> None:
        super().__init__(parent)
        self._bench = bench
        self._before = None if begins or bench.deck is None else bench.deck.frame
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
        if self._before is not None:
            self._write(*plain_shape_of(self._before))

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
        right.addWidget(self.words)
        right.addWidget(self.picture, 1)
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
            field = LengthField(self._bench, measure.words, self._judge(measure))
            field.explain(measure.tip)
            field.show_mm(measure.start if self._bench.units == "mm" else _inches(measure.start))
            field.entered.connect(lambda _: self._make())
            field.judged.connect(self._make)
            fields[measure.name] = field
            told = label(measure.words, buddy=field)
            told.setToolTip(measure.tip)
            grid.addWidget(told, row, 0)
            grid.addWidget(field, row, 1)
        grid.setRowStretch(len(shape.measures), 1)
        self.pages.addWidget(page)
        self.forms.append(page)

    def _judge(self, measure: Measure) -> Callable[[float], None]:
        def judge(mm: float) -> None:
            if not measure.can_be.holds(mm):
                told = f"{self._bench.length(mm, 'exact')} cannot be; it must be"
                raise ValueError(in_units(f"{told} {measure.can_be.words()}.", self._bench.units))

        return judge

    def _write(self, name: str, measures: Mapping[str, float]) -> None:
        """Turns to a shape and writes its measurements, mm, down."""
        fields = self.choose(name)
        for measure, mm in measures.items():
            fields[measure].show_mm(mm)
        self._make()

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

    def _fields(self) -> dict[str, LengthField]:
        """The fields of the shape that is chosen."""
        return self.fields[SHAPES[self.choices.currentRow()].name]

    def _make(self) -> None:
        """Makes the frame of what is written, and says what it finds."""
        self.frame, words = None, ""
        refused = [field for field in self._fields().values() if field.fault]
        if refused:
            words = f"{refused[0].accessibleName()}: {refused[0].fault}"
        else:
            try:
                words = self._try()
            except ValueError as error:
                words = in_units(str(error), self._bench.units)
        self._say(words, wrong=self.frame is None)
        self.picture.frame = self.frame
        self.picture.update()

    def _try(self) -> str:
        """Makes the frame; what there is to say of it. Raises ValueError where there is none."""
        shape = SHAPES[self.choices.currentRow()]
        made = shape.make(**{name: field.mm or 0.0 for name, field in self._fields().items()})
        frame = made.frame if isinstance(made, shapes.MeasuredFrame) else made
        self.frame = frame if self._before is None else put_in_place(frame, self._before)
        return made.words(self._bench.units) if isinstance(made, shapes.MeasuredFrame) else ""

    def _say(self, words: str, wrong: bool) -> None:
        self.words.setText(words)
        self.words.setProperty("tone", "wrong" if wrong else "faint")
        self.words.style().unpolish(self.words)
        self.words.style().polish(self.words)

    def accept(self) -> None:
        """Takes what is still being typed; where that makes no frame the first bad field waits."""
        for field in self._fields().values():
            field.take()
        self._make()
        if self.frame is not None:
            super().accept()
            return
        fields = list(self._fields().values())
        bad = next((field for field in fields if field.fault), fields[0])
        bad.setFocus()
        bad.selectAll()
        self._bench.say(self.words.text())


def _made(shape: Shape, values: dict[str, float]) -> Frame:
    made = shape.make(**values)
    return made.frame if isinstance(made, shapes.MeasuredFrame) else made


def _inches(mm: float) -> float:
    """``mm`` to the nearest quarter inch, so that starting values read well."""
    return round(mm / 25.4 * 4) / 4 * 25.4
