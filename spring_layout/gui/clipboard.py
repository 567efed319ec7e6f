"""Springs on the clipboard, as a small deck file."""

import msgspec
from PySide6.QtCore import QMimeData

from spring_layout.deck.files import deck_to_bytes, read_deck
from spring_layout.deck.model import Coil, Deck, Spring, Tying

MIME = "application/x-spring-layout-springs"


def springs_to(deck: Deck, chosen: frozenset[str]) -> QMimeData:
    """The chosen springs of ``deck`` with their sizes, and their places as plain text."""
    springs = tuple(spring for spring in deck.springs if spring.id in chosen)
    coils = {spring.coil for spring in springs}
    plain = msgspec.structs.replace(deck.tying, joins=(), parts=(), anchors=())
    assert isinstance(plain, Tying)
    small = msgspec.structs.replace(
        deck,
        springs=springs,
        coils=tuple(coil for coil in deck.coils if coil.id in coils),
        tying=plain,
    )
    data = QMimeData()
    data.setData(MIME, deck_to_bytes(small))
    data.setText("\n".join(f"{s.id}\t{s.x:g}\t{s.y:g}" for s in springs))
    return data


def springs_from(data: QMimeData) -> tuple[tuple[Spring, ...], tuple[Coil, ...]]:
    """The springs on the clipboard and their sizes. Raises DeckFileError."""
    small = read_deck(bytes(data.data(MIME).data()))
    return small.springs, small.coils
