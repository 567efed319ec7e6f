"""Particulars of the paper: which sheet, what stands on it, export and print."""

from PySide6.QtCore import QLocale, Signal

from spring_layout.drawing.paper import PAPERS, Paper
from spring_layout.drawing.primitives import Drawing
from spring_layout.gui.panels.fields import Choice
from spring_layout.gui.panels.form import Page, button
from spring_layout.gui.workbench import Workbench


class PaperPage(Page):
    """The paper of the diagram, its scale, and the two ways to get it onto paper."""

    paper_changed = Signal()

    def __init__(self, bench: Workbench) -> None:
        super().__init__("Paper")
        self._bench = bench
        names = [(key, paper.name) for key, paper in PAPERS.items()]
        self.paper_choice = self.row("Paper", Choice("Paper", names), "The sheet turns to fit")
        self.paper_choice.show_value(bench.settings.text("paper", _local_paper()))
        self.paper_choice.chosen.connect(self._choose)
        self.scale = self.fact("Scale")
        self.sheet_size = self.fact("Sheet")
        self.print = button("Print…", "Print the diagram to tape to the frame", main=True)
        self.export = button("Export…", "As a picture (SVG) or for printing (PDF)")
        self.buttons(self.print, self.export)
        self.note(
            "Print at 100 % (actual size), without fitting to the page: then the scale bar is true."
        )
        self.heading("At the bench")
        self.note(
            "Eye protection while compressing, tying or cutting springs. Keep your hands out from "
            "under a loaded spring; gloves for pulling twine."
        )

    @property
    def paper(self) -> Paper:
        """The chosen paper."""
        return PAPERS[str(self.paper_choice.currentData())]

    def follow(self) -> None:
        """Nothing hangs on the selection here."""

    def show_drawing(self, drawing: Drawing) -> None:
        """Tells what the sheet has come to."""
        scale = dict(drawing.data).get("scale", "")
        self.scale.setText(f"1 : {scale}" if scale else "–")
        length = self._bench.length
        across = length(drawing.width, "exact", unit=False)
        self.sheet_size.setText(f"{across} × {length(drawing.height, 'exact')}")

    def _choose(self, key: str) -> None:
        self._bench.settings.keep("paper", key)
        self.paper_changed.emit()


def _local_paper() -> str:
    """Letter where letter is bought (the United States, Canada, Mexico), else A4."""
    lands = QLocale.Country
    here = QLocale.system().territory()
    return "letter" if here in (lands.UnitedStates, lands.Canada, lands.Mexico) else "a4"
