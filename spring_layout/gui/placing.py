"""Suggesting layouts and spacing evenly, as the window offers them."""

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QDialog, QWidget

from spring_layout.deck.edits.common import checked
from spring_layout.gui.actions import Actions
from spring_layout.gui.evening import Evening
from spring_layout.gui.helper import Helper
from spring_layout.gui.panels.layouts_dialog import LayoutsDialog
from spring_layout.gui.panels.sizes_dialog import SizesDialog
from spring_layout.gui.passing import passing
from spring_layout.gui.words import counted
from spring_layout.gui.workbench import Workbench


class Placing(QObject):
    """The two actions on places, and the helper process that works them out."""

    def __init__(self, bench: Workbench, acts: Actions, window: QWidget) -> None:
        super().__init__(window)
        self._bench, self._acts, self._window = bench, acts, window
        self.helper = Helper(self)
        self.evening = Evening(bench, self.helper, self)
        self.evening.began.connect(self._follow)
        self.evening.ended.connect(self._follow)
        self._escape = QShortcut(QKeySequence(Qt.Key.Key_Escape), window)
        self._escape.activated.connect(self.evening.drop)
        acts.does("suggest", self.suggest)
        acts.does("even", self.evening.start)
        acts.does("stop", self.evening.stop)
        self._follow()

    def work_here(self) -> None:
        """Works everything out in the window's own process."""
        self.end()
        self.helper.works_here = True

    def work_away(self) -> None:
        """Works everything out in a process of its own, as at the start."""
        self.end()
        self.helper.works_here = False

    def end(self) -> None:
        """Ends the helper process."""
        self.evening.drop()
        self.helper.stop()

    def _follow(self) -> None:
        running = self.evening.is_running
        self._escape.setEnabled(running)
        self._acts["stop"].setEnabled(running)
        self._acts["even"].setVisible(not running)
        self._acts["stop"].setVisible(running)

    def sizes(self) -> None:
        """Spring sizes to measure, add and change; what is changed is one step."""
        if self._bench.document.deck is None:
            return
        with passing(SizesDialog(self._bench, self._window)) as dialog:
            if dialog.exec() == QDialog.DialogCode.Accepted:
                self._bench.document.edit("Spring sizes", dialog.deck)

    def suggest(self) -> None:
        """Layouts to choose from; the chosen one is one step."""
        self.evening.drop()
        if self._bench.document.deck is None:
            return
        with passing(LayoutsDialog(self._bench, self.helper, self._window)) as dialog:
            answer = dialog.exec()
            chosen = dialog.chosen
        if answer == QDialog.DialogCode.Accepted and chosen is not None:
            self._bench.selection.clear()
            count = counted(len(chosen.springs), "spring")
            if self._bench.attempt(f"Set {count}", lambda _: checked(chosen)):
                self._bench.choose_stage("springs")
