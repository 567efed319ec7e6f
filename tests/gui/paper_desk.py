"""The paper stage as tests meet it: its desk cleared, its dialogs answered, its pages read."""

import io
from pathlib import Path

import pypdf
import pytest
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QMessageBox

from spring_layout.drawing.orders import drawn
from spring_layout.gui.panels.pages.paper import PaperPage
from tests.gui.hands import Hands

Answer = QMessageBox.StandardButton


def page_of(hands: Hands) -> PaperPage:
    return hands.window.paper_page


def choose(hands: Hands, sheet: str) -> None:
    page_of(hands).sheet_choice.choose(sheet)


def paper_size(hands: Hands) -> tuple[float, float]:
    sheet = hands.window.paper.sheet.sheet
    return sheet.width(), sheet.height()


def saved_as(monkeypatch: pytest.MonkeyPatch, path: Path, kind: str = "") -> None:
    monkeypatch.setattr(
        "spring_layout.gui.papering.QFileDialog.getSaveFileName", lambda *_: (str(path), kind)
    )


def prints_to(monkeypatch: pytest.MonkeyPatch, path: Path) -> None:
    """The user chooses a printer that writes a file."""

    def chosen(dialog: QPrintDialog) -> QDialog.DialogCode:
        dialog.printer().setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        dialog.printer().setOutputFileName(str(path))
        return QDialog.DialogCode.Accepted

    monkeypatch.setattr(QPrintDialog, "exec", chosen)


def pages_in(path: Path) -> list[pypdf.PageObject]:
    return list(pypdf.PdfReader(io.BytesIO(path.read_bytes())).pages)


def pages_drawn(hands: Hands, sheet: str) -> int:
    plan = hands.bench.planner.plan
    assert plan is not None
    return len(drawn(plan, page_of(hands).wishes.order(sheet)))
