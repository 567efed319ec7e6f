"""The paper stage: every sheet is looked at page by page, as it will print."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from spring_layout.drawing.orders import KINDS
from tests.gui.hands import Hands
from tests.gui.paper_desk import choose, page_of, pages_drawn, paper_size

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
