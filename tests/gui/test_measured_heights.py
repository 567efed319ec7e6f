"""Heights as measured once tied: typed, printed on the record, taken back."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from spring_layout.gui.paper_files import files_of
from tests.gui.hands import Hands

# measured heights ---------------------------------------------------------------------------------


def test_a_measured_height_is_typed_printed_on_the_record_and_taken_back(hands: Hands) -> None:
    spring, page = hands.deck.springs[0].id, hands.window.particulars.spring_page
    hands.bench.selection.pick_springs([spring])
    hands.type(page.measured, "4 7/16")
    height = pytest.approx(4.4375 * 25.4)
    assert hands.deck.spring(spring).measured_height == height
    plan = hands.bench.planner.catch_up()
    assert plan is not None
    record = files_of(plan, hands.window.paper_page.wishes.order("record"), "record.svg")
    assert b">4 7/16<" in next(iter(record.values()))
    page.measured.selectAll()
    hands.key(Qt.Key.Key_Delete, on=page.measured)
    hands.key(Qt.Key.Key_Return, on=page.measured)
    assert hands.deck.spring(spring).measured_height is None
    hands.act("undo")
    assert hands.deck.spring(spring).measured_height == height


def test_a_measured_height_that_cannot_be_is_refused(hands: Hands) -> None:
    page = hands.window.particulars.spring_page
    hands.bench.selection.pick_springs([hands.deck.springs[0].id])
    hands.type(page.measured, "-3")
    assert hands.bench.remark == "A measured height must be more than nothing."
    assert hands.deck.springs[0].measured_height is None


def test_measured_heights_are_written_into_the_table(hands: Hands) -> None:
    hands.window.tabs.setCurrentWidget(hands.window.spring_table)
    QApplication.processEvents()
    rows = hands.window.spring_table.rows
    heads = [column.head for column in rows.columns]
    cell = rows.index(0, heads.index("Measured"))
    name = rows.keys[0]
    assert rows.setData(cell, "114 mm")
    assert hands.deck.spring(name).measured_height == 114
    assert rows.data(cell) == "4 1/2 in"
    assert not rows.setData(cell, "tall")
    assert rows.setData(cell, "")
    assert hands.deck.spring(name).measured_height is None
