"""The base as the user lays it: strips dragged, nudged, typed, added and taken out."""

from itertools import pairwise

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from spring_layout.deck import edits
from spring_layout.gui.panels.pages.base import BasePage
from spring_layout.gui.panels.strip_table import StripTable
from spring_layout.gui.selection import Picked, StripKey
from spring_layout.planning.webbing import SCHOOL_SIZES
from tests.gui.hands import Hands
from tests.gui.strips import BARE, base_page, middles, steps, webbing

ALT = Qt.KeyboardModifier.AltModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
INCH = 25.4


@pytest.fixture
def page(hands: Hands) -> BasePage:
    """The page of the base."""
    return base_page(hands)


# strips in the hand ---------------------------------------------------------------------------


def test_a_dragged_strip_stays_where_it_is_let_go(hands: Hands, page: BasePage) -> None:
    before = middles(hands)
    hands.drag([(before[1], BARE), (before[1] + 4, BARE), (before[1] + 17, BARE)], ALT)
    after = hands.deck.webbing.front_to_back
    assert after is not None
    assert after == pytest.approx([before[0], before[1] + 17, before[2]], abs=0.6)
    assert hands.deck.webbing.side_to_side is None
    assert steps(hands) == (1, "Move a strip")
    assert hands.bench.selection.picked.strip == StripKey("front-to-back", 1)
    hands.act("undo")
    assert hands.deck.webbing.front_to_back is None


def test_strips_and_their_gaps_follow_while_one_is_dragged(hands: Hands, page: BasePage) -> None:
    before = middles(hands)
    hands.press((before[1], BARE))
    hands.move((before[1] + 20, BARE), ALT)
    assert hands.bench.document.is_previewing
    moved = hands.window.base_work.webbing()
    assert moved is not None
    assert moved.of("front-to-back")[1].at == pytest.approx(before[1] + 20, abs=0.6)
    numbers = [n.words for n in hands.view.deck_scene.guides.numbers if n.isVisible()]
    left, right = (b - a - 89 for a, b in pairwise(before))
    assert numbers == [
        hands.bench.length(left + 20, unit=False),
        hands.bench.length(right - 20, unit=False),
    ]
    hands.key(Qt.Key.Key_Escape)
    assert steps(hands)[0] == 0
    assert not hands.bench.document.is_previewing
    hands.release((before[1] + 20, BARE))
    assert hands.deck.webbing.front_to_back is None


def test_a_strip_settles_under_its_row_and_says_so(hands: Hands, page: BasePage) -> None:
    row = hands.place_of("s2")[0]
    start = middles(hands)[1]
    hands.drag([(start, BARE), (start + 30, BARE)], ALT)
    start = middles(hands)[1]
    hands.press((start, BARE))
    hands.move((start - 20, BARE))
    hands.move((row + 2, BARE))
    assert hands.view.note.text() in ("under a row of springs", "equal gaps", "on the middle")
    hands.release((row + 2, BARE))
    assert middles(hands)[1] == pytest.approx(row, abs=0.01)


def test_a_strip_never_passes_its_neighbour(hands: Hands, page: BasePage) -> None:
    before = middles(hands)
    hands.drag([(before[0], BARE), (before[0] + 20, BARE), (before[2] + 30, BARE)], ALT)
    after = middles(hands)
    assert after == sorted(after)
    assert after[0] < before[1]
    assert after[1:] == pytest.approx(before[1:])


def test_where_strips_cross_the_upper_one_is_taken(hands: Hands, page: BasePage) -> None:
    along, across = middles(hands), middles(hands, "side-to-side")
    hands.click((along[0], across[0]))
    assert hands.bench.selection.picked.strip == StripKey("front-to-back", 0)
    hands.click((along[1], across[0]))
    assert hands.bench.selection.picked.strip == StripKey("side-to-side", 0)


def test_a_click_beside_the_strips_lets_go(hands: Hands, page: BasePage) -> None:
    hands.click((middles(hands)[0], BARE))
    hands.click((5.0, 5.0))
    assert hands.bench.selection.picked.is_empty


def test_the_pointer_shows_which_way_a_strip_moves(hands: Hands, page: BasePage) -> None:
    hands.move((middles(hands)[0], BARE), held=False)
    assert hands.view.viewport().cursor().shape() == Qt.CursorShape.SizeHorCursor
    hands.move((BARE, middles(hands, "side-to-side")[0]), held=False)
    assert hands.view.viewport().cursor().shape() == Qt.CursorShape.SizeVerCursor
    hands.move((5.0, 5.0), held=False)
    assert hands.view.viewport().cursor().shape() == Qt.CursorShape.ArrowCursor


# strips by keyboard ---------------------------------------------------------------------------


def test_brackets_walk_and_arrows_nudge_a_strip(hands: Hands, page: BasePage) -> None:
    before = middles(hands)
    hands.key(Qt.Key.Key_BracketRight)
    assert hands.bench.selection.picked.strip == StripKey("front-to-back", 0)
    assert "Strip 1, front to back" in hands.window.status.hint.text()
    hands.key(Qt.Key.Key_Left)
    assert middles(hands)[0] == pytest.approx(before[0] - INCH / 16, abs=0.001)
    hands.key(Qt.Key.Key_Right, SHIFT)
    assert middles(hands)[0] == pytest.approx(before[0] + INCH * 9 / 16, abs=0.001)
    assert steps(hands) == (2, "Nudge a strip")
    hands.key(Qt.Key.Key_BracketLeft)
    last = StripKey("side-to-side", len(middles(hands, "side-to-side")) - 1)
    assert hands.bench.selection.picked.strip == last
    hands.key(Qt.Key.Key_Escape)
    assert hands.bench.selection.picked.is_empty


def test_a_strip_is_nudged_across_only(hands: Hands, page: BasePage) -> None:
    hands.key(Qt.Key.Key_BracketRight)
    hands.key(Qt.Key.Key_Up)
    assert steps(hands)[0] == 0


def test_delete_takes_the_strip_out(hands: Hands, page: BasePage) -> None:
    before = middles(hands)
    hands.key(Qt.Key.Key_BracketRight)
    hands.key(Qt.Key.Key_Delete)
    assert middles(hands) == pytest.approx(before[1:])
    assert steps(hands)[1] == "Take out a strip"
    hands.act("undo")
    assert middles(hands) == pytest.approx(before)


# the page -------------------------------------------------------------------------------------


def test_the_strips_are_counted_with_what_to_pull_off_the_roll(
    hands: Hands, page: BasePage
) -> None:
    plan = webbing(hands)
    assert page.facts["Front to back"].text().startswith(f"{len(plan.of('front-to-back'))} strips")
    assert f"{plan.usual[0]} at the usual gap" in page.facts["Front to back"].text()
    feet = plan.total / 304.8
    assert page.facts["Off the roll"].text() == f"{-int(-feet // 1)} ft"
    assert page.facts["Fixings"].text() == f"{11 * len(plan.strips)} tacks"


def test_a_school_brings_its_width_and_gap(hands: Hands, page: BasePage) -> None:
    assert page.school.currentText() == "American: 3 1/2 in wide, usually 1/4 in apart"
    page.school.choose("uk")
    web = hands.deck.webbing
    assert (web.school, web.width, web.gap) == ("uk", *SCHOOL_SIZES["uk"])
    assert page.broad.text() == "2 in"
    assert steps(hands) == (1, "School of webbing")
    hands.type(page.gap, "1 1/2")
    assert hands.deck.webbing.gap == pytest.approx(1.5 * INCH)


def test_a_picked_strip_is_placed_by_typing(hands: Hands, page: BasePage) -> None:
    assert not page.place.isEnabled()
    before = middles(hands)
    hands.bench.selection.pick(Picked(strip=StripKey("front-to-back", 2)))
    assert page.strip_heading.text() == "Strip 3, front to back"
    hands.type(page.place, "6")
    assert middles(hands)[2] == pytest.approx(hands.bench.origin()[0] + 6 * INCH)
    hands.type(page.place, "-6")
    assert page.place.property("refused") == "true"
    assert "between its neighbours" in page.place.toolTip()
    assert middles(hands)[:2] == pytest.approx(before[:2])


def test_strips_are_added_and_laid_again(hands: Hands, page: BasePage) -> None:
    before = middles(hands)
    assert page.again["front-to-back"].isHidden()
    page.add["front-to-back"].click()
    after = middles(hands)
    assert len(after) == len(before) + 1
    new = hands.bench.selection.picked.strip
    assert new is not None
    assert after[new.number] not in before
    assert not page.again["front-to-back"].isHidden()
    page.again["front-to-back"].click()
    assert middles(hands) == pytest.approx(before)
    assert hands.deck.webbing.front_to_back is None


def test_a_strip_is_taken_out_from_the_page(hands: Hands, page: BasePage) -> None:
    before = middles(hands, "side-to-side")
    hands.bench.selection.pick(Picked(strip=StripKey("side-to-side", 1)))
    page.take_out.click()
    assert middles(hands, "side-to-side") == pytest.approx([before[0], before[2]])
    assert page.strip_heading.text() == "One strip"


def test_a_plywood_floor_has_no_strips(hands: Hands, page: BasePage) -> None:
    page.fixed.choose("plywood")
    assert webbing(hands).strips == ()
    assert not page.add["front-to-back"].isEnabled()
    assert page.route_note.text() == "The feet are not sewn."


def test_how_strips_are_fixed_and_cut(hands: Hands, page: BasePage) -> None:
    cut = webbing(hands).strips[0].cut_length
    hands.type(page.fold, "2")
    assert webbing(hands).strips[0].cut_length > cut
    page.fastening.choose("staples")
    hands.type(page.tacks, "8")
    assert page.facts["Fixings"].text() == f"{8 * len(webbing(hands).strips)} staples"
    hands.key(Qt.Key.Key_Up, on=page.tacks)
    assert hands.deck.webbing.tacks == 9
    hands.type(page.tacks, "many")
    assert hands.deck.webbing.tacks == 9
    assert "a whole number from 0 to 200" in hands.window.status.hint.text()
    hands.type(page.overlap, "3/4")
    assert hands.deck.webbing.overlap == pytest.approx(0.75 * INCH)
    page.feet.choose("clip")
    assert hands.deck.webbing.foot_fixing == "clip"
    page.feet.choose("usual")
    assert hands.deck.webbing.foot_fixing is None


# the table ------------------------------------------------------------------------------------


@pytest.fixture
def table(hands: Hands, page: BasePage) -> StripTable:
    """The table of the webbing, open."""
    hands.window.tabs.setCurrentWidget(hands.window.strip_table)
    QApplication.processEvents()
    return hands.window.strip_table


def test_the_table_has_a_row_a_strip_and_shares_the_selection(
    hands: Hands, table: StripTable
) -> None:
    rows = table.rows
    assert rows.rowCount() == len(webbing(hands).strips)
    names = [str(rows.data(rows.index(i, 0))) for i in range(rows.rowCount())]
    assert names[:2] == ["Strip 1, front to back", "Strip 2, front to back"]
    table.selectRow(1)
    assert hands.bench.selection.picked.strip == StripKey("front-to-back", 1)
    hands.bench.selection.pick(Picked(strip=StripKey("side-to-side", 0)))
    chosen = [index.row() for index in table.selectionModel().selectedRows()]
    assert chosen == [len(middles(hands))]


def test_a_place_typed_into_the_table_moves_the_strip(hands: Hands, table: StripTable) -> None:
    rows = table.rows
    place = rows.index(0, 1)
    assert rows.setData(place, "-6 1/2")
    assert middles(hands)[0] == pytest.approx(hands.bench.origin()[0] - 6.5 * INCH)
    assert rows.data(place) == "-6 1/2 in"
    assert not rows.setData(place, "soon")
    assert "not a length" in hands.window.status.hint.text()
    assert not rows.setData(place, "-6 1/2 in"), "the same place is no step"
    assert steps(hands)[0] == 1


def test_the_table_tells_what_to_cut_and_which_ends_are_split(
    hands: Hands, table: StripTable
) -> None:
    strip = webbing(hands).strips[0]
    rows = table.rows
    assert rows.data(rows.index(0, 3)) == hands.bench.length(strip.cut_length, "cut")
    assert rows.data(rows.index(0, 4)) == "11"
    assert rows.data(rows.index(0, 5)) == "whole"


# by keyboard and by ear -----------------------------------------------------------------------


def test_every_field_has_a_name_and_a_tooltip(page: BasePage) -> None:
    lengths = [page.broad, page.gap, page.fold, page.overlap, page.allowance, page.place]
    for field in [*lengths, page.twine, page.arm, page.loops, page.tacks]:
        assert field.accessibleName()
        assert field.toolTip()


def test_a_check_of_the_base_is_counted_at_its_stage(hands: Hands, page: BasePage) -> None:
    assert hands.window.stages.buttons["base"].accessibleName() == "Base, clear"
    page.gap.setFocus()
    hands.bench.attempt(
        "Strips", lambda deck: edits.set_strips(deck, "front-to-back", [100.0, 150.0, 400.0])
    )
    told = hands.window.stages.buttons["base"].accessibleName()
    assert told.startswith("Base, ")
    assert "check" in told
