"""Turns to the side view when it is what the user wants to see."""

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication, QSplitter, QTabWidget, QWidget

from spring_layout.gui.workbench import Workbench

ENOUGH = 206
"""px; the tables are made this high for the side view, where the window has room."""
LEAST_DECK = 260
"""px that the deck keeps above."""


class Turning(QObject):
    """A picked tie and the stage of the height turn to the side view.

    Not while the keyboard is in the tables: there the user is reading something else.
    """

    def __init__(
        self, bench: Workbench, tabs: QTabWidget, side_view: QWidget, stacked: QSplitter
    ) -> None:
        super().__init__(tabs)
        self._bench, self._tabs, self._side_view, self._stacked = bench, tabs, side_view, stacked
        self._before = -1
        bench.selection.changed.connect(self._follow_selection)
        bench.stage_changed.connect(self._follow_stage)
        bench.looking.changed.connect(self._follow_looking)
        tabs.currentChanged.connect(lambda _: self._make_room())

    def _follow_selection(self) -> None:
        if self._bench.stage == "ties" and self._bench.selection.picked.tie is not None:
            self._turn()

    def _follow_looking(self) -> None:
        if self._bench.stage == "height":
            self._turn()

    def _follow_stage(self, stage: str) -> None:
        side = self._tabs.indexOf(self._side_view)
        if stage == "height":
            self._turn()
        elif stage != "ties" and self._before >= 0 and self._tabs.currentIndex() == side:
            self._tabs.setCurrentIndex(self._before)
            self._before = -1

    def _turn(self) -> None:
        focus, side = QApplication.focusWidget(), self._tabs.indexOf(self._side_view)
        now = self._tabs.currentIndex()
        if now == side or (focus is not None and self._tabs.isAncestorOf(focus)):
            return
        self._before = now
        self._tabs.setCurrentIndex(side)

    def _make_room(self) -> None:
        sizes = self._stacked.sizes()
        if self._tabs.currentWidget() is self._side_view and sizes[1] < ENOUGH:
            high = min(ENOUGH, sum(sizes) - LEAST_DECK)
            if high > sizes[1]:
                self._stacked.setSizes([sum(sizes) - high, high])
