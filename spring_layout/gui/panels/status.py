"""The status line: what the tool expects, where the pointer is, the zoom, the units."""

from PySide6.QtCore import QTimer
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QLabel, QStatusBar, QToolButton

from spring_layout.deck import edits
from spring_layout.gui.canvas.view import DeckView
from spring_layout.gui.panels.unhurried import OFTEN_ENOUGH
from spring_layout.gui.workbench import Workbench
from spring_layout.planning.finding import Finding
from spring_layout.units import Units

LONG = 500
"""ms; what takes longer is told of."""
LOW = 20
"""px; as high as a line of the text is."""
UNIT_WORDS = {"in": "inches", "mm": "millimetres"}


class Reading(QLabel):
    """A figure that may change sixty times a second: of one size, so that nothing is laid out."""

    def __init__(self, width: int) -> None:
        super().__init__("0")
        self.setFixedSize(width, max(self.sizeHint().height(), LOW))
        self.setText("")


class StatusLine(QStatusBar):
    """A remark takes the hint's place for a few seconds and is announced to a screen reader."""

    def __init__(self, bench: Workbench, view: DeckView) -> None:
        super().__init__()
        self._bench = bench
        self.setSizeGripEnabled(False)
        self.hint = QLabel("")
        self.hint.setIndent(8)
        self.place, self.zoom = Reading(200), Reading(56)
        self.zoom.setToolTip("How large the deck is shown, in hundredths of its true size")
        self.units = QToolButton()
        self.units.setToolTip("Show lengths in the other unit")
        self.units.clicked.connect(self._switch_units)
        self.busy = QLabel("")
        self.busy.hide()
        self.announced = ""
        self._known: frozenset[Finding] = frozenset()
        self._pointer = (0.0, 0.0)
        self._calm = QTimer(self, singleShot=True, interval=OFTEN_ENOUGH)
        self._calm.timeout.connect(self._show_place)
        self._patience = QTimer(self, singleShot=True, interval=LONG)
        self._patience.timeout.connect(self._show_busy)
        self.addWidget(self.hint, 1)
        for widget in (self.busy, self.place, self.zoom, self.units):
            self.addPermanentWidget(widget)
        bench.hint_changed.connect(lambda _: self._show(bench.remark))
        bench.said.connect(self._show)
        bench.document.shown_changed.connect(self.follow)
        bench.document.replaced.connect(self._forget_pointer)
        bench.planner.spaces_changed.connect(self._wait_or_not)
        bench.planner.plan_changed.connect(self._wait_or_not)
        bench.planner.plan_changed.connect(self._follow_findings)
        view.pointer_moved.connect(self._point)
        view.zoomed.connect(self._show_zoom)
        self.follow()

    def follow(self) -> None:
        """Takes up the units of the deck."""
        words = UNIT_WORDS[self._bench.units]
        if words != self.units.text():
            self.units.setText(words)
        self.units.setEnabled(self._bench.deck is not None)

    def _show(self, remark: str) -> None:
        self.hint.setText(remark or self._bench.hint)
        self.hint.setToolTip(remark or self._bench.hint)
        if remark:
            self.clearMessage()  # what a button under the pointer says of itself makes way
            self.announce(remark)

    def announce(self, words: str) -> None:
        """Has a screen reader read ``words`` out."""
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, words))

    def _follow_findings(self) -> None:
        """Reads out a check that has come up, once the hand is still."""
        if self._bench.document.is_previewing:
            return
        now = frozenset(f for f in self._bench.findings() if f.severity != "note")
        new, self._known = sorted(now - self._known, key=lambda f: f.severity != "wrong"), now
        self.announced = new[0].message if new else ""
        if new:
            self.announce(self._bench.words.retold(new[0].message))

    def _wait_or_not(self) -> None:
        """Says that the ties are behind, once they are for long."""
        if self._bench.planner.is_behind:
            self._patience.start()
        else:
            self._patience.stop()
            self.busy.hide()

    def _show_busy(self) -> None:
        if self._bench.planner.is_behind:
            self.busy.setText(self._bench.words.fill("Working out the {ties} …"))
            self.busy.show()

    def _point(self, x: float, y: float) -> None:
        self._pointer = (x, y)
        if not self._calm.isActive():
            self._calm.start()
            self._show_place()

    def _forget_pointer(self) -> None:
        """Where the pointer was on another deck says nothing."""
        self._calm.stop()
        self.place.setText("")

    def _show_place(self) -> None:
        x, y = self._pointer
        across, down = self._bench.origin()
        length = self._bench.length
        side = "right" if x >= across else "left"
        far = length(abs(x - across), unit=False)
        self.place.setText(f"{far} {side}, {length(y - down)} from the back")

    def _show_zoom(self, zoom: float) -> None:
        screen = self.screen()
        true = zoom * 25.4 / screen.physicalDotsPerInch() if screen else zoom
        self.zoom.setText(f"{true * 100:.0f} %")

    def _switch_units(self) -> None:
        deck = self._bench.deck
        if deck is not None:
            other: Units = "mm" if deck.units == "in" else "in"
            words = f"Show {UNIT_WORDS[other]}"
            self._bench.attempt(words, lambda d: edits.set_units(d, other))
