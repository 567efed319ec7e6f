"""The diagram onto paper: shown as it will print, exported as SVG or PDF, printed."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog

from spring_layout.deck.errors import OutputError
from spring_layout.deck.files import write_atomically
from spring_layout.drawing.primitives import Drawing
from spring_layout.drawing.sheet import tie_diagram
from spring_layout.drawing.svg import svg_bytes
from spring_layout.gui.actions import Actions
from spring_layout.gui.panels.pages.paper import PaperPage
from spring_layout.gui.paper_view import PaperView
from spring_layout.gui.workbench import Workbench
from spring_layout.qtrender.pdf import pdf_bytes

if TYPE_CHECKING:
    from spring_layout.gui.main_window import MainWindow

FILTERS = {".svg": "Picture (*.svg)", ".pdf": "For printing (*.pdf)"}


class Papering(QObject):
    """Draws the sheet when it is looked at, and only then."""

    def __init__(
        self,
        bench: Workbench,
        acts: Actions,
        page: PaperPage,
        view: PaperView,
        window: "MainWindow",
    ) -> None:
        super().__init__(window)
        self._bench, self._page, self._view, self._window = bench, page, view, window
        acts.does("export", self.export)
        acts.does("print", self.print_out)
        page.export.clicked.connect(self.export)
        page.print.clicked.connect(self.print_out)
        page.paper_changed.connect(self.follow)
        bench.planner.plan_changed.connect(self.follow)
        bench.stage_changed.connect(lambda _: self.follow())

    def drawing(self) -> Drawing | None:
        """The diagram of the deck as it is decided, on the chosen paper."""
        plan = self._bench.planner.catch_up()
        return tie_diagram(plan, self._page.paper) if plan else None

    def follow(self) -> None:
        """Draws the sheet anew while it is looked at."""
        if self._bench.stage != "paper" or self._bench.planner.plan is None:
            return
        drawing = tie_diagram(self._bench.planner.plan, self._page.paper)
        self._view.show_drawing(drawing)
        self._page.show_drawing(drawing)

    def export(self) -> None:
        """Asks for a name and writes the diagram there, as its ending says."""
        drawing, deck = self.drawing(), self._bench.document.deck
        if drawing is None or deck is None:
            return
        path = self._bench.document.path
        stem = path.name.removesuffix(".deck.json") if path else deck.name
        folder = path.parent if path else Path.home()
        name, kind = QFileDialog.getSaveFileName(
            self._window,
            "Export the diagram",
            str(folder / f"{stem}.svg"),
            ";;".join(FILTERS.values()),
        )
        if name:
            endings = [ending for ending, words in FILTERS.items() if words == kind] or [".svg"]
            self.export_to(_with_ending(Path(name), endings[0]), drawing)

    def export_to(self, path: Path, drawing: Drawing) -> bool:
        """Writes the drawing to ``path``; says why where that cannot be."""
        data = pdf_bytes([drawing]) if path.suffix.lower() == ".pdf" else svg_bytes(drawing)
        try:
            write_atomically(path, data)
        except OutputError as error:
            self._window.filing.tell("The diagram is not exported.", str(error))
            return False
        self._bench.say(f"Exported as {path.name}")
        return True

    def print_out(self) -> None:
        """Asks for a printer and prints the diagram there."""
        drawing = self.drawing()
        if drawing is not None:
            # QtPrintSupport is slow to load and most evenings nobody prints
            from spring_layout.gui.printing import print_drawing

            if print_drawing(drawing, self._window):
                self._bench.say("Sent to the printer. Check the scale bar on the sheet.")


def _with_ending(path: Path, ending: str) -> Path:
    return path if path.suffix.lower() in FILTERS else path.with_name(path.name + ending)
