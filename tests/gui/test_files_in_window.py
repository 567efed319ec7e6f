"""Files from the window: opened, saved, dropped, changed on disk, closed with changes."""

import json
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QFileDialog, QMessageBox
from pytestqt.qtbot import QtBot

from spring_layout.deck import edits
from spring_layout.deck.files import read_deck, write_deck
from spring_layout.gui.main_window import MainWindow
from spring_layout.resources import sample_decks
from tests.decks import grid_deck
from tests.gui.hands import Hands

Answer = QMessageBox.StandardButton


class Told:
    """Answers the window's questions and keeps what was asked."""

    def __init__(self, window: MainWindow, *answers: Answer) -> None:
        self.asked: list[str] = []
        self._answers = list(answers)
        window.filing.ask = self.answer  # type: ignore[method-assign]  # stands in for the user

    def answer(self, words: str, more: str, buttons: object) -> Answer:
        self.asked.append(f"{words} {more}")
        return self._answers.pop(0)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A deck file of nine springs."""
    path = tmp_path / "nine.deck.json"
    write_deck(grid_deck(), path)
    return path


def change(hands: Hands) -> None:
    """Some change worth saving."""
    hands.bench.attempt("Rename", lambda deck: edits.set_name(deck, "Changed"))


def named(monkeypatch: pytest.MonkeyPatch, which: str, path: Path | str, kind: str = "") -> None:
    """The user names this file in the next file dialog."""
    monkeypatch.setattr(QFileDialog, which, lambda *_a, **_k: (str(path), kind))


def test_open_shows_the_deck_and_remembers_it(
    window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    named(monkeypatch, "getOpenFileName", file)
    window.acts["open"].trigger()
    assert window.bench.document.deck == grid_deck()
    assert window.bench.settings.recent == [file.resolve()]
    assert file.name in window.windowTitle()
    assert not window.isWindowModified()


def test_recent_decks_stand_in_the_menu_and_open(window: MainWindow, file: Path) -> None:
    window.filing.open_path(file)
    window.bench.document.replace(None, None)
    hands = Hands(window)
    hands.menu("Deck", "Open recent", "nine").trigger()
    assert window.bench.document.path == file
    hands.menu("Deck", "Open recent", "Forget").trigger()
    assert window.bench.settings.recent == []


def test_a_sample_opens_as_a_deck_without_a_file(window: MainWindow) -> None:
    path = sample_decks()[0]
    window.start.open_path.emit(path)
    assert window.bench.document.deck == read_deck(path)
    assert window.bench.document.path is None
    assert window.bench.settings.recent == []


def test_save_writes_the_file_and_the_star_goes(
    hands: Hands, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands.window.filing.open_path(file)
    change(hands)
    assert hands.window.isWindowModified()
    hands.act("save")
    assert read_deck(file).name == "Changed"
    assert not hands.window.isWindowModified()


def test_save_as_asks_where_and_adds_the_ending(
    hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    named(monkeypatch, "getSaveFileName", tmp_path / "other")
    change(hands)
    hands.act("save")
    assert read_deck(tmp_path / "other.deck.json").name == "Changed"
    assert hands.bench.document.path == tmp_path / "other.deck.json"


def test_undo_after_save_is_a_change_again(hands: Hands, file: Path) -> None:
    hands.window.filing.open_path(file)
    change(hands)
    hands.act("save")
    hands.act("undo")
    assert hands.window.isWindowModified()
    hands.act("redo")
    assert not hands.window.isWindowModified()


def test_a_file_that_cannot_be_read_is_told_and_nothing_is_lost(
    hands: Hands, tmp_path: Path
) -> None:
    broken = tmp_path / "broken.deck.json"
    broken.write_text("{", encoding="utf-8")
    told = Told(hands.window, Answer.Ok)
    before = hands.deck
    assert not hands.window.filing.open_path(broken)
    assert "broken.deck.json cannot be opened" in told.asked[0]
    assert hands.deck == before


def test_a_place_that_cannot_be_written_is_told_and_the_work_stays_unsaved(
    hands: Hands, tmp_path: Path
) -> None:
    told = Told(hands.window, Answer.Ok)
    change(hands)
    assert not hands.window.filing.save_to(tmp_path / "no such folder" / "a.deck.json")
    assert "not saved" in told.asked[0]
    assert hands.bench.document.is_modified


def drop(window: MainWindow, *paths: Path) -> bool:
    """Drops files on the window; whether it takes them."""
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    copy, left, none = (
        Qt.DropAction.CopyAction,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    enter = QDragEnterEvent(QPoint(10, 10), copy, data, left, none)
    enter.ignore()
    window.dragEnterEvent(enter)
    if not enter.isAccepted():
        return False
    window.dropEvent(QDropEvent(QPointF(10, 10), copy, data, left, none))
    QApplication.processEvents()
    return True


def test_a_dropped_deck_file_opens(window: MainWindow, file: Path) -> None:
    assert drop(window, file)
    assert window.bench.document.deck == grid_deck()


def test_other_things_are_not_taken(window: MainWindow, file: Path, tmp_path: Path) -> None:
    assert not drop(window, tmp_path / "picture.png")
    assert not drop(window, file, file)


def test_a_file_changed_by_another_program_is_noticed(
    hands: Hands, file: Path, qtbot: QtBot
) -> None:
    hands.window.filing.open_path(file)
    told = Told(hands.window, Answer.Open)
    file.write_bytes(file.read_bytes().replace(b"3 by 3", b"From elsewhere"))
    qtbot.waitUntil(lambda: bool(told.asked), timeout=5000)
    assert "changed by another program" in told.asked[0]
    assert hands.deck.name == "From elsewhere"


def test_the_own_version_can_be_kept_and_is_then_unsaved(
    hands: Hands, file: Path, qtbot: QtBot
) -> None:
    hands.window.filing.open_path(file)
    told = Told(hands.window, Answer.Ignore)
    file.write_bytes(file.read_bytes().replace(b"3 by 3", b"From elsewhere"))
    qtbot.waitUntil(lambda: bool(told.asked), timeout=5000)
    assert hands.deck.name == "3 by 3"
    assert hands.bench.document.is_modified


def test_a_file_that_is_gone_makes_the_work_unsaved(hands: Hands, file: Path, qtbot: QtBot) -> None:
    hands.window.filing.open_path(file)
    file.unlink()
    qtbot.waitUntil(lambda: hands.bench.document.is_modified, timeout=5000)
    assert "gone from the disk" in hands.window.status.hint.text()


def test_saving_does_not_look_like_a_change_by_another_program(
    hands: Hands, file: Path, qtbot: QtBot
) -> None:
    hands.window.filing.open_path(file)
    change(hands)
    hands.act("save")
    qtbot.wait(500)  # the fixture's window fails the test where it asks
    assert not hands.bench.document.is_modified


def close(window: MainWindow) -> bool:
    """Closes the window; whether it went."""
    event = QCloseEvent()
    window.closeEvent(event)
    return event.isAccepted()


def test_closing_with_changes_asks_once(own_hands: Hands) -> None:
    change(own_hands)
    told = Told(own_hands.window, Answer.Cancel, Answer.Discard)
    assert not close(own_hands.window)
    assert "not saved" in told.asked[0]
    assert close(own_hands.window)
    assert len(told.asked) == 2


def test_closing_can_save_first(own_hands: Hands, file: Path) -> None:
    own_hands.window.filing.open_path(file)
    change(own_hands)
    Told(own_hands.window, Answer.Save)
    assert close(own_hands.window)
    assert read_deck(file).name == "Changed"


def test_closing_without_changes_asks_nothing(own_hands: Hands) -> None:
    assert close(own_hands.window)


def test_opening_another_deck_over_changes_asks(hands: Hands, file: Path) -> None:
    change(hands)
    Told(hands.window, Answer.Cancel)
    assert not hands.window.filing.open_path(file)
    assert hands.deck.name == "Changed"


@pytest.mark.parametrize(("ending", "begins"), [(".svg", b"<?xml"), (".pdf", b"%PDF")])
def test_the_diagram_is_exported(
    hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ending: str, begins: bytes
) -> None:
    named(monkeypatch, "getSaveFileName", tmp_path / f"out{ending}")
    hands.act("export")
    assert (tmp_path / f"out{ending}").read_bytes().startswith(begins)


def test_an_export_without_an_ending_takes_that_of_the_chosen_kind(
    hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    named(monkeypatch, "getSaveFileName", tmp_path / "out", "For printing (*.pdf)")
    hands.act("export")
    assert (tmp_path / "out.pdf").read_bytes().startswith(b"%PDF")


def test_an_export_that_cannot_be_written_is_told(
    hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = Told(hands.window, Answer.Ok)
    named(monkeypatch, "getSaveFileName", tmp_path / "none" / "out.svg")
    hands.act("export")
    assert "not exported" in told.asked[0]


def test_unknown_keys_of_a_file_live_through_an_edit(hands: Hands, tmp_path: Path) -> None:
    path = tmp_path / "odd.deck.json"
    write_deck(grid_deck(), path)
    whole: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    whole["workshop"] = "back room"
    path.write_text(json.dumps(whole), encoding="utf-8")
    hands.window.filing.open_path(path)
    change(hands)
    hands.act("save")
    assert json.loads(path.read_text(encoding="utf-8"))["workshop"] == "back room"
