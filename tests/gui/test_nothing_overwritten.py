"""No deck of anybody else's is written over unasked, and no copy of unsaved work is lost."""

from pathlib import Path

import pytest
from PySide6.QtWidgets import QMessageBox

from spring_layout.deck import edits
from spring_layout.deck.files import read_deck, write_deck
from spring_layout.gui.alive import Sign, stands
from spring_layout.gui.filing import with_ending
from spring_layout.gui.recovery import unsaved_work
from tests.decks import grid_deck
from tests.gui.hands import Hands
from tests.gui.test_files_in_window import Answer, Told, change, named

OTHERS = edits.set_name(grid_deck(), "Another's")


@pytest.fixture
def opened(own_hands: Hands, tmp_path: Path) -> Path:
    """The file of the deck in the window, which has been changed there."""
    path = tmp_path / "chair.deck.json"
    write_deck(grid_deck(), path)
    own_hands.window.filing.open_path(path)
    change(own_hands)
    return path


@pytest.mark.parametrize(
    ("name", "written"),
    [
        ("chair", "chair.deck.json"),
        ("round 17.5 in", "round 17.5 in.deck.json"),
        ("chair.deck.json", "chair.deck.json"),
        ("chair.json", "chair.json"),
    ],
)
def test_a_deck_file_has_its_ending(name: str, written: str) -> None:
    assert with_ending(Path("decks") / name) == Path("decks") / written


def test_save_as_asks_before_the_ending_leads_to_another_deck(
    own_hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_deck(OTHERS, tmp_path / "chair.deck.json")
    named(monkeypatch, "getSaveFileName", tmp_path / "chair")
    told = Told(own_hands.window, Answer.Cancel, Answer.Save)
    own_hands.window.filing.save_as()
    assert "is there already" in told.asked[0]
    assert read_deck(tmp_path / "chair.deck.json") == OTHERS
    own_hands.window.filing.save_as()
    assert read_deck(tmp_path / "chair.deck.json") == own_hands.deck


def test_save_asks_before_it_undoes_what_another_program_wrote(
    own_hands: Hands, opened: Path
) -> None:
    opened.unlink()
    write_deck(OTHERS, opened)  # and nobody has looked at the disk yet
    told = Told(own_hands.window, Answer.Cancel)
    own_hands.act("save")
    assert "changed by another program" in told.asked[0]
    assert read_deck(opened) == OTHERS


def test_a_file_that_is_gone_and_comes_back_is_noticed(own_hands: Hands, opened: Path) -> None:
    opened.unlink()
    own_hands.window.filing._look_at_disk()
    write_deck(OTHERS, opened)
    told = Told(own_hands.window, Answer.Ignore)
    own_hands.window.filing._look_at_disk()
    assert "changed by another program" in told.asked[0]


def test_a_file_that_can_no_longer_be_read_is_told(
    own_hands: Hands, opened: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def locked(_: Path) -> bytes:
        raise PermissionError

    monkeypatch.setattr(Path, "read_bytes", locked)
    own_hands.window.filing._look_at_disk()
    assert "can no longer be read" in own_hands.window.status.hint.text()


def test_recovered_work_is_not_saved_over_a_newer_file_unasked(
    own_hands: Hands, opened: Path
) -> None:
    filing = own_hands.window.filing
    filing.recovery.keep()
    filing.recovery._sign.take_down()  # as if the process had ended
    write_deck(OTHERS, opened)
    (found,) = unsaved_work(own_hands.bench.recovery_folder())
    filing.recover(found)
    told = Told(own_hands.window, Answer.Cancel)
    own_hands.act("save")
    assert "changed by another program" in told.asked[0]
    assert read_deck(opened) == OTHERS


def test_recovered_work_is_saved_in_its_file_where_nobody_touched_that(
    own_hands: Hands, opened: Path
) -> None:
    filing = own_hands.window.filing
    filing.recovery.keep()
    filing.recovery._sign.take_down()
    (found,) = unsaved_work(own_hands.bench.recovery_folder())
    filing.recover(found)
    own_hands.act("save")
    assert read_deck(opened).name == "Changed"


def test_the_only_copy_stays_where_a_new_one_cannot_be_written(
    own_hands: Hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = own_hands.bench.recovery_folder()
    folder.mkdir(parents=True)
    write_deck(OTHERS, folder / "old.deck.json")
    (found,) = unsaved_work(folder)
    monkeypatch.setattr(own_hands.window.filing.recovery, "keep", lambda: False)
    own_hands.window.filing.recover(found)
    assert found.file.exists()


def test_each_copy_is_offered_until_one_is_taken_up(own_hands: Hands, tmp_path: Path) -> None:
    folder = own_hands.bench.recovery_folder()
    folder.mkdir(parents=True)
    for name in ("one", "two"):
        write_deck(edits.set_name(grid_deck(), name), folder / f"{name}.deck.json")
    told = Told(own_hands.window, QMessageBox.StandardButton.Discard, Answer.Open)
    own_hands.window.filing.offer_recovery()
    assert len(told.asked) == 2
    assert own_hands.deck.name in ("one", "two")


def test_a_sign_stands_while_its_window_lives_and_no_longer(tmp_path: Path) -> None:
    sign = Sign(tmp_path / "window.alive")
    assert not stands(sign.file)
    sign.put_up()
    assert stands(sign.file)
    sign.take_down()
    assert not stands(sign.file)
    sign.file.write_bytes(b"")  # left by a process that was killed
    assert not stands(sign.file)
