"""Springs set, copied, mirrored, kept, sized; layouts suggested; spaced evenly."""

import math
from collections.abc import Callable

import pytest
from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtWidgets import QApplication, QComboBox, QDialog, QLabel
from pytestqt.qtbot import QtBot

from spring_layout.deck import edits
from spring_layout.deck.files import read_deck
from spring_layout.gui.panels.fields import Sentence
from spring_layout.gui.panels.layouts_dialog import LayoutsDialog
from spring_layout.gui.panels.sizes_dialog import SizesDialog
from spring_layout.gui.placing_work import evenly_spaced
from spring_layout.planning.spacing import evenness_of, spaces_of
from spring_layout.planning.standing import standing_of
from spring_layout.resources import sample_decks
from tests.decks import grid_deck
from tests.gui.hands import Hands

ALT = Qt.KeyboardModifier.AltModifier


def test_a_click_sets_a_spring_of_the_chosen_size(hands: Hands) -> None:
    hands.tool("set")
    hands.click((178, 178), ALT)
    new = hands.deck.springs[-1]
    assert (new.x, new.y) == pytest.approx((178, 178), abs=0.01)
    assert hands.bench.selection.springs == {new.id}
    assert hands.bench.document.undo_stack.undoText() == "Set a spring"


def test_a_spring_is_set_settled_between_its_neighbours(hands: Hands) -> None:
    hands.bench.document.replace(edits.remove_springs(grid_deck(), ["s5"]), None)
    hands.tool("set")
    hands.click((252, 248))
    assert hands.place_of(hands.deck.springs[-1].id) == pytest.approx((250, 250), abs=0.01)


def test_a_spring_set_outside_is_refused_at_the_pointer(hands: Hands) -> None:
    hands.tool("set")
    hands.move((-60, 200), ALT, held=False)
    hands.press((-60, 200), ALT)
    assert "outside" in hands.view.note.text()
    assert len(hands.deck.springs) == 9


def test_delete_removes_the_picked_springs(hands: Hands) -> None:
    hands.bench.selection.pick_springs(["s1", "s9"])
    hands.act("delete")
    assert {s.id for s in hands.deck.springs} == {f"s{i}" for i in range(2, 9)}
    assert hands.bench.selection.picked.is_empty


def test_copied_springs_are_pasted_beside_and_picked(hands: Hands) -> None:
    hands.bench.selection.pick_springs(["s1"])
    hands.act("copy")
    hands.act("paste")
    new = hands.deck.springs[-1]
    old = hands.place_of("s1")
    assert (new.x, new.y) == pytest.approx((old[0] + 25.4, old[1] + 25.4))
    assert hands.bench.selection.springs == {new.id}
    hands.act("paste")
    again = hands.deck.springs[-1]
    assert again.x == pytest.approx(old[0] + 50.8)


def test_cut_takes_them_away_and_paste_brings_them_back(hands: Hands) -> None:
    hands.bench.selection.pick_springs(["s4", "s5"])
    hands.act("cut")
    assert len(hands.deck.springs) == 7
    hands.act("paste")
    assert len(hands.deck.springs) == 9


def test_nothing_copied_is_said(hands: Hands) -> None:
    QApplication.clipboard().clear()
    hands.act("paste")
    assert "no copied springs" in hands.window.status.hint.text()


def test_mirror_sets_a_spring_on_the_other_side(hands: Hands) -> None:
    hands.bench.document.replace(edits.remove_springs(grid_deck(), ["s3"]), None)
    hands.bench.selection.pick_springs(["s1"])
    hands.act("mirror")
    new = hands.deck.springs[-1]
    assert (new.x, new.y) == pytest.approx((500 - 108, 108))


def test_a_spring_is_kept_and_let_go(hands: Hands) -> None:
    hands.click(hands.place_of("s5"))
    hands.act("keep")
    assert hands.deck.spring("s5").held
    assert hands.window.acts["keep"].isChecked()
    hands.window.particulars.spring_page.keep.click()
    assert not hands.deck.spring("s5").held


def test_places_are_typed_from_the_middle_and_the_back(hands: Hands) -> None:
    hands.click(hands.place_of("s5"))
    page = hands.window.particulars.spring_page
    assert (page.across.text(), page.down.text()) == ("0 in", "9 13/16 in")
    hands.type(page.across, "-1")
    hands.type(page.down, "10")
    assert hands.place_of("s5") == pytest.approx((250 - 25.4, 254))


def test_the_page_tells_gap_distance_height_and_ties(hands: Hands) -> None:
    hands.click(hands.place_of("s1"))
    facts = hands.window.particulars.spring_page.facts
    assert facts["Nearest gap"].text() == "2 in to A2"  # 142 - 92 = 50 mm
    assert facts["To the rail"].text() == "2 1/2 in"  # 108 - 46 = 62 mm
    assert facts["Tied height"].text() == "4 1/2 in"  # 115 mm
    assert len(facts["{Ties} on it"].text().split(", ")) == 3


def answer_dialog(qtbot: QtBot, kind: type[QDialog], do: Callable[[QDialog], None]) -> None:
    """``do`` is done to the next dialog of that kind once it is open."""

    def look() -> None:
        dialog = QApplication.activeModalWidget()
        if isinstance(dialog, kind):
            do(dialog)
        else:
            QTimer.singleShot(10, look)

    QTimer.singleShot(0, look)


def test_a_suggested_layout_is_set_in_one_step(hands: Hands, qtbot: QtBot) -> None:
    hands.window.placing.work_here()
    seen: list[int] = []

    def choose(dialog: QDialog) -> None:
        assert isinstance(dialog, LayoutsDialog)
        seen.append(len(dialog.cards))
        dialog.cards[1].click()
        dialog.accept()

    answer_dialog(qtbot, LayoutsDialog, choose)
    hands.act("suggest")
    assert 2 <= seen[0] <= 4
    count = len(hands.deck.springs)
    assert hands.bench.document.undo_stack.undoText() == f"Set {count} springs"
    hands.act("undo")
    assert hands.deck == grid_deck()


def test_suggesting_can_be_cancelled(hands: Hands, qtbot: QtBot) -> None:
    hands.window.placing.work_here()
    answer_dialog(qtbot, LayoutsDialog, lambda dialog: dialog.reject())
    hands.act("suggest")
    assert hands.bench.document.undo_stack.count() == 0


def jittered(hands: Hands) -> None:
    """Two springs out of their places."""
    deck = edits.move_springs(grid_deck(), ["s5"], 12, -9)
    hands.bench.document.replace(edits.move_springs(deck, ["s1"], 8, 3), None)


def spread(hands: Hands) -> float:
    """How uneven the gaps are, mm."""
    standing = standing_of(hands.deck)
    found = evenness_of(standing, spaces_of(standing)).gap_spread
    assert found is not None
    return found


def test_space_evenly_is_one_step_and_makes_the_gaps_alike(hands: Hands) -> None:
    hands.window.placing.work_here()
    jittered(hands)
    before, uneven = hands.deck, spread(hands)
    hands.act("even")
    assert spread(hands) < uneven / 4
    assert hands.bench.document.undo_stack.undoText() == "Space evenly"
    hands.act("undo")
    assert hands.deck == before


def test_kept_springs_stay_when_the_others_are_spaced(hands: Hands) -> None:
    hands.window.placing.work_here()
    jittered(hands)
    hands.bench.document.replace(edits.hold_springs(hands.deck, ["s1"]), None)
    place = hands.place_of("s1")
    hands.act("even")
    assert hands.place_of("s1") == place


def test_when_every_spring_is_kept_it_is_said(hands: Hands) -> None:
    hands.bench.selection.pick_springs([s.id for s in hands.deck.springs])
    hands.act("keep")
    hands.act("even")
    assert "Every spring is kept" in hands.window.status.hint.text()


def test_springs_glide_to_their_places_in_the_helper_process(hands: Hands, qtbot: QtBot) -> None:
    hands.bench.settings.keep("motion", True)
    jittered(hands)
    start = hands.place_of("s5")
    seen: list[float] = []

    def note() -> None:
        assert hands.bench.deck is not None
        seen.append(hands.bench.deck.spring("s5").x)

    hands.bench.document.shown_changed.connect(note)
    evening = hands.window.placing.evening
    with qtbot.waitSignal(evening.ended, timeout=20000):
        hands.act("even")
        assert hands.window.acts["stop"].isEnabled()
    hands.bench.document.shown_changed.disconnect(note)
    assert len(seen) > 3
    assert seen[-1] != start[0]
    assert hands.bench.document.undo_stack.count() == 1


def test_spacing_evenly_can_be_stopped_and_taken_back(hands: Hands, qtbot: QtBot) -> None:
    jittered(hands)
    before = hands.deck
    hands.act("even")
    hands.act("stop")
    assert not hands.window.placing.evening.is_running
    assert hands.bench.remark == "Stopped: the springs stand as they did."
    assert hands.bench.document.undo_stack.count() == 0
    hands.act("even")
    hands.key(Qt.Key.Key_Escape)
    assert not hands.window.placing.evening.is_running
    assert hands.deck == before


def test_spacing_stopped_half_way_says_that_it_was_stopped(hands: Hands, qtbot: QtBot) -> None:
    hands.bench.settings.keep("motion", True)
    jittered(hands)
    before = hands.deck
    hands.act("even")
    qtbot.waitUntil(lambda: hands.bench.deck != before, timeout=20000)
    hands.act("stop")
    assert hands.bench.remark == "Stopped: the springs stay where they had come to."
    assert hands.bench.document.undo_stack.count() == 1


@pytest.mark.parametrize("key", [Qt.Key.Key_Backspace, Qt.Key.Key_Delete])
def test_a_key_in_a_drop_down_removes_no_spring(hands: Hands, key: Qt.Key) -> None:
    hands.bench.selection.pick_springs(["s1"])
    choices = hands.window.particulars.findChildren(QComboBox)
    choice = next(box for box in choices if box.isVisible())
    choice.setFocus()
    hands.key(key, on=choice)
    assert len(hands.deck.springs) == 9


@pytest.mark.parametrize("key", [Qt.Key.Key_Backspace, Qt.Key.Key_Delete])
def test_the_same_key_removes_it_on_the_deck_and_in_the_table(hands: Hands, key: Qt.Key) -> None:
    hands.bench.selection.pick_springs(["s1"])
    hands.view.setFocus()
    hands.key(key)
    assert len(hands.deck.springs) == 8
    hands.window.tabs.setCurrentWidget(hands.window.spring_table)
    hands.window.spring_table.setFocus()
    hands.bench.selection.pick_springs(["s2"])
    hands.key(key, on=hands.window.spring_table)
    assert len(hands.deck.springs) == 7


def test_a_size_is_measured_and_another_added(hands: Hands, qtbot: QtBot) -> None:
    def work(dialog: QDialog) -> None:
        assert isinstance(dialog, SizesDialog)
        hands.type(dialog.lengths["free_height"], "7")
        dialog.gauge.choose("SWG 9")
        dialog.turns.setText("6,5")
        dialog.turns.editingFinished.emit()
        dialog.stock.show_value("seat-8in")
        dialog.add.click()
        dialog.accept()

    answer_dialog(qtbot, SizesDialog, work)
    hands.window.particulars.springs_page.sizes.click()
    seat, tall = hands.deck.coils
    assert (seat.free_height, seat.turns, seat.gauge) == (pytest.approx(177.8), 6.5, "SWG 9")
    assert seat.wire == pytest.approx(0.144 * 25.4)  # SWG 9, BS 3737:1964
    assert tall.id == "seat-8in"
    assert hands.bench.document.undo_stack.undoText() == "Spring sizes"


def test_a_size_in_use_is_not_removed(hands: Hands, qtbot: QtBot) -> None:
    told: list[str] = []

    def work(dialog: QDialog) -> None:
        assert isinstance(dialog, SizesDialog)
        dialog.remove.click()
        told.append(dialog.words.text())
        dialog.turns.setText("many")
        dialog.turns.editingFinished.emit()
        told.append(dialog.words.text())
        dialog.reject()

    answer_dialog(qtbot, SizesDialog, work)
    hands.window.particulars.springs_page.sizes.click()
    assert "used by 9" in told[0]
    assert "no number of turns" in told[1]
    assert hands.bench.document.undo_stack.count() == 0


def test_new_springs_get_the_size_that_is_chosen(hands: Hands) -> None:
    tall = edits.add_coil(
        grid_deck(),
        grid_deck()
        .coils[0]
        .__class__(
            id="tall",
            free_height=200,
            wire=3.66,
            turns=7,
            top_diameter=80,
            waist_diameter=60,
            foot_diameter=80,
        ),
    )
    hands.bench.document.replace(tall, None)
    hands.window.particulars.springs_page.coil.choose("tall")
    hands.tool("set")
    hands.click((178, 178), ALT)
    assert hands.deck.springs[-1].coil == "tall"
    hands.bench.selection.pick_springs(["s1"])
    hands.window.particulars.spring_page.coil.choose("tall")
    assert hands.deck.spring("s1").coil == "tall"


def test_wishes_are_typed(hands: Hands) -> None:
    page = hands.window.particulars.springs_page
    hands.bench.selection.clear()
    hands.type(page.gap, "1 3/4")
    hands.type(page.clearance, "2")
    assert hands.deck.spacing.gap == pytest.approx(44.45)
    assert hands.deck.spacing.clearance == pytest.approx(50.8)


def test_enter_sets_a_spring_for_the_arrows_to_move(hands: Hands) -> None:
    hands.bench.document.replace(edits.remove_springs(grid_deck(), ["s5"]), None)
    hands.tool("set")
    hands.key(Qt.Key.Key_Return)
    new = hands.deck.springs[-1].id
    x, y = hands.place_of(new)
    assert hands.bench.selection.springs == {new}
    hands.key(Qt.Key.Key_Down)
    assert hands.place_of(new) == pytest.approx((x, y + 25.4 / 16), abs=0.001)


def test_an_answered_dialog_is_gone(hands: Hands, qtbot: QtBot) -> None:
    hands.window.placing.work_here()
    answer_dialog(qtbot, LayoutsDialog, lambda dialog: dialog.reject())
    hands.act("suggest")
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    assert hands.window.findChildren(LayoutsDialog) == []


def test_no_line_of_a_suggested_layouts_reason_ends_within_a_length(hands: Hands) -> None:
    said = Sentence("Gaps of 1 1/2 in, as you asked.")
    assert QLabel.text(said) == "Gaps of 1\u00a01/2\u00a0in, as you asked."
    assert said.text() == "Gaps of 1 1/2 in, as you asked."
    said.setText("2 1/4 in from the rails.")
    assert QLabel.text(said) == "2\u00a01/4\u00a0in from the rails."
    assert said.text() == "2 1/4 in from the rails."


def test_a_spring_that_was_dragged_a_little_leaves_the_deck_alike_on_both_sides() -> None:
    path = next(path for path in sample_decks() if path.name.startswith("tapered"))
    deck = read_deck(path)
    first = deck.springs[0]
    dragged = edits.place_spring(deck, first.id, first.x + 8.0, first.y + 4.0)
    places = evenly_spaced(lambda _: None, dragged).values()
    x0, _, x1, _ = standing_of(deck).outline.bounds
    for x, y in places:
        mirrored = x0 + x1 - x, y
        assert min(math.dist(mirrored, place) for place in places) < 0.01
