"""Edits of the spring sizes."""

import msgspec

from spring_layout.deck.coils import gauge_fault
from spring_layout.deck.edits.common import changed, checked
from spring_layout.deck.model import Coil, Deck
from spring_layout.deck.ranges import shown


def add_coil(deck: Deck, coil: Coil) -> Deck:
    """The deck with one more spring size, last in the list."""
    return _with_coils(deck, (*deck.coils, coil))


def change_coil(deck: Deck, coil_id: str, **fields: object) -> Deck:
    """The spring size with other measurements.

    A gauge that is not that of the wire any more is dropped, unless it is given with it.
    """
    coil = changed(_coil(deck, coil_id), **fields)
    if "gauge" not in fields and gauge_fault(coil):
        coil = msgspec.structs.replace(coil, gauge=None)
    if coil.id != coil_id:
        deck = rename_coil(deck, coil_id, coil.id)
    return _with_coils(deck, [coil if c.id == coil.id else c for c in deck.coils])


def remove_coil(deck: Deck, coil_id: str, instead: str | None = None) -> Deck:
    """The deck without a spring size; its springs become ``instead``.

    Raises ValueError where springs stand on it and ``instead`` names no other size.
    """
    _coil(deck, coil_id)
    standing = sum(spring.coil == coil_id for spring in deck.springs)
    if standing and (instead is None or instead == coil_id):
        raise ValueError(
            f"Spring size {coil_id} is used by {standing} of the springs; "
            "choose another size for them first."
        )
    if standing:
        deck = _swapped(deck, coil_id, _coil(deck, str(instead)).id)
    return _with_coils(deck, [coil for coil in deck.coils if coil.id != coil_id])


def rename_coil(deck: Deck, coil_id: str, new_id: str) -> Deck:
    """The spring size under another id, in its springs too."""
    _coil(deck, coil_id)
    coils = [changed(c, id=new_id) if c.id == coil_id else c for c in deck.coils]
    return _with_coils(_swapped(deck, coil_id, new_id), coils)


def _swapped(deck: Deck, old: str, new: str) -> Deck:
    """The springs of size ``old`` made ``new``; not checked yet."""
    springs = tuple(changed(s, coil=new) if s.coil == old else s for s in deck.springs)
    return msgspec.structs.replace(deck, springs=springs)


def _coil(deck: Deck, coil_id: str) -> Coil:
    for coil in deck.coils:
        if coil.id == coil_id:
            return coil
    raise ValueError(f"There is no spring size {shown(coil_id)}; choose one of the deck's.")


def _with_coils(deck: Deck, coils: tuple[Coil, ...] | list[Coil]) -> Deck:
    return checked(msgspec.structs.replace(deck, coils=tuple(coils)))
