"""Sheets leave the paper stage: exported into files, printed, and stopped on the way."""

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QProgressDialog

from spring_layout.gui import papering
from spring_layout.gui.paper_files import files_of
from tests.gui.hands import Hands
from tests.gui.paper_desk import Answer, choose, page_of, pages_drawn, pages_in, prints_to, saved_as

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
