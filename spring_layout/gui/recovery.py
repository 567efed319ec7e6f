"""Autosave: a copy of unsaved work every few seconds, offered back after a crash.

Each window has one recovery file, beside it a note of which deck file it belongs to and what that
held, and the sign that the window lives. A clean end removes them. A copy without a living window
is unsaved work.
"""

import contextlib
import json
from dataclasses import dataclass
from pathlib import Path
from uuid import uuid4

from PySide6.QtCore import QObject, QTimer, Signal

from spring_layout.deck.errors import DeckFileError, OutputError
from spring_layout.deck.files import read_deck, write_atomically, write_deck
from spring_layout.deck.model import Deck
from spring_layout.gui.alive import Sign, stands
from spring_layout.gui.document import Document

EVERY = 4000
"""ms between a change and its copy at the latest."""


@dataclass(frozen=True)
class Found:
    """Unsaved work of an earlier window: the deck, the file it belongs to, where it lies.

    ``print_was``: the fingerprint of what that file held when the work was done; "" unknown.
    """

    deck: Deck
    path: Path | None
    file: Path
    print_was: str = ""


class Recovery(QObject):
    """Keeps the recovery file of one window in step with its document."""

    kept = Signal()
    failed = Signal(str)

    def __init__(self, document: Document, folder: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.folder = folder
        self.file = folder / f"{uuid4().hex}.deck.json"
        self.print_was = ""
        """The fingerprint of what the document's file held when last read or written."""
        self._sign = Sign(_sign_of(self.file))
        self._timer = QTimer(self, singleShot=True, interval=EVERY)
        self._timer.timeout.connect(self.keep)
        document.decided_changed.connect(self._changed)
        document.undo_stack.cleanChanged.connect(lambda _: self._changed())

    def _changed(self) -> None:
        if self._document.is_modified and not self._timer.isActive():
            self._timer.start()
        elif not self._document.is_modified:
            self._timer.stop()
            self.discard()

    def keep(self) -> bool:
        """Writes the copy now, if there is anything to lose; whether it stands."""
        deck = self._document.deck
        if deck is None or not self._document.is_modified:
            return False
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            self._sign.put_up()
            write_deck(deck, self.file)
            write_atomically(_note_of(self.file), self._note())
        except (OutputError, OSError) as error:
            self.failed.emit(str(error))
            return False
        self.kept.emit()
        return True

    def _note(self) -> bytes:
        path = self._document.path
        note = {"path": str(path) if path else "", "print": self.print_was}
        return json.dumps(note).encode()

    def discard(self) -> None:
        """Removes the copy: the work is saved, or given up."""
        self._sign.take_down()
        discard(self.file)


def discard(file: Path) -> None:
    """Removes a recovery file, its note and its sign."""
    for gone in (file, _note_of(file), _sign_of(file)):
        with contextlib.suppress(OSError):
            gone.unlink(missing_ok=True)


def unsaved_work(folder: Path) -> list[Found]:
    """What earlier windows that ended badly left behind, latest first."""
    if not folder.is_dir():
        return []
    files = sorted(folder.glob("*.deck.json"), key=_when, reverse=True)
    return [found for file in files if (found := _found(file)) is not None]


def _when(file: Path) -> float:
    """When the file was written; 0 where another window has just removed it."""
    try:
        return file.stat().st_mtime
    except OSError:
        return 0.0


def _found(file: Path) -> Found | None:
    if stands(_sign_of(file)):
        return None
    try:
        note = json.loads(_note_of(file).read_text(encoding="utf-8"))
        path, print_was = str(note["path"]), str(note.get("print", ""))
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        path, print_was = "", ""
    try:
        return Found(read_deck(file), Path(path) if path else None, file, print_was)
    except DeckFileError:
        return None


def _note_of(file: Path) -> Path:
    return file.with_name(file.name.replace(".deck.json", ".note.json"))


def _sign_of(file: Path) -> Path:
    return file.with_name(file.name.replace(".deck.json", ".alive"))
