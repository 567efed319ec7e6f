"""The open deck: what is decided, what the hand is just trying out, and the way back."""

from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack

from spring_layout.deck.model import Deck
from spring_layout.gui.commands import EditDeck


class Document(QObject):
    """A deck (None: nothing begun yet), a preview of it, its undo stack and its file.

    ``isClean()`` of the undo stack is the only truth about "modified".
    """

    shown_changed = Signal()
    """The deck on show is another one: an edit, an undo, a preview."""
    decided_changed = Signal()
    """The deck that is decided is another one: an edit, an undo, another file."""
    path_changed = Signal()
    replaced = Signal()
    """Another deck was opened or begun."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.undo_stack = QUndoStack(self)
        self.path: Path | None = None
        self._deck: Deck | None = None
        self._preview: Deck | None = None

    @property
    def deck(self) -> Deck | None:
        """The deck as it is decided."""
        return self._deck

    @property
    def shown(self) -> Deck | None:
        """The deck on show: the preview while there is one."""
        return self._preview if self._preview is not None else self._deck

    @property
    def is_modified(self) -> bool:
        """Whether there is something to save."""
        return not self.undo_stack.isClean()

    @property
    def is_previewing(self) -> bool:
        """Whether the hand is trying something out."""
        return self._preview is not None

    def edit(self, words: str, after: Deck) -> None:
        """Makes one undoable step, named ``words``, to the valid deck ``after``."""
        self._preview = None
        if after == self._deck:
            self.shown_changed.emit()
            return
        self.undo_stack.push(EditDeck(self._put, words, self._deck, after))

    def preview(self, deck: Deck) -> None:
        """Shows ``deck`` without deciding it."""
        if deck != self.shown:
            self._preview = deck
            self.shown_changed.emit()

    def drop_preview(self) -> None:
        """Back to the deck that is decided."""
        if self._preview is not None:
            self._preview = None
            self.shown_changed.emit()

    def keep_preview(self, words: str) -> None:
        """Decides for the preview, as one step named ``words``."""
        if self._preview is not None:
            self.edit(words, self._preview)

    def replace(self, deck: Deck | None, path: Path | None, modified: bool = False) -> None:
        """Opens another deck; the way back to the one before is gone."""
        self.undo_stack.clear()
        self.undo_stack.setClean()  # clear() leaves an empty stack as it was
        if modified:
            self.undo_stack.resetClean()
        self.path = path
        self._put(deck)
        self.path_changed.emit()
        self.replaced.emit()

    def saved_as(self, path: Path) -> None:
        """Notes that the deck as it is decided now stands in ``path``."""
        self.path = path
        self.undo_stack.setClean()
        self.path_changed.emit()

    def _put(self, deck: Deck | None) -> None:
        self._preview = None
        self._deck = deck
        self.shown_changed.emit()
        self.decided_changed.emit()
