"""The window as a whole: stages, findings, tables, zoom and pan, words, look, keyboard, names."""

from types import SimpleNamespace

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QAction, QMouseEvent, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QFileDialog,
    QLineEdit,
    QSlider,
    QTableView,
    QWidget,
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
from spring_layout.planning.finding import Stage
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


# the table of springs -----------------------------------------------------------------------------


def springs_table(hands: Hands) -> QTableView:
    hands.window.tabs.setCurrentWidget(hands.window.spring_table)
    return hands.window.spring_table


def test_the_table_lists_the_springs_by_their_labels(hands: Hands) -> None:
    model = springs_table(hands).model()
    labels = [model.index(row, 0).data() for row in range(model.rowCount())]
    assert labels == ["A1", "A2", "A3", "B1", "B2", "B3", "C1", "C2", "C3"]


def test_picking_rows_picks_springs_and_the_other_way_round(hands: Hands) -> None:
    table = springs_table(hands)
    table.selectRow(4)
    assert hands.bench.selection.springs == {"s5"}
    hands.click(hands.place_of("s9"))
    assert [index.row() for index in table.selectionModel().selectedRows()] == [8]


def test_a_place_typed_into_the_table_moves_the_spring(hands: Hands) -> None:
    model = springs_table(hands).model()
    assert model.setData(model.index(4, 1), "1 1/2")
    assert hands.place_of("s5")[0] == pytest.approx(250 + 38.1)
    assert model.setData(model.index(4, 2), "250 mm")
    assert hands.place_of("s5")[1] == pytest.approx(250)
    assert not model.setData(model.index(4, 1), "far")
    assert "not a length" in hands.window.status.hint.text()


def test_keep_here_is_ticked_in_the_table(hands: Hands) -> None:
    model = springs_table(hands).model()
    cell = model.index(0, model.columnCount() - 1)
    assert model.setData(cell, Qt.CheckState.Checked.value, Qt.ItemDataRole.CheckStateRole)
    assert hands.deck.spring("s1").held
    assert cell.data(Qt.ItemDataRole.CheckStateRole) == Qt.CheckState.Checked


def test_the_tables_cells_read_out_with_their_heads(hands: Hands) -> None:
    model = springs_table(hands).model()
    told = model.index(0, 3).data(Qt.ItemDataRole.AccessibleTextRole)
    assert told == "Nearest gap: 2 in to A2"


# looking ------------------------------------------------------------------------------------------


def wheel(hands: Hands, pixel: QPointF, steps: int) -> None:
    viewport = hands.view.viewport()
    whole = QPointF(viewport.mapToGlobal(QPoint(0, 0))) + pixel
    event = QWheelEvent(
        pixel,
        whole,
        QPoint(),
        QPoint(0, 120 * steps),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(viewport, event)


def test_the_wheel_zooms_about_the_pointer(hands: Hands) -> None:
    place = hands.place_of("s1")
    before, zoom = hands.pixel(place), hands.view.zoom
    wheel(hands, before, 2)
    assert hands.view.zoom == pytest.approx(zoom * 1.44)
    after = hands.pixel(place)
    assert (after - before).manhattanLength() < 3


def test_f_shows_the_whole_frame_again(hands: Hands) -> None:
    zoom = hands.view.zoom
    wheel(hands, QPointF(10, 10), 5)
    hands.act("fit")
    assert hands.view.zoom == pytest.approx(zoom)


def pan(hands: Hands, button: Qt.MouseButton) -> QPointF:
    """Drags by 60 px to the right with a button; how far the deck went."""
    viewport = hands.view.viewport()
    before = hands.pixel((250, 250))
    for kind, x, held in (
        (QEvent.Type.MouseButtonPress, 100, button),
        (QEvent.Type.MouseMove, 160, button),
        (QEvent.Type.MouseButtonRelease, 160, Qt.MouseButton.NoButton),
    ):
        pressed = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseMove else button
        place = QPointF(x, 100)
        none = Qt.KeyboardModifier.NoModifier
        QApplication.sendEvent(viewport, QMouseEvent(kind, place, place, pressed, held, none))
    return hands.pixel((250, 250)) - before


def test_the_middle_button_moves_the_deck_under_the_glass(hands: Hands) -> None:
    wheel(hands, QPointF(300, 200), 3)
    moved = pan(hands, Qt.MouseButton.MiddleButton)
    assert (moved.x(), moved.y()) == pytest.approx((60, 0), abs=1.5)


def test_so_does_space_with_the_main_button(hands: Hands) -> None:
    wheel(hands, QPointF(300, 200), 3)
    QTest.keyPress(hands.view, Qt.Key.Key_Space)
    moved = pan(hands, Qt.MouseButton.LeftButton)
    QTest.keyRelease(hands.view, Qt.Key.Key_Space)
    assert moved.x() == pytest.approx(60, abs=1.5)
    assert hands.bench.document.undo_stack.count() == 0


def test_the_panels_make_way_for_the_deck(hands: Hands) -> None:
    wide = hands.view.width()
    hands.act("panels")
    assert not hands.window.particulars.isVisible()
    assert not hands.window.stages.isVisible()
    assert hands.view.width() > wide
    hands.act("panels")
    assert hands.window.particulars.isVisible()


def test_the_status_line_says_where_the_pointer_is(hands: Hands) -> None:
    hands.move((250 - 25.4, 50.8), held=False)
    assert hands.window.status.place.text() == "1 left, 2 in from the back"


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


# keyboard and screen reader -----------------------------------------------------------------------


def test_everything_that_takes_the_keyboard_has_a_name(hands: Hands) -> None:
    kinds = (QAbstractButton, QLineEdit, QComboBox, QSlider, QTableView)
    for stage in ("frame", "springs", "ties", "paper"):
        hands.bench.choose_stage(stage)  # type: ignore[arg-type]  # a stage by its name
        for widget in hands.window.findChildren(QWidget):
            if not isinstance(widget, kinds) or not widget.isVisible():
                continue
            if widget.focusPolicy() == Qt.FocusPolicy.NoFocus:
                continue
            named = widget.accessibleName() or getattr(widget, "text", str)()
            assert named, f"{widget} in the stage {stage} has no name"


def test_every_action_says_what_it_does(hands: Hands) -> None:
    actions = [a for a in hands.window.actions() if isinstance(a, QAction)]
    actions += hands.window.strip.tools.values()
    assert all(len(action.toolTip()) > 3 for action in actions)


def test_no_key_is_given_twice(hands: Hands) -> None:
    given = [
        sequence.toString()
        for action in hands.window.findChildren(QAction)
        for sequence in action.shortcuts()
    ]
    assert sorted(given) == sorted(set(given))


@pytest.mark.parametrize(("act", "key"), [("redo", Qt.Key.Key_Z), ("save-as", Qt.Key.Key_S)])
def test_a_second_key_of_an_action_works_on_every_desktop(
    hands: Hands, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, act: str, key: Qt.Key
) -> None:
    hands.bench.attempt("Rename", lambda deck: edits.set_name(deck, "Hall bench"))
    hands.act("undo")
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: ("", ""))
    with qtbot.waitSignal(hands.window.acts[act].triggered, timeout=1000):
        hands.key(key, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)


@pytest.mark.parametrize("stage", ["height", "base", "ties"])
def test_the_wheel_over_a_control_turns_the_page_and_changes_nothing(
    hands: Hands, stage: Stage
) -> None:
    hands.bench.choose_stage(stage)
    QApplication.processEvents()
    page, before = hands.window.particulars.page, hands.deck
    controls = [*page.findChildren(QComboBox), *page.findChildren(QSlider)]
    for control in controls:
        page.ensureWidgetVisible(control)
        if not control.isVisible():
            continue
        bar, stood = page.verticalScrollBar(), shown_by(control)
        page_stood = bar.value()
        turn_wheel(control, 1 if page_stood else -1)
        assert shown_by(control) == stood, control.accessibleName()
        assert bar.value() != page_stood, control.accessibleName()
        assert not control.hasFocus()
    assert hands.deck == before


def shown_by(control: QComboBox | QSlider) -> int:
    return control.currentIndex() if isinstance(control, QComboBox) else control.value()


def turn_wheel(on: QWidget, notches: int) -> None:
    """Notches away from the user with the pointer over a widget, as the screen sends them."""
    place = QPointF(on.mapTo(on.window(), on.rect().center()))
    QTest.wheelEvent(on.window().windowHandle(), place, QPoint(0, 120 * notches))
    QApplication.processEvents()


def test_stages_are_reached_by_keys(hands: Hands) -> None:
    hands.menu("Work", "Ties").trigger()
    assert hands.bench.stage == "ties"
    assert hands.menu("Work", "Frame").shortcut().toString() == "Alt+1"


def test_tab_leads_from_the_canvas_to_the_fields(hands: Hands) -> None:
    hands.window.activateWindow()
    hands.view.setFocus()
    seen = set()
    for _ in range(60):
        QTest.keyClick(QApplication.focusWidget() or hands.view, Qt.Key.Key_Tab)
        seen.add(QApplication.focusWidget())
    page = hands.window.particulars.springs_page
    assert {page.gap, page.clearance, page.suggest, page.even} <= seen


def test_targets_are_large_enough(hands: Hands) -> None:
    for stage in ("frame", "springs", "ties", "paper"):
        hands.bench.choose_stage(stage)  # type: ignore[arg-type]  # a stage by its name
        QApplication.processEvents()
        for button in hands.window.particulars.findChildren(QAbstractButton):
            if button.isVisible() and button.focusPolicy() != Qt.FocusPolicy.NoFocus:
                assert button.height() >= 32, button.text()
        for button in hands.window.strip.findChildren(QAbstractButton):
            assert not button.isVisible() or button.height() >= 32


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


def test_a_check_that_comes_up_is_read_out(hands: Hands, monkeypatch: pytest.MonkeyPatch) -> None:
    status = hands.window.status
    heard: list[str] = []
    reader = SimpleNamespace(updateAccessibility=lambda event: heard.append(event.message()))
    monkeypatch.setattr("spring_layout.gui.panels.status.QAccessible", reader)
    hands.bench.attempt("Move", lambda deck: edits.move_springs(deck, ["s5"], 70, 0))
    worst = next(f for f in hands.bench.findings() if f.severity == "wrong")
    assert status.announced == worst.message
    assert hands.bench.words.retold(worst.message) in heard
    hands.act("undo")
    assert status.announced == ""


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


def test_every_control_says_what_it_is_for(hands: Hands) -> None:
    kinds = (QAbstractButton, QLineEdit, QComboBox, QSlider)
    dumb = [
        widget.accessibleName() or getattr(widget, "text", str)()
        for widget in hands.window.particulars.findChildren(QWidget)
        if isinstance(widget, kinds)
        and not widget.objectName().startswith("qt_")
        and not widget.toolTip()
    ]
    assert dumb == []


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
