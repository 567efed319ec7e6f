"""The side view as a file of its own: a picture, or a sheet for printing."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog

from spring_layout.drawing.paper import paper_named
from spring_layout.drawing.primitives import Drawing
from spring_layout.drawing.side_view import SightError, side_view
from spring_layout.gui.paper_files import filters_for

if TYPE_CHECKING:
    from spring_layout.gui.main_window import MainWindow

FILTERS = filters_for("side-view")


class SideSaving(QObject):
    """Asks for a name and writes what the side view shows, on the paper chosen for printing."""

    def __init__(self, window: "MainWindow") -> None:
        super().__init__(window)
        self._window = window
        window.side_view.save.clicked.connect(self.ask)

    def drawing(self) -> Drawing | None:
        """The sheet of the side view; None, with the reason told, where there is nothing to see."""
        window = self._window
        plan = window.bench.planner.catch_up()
        if plan is None:
            return None
        try:
            paper = paper_named(window.paper_page.wishes.paper("side-view"))
            told = plan.in_words(window.bench.words)
            return side_view(told, window.bench.looking.sight(plan), paper)
        except SightError as error:
            window.bench.say(f"{str(error)[0].upper()}{str(error)[1:]}.")
            return None

    def ask(self) -> None:
        """Asks where to, and writes it as the name's ending says."""
        drawing, deck = self.drawing(), self._window.bench.document.deck
        if drawing is None or deck is None:
            return
        path = self._window.bench.document.path
        stem = path.name.removesuffix(".deck.json") if path else deck.name
        folder = path.parent if path else Path.home()
        name, kind = QFileDialog.getSaveFileName(
            self._window,
            "Save the side view",
            str(folder / f"{stem} side view.svg"),
            ";;".join(FILTERS.values()),
        )
        if name:
            ending = next((ending for ending, words in FILTERS.items() if words == kind), ".svg")
            chosen = Path(name)
            if chosen.suffix.lower() not in FILTERS:
                chosen = chosen.with_name(chosen.name + ending)
            self._window.papering.export_to(chosen, drawing)
