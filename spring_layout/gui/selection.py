"""What is selected: springs, or one tie, or one side, or one corner, or one strip of webbing."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from PySide6.QtCore import QObject, Signal

from spring_layout.deck.model import Deck, Run
from spring_layout.planning.parts import StripRun


@dataclass(frozen=True)
class TieKey:
    """A tie by what does not change with its number: its run and one of its springs."""

    run: Run
    spring: str


@dataclass(frozen=True)
class StripKey:
    """A strip of webbing by its run and its number in it, from 0."""

    run: StripRun
    number: int


@dataclass(frozen=True)
class Picked:
    """Springs by id, or a tie, or a side or a corner by number, or a strip; nothing when empty."""

    springs: frozenset[str] = frozenset()
    tie: TieKey | None = None
    side: int | None = None
    corner: int | None = None
    strip: StripKey | None = None

    @property
    def is_empty(self) -> bool:
        """Whether nothing is selected."""
        return self == NOTHING


NOTHING = Picked()


class Selection(QObject):
    """The one selection that the deck, the table and the particulars share."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._picked = NOTHING
        self._sides = 0  # of the frame that sides and corners were picked on
        self._untold = False

    @property
    def picked(self) -> Picked:
        """What is selected now."""
        return self._picked

    @property
    def springs(self) -> frozenset[str]:
        """The ids of the selected springs."""
        return self._picked.springs

    def pick(self, picked: Picked) -> None:
        """Selects exactly ``picked``."""
        if picked != self._picked:
            self._picked = picked
            self.changed.emit()

    def clear(self) -> None:
        """Selects nothing."""
        self.pick(NOTHING)

    def pick_springs(self, springs: Iterable[str]) -> None:
        """Selects these springs and nothing else."""
        self.pick(Picked(springs=frozenset(springs)))

    def toggle_spring(self, spring: str) -> None:
        """Adds the spring to the selected springs, or takes it out."""
        self.pick_springs(self.springs ^ {spring})

    def tell(self) -> None:
        """Tells that something was let go of, if it was."""
        if self._untold:
            self._untold = False
            self.changed.emit()

    def prune(self, deck: Deck | None) -> None:
        """Lets go of what ``deck`` no longer has, and tells nobody until ``tell``.

        Panels that hear of it must find everything else of the new deck worked out.

        Where the frame has more or fewer sides than before, numbers mean others: a side or a
        corner is let go, so that no second press of Delete removes one that nobody chose.
        """
        left = NOTHING if deck is None else self._left(deck)
        self._untold = self._untold or left != self._picked
        self._picked = left

    def _left(self, deck: Deck) -> Picked:
        """What of the selection ``deck`` still has."""
        ids = {spring.id for spring in deck.springs}
        picked = self._picked
        before, self._sides = self._sides, len(deck.frame.sides)
        gone = (picked.tie is not None and picked.tie.spring not in ids) or (
            self._sides != before and not (picked.side is None and picked.corner is None)
        )
        return NOTHING if gone else replace(picked, springs=picked.springs & ids)
