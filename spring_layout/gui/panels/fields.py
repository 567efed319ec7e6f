"""Fields of the particulars: lengths as people write them, choices, switches, words."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QObject, QSignalBlocker, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QSizePolicy,
    QWidget,
)

from spring_layout.gui.theme.icons import pixmap
from spring_layout.gui.workbench import Workbench
from spring_layout.units import Kind, LengthError, unbroken, with_plain_spaces


class LengthField(QLineEdit):
    """A length as people write it. ``entered`` gives mm once it is read; Escape takes it back.

    ``accept`` may raise ValueError with a sentence; then the field says why and keeps the text.
    """

    entered = Signal(float)
    emptied = Signal()
    """The length was taken out; only where it may be missing."""
    judged = Signal()
    """What is written was refused, or is refused no more: see ``fault``."""

    def __init__(
        self,
        bench: Workbench,
        name: str,
        accept: Callable[[float], object] | None = None,
        kind: Kind = "exact",
    ) -> None:
        super().__init__()
        self._bench, self._accept, self._kind = bench, accept, kind
        self._mm: float | None = None
        self._shown = ""
        self._tip = ""
        self.fault = ""
        """Why what is written cannot be; empty where it can."""
        self.can_be_empty = False
        self.setAccessibleName(name)
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.setMinimumWidth(84)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.editingFinished.connect(self.take)

    def explain(self, tip: str) -> None:
        """What the tooltip says while the text is fine."""
        self._tip = tip
        self.setToolTip(tip)

    def show_mm(self, mm: float | None) -> None:
        """Shows a length; what is being typed stays."""
        self._mm = mm
        shown = "" if mm is None else self._bench.length(mm, self._kind)
        if self.hasFocus() and self.text() != self._shown:
            return
        self._shown = shown
        with QSignalBlocker(self):
            self.setText(shown)
        self._refuse("")

    @property
    def mm(self) -> float | None:
        """The length last shown or read, mm."""
        return self._mm

    def take(self) -> None:
        """Reads what is written, as leaving the field does."""
        text = self.text().strip()
        if text == self._shown:
            self._refuse("")
            return
        if not text and self.can_be_empty:
            self._mm, self._shown = None, ""
            self.setText("")
            self._refuse("")
            self.emptied.emit()
            return
        try:
            mm = self._bench.read_length(text)
            if self._accept is not None:
                self._accept(mm)
        except (LengthError, ValueError) as error:
            self._refuse(str(error))
            self._bench.say(str(error))
            return
        self._mm = mm
        self._shown = self._bench.length(mm, self._kind)
        self.setText(self._shown)
        self._refuse("")
        self.entered.emit(mm)

    def _refuse(self, why: str) -> None:
        refused = "true" if why else "false"
        if self.property("refused") != refused:
            self.setProperty("refused", refused)
            self.style().unpolish(self)
            self.style().polish(self)
        self.setToolTip(why or self._tip)
        self.setAccessibleDescription(why or self._tip)
        if why != self.fault:
            self.fault = why
            self.judged.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.setText(self._shown)
            self._refuse("")
            return
        super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if event.reason() in (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason):
            self.selectAll()


class WordsField(QLineEdit):
    """A line of words; ``entered`` comes once it is another."""

    entered = Signal(str)

    def __init__(self, name: str) -> None:
        super().__init__()
        self._shown = ""
        self.setAccessibleName(name)
        self.editingFinished.connect(self._read)

    def show_words(self, words: str) -> None:
        """Shows ``words``; what is being typed stays."""
        if self.hasFocus() and self.text() != self._shown:
            return
        self._shown = words
        with QSignalBlocker(self):
            self.setText(words)
            self.setCursorPosition(0)

    def _read(self) -> None:
        if self.text() != self._shown:
            self._shown = self.text()
            self.entered.emit(self._shown)


class NoteField(QPlainTextEdit):
    """A few lines of words; ``entered`` comes once they are others. Tab leaves the field."""

    entered = Signal(str)
    LINES = 4

    def __init__(self, name: str) -> None:
        super().__init__()
        self._shown = ""
        self.setAccessibleName(name)
        self.setTabChangesFocus(True)
        self.setFixedHeight(self.LINES * self.fontMetrics().lineSpacing() + 24)

    def show_words(self, words: str) -> None:
        """Shows ``words``; what is being typed stays."""
        if words == self._shown or (self.hasFocus() and self.toPlainText() != self._shown):
            return
        self._shown = words
        self.setPlainText(words)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._read()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if enter and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self._read()
        elif event.key() == Qt.Key.Key_Escape:
            self.setPlainText(self._shown)
        else:
            super().keyPressEvent(event)

    def _read(self) -> None:
        if self.toPlainText() != self._shown:
            self._shown = self.toPlainText()
            self.entered.emit(self._shown)


class WheelPasses(QObject):
    """Leaves the wheel over a control to the page: whoever scrolls past means to change nothing.

    Arrow keys step through the control, or its own list once it is open.
    """

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Wheel:
            event.ignore()  # an event that nobody takes goes to the parent
            return True
        return super().eventFilter(watched, event)

    @classmethod
    def over(cls, control: QWidget) -> None:
        """Watches ``control``, which the wheel gives the keyboard no more."""
        control.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        control.installEventFilter(cls(control))


class Choice(QComboBox):
    """A choice among words, each standing for a value; ``chosen`` comes only from the user."""

    chosen = Signal(str)

    def __init__(self, name: str, options: Sequence[tuple[str, str]] = ()) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setMinimumWidth(84)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        WheelPasses.over(self)
        self.offer(options)
        self.activated.connect(lambda index: self.chosen.emit(str(self.itemData(index))))

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        ink = self.palette().color(self.foregroundRole()).name()
        arrow = pixmap("go-down", 16, self.devicePixelRatioF(), ink, ink)
        painter.drawPixmap(self.width() - 23, (self.height() - 16) // 2, arrow)
        painter.end()

    def offer(self, options: Sequence[tuple[str, str]]) -> None:
        """What can be chosen: (value, words)."""
        now = [(str(self.itemData(i)), self.itemText(i)) for i in range(self.count())]
        if now == list(options):
            return
        with QSignalBlocker(self):
            self.clear()
            for value, words in options:
                self.addItem(words, value)

    def show_value(self, value: str) -> None:
        """Shows the words of ``value``."""
        with QSignalBlocker(self):
            self.setCurrentIndex(self.findData(value))

    def choose(self, value: str) -> None:
        """As if the user had chosen ``value``."""
        self.show_value(value)
        self.chosen.emit(value)


class Switch(QCheckBox):
    """A yes or no; ``switched`` comes only from the user."""

    switched = Signal(bool)

    def __init__(self, words: str, tip: str = "") -> None:
        super().__init__(words)
        self.setToolTip(tip)
        self.clicked.connect(self.switched)

    def show_on(self, on: bool) -> None:
        """Shows whether it is on."""
        with QSignalBlocker(self):
            self.setChecked(on)


class Sentence(QLabel):
    """A label whose lines end within no length; its ``text`` has the ordinary spaces."""

    def __init__(self, words: str = "") -> None:
        super().__init__(unbroken(words))

    def setText(self, words: str) -> None:
        super().setText(unbroken(words))

    def text(self) -> str:
        return with_plain_spaces(super().text())


def label(words: str, tone: str = "", buddy: QWidget | None = None) -> QLabel:
    """A label in one of the tones of the style sheet."""
    made = Sentence(words)
    if tone:
        made.setProperty("tone", tone)
    if tone in ("faint", "small", "wrong"):
        made.setWordWrap(True)
    if buddy is not None:
        made.setBuddy(buddy)
    return made
