"""The frame in the hand: corners and bows dragged, corners inserted and removed, traced anew."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from spring_layout.deck import edits
from spring_layout.deck.edits import set_units
from spring_layout.deck.shapes import bowed_frame, round_frame, straight_frame
from spring_layout.gui.beginnings import begun
from spring_layout.gui.main_window import MainWindow
from tests.decks import grid_deck
from tests.gui.hands import Hands

ALT = Qt.KeyboardModifier.AltModifier


def test_a_corner_is_dragged(framed: Hands) -> None:
    framed.drag([(500, 500), (520, 515), (540, 530)], ALT)
    assert framed.deck.frame.corners[2] == pytest.approx((540, 530), abs=0.01)
    assert framed.bench.document.undo_stack.undoText() == "Move a corner"


def test_with_both_sides_alike_the_other_corner_goes_along(framed: Hands) -> None:
    framed.bench.same_both_sides = True
    framed.drag([(500, 500), (520, 515), (540, 530)], ALT)
    corners = framed.deck.frame.corners
    assert corners[2] == pytest.approx((540, 530), abs=0.01)
    assert corners[3] == pytest.approx((-40, 530), abs=0.01)


def test_a_corner_settles_straight_to_its_neighbour(framed: Hands) -> None:
    framed.press((500, 500))
    framed.move((530, 530))
    framed.move((502, 540))
    assert "straight" in framed.view.note.text()
    framed.release((502, 540))
    assert framed.deck.frame.corners[2] == pytest.approx((500, 540), abs=0.01)


def test_the_middle_of_a_side_bows_it(framed: Hands) -> None:
    framed.drag([(250, 500), (250, 515), (250, 530)], ALT)
    assert framed.deck.frame.sides[2].bow == pytest.approx(30, abs=0.01)


def test_a_bow_is_told_at_the_pointer(framed: Hands) -> None:
    framed.press((250, 500))
    framed.move((250, 525.4), ALT)
    assert framed.view.note.text() == "bow 1 in"
    framed.release((250, 525.4), ALT)


def test_a_double_click_inserts_a_corner_and_delete_removes_it(framed: Hands) -> None:
    framed.double_click((120, 500))
    frame = framed.deck.frame
    assert len(frame.corners) == 5
    assert frame.corners[3] == pytest.approx((120, 500), abs=0.6)
    framed.click(frame.corners[3])
    framed.act("delete")
    assert len(framed.deck.frame.corners) == 4


def test_a_frame_that_would_cross_itself_is_refused_while_dragging(framed: Hands) -> None:
    framed.press((500, 500))
    framed.move((500, 300), ALT)
    framed.move((-60, -100), ALT)
    assert framed.view.note.text()
    framed.release((-60, -100), ALT)
    x, y = framed.deck.frame.corners[2]
    assert x > 0
    assert y > 0


def test_a_corner_dragged_across_is_refused_in_words_of_the_frame(framed: Hands) -> None:
    framed.bench.same_both_sides = False
    framed.press((0, 0))
    framed.move((20, 0), ALT)
    framed.move((600, 560), ALT)
    assert framed.view.note.text() == (
        "The frame would turn inside out there; keep the corner on its own side of the others."
    )
    framed.move((560, 250), ALT)
    assert framed.view.note.text() == (
        "The frame would cross itself there; keep the corner on its own side of the others."
    )
    framed.release((560, 250), ALT)
    assert framed.deck.frame.corners[0][0] < 100


def test_a_lopsided_frame_says_why_its_sides_do_not_change_together(framed: Hands) -> None:
    page = framed.window.particulars.frame_page
    assert page.same.isChecked()
    assert "together" in page.same.toolTip()
    framed.bench.attempt("Skew", lambda deck: edits.move_corner(deck, 0, (-30, 10)))
    assert not page.same.isChecked()
    assert not page.same.isEnabled()
    assert "not the same on both sides" in page.same.toolTip()


def test_a_spring_may_not_be_left_outside(framed: Hands) -> None:
    framed.press((500, 500))
    framed.move((300, 300), ALT)
    assert "outside" in framed.view.note.text()
    framed.release((300, 300), ALT)
    assert framed.deck.frame.corners[2] == (500, 500)


def test_arrows_nudge_the_picked_corner(framed: Hands) -> None:
    framed.key(Qt.Key.Key_BracketRight)
    framed.key(Qt.Key.Key_Left)
    assert framed.deck.frame.corners[0] == pytest.approx((-25.4 / 16, 0), abs=0.001)


def test_a_side_is_named_and_bowed_by_typing(framed: Hands) -> None:
    framed.click((100, 0))
    page = framed.window.particulars.side_page
    assert framed.window.particulars.page is page
    framed.type(page.bow, "1 1/2")
    assert framed.deck.frame.sides[0].bow == pytest.approx(38.1)
    page.rail.choose("none")
    assert framed.deck.frame.sides[0].rail == "none"
    framed.act("undo")
    framed.act("undo")
    assert framed.deck == grid_deck()


def test_a_side_has_the_number_that_sentences_call_it_by(framed: Hands) -> None:
    framed.click((100, 500))
    page = framed.window.particulars.side_page
    assert page.title.text() == "Front side (side 3)"
    framed.type(page.bow, "400 mm")
    assert "side 3 (front)" in page.bow.toolTip()
    page.rail.choose("none")
    assert page.title.text() == "Open side (side 3)"


def test_a_length_that_is_none_is_told_and_kept_in_the_field(framed: Hands) -> None:
    framed.click((100, 0))
    bow = framed.window.particulars.side_page.bow
    framed.type(bow, "seven")
    assert bow.text() == "seven"
    assert bow.property("refused") == "true"
    assert "not a length" in bow.toolTip()
    assert framed.bench.document.undo_stack.count() == 0
    framed.key(Qt.Key.Key_Escape, on=bow)
    assert bow.text() == "0 in"


def test_a_bow_beyond_a_half_circle_is_refused(framed: Hands) -> None:
    framed.click((100, 0))
    bow = framed.window.particulars.side_page.bow
    framed.type(bow, "400 mm")
    assert "half circle" in bow.toolTip()
    assert framed.deck.frame.sides[0].bow == 0


# tracing ------------------------------------------------------------------------------------------


@pytest.fixture
def tracing(window: MainWindow) -> Hands:
    """Hands that have chosen to trace, in an empty window."""
    window.start.trace.emit()
    made = Hands(window)
    assert window.middle.currentIndex() == 1
    return made


def test_four_clicks_and_the_first_corner_make_a_frame(tracing: Hands) -> None:
    for place in ((0, 0), (400, 0), (440, 380), (-40, 380)):
        tracing.click(place, ALT)
    tracing.click((0, 0))
    frame = tracing.deck.frame
    assert [side.rail for side in frame.sides] == ["back", "right", "front", "left"]
    assert frame.corners[2] == pytest.approx((440, 380), abs=0.01)


def test_anticlockwise_corners_come_out_clockwise(tracing: Hands) -> None:
    for place in ((0, 0), (0, 400), (400, 400), (400, 0)):
        tracing.click(place, ALT)
    tracing.key(Qt.Key.Key_Return)
    rails = [side.rail for side in tracing.deck.frame.sides]
    assert sorted(rails) == ["back", "front", "left", "right"]
    corners = tracing.deck.frame.corners
    ahead = (*corners[1:], corners[0])
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, ahead, strict=True))
    assert area > 0  # clockwise on paper, y down


def test_a_typed_length_makes_an_exact_side(tracing: Hands) -> None:
    tracing.click((0, 0))
    tracing.move((300, 3), held=False)
    for key in (Qt.Key.Key_4, Qt.Key.Key_2, Qt.Key.Key_0):
        tracing.key(key)
    assert "420" in tracing.view.note.text()
    tracing.key(Qt.Key.Key_Return)
    for place in ((420, 400), (0, 400)):
        tracing.click(place, ALT)
    tracing.key(Qt.Key.Key_Return)
    # without a deck lengths are in the system's unit
    unit = 25.4 if tracing.bench.units == "in" else 1.0
    assert tracing.deck.frame.corners[1] == pytest.approx((420 * unit, 0), abs=0.01)


@pytest.mark.parametrize(
    ("typed", "mm"),
    [("22 1/2in", 571.5), ("22-1/2 in", 571.5), ("1 ft 10 1/2", 571.5), ("57.2 cm", 572)],
)
def test_a_length_is_typed_while_tracing_as_it_is_written(
    tracing: Hands, typed: str, mm: float
) -> None:
    tracing.view.setFocus()
    tracing.click((0, 0))
    tracing.move((300, 3), held=False)
    QTest.keyClicks(tracing.view, typed)
    assert f"Typed: {typed} " in tracing.view.note.text()
    tracing.key(Qt.Key.Key_Return)
    for place in ((mm, 400), (0, 400)):
        tracing.click(place, ALT)
    tracing.key(Qt.Key.Key_Return)
    assert tracing.deck.frame.corners[1] == pytest.approx((mm, 0), abs=0.01)


def test_a_letter_of_a_length_takes_no_tool_out_of_the_hand(framed: Hands) -> None:
    framed.tool("trace")
    framed.click((0, 0), ALT)
    framed.move((300, 3), held=False)
    QTest.keyClicks(framed.view, "50 cm")
    assert framed.window.strip.tools["trace"].isChecked()
    assert "Typed: 50 cm " in framed.view.note.text()


def test_space_still_moves_the_deck_before_a_length_is_begun(tracing: Hands) -> None:
    tracing.click((0, 0))
    QTest.keyPress(tracing.view, Qt.Key.Key_Space)
    before = tracing.pixel((0, 0))
    tracing.press((100, 100))
    tracing.move((200, 100))
    tracing.release((200, 100))
    QTest.keyRelease(tracing.view, Qt.Key.Key_Space)
    assert tracing.pixel((0, 0)) != before


def test_length_and_angle_stand_at_the_pointer(tracing: Hands) -> None:
    tracing.click((0, 0), ALT)
    tracing.click((400, 0), ALT)
    tracing.move((400, 300), ALT, held=False)
    assert tracing.view.note.text() == f"{tracing.bench.length(300)}, 90° corner"


def test_an_outline_that_crosses_itself_is_refused_as_it_is_drawn(tracing: Hands) -> None:
    for place in ((0, 0), (400, 0), (400, 400)):
        tracing.click(place, ALT)
    tracing.move((200, -200), ALT, held=False)
    assert "cross itself" in tracing.view.note.text()
    tracing.click((200, -200), ALT)
    tracing.key(Qt.Key.Key_Return)
    assert len(tracing.deck.frame.corners) == 3


def test_backspace_takes_the_last_corner_back_and_escape_all(tracing: Hands) -> None:
    for place in ((0, 0), (400, 0), (200, 100)):
        tracing.click(place, ALT)
    tracing.key(Qt.Key.Key_Backspace)
    tracing.click((400, 400), ALT)
    tracing.key(Qt.Key.Key_Return)
    assert tracing.deck.frame.corners[2] == pytest.approx((400, 400), abs=0.01)
    tracing.act("undo")
    assert tracing.bench.document.deck is None


def test_tracing_a_deck_anew_drops_springs_outside_and_says_so(hands: Hands) -> None:
    hands.bench.choose_stage("frame")
    hands.tool("trace")
    for place in ((0, 0), (500, 0), (500, 300), (0, 300)):
        hands.click(place, ALT)
    hands.key(Qt.Key.Key_Return)
    assert len(hands.deck.springs) == 6
    assert "3 springs stood outside" in hands.window.status.hint.text()
    hands.act("undo")
    assert hands.deck == grid_deck()


def test_both_sides_are_made_the_same(framed: Hands) -> None:
    framed.drag([(500, 500), (520, 505), (540, 510)], ALT)
    page = framed.window.particulars.frame_page
    framed.bench.selection.clear()
    assert page.make_same.isVisible()
    assert "out of square" in page.square.text()
    page.make_same.click()
    back_left, back_right, front_right, front_left = framed.deck.frame.corners
    middle = (back_left[0] + back_right[0]) / 2
    assert front_right[0] - middle == pytest.approx(middle - front_left[0])
    assert front_right[1] == front_left[1]


def test_the_depth_is_told_as_it_was_measured_and_the_bow_beside_it(framed: Hands) -> None:
    inch = 25.4
    frame = bowed_frame(17 * inch, 21 * inch, 19 * inch, front_bow=1.5 * inch)
    framed.bench.document.replace(begun(frame, "in"), None)
    page = framed.window.particulars.frame_page
    assert page.measures["Depth"].text() == "19 in"
    assert page.measures["Depth over the bow"].text() == "20 1/2 in"
    framed.bench.document.replace(begun(straight_frame(19 * inch, 19 * inch), "in"), None)
    assert page.measures["Depth"].text() == "19 in"
    assert not page.measures["Depth over the bow"].isVisible()


def test_rails_are_measured_in_the_decks_unit(framed: Hands) -> None:
    framed.bench.document.replace(set_units(framed.deck, "mm"), None)
    page = framed.window.particulars.frame_page
    framed.type(page.rail_width, "5,2 cm")
    assert framed.deck.frame.rail_width == pytest.approx(52)
    assert page.rail_width.text() == "52 mm"
    framed.type(page.top, "3 in")
    assert framed.deck.frame.rail_top == pytest.approx(76.2)


def test_the_deck_is_renamed_and_noted(framed: Hands) -> None:
    page = framed.window.particulars.frame_page
    framed.type(page.name, "Harbour office chair")
    page.note_field.setFocus()
    page.note_field.setPlainText("Second of four\nOld webbing kept")
    QTest.keyClick(page.note_field, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert framed.deck.name == "Harbour office chair"
    assert framed.deck.note == "Second of four\nOld webbing kept"
    assert framed.window.windowTitle().startswith("Harbour office chair")


def test_a_note_that_is_being_written_can_be_dropped_or_left(framed: Hands) -> None:
    note = framed.window.particulars.frame_page.note_field
    note.setFocus()
    QTest.keyClicks(note, "Wrong chair")
    QTest.keyClick(note, Qt.Key.Key_Escape)
    assert (note.toPlainText(), framed.deck.note) == ("", "")
    QTest.keyClicks(note, "Right chair")
    QTest.keyClick(note, Qt.Key.Key_Tab)
    assert framed.deck.note == "Right chair"


def test_a_round_frame_is_measured_across_and_not_along_its_sides(framed: Hands) -> None:
    framed.bench.document.replace(begun(round_frame(610), "mm"), None)
    measures = framed.window.particulars.frame_page.measures
    shown = {name: fact.text() for name, fact in measures.items() if not fact.isHidden()}
    assert list(shown) == ["Across"]
    assert shown["Across"] == "610 mm"


def test_a_lopsided_frame_can_be_shaped_too(framed: Hands) -> None:
    framed.bench.same_both_sides = True
    framed.bench.document.replace(edits.move_corner(framed.deck, 1, (540, 0)), None)
    framed.drag([(500, 500), (510, 515), (515, 530)], ALT)
    assert framed.deck.frame.corners[2] == pytest.approx((515, 530), abs=0.01)
    assert framed.deck.frame.corners[3] == (0, 500)


def test_brackets_walk_round_the_frame_and_arrows_bow_a_side(framed: Hands) -> None:
    framed.key(Qt.Key.Key_BracketRight)
    framed.key(Qt.Key.Key_BracketRight)
    assert framed.bench.selection.picked.side == 0
    framed.key(Qt.Key.Key_Up)
    assert framed.deck.frame.sides[0].bow == pytest.approx(25.4 / 16)
    assert framed.bench.document.undo_stack.undoText() == "Bow a side"
    framed.key(Qt.Key.Key_BracketLeft)
    framed.key(Qt.Key.Key_BracketLeft)
    assert framed.bench.selection.picked.side == 3


def test_a_corner_is_placed_by_typing_and_removed_by_its_button(framed: Hands) -> None:
    framed.click((500, 500))
    page = framed.window.particulars.corner_page
    assert page.angle.text() == "90.0°"
    framed.type(page.across, "11")
    framed.type(page.down, "20")
    assert framed.deck.frame.corners[2] == pytest.approx((250 + 11 * 25.4, 508))
    framed.act("undo")
    framed.act("undo")
    page.remove.click()
    assert "outside" in framed.window.status.hint.text()  # a spring would stand outside
    assert framed.deck == grid_deck()


def test_a_sides_rail_is_measured_and_a_corner_inserted_in_its_middle(framed: Hands) -> None:
    framed.click((100, 0))
    page = framed.window.particulars.side_page
    framed.type(page.rail_width, "2")
    framed.type(page.top, "3")
    side = framed.deck.frame.sides[0]
    assert (side.rail_width, side.rail_top) == pytest.approx((50.8, 76.2))
    page.insert.click()
    assert framed.deck.frame.corners[1] == pytest.approx((250, 0))
