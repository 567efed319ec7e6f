"""The window as a whole: stages, checks, units, words, look and help."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
)
from pytestqt.qtbot import QtBot

from spring_layout.deck import edits
from spring_layout.deck.files import read_deck
from spring_layout.gui.help import HelpPage, help_html
from spring_layout.gui.main_window import MainWindow
from spring_layout.gui.settings import Settings
from spring_layout.gui.theme.palettes import DARK, LIGHT
from spring_layout.gui.words import UK, US
from spring_layout.gui.workbench import Workbench
from spring_layout.resources import sample_decks_folder
from tests.decks import grid_deck
from tests.gui.conftest import end
from tests.gui.hands import Hands


def faulty(hands: Hands) -> None:
    """The sample with deliberate faults."""
    path = sample_decks_folder() / "deliberate-faults.deck.json"
    hands.bench.document.replace(read_deck(path), None)


# the work in its order ----------------------------------------------------------------------------


def test_an_empty_window_says_how_to_begin(window: MainWindow) -> None:
    assert window.middle.currentWidget() is window.start
    assert not window.particulars.isVisible()
    assert "Measure or trace" in window.status.hint.text()
    assert window.start.samples.count() >= 8


def test_the_hint_is_the_tools_once_there_is_a_deck(window: MainWindow) -> None:
    window.bench.document.replace(grid_deck(), None)
    assert window.view.tool is not None
    assert window.status.hint.text() == window.view.tool.hint


def test_a_stage_brings_its_tool_and_its_page(hands: Hands) -> None:
    for stage, tool, page in (
        ("frame", "shape", hands.window.particulars.frame_page),
        ("springs", "move", hands.window.particulars.springs_page),
        ("ties", "ties", hands.window.particulars.ties_page),
    ):
        QTest.mouseClick(hands.window.stages.buttons[stage], Qt.MouseButton.LeftButton)  # type: ignore[index]  # a stage
        assert hands.window.strip.tools[tool].isChecked()
        assert hands.window.particulars.page is page
        assert hands.window.status.hint.text() == hands.bench.words.fill(hands.view.tool.hint)  # type: ignore[union-attr]  # there is one


def test_a_stage_tells_how_many_checks_are_open(hands: Hands) -> None:
    button = hands.window.stages.buttons["springs"]
    assert button.accessibleName() == "Springs, clear"
    faulty(hands)
    serious = [f for f in hands.bench.findings("springs") if f.severity != "note"]
    assert button.accessibleName() == f"Springs, {len(serious)} checks"


def test_the_paper_stage_shows_the_sheet_and_the_other_stages_the_deck(hands: Hands) -> None:
    hands.bench.choose_stage("paper")
    assert hands.window.middle.currentWidget() is hands.window.paper
    assert hands.window.paper.sheet.sheet.width() > 0
    assert hands.window.paper_page.scale.text().startswith("1 : ")
    hands.window.paper_page.paper_choice.choose("a3")
    sheet = hands.window.paper.sheet.sheet
    assert sorted((sheet.width(), sheet.height())) == [297, 420]  # ISO 216
    hands.act("zoom-in")
    hands.act("fit")
    hands.bench.choose_stage("ties")
    assert hands.window.middle.currentIndex() == 1


# checks -------------------------------------------------------------------------------------------


def test_choosing_a_finding_selects_what_it_is_about(hands: Hands) -> None:
    faulty(hands)
    table = hands.window.findings
    finding = hands.bench.findings()[0]
    assert finding.severity == "wrong"
    table.selectRow(0)
    assert hands.bench.selection.springs == set(finding.springs)
    assert finding.message in hands.window.status.hint.text()


def test_a_finding_out_of_sight_is_brought_into_view(hands: Hands) -> None:
    faulty(hands)
    hands.view.zoom_by(20)
    finding = next(f for f in hands.bench.findings() if f.place is not None)
    row = hands.bench.findings().index(finding)
    hands.window.findings.selectRow(row)
    assert finding.place is not None
    inside = hands.view.viewport().rect().contains(hands.pixel(finding.place).toPoint())
    assert inside


def test_the_tab_counts_the_checks(hands: Hands) -> None:
    notes = len(hands.bench.findings())
    words = "note" if notes == 1 else "notes"
    assert hands.window.tabs.tabText(0) == f"Checks: clear, {notes} {words}"
    faulty(hands)
    serious = [f for f in hands.bench.findings() if f.severity != "note"]
    assert hands.window.tabs.tabText(0).startswith(f"{len(serious)} checks")


def test_findings_follow_a_spring_in_the_hand(hands: Hands, qtbot: QtBot) -> None:
    start = hands.place_of("s5")
    hands.press(start)
    hands.move((start[0] + 95, start[1]), Qt.KeyboardModifier.AltModifier)
    # without a helper the plan is made when the hand pauses
    qtbot.waitUntil(lambda: not hands.bench.planner.is_behind)
    assert any(f.severity == "wrong" for f in hands.bench.findings("springs"))
    hands.key(Qt.Key.Key_Escape)
    assert not any(f.severity == "wrong" for f in hands.bench.findings("springs"))


# units, words, look -------------------------------------------------------------------------------


def test_units_switch_from_the_status_line_and_undo(hands: Hands) -> None:
    assert hands.window.status.units.text() == "inches"
    hands.window.status.units.click()
    assert hands.deck.units == "mm"
    assert hands.window.particulars.springs_page.gap.text() == "50 mm"
    hands.act("undo")
    assert hands.deck == grid_deck()
    hands.act("millimetres")
    assert hands.deck.units == "mm"


def test_the_trades_words_change_with_the_units(hands: Hands) -> None:
    assert hands.window.tabs.tabText(2) == "Ties"
    hands.act("millimetres")
    assert hands.window.tabs.tabText(2) == "Lashings"
    assert hands.window.stages.buttons["ties"].text() == "Lashings"
    assert hands.window.particulars.ties_page.title.text() == "Lashings"
    assert hands.window.strip.tools["ties"].text() == "Look at lashings"
    assert hands.menu("Work", "Lashings").text() == "Lashings"


def test_the_words_can_be_chosen_for_good(hands: Hands) -> None:
    hands.menu("Edit", "Words", "British").trigger()
    assert hands.bench.words == UK
    hands.menu("Edit", "Words", "American").trigger()
    hands.act("millimetres")
    assert hands.bench.words == US
    assert hands.window.tabs.tabText(2) == "Ties"


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("Tie 3 bends by 18 degrees.", "Lashing 3 bends by 18 degrees."),
        ("The short corner ties are left off.", "The short corner lashings are left off."),
        ("To tie every spring, choose all.", "To tie every spring, choose all."),
        ("It is tied down too far.", "It is tied down too far."),
        ("More crown than that", "More dome than that"),
    ],
)
def test_a_finding_is_retold_in_british_words(said: str, told: str) -> None:
    assert UK.retold(said) == told
    assert US.retold(said) == said


def test_the_look_changes_at_once(hands: Hands) -> None:
    ground = hands.view.deck_scene.backgroundBrush().color().name().upper()
    assert ground == LIGHT.desk
    hands.menu("Look", "Colours", "Dark").trigger()
    ground = hands.view.deck_scene.backgroundBrush().color().name().upper()
    assert ground == DARK.desk
    assert hands.bench.settings.text("look") == "dark"
    hands.menu("Look", "Colours", "Light").trigger()


# help ---------------------------------------------------------------------------------------------


def test_help_is_one_page_with_the_cautions(hands: Hands) -> None:
    hands.act("help")
    page = hands.window.findChild(HelpPage)
    assert page is not None
    words = page.text.toPlainText()
    for caution in ("eye protection", "gloves", "dust mask", "16 CFR 1640", "SI 1988/1324"):
        assert caution in words
    assert "{" not in words
    page.close()


def test_help_speaks_british_too() -> None:
    assert "lashing plan" in help_html(UK)
    assert "Lashings" in help_html(UK)


def test_about_tells_version_and_licence(hands: Hands) -> None:
    told: list[str] = []
    hands.window.filing.ask = lambda words, more, buttons: told.append(more)  # type: ignore[method-assign,assign,return-value,func-returns-value]  # stands in for the user
    hands.act("about")
    assert "MIT" in told[0]


def test_undo_names_its_step_in_the_menu(hands: Hands) -> None:
    hands.bench.attempt("Rename", lambda deck: edits.set_name(deck, "Other"))
    assert hands.window.acts["undo"].text() == "&Undo: Rename"
    hands.act("undo")
    assert hands.window.acts["redo"].text() == "&Redo: Rename"
    assert not hands.window.acts["undo"].isEnabled()


def test_ties_that_are_long_behind_are_told_of(hands: Hands) -> None:
    status, start = hands.window.status, hands.place_of("s5")
    hands.press(start)
    hands.move((start[0] + 20, start[1] + 10))
    hands.bench.planner._pause.stop()  # as if the ties took long
    QTest.qWait(600)
    assert status.busy.isVisible()
    assert "ties" in status.busy.text()
    hands.key(Qt.Key.Key_Escape)
    assert not status.busy.isVisible()


def test_the_window_opens_as_large_as_it_was(window: MainWindow) -> None:
    window.resize(800, 600)
    window.close()
    again = MainWindow(Workbench(Settings(window.bench.settings.folder)))
    assert (again.width(), again.height()) == (800, 600)
    end(again)


def test_a_short_strip_of_tools_keeps_its_icons(hands: Hands) -> None:
    hands.window.resize(1280, 800)
    QApplication.processEvents()
    buttons = [b for b in hands.window.strip.findChildren(QAbstractButton) if b.isVisible()]
    assert all(b.toolButtonStyle() == WITH_WORDS for b in buttons)  # type: ignore[attr-defined]  # tool buttons
    hands.window.resize(900, 640)
    QApplication.processEvents()
    styles = [b.toolButtonStyle() for b in buttons]  # type: ignore[attr-defined]  # tool buttons
    assert styles[0] == WITH_WORDS
    assert styles[-1] == Qt.ToolButtonStyle.ToolButtonIconOnly
    strip = hands.window.strip
    assert all(b.geometry().right() <= strip.width() for b in buttons)
    hands.window.resize(1280, 800)


WITH_WORDS = Qt.ToolButtonStyle.ToolButtonTextBesideIcon
