"""Autosave: a copy of unsaved work every few seconds, offered back after a crash.

Each window has one recovery file and beside it a note of which process writes it and which deck
file it belongs to. A clean end removes both. A file whose process is gone is unsaved work.
"""

import contextlib
import json
import os
import sys
from dataclasses import dataclass
from pathlib import Path
from uuid import uuid4

from PySide6.QtCore import QObject, QTimer, Signal

from spring_layout.deck.errors import DeckFileError, OutputError
from spring_layout.deck.files import read_deck, write_atomically, write_deck
from spring_layout.deck.model import Deck
from spring_layout.gui.document import Document

EVERY = 4000
"""ms between a change and its copy at the latest."""


@dataclass(frozen=True)
class Found:
    """Unsaved work of an earlier window: the deck, the file it belongs to, where it lies."""

    deck: Deck
    path: Path | None
    file: Path


class Recovery(QObject):
    """Keeps the recovery file of one window in step with its document."""

    kept = Signal()
    failed = Signal(str)

    def __init__(self, document: Document, folder: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.folder = folder
        self.file = folder / f"{uuid4().hex}.deck.json"
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

    def keep(self) -> None:
        """Writes the copy now, if there is anything to lose."""
        deck = self._document.deck
        if deck is None or not self._document.is_modified:
            return
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            write_deck(deck, self.file)
            write_atomically(_note_of(self.file), self._note())
        except (OutputError, OSError) as error:
            self.failed.emit(str(error))
            return
        self.kept.emit()

    def _note(self) -> bytes:
        path = self._document.path
        return json.dumps({"process": os.getpid(), "path": str(path) if path else ""}).encode()

    def discard(self) -> None:
        """Removes the copy: the work is saved, or given up."""
        discard(self.file)


def discard(file: Path) -> None:
    """Removes a recovery file and its note."""
    for gone in (file, _note_of(file)):
        with contextlib.suppress(OSError):
            gone.unlink(missing_ok=True)


def unsaved_work(folder: Path) -> list[Found]:
    """What earlier windows that ended badly left behind, latest first."""
    if not folder.is_dir():
        return []
    files = sorted(folder.glob("*.deck.json"), key=lambda file: -file.stat().st_mtime)
    return [found for file in files if (found := _found(file)) is not None]


def _found(file: Path) -> Found | None:
    try:
        note = json.loads(_note_of(file).read_text(encoding="utf-8"))
        process, path = int(note["process"]), str(note["path"])
    except (OSError, ValueError, KeyError, TypeError):
        process, path = 0, ""
    if process and _is_running(process):
        return None
    try:
        return Found(read_deck(file), Path(path) if path else None, file)
    except DeckFileError:
        return None


def _is_running(process: int) -> bool:
    """Whether a process with that number runs (it may be another program's by now)."""
    if process == os.getpid():
        return True
    if sys.platform == "win32":
        import ctypes

        handle = ctypes.windll.kernel32.OpenProcess(0x1000, False, process)
        if handle:
            ctypes.windll.kernel32.CloseHandle(handle)
        return bool(handle)
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        return True
    return True


def _note_of(file: Path) -> Path:
    return file.with_name(file.name.replace(".deck.json", ".note.json"))
