"""The table of springs, the equal of the picture."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QTableView,
)

from tests.gui.hands import Hands

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
