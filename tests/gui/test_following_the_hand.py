"""What stands beside the deck while a spring is in the hand: it follows, and nothing jumps."""

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from tests.gui.hands import Hands


def told(hands: Hands) -> list[str]:
    """What the table of checks says, row by row."""
    rows = hands.window.findings.rows
    return [str(rows.index(row, 2).data()) for row in range(rows.rowCount())]


def planned(hands: Hands) -> list[str]:
    return [hands.bench.words.retold(finding.message) for finding in hands.bench.findings()]


def test_the_checks_follow_a_spring_in_the_hand(hands: Hands, qtbot: QtBot) -> None:
    x, y = hands.place_of("s4")
    hands.press((x, y))
    seen = set()
    for step in (12.0, 30.0, 31.0, 32.0, 34.0):
        hands.move((x + step, y))
        qtbot.waitUntil(lambda: not hands.bench.planner.is_behind)
        qtbot.waitUntil(lambda: told(hands) == planned(hands))
        seen.add(tuple(told(hands)))
    assert len(seen) > 1
    hands.key(Qt.Key.Key_Escape)


def test_a_check_with_other_figures_keeps_its_row_chosen(hands: Hands, qtbot: QtBot) -> None:
    x, y = hands.place_of("s4")
    hands.press((x, y))
    hands.move((x + 32.0, y))
    qtbot.waitUntil(lambda: not hands.bench.planner.is_behind)
    qtbot.waitUntil(lambda: told(hands) == planned(hands))
    before = told(hands)
    hands.window.findings.selectionModel().blockSignals(True)
    hands.window.findings.selectRow(0)
    hands.window.findings.selectionModel().blockSignals(False)
    hands.move((x + 34.0, y))
    qtbot.waitUntil(lambda: told(hands) == planned(hands) != before)
    chosen = hands.window.findings.selectionModel().selectedRows()
    assert [index.row() for index in chosen] == [0]
    hands.key(Qt.Key.Key_Escape)
