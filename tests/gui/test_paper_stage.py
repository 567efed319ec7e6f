"""The paper stage: every sheet is looked at page by page, exported and printed, by hand."""

import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QMessageBox, QProgressDialog

from spring_layout.drawing.orders import KINDS, drawn
from spring_layout.gui import papering
from spring_layout.gui.panels.pages.paper import PaperPage
from spring_layout.gui.paper_files import files_of
from tests.gui.hands import Hands

Answer = QMessageBox.StandardButton


@pytest.fixture
def desk(hands: Hands) -> Iterator[Hands]:
    """The paper stage, every wish as it is at first."""
    for sheet in KINDS:
        for name in ("paper", "way", "margin", "copies", "in-set"):
            hands.window.paper_page.wishes.keep(name, "", sheet)
        hands.bench.settings.keep(
            f"paper-{sheet}-in-set", "yes" if sheet in ("diagram", "bench", "record") else "no"
        )
        hands.window.paper_page.wishes.keep("paper", "a4", sheet)
    hands.window.paper_page.wishes.keep_bars("", "")
    page_of(hands).show_sheet("side-view")  # the quickest to draw
    hands.bench.choose_stage("paper")
    yield hands
    hands.window.papering.helper.works_here = True
    page_of(hands).show_sheet("diagram")


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


# looking ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("sheet", KINDS)
def test_every_sheet_is_shown_as_it_will_print(desk: Hands, sheet: str) -> None:
    choose(desk, sheet)
    assert sorted(paper_size(desk)) == [210, 297]  # ISO 216
    assert page_of(desk).pages.text() == str(pages_drawn(desk, sheet))
    assert desk.window.paper.turner.words.text().startswith("Page 1 of ")


def test_the_sheets_are_called_by_the_trades_words_of_either_side(desk: Hands) -> None:
    choices = page_of(desk).sheet_choice
    assert choices.itemText(0) == "Tie diagram"  # the deck is in inches
    desk.act("millimetres")
    assert choices.itemText(0) == "Lashing plan"


def test_pages_are_turned_by_keys_and_by_the_bar(desk: Hands) -> None:
    choose(desk, "bench")
    view, words = desk.window.paper, desk.window.paper.turner.words
    count = pages_drawn(desk, "bench")
    assert count > 2
    desk.key(Qt.Key.Key_PageDown, on=view)
    assert words.text() == f"Page 2 of {count}"
    QTest.mouseClick(view.turner.on, Qt.MouseButton.LeftButton)
    assert words.text() == f"Page 3 of {count}"
    desk.key(Qt.Key.Key_PageUp, on=view)
    desk.key(Qt.Key.Key_PageUp, on=view)
    assert words.text() == f"Page 1 of {count}"
    assert not view.turner.back.isEnabled()
    desk.key(Qt.Key.Key_PageUp, on=view)
    assert words.text() == f"Page 1 of {count}"


def test_a_tile_of_the_template_is_named_by_its_row_and_column(desk: Hands) -> None:
    choose(desk, "template")
    assert "sheet 1-1" in desk.window.paper.turner.words.text()


def test_a_sheet_that_turns_is_laid_as_it_is_wanted_and_another_cannot_be(desk: Hands) -> None:
    page = page_of(desk)
    choose(desk, "steps")
    page.way_choice.choose("lying")
    assert paper_size(desk) == (297, 210)
    page.way_choice.choose("upright")
    assert paper_size(desk) == (210, 297)
    choose(desk, "record")
    assert not page.way_choice.isEnabled()
    assert page.way_choice.currentText() == "Upright"


def test_paper_and_margins_are_kept_for_each_sheet(desk: Hands) -> None:
    page = page_of(desk)
    choose(desk, "bench")
    page.paper_choice.choose("a3")
    desk.type(page.margin, "20 mm")
    choose(desk, "record")
    assert page.paper_choice.currentData() != "a3"
    assert page.margin.mm == 10
    choose(desk, "bench")
    assert page.paper_choice.currentData() == "a3"
    assert page.margin.mm == 20
    assert sorted(paper_size(desk)) == [297, 420]


def test_a_margin_that_no_sheet_can_have_is_refused_in_a_sentence(desk: Hands) -> None:
    desk.type(page_of(desk).margin, "2 mm")
    assert desk.bench.remark == "Margins are from 3/16 in to 1 9/16 in."
    assert page_of(desk).wishes.margin("side-view") == 10


def test_paper_that_is_too_small_is_told_in_place_of_the_page(desk: Hands) -> None:
    choose(desk, "template")
    page_of(desk).way_choice.choose("upright")
    desk.type(page_of(desk).margin, "30 mm")
    assert paper_size(desk) == (0, 0)
    words = desk.window.paper.why
    assert words.isVisible()
    assert "choose narrower margins" in words.text()
    QApplication.processEvents()
    assert words.heightForWidth(words.width()) <= words.height()
    desk.type(page_of(desk).margin, "10 mm")
    assert paper_size(desk) == (210, 297)
    assert not words.isVisible()


def test_a_template_comes_off_a_roll_and_a_bench_sheet_does_not(desk: Hands) -> None:
    page = page_of(desk)
    choose(desk, "template")
    page.paper_choice.choose("roll-610")
    assert 610 in paper_size(desk)
    choose(desk, "bench")
    assert page.paper_choice.findData("roll-610") == -1


def test_the_side_view_is_cut_along_the_chosen_tie(desk: Hands) -> None:
    choose(desk, "side-view")
    first = desk.window.paper.accessibleDescription()
    page_of(desk).line_choice.choose("2")
    assert desk.window.paper.accessibleDescription() != first


def test_the_sheet_follows_the_deck(desk: Hands) -> None:
    choose(desk, "diagram")
    before = desk.window.paper.accessibleDescription()
    desk.bench.selection.pick_springs([desk.deck.springs[0].id])
    desk.act("delete")
    desk.bench.planner.catch_up()
    assert desk.window.paper.accessibleDescription() != before
    desk.act("undo")


# the printer's bars -------------------------------------------------------------------------------


def test_what_the_bars_measured_corrects_the_next_print(desk: Hands) -> None:
    page = page_of(desk)
    choose(desk, "template")
    assert page.across.isVisibleTo(page)
    desk.type(page.across, "99.0 mm")
    correction = page.order.correction
    assert (correction.across, correction.down) == pytest.approx((0.99, 1.0))
    choose(desk, "bench")
    assert page.order.correction.is_none
    assert not page.across.isVisibleTo(page)


def test_a_bar_that_was_fitted_to_the_page_is_not_believed(desk: Hands) -> None:
    page = page_of(desk)
    choose(desk, "rail-strips")
    desk.type(page.down, "90")
    assert "print at 100 %" in page.bars_wrong.text()
    assert page.order.correction.is_none


def test_full_size_sheets_say_that_they_are_printed_at_100_percent(desk: Hands) -> None:
    page = page_of(desk)
    choose(desk, "template")
    assert "print at 100 %" in page.said.text()
    choose(desk, "bench")
    assert not page.said.isVisibleTo(page)


# export -------------------------------------------------------------------------------------------


def test_a_sheet_of_several_pages_is_exported_a_file_a_page(
    desk: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose(desk, "bench")
    saved_as(monkeypatch, tmp_path / "stool.svg")
    desk.act("export")
    names = {path.name for path in tmp_path.glob("*.svg")}
    assert names == {f"stool-{i + 1}.svg" for i in range(pages_drawn(desk, "bench"))}


def test_all_pages_go_into_one_pdf(
    desk: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose(desk, "template")
    saved_as(monkeypatch, tmp_path / "stool.pdf")
    desk.act("export")
    assert len(pages_in(tmp_path / "stool.pdf")) == pages_drawn(desk, "template")


def test_the_template_is_exported_as_geometry_too(
    desk: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose(desk, "template")
    saved_as(monkeypatch, tmp_path / "stool", "Geometry for a plotter or cutter (*.dxf)")
    desk.act("export")
    assert b"TACK_POINTS" in (tmp_path / "stool.dxf").read_bytes()


def test_pages_that_are_there_already_are_not_lost_unasked(
    desk: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "stool-2.svg").write_text("mine")
    asked: list[str] = []

    def no(words: str, more: str, buttons: object) -> Answer:
        asked.append(f"{words} {more}")
        return Answer.Cancel

    desk.window.filing.ask = no  # type: ignore[method-assign]  # stands in for the user
    choose(desk, "bench")
    saved_as(monkeypatch, tmp_path / "stool.svg")
    desk.act("export")
    assert asked == ["1 page of the same name is there already. Replace stool-2.svg?"]
    assert [p.name for p in tmp_path.glob("*.svg")] == ["stool-2.svg"]
    desk.window.filing.ask = lambda *_: Answer.Save  # type: ignore[method-assign]  # the same
    desk.act("export")
    assert (tmp_path / "stool-2.svg").read_text() != "mine"


def test_an_export_that_cannot_be_drawn_is_told(
    desk: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []
    desk.window.filing.tell = lambda words, why: told.append(f"{words} {why}")  # type: ignore[method-assign]  # stands in for the user
    choose(desk, "template")
    page_of(desk).way_choice.choose("upright")
    desk.type(page_of(desk).margin, "30 mm")
    saved_as(monkeypatch, tmp_path / "stool.pdf")
    desk.act("export")
    assert told[0].startswith("The full-size template is not exported. A4 is too small")
    assert not list(tmp_path.glob("*.pdf"))
    del desk.window.filing.tell


# printing -----------------------------------------------------------------------------------------


def test_a_sheet_is_printed_in_its_copies(
    desk: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    prints_to(monkeypatch, tmp_path / "out.pdf")
    choose(desk, "rail-strips")
    desk.type(page_of(desk).copies, "2")
    desk.act("print")
    assert len(pages_in(tmp_path / "out.pdf")) == 2 * pages_drawn(desk, "rail-strips")
    assert "Measure the 100 mm bars" in desk.bench.remark


def test_the_set_is_printed_each_sheet_on_its_own_paper(
    desk: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    prints_to(monkeypatch, tmp_path / "out.pdf")
    page = page_of(desk)
    choose(desk, "diagram")
    page.paper_choice.choose("a3")
    choose(desk, "bench")
    page.in_set.click()
    assert page.set_words.text() == "2 sheets: Tie diagram, Record."
    page.print_set.click()
    pages = pages_in(tmp_path / "out.pdf")
    assert len(pages) == 1 + pages_drawn(desk, "record")
    heights = [max(float(p.mediabox.width), float(p.mediabox.height)) for p in pages]
    assert heights[:2] == pytest.approx([420 / 25.4 * 72, 297 / 25.4 * 72], abs=1)


def test_an_empty_set_cannot_be_printed(desk: Hands) -> None:
    for sheet in ("diagram", "bench", "record"):
        choose(desk, sheet)
        page_of(desk).in_set.click()
    assert page_of(desk).set_words.text() == "No sheet is in it."
    assert not page_of(desk).print_set.isEnabled()


def test_printing_can_be_stopped(
    desk: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    prints_to(monkeypatch, tmp_path / "out.pdf")
    monkeypatch.setattr(QProgressDialog, "wasCanceled", lambda _: True)
    desk.act("print")
    assert desk.bench.remark.startswith("Printing is stopped")


# what takes long ----------------------------------------------------------------------------------


def test_what_takes_long_is_told_and_can_be_stopped(
    desk: Hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A helper that never answers: the window goes on, says what it draws, and stops it."""
    helper, turner = desk.window.papering.helper, desk.window.paper.turner
    monkeypatch.setattr(helper, "ask", lambda *_: 77)
    desk.window.papering._busy.setInterval(0)
    choose(desk, "steps")
    QTest.qWait(10)
    assert turner.words.text() == "Drawing: tying steps…"
    assert turner.stop.isVisible()
    turner.stop.click()
    assert turner.words.text() == "Stopped."
    monkeypatch.undo()
    turner.redraw.click()
    assert turner.words.text().startswith("Page 1 of")
    desk.window.papering._busy.setInterval(papering.PATIENCE)


def test_an_export_goes_before_another_look(
    desk: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While a file is being made another sheet is chosen: it is shown once the file is written."""
    window = desk.window
    asked: list[tuple[Any, ...]] = []

    def slowly(*what: object) -> int:
        asked.append(what)
        return 77

    with monkeypatch.context() as slow:
        slow.setattr(window.papering.helper, "ask", slowly)
        saved_as(monkeypatch, tmp_path / "stool.svg")
        desk.act("export")
        choose(desk, "record")
        desk.act("export")
        assert len(asked) == 1
        assert "still being drawn" in desk.bench.remark
    work, *arguments = asked[0]
    assert work is files_of
    window.papering.helper.answered.emit(77, work(*arguments))
    assert (tmp_path / "stool.svg").exists()
    assert window.paper.turner.words.text().startswith("Page 1 of")


def test_an_export_that_is_stopped_writes_nothing(
    desk: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as slow:
        slow.setattr(desk.window.papering.helper, "ask", lambda *_: 77)
        saved_as(monkeypatch, tmp_path / "stool.pdf")
        desk.act("export")
    desk.window.papering.stop()
    desk.window.papering.helper.answered.emit(77, {str(tmp_path / "stool.pdf"): b"late"})
    assert not (tmp_path / "stool.pdf").exists()
    assert "nothing is written" in desk.bench.remark


def test_a_sheet_is_drawn_in_a_process_of_its_own(desk: Hands) -> None:
    helper = desk.window.papering.helper
    helper.works_here = False
    choose(desk, "steps")
    for _ in range(600):
        if desk.window.papering._shown == page_of(desk).order:
            break
        QTest.qWait(20)
    assert desk.window.paper.turner.words.text().startswith("Page 1 of")
    desk.window.papering.end()


# measured heights ---------------------------------------------------------------------------------


def test_a_measured_height_is_typed_printed_on_the_record_and_taken_back(hands: Hands) -> None:
    spring, page = hands.deck.springs[0].id, hands.window.particulars.spring_page
    hands.bench.selection.pick_springs([spring])
    hands.type(page.measured, "4 7/16")
    height = pytest.approx(4.4375 * 25.4)
    assert hands.deck.spring(spring).measured_height == height
    plan = hands.bench.planner.catch_up()
    assert plan is not None
    record = files_of(plan, hands.window.paper_page.wishes.order("record"), "record.svg")
    assert b">4 7/16<" in next(iter(record.values()))
    page.measured.selectAll()
    hands.key(Qt.Key.Key_Delete, on=page.measured)
    hands.key(Qt.Key.Key_Return, on=page.measured)
    assert hands.deck.spring(spring).measured_height is None
    hands.act("undo")
    assert hands.deck.spring(spring).measured_height == height


def test_a_measured_height_that_cannot_be_is_refused(hands: Hands) -> None:
    page = hands.window.particulars.spring_page
    hands.bench.selection.pick_springs([hands.deck.springs[0].id])
    hands.type(page.measured, "-3")
    assert hands.bench.remark == "A measured height must be more than nothing."
    assert hands.deck.springs[0].measured_height is None


def test_measured_heights_are_written_into_the_table(hands: Hands) -> None:
    hands.window.tabs.setCurrentWidget(hands.window.spring_table)
    QApplication.processEvents()
    rows = hands.window.spring_table.rows
    heads = [column.head for column in rows.columns]
    cell = rows.index(0, heads.index("Measured"))
    name = rows.keys[0]
    assert rows.setData(cell, "114 mm")
    assert hands.deck.spring(name).measured_height == 114
    assert rows.data(cell) == "4 1/2 in"
    assert not rows.setData(cell, "tall")
    assert rows.setData(cell, "")
    assert hands.deck.spring(name).measured_height is None


def test_the_words_that_are_chosen_are_printed(desk: Hands) -> None:
    wishes = page_of(desk).wishes
    desk.menu("Edit", "Words", "British").trigger()
    british = desk.window.papering._shown
    assert british == wishes.order()
    assert british is not None
    assert british.words == "uk"
    assert desk.window.papering._made[british][0].title.startswith("Side view along lashing ")
    desk.menu("Edit", "Words", "American").trigger()
    american = desk.window.papering._shown
    assert american is not None
    assert desk.window.papering._made[american][0].title.startswith("Side view along tie ")
