"""The document: previews, steps, and what counts as something to save."""

from pathlib import Path

from spring_layout.deck import edits
from spring_layout.gui.document import Document
from tests.decks import grid_deck


def test_another_deck_is_clean_even_after_work_that_was_taken_up_unsaved(qapp: object) -> None:
    document = Document()
    document.replace(grid_deck(), None, modified=True)
    assert document.is_modified
    document.replace(grid_deck(2, 2), Path("a.deck.json"))
    assert not document.is_modified


def test_a_preview_is_shown_and_not_decided(qapp: object) -> None:
    document, other = Document(), edits.set_name(grid_deck(), "Other")
    document.replace(grid_deck(), None)
    document.preview(other)
    assert document.shown == other
    assert document.deck == grid_deck()
    document.drop_preview()
    assert document.shown == grid_deck()
    assert document.undo_stack.count() == 0


def test_an_edit_that_changes_nothing_is_no_step(qapp: object) -> None:
    document = Document()
    document.replace(grid_deck(), None)
    document.edit("Nothing", grid_deck())
    assert document.undo_stack.count() == 0


def test_undo_and_redo_give_the_very_same_decks(qapp: object) -> None:
    document, other = Document(), edits.set_name(grid_deck(), "Other")
    document.replace(grid_deck(), None)
    document.edit("Rename", other)
    document.undo_stack.undo()
    assert document.deck == grid_deck()
    assert not document.is_modified
    document.undo_stack.redo()
    assert document.deck == other
    assert document.is_modified
