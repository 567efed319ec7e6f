"""What is picked when it is taken away: it is let go, and nothing else takes its place."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from spring_layout.deck import edits
from spring_layout.deck.files import read_deck
from spring_layout.gui.selection import NOTHING, Picked
from spring_layout.resources import sample_decks
from tests.gui.hands import Hands


def test_the_last_corner_is_inserted_picked_and_removed(framed: Hands) -> None:
    framed.double_click((0, 250))
    corner = len(framed.deck.frame.corners) - 1
    framed.bench.selection.pick(Picked(corner=corner))
    framed.view.setFocus()
    framed.key(Qt.Key.Key_Delete)
    assert len(framed.deck.frame.corners) == 4
    assert framed.bench.selection.picked == NOTHING


def test_an_insertion_is_undone_while_the_new_corner_is_picked(framed: Hands) -> None:
    framed.double_click((0, 250))
    framed.bench.selection.pick(Picked(corner=4))
    framed.act("undo")
    QApplication.processEvents()
    assert framed.bench.selection.picked == NOTHING


@pytest.mark.parametrize("picked", [Picked(corner=3), Picked(side=3)])
def test_a_frame_with_fewer_corners_is_opened(framed: Hands, picked: Picked) -> None:
    framed.bench.selection.pick(picked)
    ottoman = next(path for path in sample_decks() if path.name.startswith("round"))
    framed.bench.document.replace(read_deck(ottoman), None)
    QApplication.processEvents()
    assert framed.bench.selection.picked == NOTHING


def test_a_second_press_of_delete_removes_no_corner_that_nobody_chose(framed: Hands) -> None:
    framed.bench.attempt(
        "Take the springs away", lambda d: edits.remove_springs(d, [s.id for s in d.springs])
    )
    framed.double_click((0, 150))
    framed.double_click((0, 350))
    framed.bench.selection.pick(Picked(corner=4))
    framed.view.setFocus()
    framed.key(Qt.Key.Key_Delete)
    framed.key(Qt.Key.Key_Delete)
    assert len(framed.deck.frame.corners) == 5
