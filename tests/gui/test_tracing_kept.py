"""An outline that is being traced: one corner is taken back, and no other key loses the rest."""

import numpy as np
import pytest
from PySide6.QtCore import Qt

from spring_layout.deck import edits
from spring_layout.gui.canvas.tools.tracing import TraceTool
from spring_layout.gui.main_window import MainWindow
from tests.gui.hands import Hands

ALT, CTRL = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ControlModifier
PLACES = ((50.0, 50.0), (300.0, 50.0), (300.0, 300.0))


@pytest.fixture
def tracing(hands: Hands) -> Hands:
    """A deck with one step to undo, and three corners of another outline traced."""
    hands.bench.attempt("Rename", lambda deck: edits.set_name(deck, "Stool"))
    hands.tool("trace")
    for place in PLACES:
        hands.click(place, ALT)
    return hands


def corners(hands: Hands) -> int:
    tool = hands.view.tool
    assert isinstance(tool, TraceTool)
    return len(tool.corners)


def test_undo_takes_back_the_last_corner_and_no_step(tracing: Hands) -> None:
    tracing.key(Qt.Key.Key_Z, CTRL)
    assert corners(tracing) == 2
    assert tracing.deck.name == "Stool"
    tracing.act("undo")
    tracing.act("undo")
    assert corners(tracing) == 0
    tracing.act("undo")
    assert tracing.deck.name == "3 by 3"


def test_the_menu_says_that_a_corner_is_what_it_takes_back(tracing: Hands) -> None:
    assert tracing.window.acts["undo"].text() == "&Undo: Set a corner"
    tracing.key(Qt.Key.Key_Escape)
    assert tracing.window.acts["undo"].text() == "&Undo: Rename"


def test_a_corner_is_taken_back_where_there_is_no_step_yet(hands: Hands) -> None:
    hands.tool("trace")
    hands.click(PLACES[0], ALT)
    hands.click(PLACES[1], ALT)
    hands.key(Qt.Key.Key_Z, CTRL)
    assert corners(hands) == 1


def test_a_step_undone_is_not_done_again_over_a_trace(hands: Hands) -> None:
    hands.bench.attempt("Rename", lambda deck: edits.set_name(deck, "Stool"))
    hands.act("undo")
    hands.tool("trace")
    hands.click(PLACES[0], ALT)
    assert not hands.window.acts["redo"].isEnabled()
    hands.key(Qt.Key.Key_Escape)
    assert hands.window.acts["redo"].isEnabled()


@pytest.mark.parametrize(
    ("key", "held"),
    [
        (Qt.Key.Key_C, Qt.KeyboardModifier.NoModifier),
        (Qt.Key.Key_S, Qt.KeyboardModifier.NoModifier),
        (Qt.Key.Key_V, Qt.KeyboardModifier.NoModifier),
        (Qt.Key.Key_2, ALT),
    ],
)
def test_another_tool_or_stage_keeps_the_corners_for_later(
    tracing: Hands, key: Qt.Key, held: Qt.KeyboardModifier
) -> None:
    tracing.key(key, held)
    assert not isinstance(tracing.view.tool, TraceTool)
    assert tracing.bench.remark == "3 traced corners are kept; trace the frame to go on with them."
    tracing.tool("trace")
    assert corners(tracing) == 3
    tracing.click((50, 300), ALT)
    tracing.key(Qt.Key.Key_Return)
    wanted = np.array([*PLACES, (50.0, 300.0)])
    assert np.array(tracing.deck.frame.corners) == pytest.approx(wanted, abs=0.5)
    tracing.tool("trace")
    assert corners(tracing) == 0


def test_escape_and_another_deck_drop_the_corners(tracing: Hands) -> None:
    tracing.tool("move")
    tracing.tool("trace")
    tracing.key(Qt.Key.Key_Escape)
    tracing.tool("move")
    tracing.tool("trace")
    assert corners(tracing) == 0
    tracing.click(PLACES[0], ALT)
    tracing.tool("move")
    tracing.bench.document.replace(tracing.deck, None)
    tracing.tool("trace")
    assert corners(tracing) == 0


def test_backspace_takes_a_corner_while_a_spring_is_picked(tracing: Hands) -> None:
    tracing.bench.selection.pick_springs(["s1"])
    tracing.key(Qt.Key.Key_Backspace)
    assert corners(tracing) == 2
    assert len(tracing.deck.springs) == 9


def test_a_first_frame_half_traced_is_gone_on_with_from_the_start(window: MainWindow) -> None:
    window.start.trace.emit()
    hands = Hands(window)
    for place in PLACES:
        hands.click(place, ALT)
    window.bench.choose_stage("springs")
    assert window.middle.currentIndex() == 0
    assert window.bench.remark.startswith("3 traced corners are kept")
    window.start.trace.emit()
    assert corners(hands) == 3
    hands.click((50, 300), ALT)
    hands.key(Qt.Key.Key_Return)
    assert len(hands.deck.frame.corners) == 4
