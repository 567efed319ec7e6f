"""Printing, onto a printer that writes a file: the sheet comes out at its true size."""

import io
from pathlib import Path

import pypdf
import pytest
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog

from spring_layout.drawing.paper import PAPERS
from spring_layout.drawing.sheet import tie_diagram
from spring_layout.gui.printing import print_drawings, print_on, printer_for
from spring_layout.plan import make_plan
from tests.decks import grid_deck
from tests.gui.hands import Hands


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_printed_page_is_as_large_as_its_paper(
    qapp: object, tmp_path: Path, paper: str
) -> None:
    drawing = tie_diagram(make_plan(grid_deck()), PAPERS[paper])
    printer = printer_for([drawing])
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "out.pdf"))
    assert print_on(printer, [drawing])
    page = pypdf.PdfReader(io.BytesIO((tmp_path / "out.pdf").read_bytes())).pages[0]
    size = sorted((float(page.mediabox.width), float(page.mediabox.height)))
    wanted = sorted((drawing.width / 25.4 * 72, drawing.height / 25.4 * 72))
    assert size == pytest.approx(wanted, abs=1)


@pytest.mark.qt_log_ignore("QPainter::begin")
def test_a_printer_that_refuses_is_noticed(qapp: object, tmp_path: Path) -> None:
    drawing = tie_diagram(make_plan(grid_deck()), PAPERS["a4"])
    printer = printer_for([drawing])
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "no such folder" / "out.pdf"))
    assert not print_on(printer, [drawing])


def test_the_user_may_rather_not_print(hands: Hands, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(QPrintDialog, "exec", lambda _: QDialog.DialogCode.Rejected)
    drawing = tie_diagram(make_plan(grid_deck()), PAPERS["a4"])
    assert not print_drawings([drawing], hands.window)
    hands.act("print")
    assert "Sent" not in hands.window.status.hint.text()
