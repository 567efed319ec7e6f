"""The side view in the window: along the picked tie, along a line drawn, at a place typed."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from spring_layout.deck import edits
from spring_layout.drawing.side_view import Across
from spring_layout.gui.looking import middle_cut
from spring_layout.gui.panels.side_view import SideView, unbroken
from spring_layout.gui.selection import Picked, TieKey
from spring_layout.gui.theme.contrast import contrast
from spring_layout.gui.theme.palettes import DARK, LIGHT, Palette
from spring_layout.gui.theme.side_colours import side_colours
from spring_layout.planning.parts import Line
from tests.drawing.reading import of_kind, texts
from tests.gui.hands import Hands

ALT = Qt.KeyboardModifier.AltModifier


@pytest.fixture
def side(hands: Hands) -> SideView:
    """The side view, on nine springs, in the stage of the height."""
    QTest.mouseClick(hands.window.stages.buttons["height"], Qt.MouseButton.LeftButton)
    QApplication.processEvents()
    return hands.window.side_view


def line(hands: Hands, run: str, spring: str) -> Line:
    plan = hands.bench.planner.plan
    assert plan is not None
    return next(k for k in plan.parts.ties.lines if k.run == run and spring in k.springs)


def shown_springs(side: SideView) -> list[str]:
    assert side.picture.drawing is not None
    return [t.words for t in texts(side.picture.drawing) if t.tag.kind == "spring"]


def pick(hands: Hands, tie: Line) -> None:
    hands.bench.selection.pick(Picked(tie=TieKey(tie.run, tie.springs[0])))
    QApplication.processEvents()


# along a tie ----------------------------------------------------------------------------------


def test_the_stage_of_the_height_opens_the_side_view_of_the_first_tie(
    hands: Hands, side: SideView
) -> None:
    assert hands.window.tabs.currentWidget() is side
    assert side.along.currentText().startswith("Tie 1, front to back: C2, B2, A2")
    assert shown_springs(side) == ["C2", "B2", "A2"]
    assert "third coil" in side.words.text() or "second coil" in side.words.text()
    assert side.place.isHidden()


def test_a_picked_tie_shows_its_side_view(hands: Hands) -> None:
    hands.bench.choose_stage("ties")
    assert hands.window.tabs.currentIndex() == 0
    row = line(hands, "side-to-side", "s1")
    hands.click(((row.path[1][0] + row.path[2][0]) / 2 + 9, row.path[1][1]))
    QApplication.processEvents()
    assert hands.window.tabs.currentWidget() is hands.window.side_view
    assert shown_springs(hands.window.side_view) == ["A1", "A2", "A3"]


def test_the_tables_stay_open_while_the_keyboard_is_in_them(hands: Hands) -> None:
    hands.bench.choose_stage("ties")
    hands.window.tabs.setCurrentWidget(hands.window.tie_table)
    hands.window.tie_table.setFocus()
    QApplication.processEvents()
    hands.window.tie_table.selectRow(4)
    QApplication.processEvents()
    assert hands.window.tabs.currentWidget() is hands.window.tie_table


def test_the_list_of_ties_chooses_one_from_the_keyboard(hands: Hands, side: SideView) -> None:
    tie = line(hands, "diagonal-rising", "s5")
    side.along.choose(f"{tie.run} {tie.springs[0]}")
    assert side.along.currentText().startswith(f"Tie {tie.number}")
    assert shown_springs(side) == [hands.bench.label(s) for s in tie.springs]
    assert hands.view.deck_scene.hovered == TieKey(tie.run, tie.springs[0])


def test_the_side_view_follows_the_deck(hands: Hands, side: SideView) -> None:
    hands.type(hands.window.height_page.fields["tied_height"], "4")
    assert side.picture.drawing is not None
    heights = [t.words for t in texts(side.picture.drawing) if t.tag.kind == "tied-height"]
    assert heights == ["4 in"] * 3
    hands.act("undo")
    heights = [t.words for t in texts(side.picture.drawing) if t.tag.kind == "tied-height"]
    assert heights == ["4 1/2 in"] * 3


def test_a_tie_that_is_gone_gives_way_to_the_first(hands: Hands, side: SideView) -> None:
    tie = line(hands, "diagonal-rising", "s5")
    hands.bench.looking.look(TieKey(tie.run, tie.springs[0]))
    hands.bench.attempt("Diagonals", lambda deck: edits.set_tying(deck, diagonals="none"))
    assert side.along.currentText().startswith("Tie 1, ")


def test_without_ties_the_middle_is_cut(hands: Hands, side: SideView) -> None:
    hands.bench.attempt(
        "No ties",
        lambda deck: edits.set_tying(
            deck, front_to_back=False, side_to_side=False, diagonals="none"
        ),
    )
    assert side.along.currentText() == "Front to back, through the middle"
    assert sorted(shown_springs(side)) == ["A2", "B2", "C2"]


def test_while_a_spring_is_dragged_the_picture_follows_with_its_breath(hands: Hands) -> None:
    hands.window.tabs.setCurrentWidget(hands.window.side_view)
    QApplication.processEvents()
    side = hands.window.side_view
    start = hands.place_of("s5")
    before = side.picture.drawing
    hands.press(start)
    hands.move((start[0] + 10, start[1] + 20), ALT)
    assert hands.bench.document.is_previewing
    assert side.picture.drawing is before
    for _ in range(200):
        QTest.qWait(20)
        if side.picture.drawing is not before:
            break
    assert side.picture.drawing is not before
    hands.release((start[0] + 10, start[1] + 20), ALT)


# across ---------------------------------------------------------------------------------------


def test_a_line_dragged_across_the_deck_is_where_it_is_cut(hands: Hands, side: SideView) -> None:
    hands.drag([(20, 250), (120, 262), (400, 262)])
    at = hands.bench.looking.at
    assert at == Across(pytest.approx((20, 250), abs=0.6), 0.0), "it settles level"
    assert side.along.currentText() == "Across, as placed"
    assert shown_springs(side) == ["B1", "B2", "B3"]
    assert not side.place.isHidden()
    assert hands.bench.document.undo_stack.count() == 0


def test_with_alt_the_line_takes_any_direction(hands: Hands, side: SideView) -> None:
    hands.drag([(20, 250), (120, 262), (420, 290)], ALT)
    at = hands.bench.looking.at
    assert isinstance(at, Across)
    assert at.angle == pytest.approx(5.7, abs=0.2)


def test_a_click_on_a_tie_looks_along_it(hands: Hands, side: SideView) -> None:
    row = line(hands, "side-to-side", "s7")
    hands.click(((row.path[1][0] + row.path[2][0]) / 2 + 9, row.path[1][1]))
    assert hands.bench.looking.at == TieKey(row.run, row.springs[0])
    assert shown_springs(side) == ["C1", "C2", "C3"]


def test_arrows_move_the_cut_brackets_turn_it_escape_takes_it_away(
    hands: Hands, side: SideView
) -> None:
    side.along.choose("side-to-side-cut")
    hands.key(Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    hands.key(Qt.Key.Key_BracketRight)
    at = hands.bench.looking.at
    assert at == Across((250.0, 250 + 25.4 / 1.6), 15.0)
    hands.key(Qt.Key.Key_BracketLeft)
    hands.key(Qt.Key.Key_Escape)
    assert hands.bench.looking.at is None
    assert side.along.currentText().startswith("Tie 1, ")


def test_a_place_and_a_direction_can_be_typed(hands: Hands, side: SideView) -> None:
    side.along.choose("front-to-back-cut")
    plan = hands.bench.planner.plan
    assert plan is not None
    assert hands.bench.looking.at == middle_cut(plan, 270.0)
    assert side.along.currentText() == "Front to back, through the middle"
    hands.type(side.right, "5 1/2")
    assert sorted(shown_springs(side)) == ["A3", "B3", "C3"]
    hands.type(side.turn, "0")
    hands.type(side.down, "4")
    assert shown_springs(side) == ["A1", "A2", "A3"]
    assert side.turn.text() == "0°"


def test_across_as_placed_begins_askew(hands: Hands, side: SideView) -> None:
    side.along.choose("elsewhere")
    at = hands.bench.looking.at
    assert isinstance(at, Across)
    assert at.angle == 45.0


def test_a_cut_beside_the_deck_is_told_and_mended(hands: Hands, side: SideView) -> None:
    side.along.choose("side-to-side-cut")
    hands.type(side.down, "60")
    assert side.picture.drawing is None
    assert side.words.text() == "The cut does not meet the opening; move it over the deck."
    hands.type(side.down, "10")
    assert side.picture.drawing is not None


def test_another_deck_forgets_the_cut(hands: Hands, side: SideView) -> None:
    side.along.choose("side-to-side-cut")
    hands.bench.document.replace(hands.deck, None)
    assert hands.bench.looking.at is None
    assert hands.view.deck_scene.hovered is not None, "the tie that is cut along stands out again"


# as a file ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "kind", "written", "begins"),
    [
        ("side.svg", "Picture (*.svg)", "side.svg", b"<?xml"),
        ("side", "For printing (*.pdf)", "side.pdf", b"%PDF"),
    ],
)
def test_the_view_is_saved_to_scale(
    hands: Hands,
    side: SideView,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    name: str,
    kind: str,
    written: str,
    begins: bytes,
) -> None:
    monkeypatch.setattr(
        "spring_layout.gui.side_saving.QFileDialog.getSaveFileName",
        lambda *_: (str(tmp_path / name), kind),
    )
    side.save.click()
    data = (tmp_path / written).read_bytes()
    assert data.startswith(begins)
    assert f"Exported as {written}" in hands.window.status.hint.text()


def test_nothing_is_saved_where_nothing_is_seen_or_nobody_answers(
    hands: Hands, side: SideView, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(
        "spring_layout.gui.side_saving.QFileDialog.getSaveFileName", lambda *_: ("", "")
    )
    side.save.click()
    side.along.choose("side-to-side-cut")
    hands.type(side.down, "60")
    side.save.click()
    assert "does not meet the opening" in hands.window.status.hint.text()
    assert list(tmp_path.iterdir()) == []


# room, look, names ----------------------------------------------------------------------------


def test_leaving_the_height_gives_the_checks_back(hands: Hands, side: SideView) -> None:
    hands.bench.choose_stage("springs")
    assert hands.window.tabs.currentIndex() == 0


def test_the_side_view_has_room_and_the_deck_keeps_its_own(hands: Hands, side: SideView) -> None:
    deck, tables = hands.window.stacked.sizes()
    assert tables >= 200
    assert deck >= 260


def test_dark_and_light_pictures_take_the_colours_of_the_window(
    hands: Hands, side: SideView
) -> None:
    hands.bench.settings.keep("look", "dark")
    hands.window.restyle()
    drawing = side.picture.drawing
    assert drawing is not None
    assert {t.colour for t in texts(drawing)} <= {DARK.ink, DARK.faint}
    assert len(of_kind(drawing, "hitch")) == 8
    hands.bench.settings.keep("look", "light")
    hands.window.restyle()


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
def test_words_and_lines_stand_out_on_the_windows_paper(palette: Palette) -> None:
    """W3C, Web Content Accessibility Guidelines 2.1, criteria 1.4.3 and 1.4.11."""
    colours = side_colours(palette)
    for text in (colours.ink, colours.soft, colours.accent):
        assert contrast(text, colours.paper) >= 4.5
    for drawn in (colours.wire, colours.wood_edge, colours.jute_edge, *colours.runs.values()):
        assert contrast(drawn, colours.paper) >= 3.0


def test_the_picture_is_told_to_those_who_hear_it(hands: Hands, side: SideView) -> None:
    assert side.picture.accessibleName() == "Side view"
    assert "through C2, B2, A2" in side.picture.accessibleDescription()
    for widget in (side.along, side.right, side.down, side.turn):
        assert widget.accessibleName()
        assert widget.toolTip()


def test_no_line_breaks_inside_a_length() -> None:
    assert unbroken("cut 5 7/8 in of 12 mm") == "cut 5\u00a07/8\u00a0in of 12\u00a0mm"
