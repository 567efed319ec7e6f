"""The frame from measurements: what is written is what is made, in the units that are shown."""

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton

from spring_layout.deck import edits
from spring_layout.deck.shapes import bowed_frame, round_frame
from spring_layout.gui.beginnings import begun
from spring_layout.gui.panels.fields import LengthField
from spring_layout.gui.panels.shape_dialog import ShapeDialog
from spring_layout.gui.panels.sizes_dialog import SizesDialog
from tests.gui.hands import Hands

INCH = 25.4


@pytest.fixture
def dialog(hands: Hands) -> Iterator[ShapeDialog]:
    """A new deck is being measured, in inches."""
    made = ShapeDialog(hands.bench, hands.window, begins=True)
    made.show()
    yield made
    made.deleteLater()


def write(field: LengthField, text: str) -> None:
    """Writes into a field and leaves it there, unread."""
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)


def begin(dialog: ShapeDialog) -> None:
    QTest.mouseClick(dialog.ok, Qt.MouseButton.LeftButton)


def test_begin_refuses_a_measurement_that_cannot_be_read(dialog: ShapeDialog) -> None:
    fields = dialog.choose("bowed")
    write(fields["back"], "17")
    write(fields["front"], "18 1/")
    write(fields["depth"], "19")
    begin(dialog)
    assert dialog.isVisible()
    assert dialog.result() == 0
    assert dialog.focusWidget() is fields["front"]
    assert dialog.words.text().startswith("Front: “18 1/” is not a length")
    assert dialog.words.property("tone") == "wrong"
    write(fields["front"], "18 1/2")
    begin(dialog)
    assert dialog.result() == 1
    assert dialog.frame is not None
    assert dialog.frame.corners[2][0] - dialog.frame.corners[3][0] == pytest.approx(18.5 * INCH)


def test_enter_in_a_bad_field_begins_nothing(dialog: ShapeDialog) -> None:
    width = dialog.choose("straight")["width"]
    write(width, "twenty")
    QTest.keyClick(width, Qt.Key.Key_Return)
    assert dialog.isVisible()
    assert "not a length" in dialog.words.text()


@pytest.mark.parametrize("text", ["-5", "0"])
def test_what_cannot_be_is_told_in_the_decks_unit(dialog: ShapeDialog, text: str) -> None:
    write(dialog.choose("tapered")["back"], text)
    begin(dialog)
    told = f"Back: {text} in cannot be; it must be over 0 and at most 65 ft."
    assert dialog.words.text() == told


def test_a_shape_that_cannot_be_is_told_in_inches_too(dialog: ShapeDialog) -> None:
    fields = dialog.choose("bowed")
    write(fields["front_bow"], "20")
    begin(dialog)
    assert "half circle" in dialog.words.text()
    assert " mm" not in dialog.words.text()
    assert dialog.isVisible()


def test_a_mended_field_takes_its_complaint_along(dialog: ShapeDialog) -> None:
    fields = dialog.choose("tapered")
    write(fields["back"], "0")
    write(fields["front"], "x")
    fields["front"].take()
    assert "Back: 0 in" in dialog.words.text()
    write(fields["back"], "16 1/2")
    fields["back"].take()
    assert dialog.words.text().startswith("Front: “x”")
    QTest.keyClick(fields["front"], Qt.Key.Key_Escape)
    assert dialog.words.text() == ""


def answered(hands: Hands, do: Callable[[ShapeDialog], None], then: str) -> None:
    """``do`` is done to the dialog that the button opens."""

    def look() -> None:
        dialog = QApplication.activeModalWidget()
        assert isinstance(dialog, ShapeDialog)
        try:
            do(dialog)
        finally:  # nobody else would close it
            dialog.close()

    QTimer.singleShot(0, look)
    getattr(hands.window.filing, then)()


@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_new_deck_has_the_unit_that_its_dialog_showed(hands: Hands, units: str) -> None:
    before = edits.set_units(hands.deck, units)  # type: ignore[arg-type]  # one of both
    hands.bench.document.replace(before, None)
    # the other one is what this machine would begin with
    hands.bench.settings.keep("units", "in" if units == "mm" else "mm")
    shown: list[str] = []

    def take(dialog: ShapeDialog) -> None:
        shown.append(dialog.fields["straight"]["width"].text())
        begin(dialog)

    answered(hands, take, "new")
    assert shown[0].endswith(units)
    assert hands.deck.units == units


def test_measuring_again_begins_at_this_frame(hands: Hands) -> None:
    frame = bowed_frame(17 * INCH, 21 * INCH, 19 * INCH, front_bow=1.5 * INCH)
    hands.bench.document.replace(begun(frame, "in"), None)
    shown: dict[str, str] = {}

    def look(dialog: ShapeDialog) -> None:
        assert dialog.choices.currentItem().text() == "Bowed front"
        shown.update({name: field.text() for name, field in dialog.fields["bowed"].items()})
        begin(dialog)

    answered(hands, look, "reshape")
    assert shown == {"back": "17 in", "front": "21 in", "depth": "19 in", "front_bow": "1 1/2 in"}
    assert hands.deck.frame == frame


def test_measuring_again_keeps_the_rails_and_the_springs_in_their_places(hands: Hands) -> None:
    before = hands.deck

    def widen(dialog: ShapeDialog) -> None:
        write(dialog.fields["straight"]["width"], "520 mm")
        begin(dialog)

    answered(hands, widen, "reshape")
    assert hands.deck.springs == before.springs
    assert hands.deck.frame.rail_width == before.frame.rail_width
    left, right = hands.deck.frame.corners[0][0], hands.deck.frame.corners[1][0]
    assert (left, right) == pytest.approx((-10, 510))


def test_a_round_frame_opens_at_its_width(hands: Hands) -> None:
    hands.bench.document.replace(begun(round_frame(550), "mm"), None)
    shown: list[str] = []
    answered(
        hands, lambda dialog: shown.append(dialog.fields["round"]["diameter"].text()), "reshape"
    )
    assert shown == ["550 mm"]


def test_sizes_of_springs_are_not_taken_with_a_bad_length(hands: Hands) -> None:
    dialog = SizesDialog(hands.bench, hands.window)
    dialog.show()
    height = dialog.lengths["free_height"]
    write(height, "6 1/")
    take = next(b for b in dialog.findChildren(QPushButton) if b.text() == "Use these sizes")
    QTest.mouseClick(take, Qt.MouseButton.LeftButton)
    assert dialog.isVisible()
    assert dialog.focusWidget() is height
    assert dialog.words.text().startswith("Free height: “6 1/” is not a length")
    write(height, "6 1/2")
    QTest.mouseClick(take, Qt.MouseButton.LeftButton)
    assert dialog.result() == 1
    assert dialog.deck.coils[0].free_height == pytest.approx(6.5 * INCH)
    dialog.deleteLater()
