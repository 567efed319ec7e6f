"""The bar under the paper: page by page, and what is being drawn, with a way to stop it."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QProgressBar, QToolButton

from spring_layout.gui.panels.fields import label
from spring_layout.gui.panels.form import button
from spring_layout.gui.theme.icons import icon
from spring_layout.gui.workbench import Workbench

HEIGHT = 44
"""px."""


class PageTurner(QFrame):
    """Previous, "Page 2 of 13", next; or a busy bar and Stop; or why there is no page."""

    turned = Signal(int)
    """By so many pages, forward or back."""
    stopped = Signal()
    again = Signal()

    def __init__(self, bench: Workbench) -> None:
        super().__init__()
        self._bench = bench
        self.setObjectName("sheet")
        self.setFixedHeight(HEIGHT)
        self.back, self.on = QToolButton(), QToolButton()
        for made, tip, step in (
            (self.back, "The page before (Page up)", -1),
            (self.on, "The next page (Page down)", 1),
        ):
            made.setToolTip(tip)
            made.setAccessibleName(tip.partition(" (")[0])
            made.setMinimumSize(36, 32)
            made.clicked.connect(lambda _=False, s=step: self.turned.emit(s))
        self.words = label("")
        self.words.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.busy = QProgressBar()
        self.busy.setRange(0, 0)
        self.busy.setFixedWidth(90)
        self.busy.setTextVisible(False)
        self.busy.setAccessibleName("Being drawn")
        self.stop = button("Stop", "Stop what is being drawn")
        self.stop.clicked.connect(self.stopped)
        self.redraw = button("Draw it", "Draw this sheet after all")
        self.redraw.clicked.connect(self.again)
        row = self._row = QHBoxLayout(self)
        row.setContentsMargins(8, 4, 8, 4)
        row.setSpacing(12)
        row.addStretch(1)
        for widget in (self.back, self.words, self.on, self.busy, self.stop, self.redraw):
            row.addWidget(widget)
        row.addStretch(1)
        bench.look_changed.connect(self.restyle)
        self.restyle()
        self.show_page(0, 0)

    def restyle(self) -> None:
        """Tints the icons."""
        self.back.setIcon(icon("go-previous", self._bench.palette))
        self.on.setIcon(icon("go-next", self._bench.palette))

    def show_page(self, number: int, count: int, name: str = "") -> None:
        """Shows which page it is, from 0, of how many; ``name`` is the page's own."""
        more = f" · sheet {name}" if name else ""
        self.words.setText(f"Page {number + 1} of {count}{more}" if count else "")
        self.back.setEnabled(number > 0)
        self.on.setEnabled(number + 1 < count)
        self._show(turning=count > 1)

    def show_busy(self, words: str) -> None:
        """Something has been drawn for a while."""
        self.words.setText(words)
        self._show(busy=True)

    def show_stopped(self, words: str) -> None:
        """The user has stopped it."""
        self.words.setText(words)
        self._show(stopped=True)

    def show_wrong(self, why: str) -> None:
        """There is no page, and this is why."""
        self.words.setText(why)
        self._show()

    def _show(self, turning: bool = False, busy: bool = False, stopped: bool = False) -> None:
        for widget, on in (
            (self.back, turning),
            (self.on, turning),
            (self.busy, busy),
            (self.stop, busy),
            (self.redraw, stopped),
        ):
            widget.setVisible(on)
        # a sentence takes the whole width, in two lines if need be
        wide = self.words.text().endswith(".") and not (turning or busy or stopped)
        self.words.setWordWrap(wide)
        self._row.setStretchFactor(self.words, 20 if wide else 0)
