"""What every edit does at its end: types and rules checked, the first fault told."""

import math
import re
from collections.abc import Iterable
from typing import TypeVar

import msgspec

from spring_layout.deck.kinds import found, wanted
from spring_layout.deck.model import Deck, Spring, Units
from spring_layout.deck.ranges import in_words, shown
from spring_layout.deck.validate import faults
from spring_layout.units import MM_PER_INCH, format_length

Part = TypeVar("Part", bound=msgspec.Struct)


def checked(deck: Deck) -> Deck:
    """``deck``, which must be sound.

    Raises ValueError with the sentence of its first fault, its lengths in the deck's units.
    """
    for fault in faults(deck):
        raise ValueError(in_units(fault.message, deck.units))
    return deck


def in_units(sentence: str, units: Units) -> str:
    """A sentence of the rules, which speak mm as the deck's file does, in ``units``."""
    if units == "mm":
        return sentence
    sentence = _FROM.sub(r"from \1 mm to \2 mm", sentence)
    return _MM.sub(lambda found: _in_inches(float(found[1])), sentence)


def _in_inches(mm: float) -> str:
    """A length in inches; what no seat measures, in whole feet."""
    feet = mm / (12 * MM_PER_INCH)
    return f"{math.trunc(feet)} ft" if abs(feet) > _FAR_FT else format_length(mm, "in", "exact")


_FAR_FT = 30.0


_FROM = re.compile(r"\bfrom (-?\d+(?:\.\d+)?) to (-?\d+(?:\.\d+)?) mm\b")
_MM = re.compile(r"(?<![\w.])(-?\d+(?:\.\d+)?) mm\b")


def changed(part: Part, **fields: object) -> Part:
    """``part`` with other values; ValueError where a field is unknown or of the wrong type."""
    known = {field.name for field in msgspec.structs.fields(part)} - {"extra"}
    for name in fields.keys() - known:
        raise ValueError(f"There is no setting {shown(in_words(name))} here; check its name.")
    return msgspec.structs.replace(part, **_as_model(part, fields))


def _as_model(part: msgspec.Struct, fields: dict[str, object]) -> dict[str, object]:
    """The values in the types of the model (lists become tuples)."""
    types = {field.name: field.type for field in msgspec.structs.fields(part)}
    return {name: as_type(value, types[name], name) for name, value in fields.items()}


def as_type(value: object, kind: object, name: str) -> object:
    """``value`` as ``kind``; ValueError naming the setting where it cannot be."""
    if isinstance(kind, type) and isinstance(value, kind):
        return value
    try:
        return msgspec.convert(value, kind)
    except msgspec.ValidationError:
        words = in_words(name).capitalize()
        raise ValueError(f"{words} must be {wanted(kind)}, not {found(value)}.") from None


def chosen(deck: Deck, ids: Iterable[str]) -> set[str]:
    """``ids`` as a set. Raises ValueError where one names no spring."""
    wanted = {ids} if isinstance(ids, str) else set(ids)
    for missing in sorted(wanted - {spring.id for spring in deck.springs}):
        raise ValueError(f"There is no spring {shown(missing)}; choose one of the deck's.")
    return wanted


def with_springs(deck: Deck, springs: Iterable[Spring]) -> Deck:
    """``deck`` with other springs, checked."""
    return checked(msgspec.structs.replace(deck, springs=tuple(springs)))
