"""New, open, save, samples, recent, dropped files; a file changed on disk; closing with changes."""

import hashlib
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QFileSystemWatcher, QObject, QTimer
from PySide6.QtWidgets import QFileDialog, QMessageBox

from spring_layout.deck.errors import DeckFileError, OutputError
from spring_layout.deck.files import deck_to_bytes, read_deck, write_deck
from spring_layout.gui.actions import Actions
from spring_layout.gui.beginnings import begun
from spring_layout.gui.panels.shape_dialog import ShapeDialog
from spring_layout.gui.passing import passing
from spring_layout.gui.recovery import Found, Recovery, discard, unsaved_work
from spring_layout.gui.workbench import Workbench

if TYPE_CHECKING:
    from spring_layout.gui.main_window import MainWindow

FILTER = "Seat decks (*.deck.json);;All files (*)"
ENDING = ".deck.json"
SETTLES = 300
"""ms that a changed file is left alone, for whoever writes it to finish."""

Answer = QMessageBox.StandardButton


class Filing(QObject):
    """Everything between the document and the disk."""

    def __init__(self, bench: Workbench, acts: Actions, window: "MainWindow") -> None:
        super().__init__(window)
        self._bench, self._window = bench, window
        self._document = bench.document
        self.recovery = Recovery(self._document, bench.recovery_folder(), self)
        self.recovery.failed.connect(lambda why: bench.say(f"No recovery copy: {why}"))
        self._watcher = QFileSystemWatcher(self)
        self._watcher.fileChanged.connect(self._changed_on_disk)
        self._watcher.directoryChanged.connect(self._changed_on_disk)
        self._settle = QTimer(self, singleShot=True, interval=SETTLES)
        self._settle.timeout.connect(self._look_at_disk)
        self._written: bytes | None = None
        """What the document's file held when last read or written here; None: not known."""
        acts.does("new", self.new)
        acts.does("open", self.open)
        acts.does("save", self.save)
        acts.does("save-as", self.save_as)
        acts.does("quit", window.close)
        window.particulars.frame_page.shape.clicked.connect(self.reshape)

    # beginning and opening --------------------------------------------------------------------

    def new(self) -> None:
        """A new deck from a plain shape."""
        if not self.may_close():
            return
        units = self._bench.units  # what is measured in them is shown in them
        with passing(ShapeDialog(self._bench, self._window, begins=True)) as dialog:
            chosen = dialog.exec()
            frame = dialog.frame if chosen else None
        if frame is not None:
            self._document.replace(None, None)
            self._watch()
            self._bench.choose_stage("frame")
            self._document.edit("Begin a deck", begun(frame, units))
            self._window.view.fit()

    def reshape(self) -> None:
        """The frame of this deck begun again from a plain shape."""
        with passing(ShapeDialog(self._bench, self._window, begins=False)) as dialog:
            chosen = dialog.exec()
            frame = dialog.frame if chosen else None
        if frame is not None:
            self._bench.begin_with_frame(frame, "Frame from measurements")
            self._window.view.fit()

    def open(self) -> None:
        """Asks for a deck file and opens it."""
        if not self.may_close():
            return
        name, _ = QFileDialog.getOpenFileName(
            self._window, "Open a deck", str(self._folder()), FILTER
        )
        if name:
            self._open(Path(name))

    def open_path(self, path: Path) -> bool:
        """Opens the deck in ``path``; asks first where there are changes."""
        return self.may_close() and self._open(path)

    def open_sample(self, path: Path) -> None:
        """Opens a copy of a sample deck, which has no file of its own yet."""
        if self.may_close():
            self._open(path, is_sample=True)

    def _open(self, path: Path, is_sample: bool = False) -> bool:
        try:
            deck = read_deck(path)
        except DeckFileError as error:
            self.tell(f"{path.name} cannot be opened.", str(error))
            return False
        self._document.replace(deck, None if is_sample else path)
        self._bench.selection.clear()
        self._watch()
        if not is_sample:
            self._bench.settings.opened(path)
        self._bench.say(f"{deck.name} opened")
        return True

    def _folder(self) -> Path:
        recent = self._bench.settings.recent
        here = self._document.path or (recent[0] if recent else None)
        return here.parent if here else Path.home()

    # saving -------------------------------------------------------------------------------------

    def save(self) -> bool:
        """Saves the deck; asks where when it has no file yet, and before it undoes another's."""
        path = self._document.path
        if path is None:
            return self.save_as()
        return self._may_overwrite(path) and self.save_to(path)

    def _may_overwrite(self, path: Path) -> bool:
        """Asks where the file holds what was neither read nor written here."""
        now = _bytes_of(path)
        if now is None or now == self._written:
            return True
        return self.agrees(
            f"{path.name} was changed by another program.",
            "Save over it? What is in it now would be lost.",
        )

    def save_as(self) -> bool:
        """Asks where and saves the deck there."""
        deck = self._document.deck
        if deck is None:
            return False
        suggested = self._document.path or self._folder() / f"{_file_name(deck.name)}{ENDING}"
        name, _ = QFileDialog.getSaveFileName(
            self._window, "Save the deck as", str(suggested), FILTER
        )
        if not name:
            return False
        path = with_ending(Path(name))
        return self._may_replace(Path(name), path) and self.save_to(path)

    def _may_replace(self, named: Path, path: Path) -> bool:
        """Asks where the ending led to a file that the dialog did not ask about."""
        if path == named or not path.exists():
            return True
        return self.agrees(
            f"{path.name} is there already.", "Replace it? What is in it now would be lost."
        )

    def save_to(self, path: Path) -> bool:
        """Saves the deck in ``path``; says why where that cannot be."""
        deck = self._document.deck
        if deck is None:
            return False
        self._unwatch()
        try:
            write_deck(deck, path)
        except OutputError as error:
            self._watch_as(self._written)
            self.tell("The deck is not saved.", str(error))
            return False
        self._document.saved_as(path)
        self._bench.settings.opened(path)
        self._watch()
        self._bench.say(f"Saved in {path.name}")
        return True

    # closing ------------------------------------------------------------------------------------

    def may_close(self) -> bool:
        """Asks once when there are changes; False when the user would rather stay."""
        if not self._document.is_modified:
            return True
        deck = self._document.deck
        name = f"“{deck.name}”" if deck else "The deck"
        answer = self.ask(
            f"{name} has changes that are not saved.",
            "Save them before it is closed?",
            Answer.Save | Answer.Discard | Answer.Cancel,
        )
        if answer == Answer.Save:
            return self.save()
        return answer == Answer.Discard

    def closing(self) -> None:
        """The window closes: nothing is left to recover."""
        self.recovery.discard()

    def ask(self, words: str, more: str, buttons: Answer) -> Answer:
        """Asks a question and gives the answer."""
        box = QMessageBox(QMessageBox.Icon.NoIcon, "Spring Layout", words, buttons, self._window)
        box.setInformativeText(more)
        with passing(box):
            return Answer(box.exec())

    def agrees(self, words: str, more: str) -> bool:
        """Whether the user would rather save, though something is lost by it."""
        return self.ask(words, more, Answer.Save | Answer.Cancel) == Answer.Save

    def tell(self, words: str, why: str) -> None:
        """Says that something could not be done, and why."""
        self.ask(words, why, Answer.Ok)

    # after a crash ------------------------------------------------------------------------------

    def offer_recovery(self) -> None:
        """Offers unsaved work of windows that ended badly, the latest first."""
        for found in unsaved_work(self._bench.recovery_folder()):
            if self._offer(found) != Answer.Discard:
                return

    def _offer(self, found: Found) -> Answer:
        answer = self.ask(
            f"“{found.deck.name}” was not saved when the program ended last time.",
            "Take the work up again where it was?",
            Answer.Open | Answer.Discard | Answer.Cancel,
        )
        if answer == Answer.Open:
            self.recover(found)
        elif answer == Answer.Discard:
            discard(found.file)
        return answer

    def recover(self, found: Found) -> None:
        """Takes up unsaved work; it is still unsaved."""
        self._document.replace(found.deck, found.path, modified=True)
        self._watch()
        if _fingerprint(self._written) != found.print_was:  # the file is another's by now
            self._watch_as(None)
        if self.recovery.keep():
            discard(found.file)
        self._bench.say(f"{found.deck.name} taken up again; it is not saved yet.")

    # changes on disk ----------------------------------------------------------------------------

    def _unwatch(self) -> None:
        watched = [*self._watcher.files(), *self._watcher.directories()]
        if watched:
            self._watcher.removePaths(watched)

    def _watch(self) -> None:
        """Takes what the document's file holds now for known, and watches it."""
        self._watch_as(_bytes_of(self._document.path))

    def _watch_as(self, held: bytes | None) -> None:
        """Watches the document's file and its folder; ``held``: what of it is known here."""
        self._unwatch()
        path = self._document.path
        self._written = held
        self.recovery.print_was = _fingerprint(held)
        if path is not None and path.is_file():
            self._watcher.addPaths([str(path), str(path.parent)])

    def _changed_on_disk(self, _name: str) -> None:
        self._settle.start()

    def _look_at_disk(self) -> None:
        """The file may have been rewritten, replaced or removed by another program."""
        path, deck = self._document.path, self._document.deck
        if path is None or deck is None:
            return
        now = _bytes_of(path)
        if now is None:
            self._gone(path)
            return
        if now in (self._written, deck_to_bytes(deck)):
            self._watch_as(now)
            return
        self._written = now
        answer = self.ask(
            f"{path.name} was changed by another program.",
            "Open it again as it is on the disk? Changes made here since would be lost.",
            Answer.Open | Answer.Ignore,
        )
        if answer == Answer.Open:
            self._open(path)
        else:
            self._document.undo_stack.resetClean()
            self._watch_as(now)

    def _gone(self, path: Path) -> None:
        """The file is removed, or can no longer be read: said once, and the work is unsaved."""
        if self._written is not None:
            how = "can no longer be read" if path.exists() else "is gone from the disk"
            self._bench.say(f"{path.name} {how}; save to write it again.")
            self._document.undo_stack.resetClean()
            self._written = None


def with_ending(path: Path) -> Path:
    """``path`` as a deck file is named: with the ending, where it has none of JSON."""
    return path if path.suffix == ".json" else path.with_name(path.name + ENDING)


def _bytes_of(path: Path | None) -> bytes | None:
    """What the file holds; None where there is none, or it cannot be read."""
    try:
        return path.read_bytes() if path is not None else None
    except OSError:
        return None


def _fingerprint(held: bytes | None) -> str:
    """A fingerprint of what a file holds; "" of nothing."""
    return hashlib.sha256(held).hexdigest() if held is not None else ""


def _file_name(name: str) -> str:
    """A deck's name as the name of a file."""
    kept = "".join(c if c.isalnum() else "-" for c in name.lower()).strip("-")
    return "-".join(part for part in kept.split("-") if part) or "deck"
