"""Keys, names and tooltips: every control reached by keyboard and told by a screen reader."""

from types import SimpleNamespace

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QAction
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
from spring_layout.planning.finding import Stage
from tests.gui.hands import Hands

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
