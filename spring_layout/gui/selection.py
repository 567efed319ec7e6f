"""What is selected: springs, or one tie, or one side, or one corner, or one strip of webbing."""

from collections.abc import Iterable
from dataclasses import dataclass

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

    def prune(self, deck: Deck | None) -> None:
        """Lets go of what ``deck`` no longer has."""
        if deck is None:
            self.clear()
            return
        ids = {spring.id for spring in deck.springs}
        picked = self._picked
        sides = len(deck.frame.sides)
        gone = (
            (picked.tie is not None and picked.tie.spring not in ids)
            or (picked.side is not None and picked.side >= sides)
            or (picked.corner is not None and picked.corner >= sides)
        )
        self.pick(NOTHING if gone else Picked(picked.springs & ids, *_rest(picked)))


def _rest(picked: Picked) -> tuple[TieKey | None, int | None, int | None, StripKey | None]:
    return picked.tie, picked.side, picked.corner, picked.strip
