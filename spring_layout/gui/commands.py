"""The one undo command: a deck before, a deck after."""

from collections.abc import Callable

from PySide6.QtGui import QUndoCommand

from spring_layout.deck.model import Deck


class EditDeck(QUndoCommand):
    """One step of the user's work. ``after`` is made and validated before the step is pushed."""

    def __init__(
        self, put: Callable[[Deck | None], None], words: str, before: Deck | None, after: Deck
    ) -> None:
        super().__init__(words)
        self._put = put
        self.before = before
        self.after = after

    def redo(self) -> None:
        """Shows the deck as it is after the step."""
        self._put(self.after)

    def undo(self) -> None:
        """Shows the deck as it was before the step."""
        self._put(self.before)
