"""What a stage brings forward, and that the next one finds all in its place."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from spring_layout.deck.shapes import straight_frame
from spring_layout.gui.beginnings import begun
from spring_layout.gui.main_window import MainWindow
from spring_layout.planning.finding import Stage
from spring_layout.planning.height_stack import layers_of
from spring_layout.units import Units, format_length
from tests.gui.hands import Hands


def quiet(hands: Hands) -> set[bool]:
    return {ring.is_quiet for ring in hands.view.deck_scene.springs.rings.values()}


def test_springs_that_were_pale_for_the_base_are_not_for_the_ties(hands: Hands) -> None:
    hands.bench.choose_stage("base")
    assert quiet(hands) == {True}
    hands.bench.choose_stage("ties")
    assert quiet(hands) == {False}
    hands.bench.choose_stage("base")
    hands.bench.choose_stage("frame")
    assert quiet(hands) == {True}


def test_the_webbing_follows_a_corner_in_the_hand(hands: Hands, qtbot: QtBot) -> None:
    hands.bench.choose_stage("frame")
    webbing = hands.view.deck_scene.webbing
    before = webbing.shown
    hands.press((500, 500))
    hands.move((540, 530))
    qtbot.waitUntil(lambda: webbing.shown != before)
    assert hands.bench.document.is_previewing
    hands.view.tool.cancel()  # type: ignore[union-attr]  # a tool is in hand


def test_only_one_spring_tells_its_gap(hands: Hands) -> None:
    page = hands.window.particulars.spring_page
    hands.bench.selection.pick_springs(["s1"])
    QTest.qWait(1)
    assert not page.facts["Nearest gap"].isHidden()
    hands.bench.selection.pick_springs(["s1", "s2"])
    assert page.facts["Nearest gap"].isHidden()
    assert page.facts_heading.isHidden()


def test_a_new_deck_in_inches_has_allowances_that_an_inch_rule_shows() -> None:
    deck = begun(straight_frame(508, 508), "in")
    lengths = (
        deck.twine.fold_back,
        deck.twine.allowance,
        deck.twine.step,
        deck.webbing.fold,
        deck.webbing.allowance,
        deck.stitching.working_length,
    )
    shown = [format_length(mm, "in", "exact") for mm in lengths]
    assert shown == ["3 in", "6 in", "1/2 in", "1 in", "2 in", "60 in"]


@pytest.mark.parametrize("units", ["in", "mm"])
def test_a_new_deck_has_no_cushion_until_somebody_gives_one(units: Units) -> None:
    deck = begun(straight_frame(508, 508), units)
    assert deck.seat.cushion == 0
    assert "cushion" not in [layer.name for layer in layers_of(deck)]


def test_a_deck_without_springs_does_not_pass_for_checked(hands: Hands) -> None:
    hands.bench.document.replace(begun(straight_frame(508, 508), "in"), None)
    names = {stage: b.accessibleName() for stage, b in hands.window.stages.buttons.items()}
    assert names["frame"] == "Frame, clear"
    assert names["ties"] == "Ties, nothing yet"
    assert hands.window.tabs.tabText(0) == "Checks: no springs yet"


def test_what_came_of_a_button_is_read_while_the_pointer_is_still_on_it(hands: Hands) -> None:
    status = hands.window.status
    status.showMessage("What the button does")
    hands.bench.say("The springs are spaced evenly.")
    assert status.currentMessage() == ""
    assert status.hint.text() == "The springs are spaced evenly."


@pytest.mark.parametrize("stage", ["height", "base", "paper"])
def test_a_stage_comes_with_its_page_though_something_is_still_selected(
    hands: Hands, stage: Stage
) -> None:
    hands.bench.selection.pick_springs(["s1"])
    particulars = hands.window.particulars
    assert particulars.page is particulars.spring_page
    hands.bench.choose_stage(stage)
    assert particulars.page is particulars.stages[stage]
    hands.bench.selection.pick_springs(["s2"])
    assert (particulars.page is particulars.spring_page) == (stage != "paper")


@pytest.mark.parametrize("stage", ["springs", "ties", "height"])
def test_a_side_that_is_still_picked_gives_way_to_the_next_stage(
    hands: Hands, stage: Stage
) -> None:
    hands.bench.choose_stage("frame")
    hands.click((100, 0))
    particulars = hands.window.particulars
    assert particulars.page is particulars.side_page
    hands.bench.choose_stage(stage)
    assert particulars.page is particulars.stages[stage]
    hands.bench.choose_stage("frame")
    assert particulars.page is particulars.side_page


def test_the_paper_says_how_its_pages_are_turned(hands: Hands) -> None:
    before = hands.bench.hint
    hands.bench.choose_stage("paper")
    assert hands.bench.hint.startswith("Page up")
    hands.bench.choose_stage("springs")
    assert hands.bench.hint == before


def test_enter_presses_the_button_that_has_the_keyboard(window: MainWindow, qtbot: QtBot) -> None:
    first = window.start.first
    assert first is not None
    window.start.measure.disconnect()  # the dialog would wait for somebody
    with qtbot.waitSignal(window.start.measure, timeout=1000):
        QTest.keyClick(first, Qt.Key.Key_Return)


def test_the_first_page_turns_dark_with_the_rest(window: MainWindow) -> None:
    first = window.start.first
    assert first is not None
    size = first.iconSize()
    before = first.icon().pixmap(size).toImage()
    window.bench.settings.keep("look", "dark")
    window.restyle()
    assert first.icon().pixmap(size).toImage() != before
