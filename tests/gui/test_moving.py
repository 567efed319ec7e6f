"""Springs in the hand: dragged, settled, nudged, typed; every step undone."""

import pytest
from PySide6.QtCore import Qt

from tests.gui.hands import Hands

ALT = Qt.KeyboardModifier.AltModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


def test_a_dragged_spring_stays_where_it_is_let_go(hands: Hands) -> None:
    start = hands.place_of("s5")
    hands.drag([start, (start[0] + 5, start[1] + 7), (start[0] + 21, start[1] + 13)], ALT)
    assert hands.place_of("s5") == pytest.approx((start[0] + 21, start[1] + 13), abs=0.01)


def test_a_drag_is_one_step_with_the_springs_label(hands: Hands) -> None:
    before = hands.deck
    start = hands.place_of("s5")
    hands.drag([start, (start[0] + 5, start[1]), (start[0] + 21, start[1] + 13)], ALT)
    stack = hands.bench.document.undo_stack
    assert (stack.count(), stack.undoText()) == (1, "Move B2")
    hands.act("undo")
    assert hands.deck == before
    assert not hands.bench.document.is_modified


def test_escape_in_the_middle_of_a_drag_leaves_everything(hands: Hands) -> None:
    before, start = hands.deck, hands.place_of("s5")
    hands.press(start)
    hands.move((start[0] + 20, start[1] + 20))
    assert hands.bench.document.is_previewing
    hands.key(Qt.Key.Key_Escape)
    hands.move((start[0] + 40, start[1] + 20))
    hands.release((start[0] + 40, start[1] + 20))
    assert hands.deck == before
    assert hands.bench.document.undo_stack.count() == 0


def test_a_dragged_spring_settles_in_its_row_and_says_so(hands: Hands) -> None:
    start = hands.place_of("s5")
    hands.press(start)
    hands.move((start[0] + 9, start[1] + 30))
    hands.move((start[0] + 1.5, start[1] + 2))
    said = hands.view.note.text()
    hands.release((start[0] + 1.5, start[1] + 2))
    assert hands.place_of("s5") == start
    assert "equal gaps" in said or "middle line" in said
    assert "in line with" in said or "equal gaps" in said


def test_live_gaps_stand_beside_the_spring_in_the_hand(hands: Hands) -> None:
    start = hands.place_of("s1")
    hands.press(start)
    hands.move((start[0] + 10, start[1]), ALT)
    numbers = [n.words for n in hands.view.deck_scene.guides.numbers if n.isVisible()]
    # s1 and s2: 142 mm less 10 mm of the drag less a whole top coil of 92 mm is 40 mm
    assert hands.bench.length(40, unit=False) in numbers
    hands.release((start[0] + 10, start[1]), ALT)
    assert not any(n.isVisible() for n in hands.view.deck_scene.guides.numbers)


def test_several_springs_move_together(hands: Hands) -> None:
    a, b = hands.place_of("s1"), hands.place_of("s2")
    hands.click(a)
    hands.click(b, SHIFT)
    hands.drag([a, (a[0] + 12, a[1] + 5)], ALT)
    assert hands.place_of("s1") == pytest.approx((a[0] + 12, a[1] + 5), abs=0.01)
    assert hands.place_of("s2") == pytest.approx((b[0] + 12, b[1] + 5), abs=0.01)


def test_a_rectangle_picks_the_springs_in_it(hands: Hands) -> None:
    a, c = hands.place_of("s1"), hands.place_of("s3")
    hands.drag([(a[0] - 60, a[1] - 60), (c[0] + 20, c[1] + 55)])
    assert hands.bench.selection.springs == {"s1", "s2", "s3"}


def test_a_spring_cannot_be_dragged_out_of_the_opening(hands: Hands) -> None:
    start = hands.place_of("s1")
    hands.press(start)
    hands.move((start[0] - 30, start[1]), ALT)
    hands.move((-80.0, start[1]), ALT)
    assert "inside" in hands.view.note.text()
    hands.release((-80.0, start[1]), ALT)
    assert hands.place_of("s1") == pytest.approx((start[0] - 30, start[1]), abs=0.01)


@pytest.mark.parametrize(
    ("key", "way"),
    [
        (Qt.Key.Key_Left, (-1, 0)),
        (Qt.Key.Key_Right, (1, 0)),
        (Qt.Key.Key_Up, (0, -1)),
        (Qt.Key.Key_Down, (0, 1)),
    ],
)
def test_an_arrow_nudges_a_sixteenth_of_an_inch(
    hands: Hands, key: Qt.Key, way: tuple[int, int]
) -> None:
    start = hands.place_of("s5")
    hands.click(start)
    hands.key(key)
    step = 25.4 / 16
    wanted = (start[0] + way[0] * step, start[1] + way[1] * step)
    assert hands.place_of("s5") == pytest.approx(wanted, abs=0.001)
    assert hands.bench.document.undo_stack.undoText() == "Nudge B2"


def test_shift_nudges_ten_times_as_far(hands: Hands) -> None:
    start = hands.place_of("s5")
    hands.click(start)
    hands.key(Qt.Key.Key_Right, SHIFT)
    assert hands.place_of("s5")[0] == pytest.approx(start[0] + 25.4 / 1.6, abs=0.001)


def test_brackets_walk_from_spring_to_spring(hands: Hands) -> None:
    hands.key(Qt.Key.Key_BracketRight)
    hands.key(Qt.Key.Key_BracketRight)
    assert hands.bench.selection.springs == {"s2"}
    hands.key(Qt.Key.Key_BracketLeft)
    hands.key(Qt.Key.Key_BracketLeft)
    assert hands.bench.selection.springs == {"s9"}
