"""Particulars of the paper: which sheet, on what paper, the set to print, the printer's bars."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QWidget

from spring_layout.drawing.orders import KINDS, LEAST_MARGIN, MOST_MARGIN, Order
from spring_layout.drawing.paper import PAPERS
from spring_layout.drawing.primitives import Drawing
from spring_layout.drawing.template_correction import CorrectionError
from spring_layout.gui.panels.fields import Choice, LengthField, Switch, WordsField
from spring_layout.gui.panels.form import Page, button
from spring_layout.gui.panels.pages.counts import CountField
from spring_layout.gui.paper_wishes import (
    LONG_PAPERS,
    MOST_COPIES,
    SHEET_WORDS,
    Wishes,
    correction_of,
)
from spring_layout.gui.words import RUN_WORDS, Words, counted
from spring_layout.gui.workbench import Workbench

WAYS = (("either", "Turned to fit"), ("upright", "Upright"), ("lying", "Lying"))
FULL_SIZE = (
    "Full size: print at 100 % (actual size), never fitted to the page. Then measure the bars on "
    "it: 100 mm and 4 in."
)
TO_SCALE = "Print at 100 % (actual size), without fitting to the page: then its scale is true."


class PaperPage(Page):
    """Everything about the sheet that is looked at, and about the set that is printed."""

    order_changed = Signal()
    """Another sheet is to be shown, or this one differently."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__("Paper")
        self._bench = bench
        self.wishes = Wishes(bench.settings)
        self._make_sheet()
        self.scale = self.fact("Scale")
        self.sheet_size = self.fact("Paper size")
        self.pages = self.fact("Pages")
        self.print = button("Print this sheet…", "Print every page of this sheet", main=True)
        self.export = button("Export…", "As pictures (SVG) or for printing (PDF)")
        self.buttons(self.print, self.export)
        self.said = self.note(TO_SCALE)
        self._make_set()
        self._make_bars()
        self.heading("At the bench")
        self.note(
            "Eye protection while compressing, tying or cutting springs. Keep your hands out from "
            "under a loaded spring; gloves for pulling twine."
        )
        self.show_sheet("diagram")

    # building -------------------------------------------------------------------------------------

    def _make_sheet(self) -> None:
        self.sheet_choice = self.row("Sheet", Choice("Sheet"), "What is shown, printed, exported")
        self.sheet_choice.chosen.connect(self._choose_sheet)
        self.paper_choice = self.row("Paper", Choice("Paper"), "Kept for each sheet")
        self.paper_choice.chosen.connect(lambda key: self._keep("paper", key))
        self.way_choice = self.row("Way round", Choice("Way round", WAYS), "How the paper lies")
        self.way_choice.chosen.connect(lambda key: self._keep("way", key))
        self.line_choice = self.row("Cut along", Choice("Cut along"), "Where the deck is cut")
        self.line_choice.chosen.connect(self._choose_line)
        self.margin = self.row(
            "Margins",
            LengthField(self._bench, "Margins", self._accept_margin),
            "Kept free along every edge of the paper",
        )
        self.margin.entered.connect(lambda mm: self._keep("margin", f"{mm:g}"))

    def _make_set(self) -> None:
        self.heading("The set")
        self.in_set = self.put(Switch("Part of the set", "Printed when the set is printed"))
        self.in_set.switched.connect(
            lambda on: self._keep("in-set", "yes" if on else "no", redraw=False)
        )
        self.copies = self.row(
            "Copies of this sheet",
            CountField(self._bench, "Copies of this sheet", (1, MOST_COPIES), self._copy),
            "How often each of its pages is printed",
        )
        self.set_words = self.note(" ")
        self.print_set = button("Print the set…", "Print these sheets one after the other")
        self.put(self.print_set)

    def _make_bars(self) -> None:
        self.bars_heading = self.heading("Your printer")
        self.bars_note = self.note(
            "Print a page and measure its 100 mm bars. Write what they came to: the next print is "
            "corrected."
        )
        self.across, self.down = (WordsField(name) for name in ("Bar across", "Bar down"))
        for field, words in ((self.across, "Bar across"), (self.down, "Bar down")):
            field.setPlaceholderText("100 mm")
            self.row(words, field, "Such as 99.4 mm; of the 4 in bar in inches")
            field.entered.connect(self._measure)
        self.bars_wrong = self.note("", "wrong")

    # showing --------------------------------------------------------------------------------------

    def retell(self, words: Words) -> None:
        """Names the sheets in the words in use."""
        super().retell(words)
        self.sheet_choice.offer([(key, words.fill(text)) for key, text in SHEET_WORDS.items()])
        self.show_sheet(self.wishes.sheet)

    def follow(self) -> None:
        """Takes up the ties that a side view can be cut along."""
        plan = self._bench.planner.plan
        fill = self._bench.words.fill
        lines = plan.parts.ties.lines if plan else ()
        self.line_choice.offer(
            [(str(k.number), fill(f"{{Tie}} {k.number}, {RUN_WORDS[k.run]}")) for k in lines]
        )
        if self.wishes.line not in [line.number for line in lines]:
            self.wishes.line = 1
        self.line_choice.show_value(str(self.wishes.line))
        self.margin.show_mm(self.wishes.margin(self.wishes.sheet))

    @property
    def order(self) -> Order:
        """The sheet as it is wished."""
        return self.wishes.order()

    def sheet_name(self, sheet: str = "") -> str:
        """What a sheet is called, the one that is looked at if none is told."""
        return self._bench.words.fill(SHEET_WORDS[sheet or self.wishes.sheet])

    def orders_of_set(self) -> list[tuple[Order, int]]:
        """The sheets of the set, each with its number of copies."""
        wishes = self.wishes
        return [
            (wishes.order(sheet), wishes.copies(sheet)) for sheet in KINDS if wishes.in_set(sheet)
        ]

    def show_sheet(self, sheet: str) -> None:
        """Shows what is wished of a sheet."""
        self.wishes.sheet = sheet
        kind, wishes = KINDS[sheet], self.wishes
        self.sheet_choice.show_value(sheet)
        papers = [(key, paper.name) for key, paper in PAPERS.items()]
        self.paper_choice.offer(papers + list(LONG_PAPERS if kind.full_size else ()))
        self.paper_choice.show_value(wishes.paper(sheet))
        self.way_choice.show_value(wishes.way(sheet) if kind.turns else kind.way)
        self.way_choice.setEnabled(kind.turns)
        self.margin.show_mm(wishes.margin(sheet))
        self.in_set.show_on(wishes.in_set(sheet))
        self.copies.show_count(wishes.copies(sheet))
        self._show_row(self.line_choice, sheet == "side-view")
        self._show_bars(kind.full_size)
        self.said.setText(FULL_SIZE if kind.full_size else TO_SCALE)
        self.said.setVisible(kind.has_scale)
        self.export.setToolTip(export_tip(sheet))
        self._show_set()

    def show_pages(self, pages: tuple[Drawing, ...], number: int) -> None:
        """Tells what the sheet has come to, of the page that is looked at."""
        drawing = pages[number]
        scale = dict(drawing.data).get("scale", "")
        self.scale.setText(f"1 : {scale}" if scale else "–")
        length = self._bench.length
        across = length(drawing.width, "exact", unit=False)
        self.sheet_size.setText(f"{across} × {length(drawing.height, 'exact')}")
        self.pages.setText(str(len(pages)))

    def show_nothing(self) -> None:
        """There is no page to tell of."""
        for fact in (self.scale, self.sheet_size, self.pages):
            fact.setText("–")

    def _show_bars(self, on: bool) -> None:
        across, down = self.wishes.bars()
        self.across.show_words(across)
        self.down.show_words(down)
        for widget in (self.bars_heading, self.bars_note):
            widget.setVisible(on)
        for field in (self.across, self.down):
            self._show_row(field, on)
        self.bars_wrong.setVisible(on and bool(self.bars_wrong.text()))

    def _show_row(self, field: QWidget, on: bool) -> None:
        field.setVisible(on)
        for told in self.findChildren(QLabel):
            if told.buddy() is field:
                told.setVisible(on)

    def _show_set(self) -> None:
        told = [
            self.sheet_name(order.sheet) + (f" × {copies}" if copies > 1 else "")
            for order, copies in self.orders_of_set()
        ]
        self.set_words.setText(
            f"{counted(len(told), 'sheet')}: {', '.join(told)}." if told else "No sheet is in it."
        )
        self.set_words.show()
        self.print_set.setEnabled(bool(told))

    # changing -------------------------------------------------------------------------------------

    def _choose_sheet(self, sheet: str) -> None:
        self.show_sheet(sheet)
        self.order_changed.emit()

    def _choose_line(self, number: str) -> None:
        self.wishes.line = int(number)
        self.order_changed.emit()

    def _keep(self, name: str, value: str, redraw: bool = True) -> None:
        self.wishes.keep(name, value)
        self._show_set()
        if redraw:
            self.order_changed.emit()

    def _accept_margin(self, mm: float) -> None:
        """Raises ValueError with a sentence."""
        if not LEAST_MARGIN <= mm <= MOST_MARGIN:
            least, most = (self._bench.length(m, "exact") for m in (LEAST_MARGIN, MOST_MARGIN))
            raise ValueError(f"Margins are from {least} to {most}.")

    def _copy(self, count: int) -> None:
        self._keep("copies", str(count), redraw=False)

    def _measure(self, _text: str) -> None:
        across, down = self.across.text().strip(), self.down.text().strip()
        try:
            correction_of(across, down)
        except CorrectionError as error:
            why = f"{str(error)[:1].upper()}{str(error)[1:]}."
            self.bars_wrong.setText(why)
            self.bars_wrong.show()
            self._bench.say(why)
            return
        self.bars_wrong.setText("")
        self.bars_wrong.hide()
        self.wishes.keep_bars(across, down)
        self.order_changed.emit()


def export_tip(sheet: str) -> str:
    """What the sheet can be exported as."""
    more = ", or its geometry for a plotter or cutter (DXF)" if sheet == "template" else ""
    return f"As pictures, a file a page (SVG), or for printing (PDF){more}"
