"""Deck files: read with every fault told, written whole or not at all.

The same deck gives the same bytes. Keys that this version does not know are kept where they
stood. Values that stand for "absent" are left out.
"""

import json
import os
from pathlib import Path
from typing import Any

import msgspec

from spring_layout.deck.errors import DeckFileError, OutputError, reason_in_words
from spring_layout.deck.migrations import FORMAT, VERSION
from spring_layout.deck.model import Deck
from spring_layout.deck.reading import MOST_BYTES, deck_from_bytes
from spring_layout.deck.saving import write_all_atomically, write_atomically

__all__ = [
    "DeckFileError",
    "OutputError",
    "deck_to_bytes",
    "read_deck",
    "write_all_atomically",
    "write_atomically",
    "write_deck",
]

_LINE = 100
_ALWAYS_WRITTEN = {"note", "units"}


def read_deck(source: str | os.PathLike[str] | bytes) -> Deck:
    """The deck in a file, given as a path or as the file's bytes. Raises DeckFileError."""
    if isinstance(source, bytes):
        return deck_from_bytes(source)
    try:
        with Path(source).open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        raise DeckFileError("$", f"The file cannot be read: {reason_in_words(error)}.") from error
    return deck_from_bytes(data)


def write_deck(deck: Deck, path: str | os.PathLike[str]) -> None:
    """Saves ``deck`` at ``path``, whole or not at all. Raises OutputError."""
    write_atomically(path, deck_to_bytes(deck))


def deck_to_bytes(deck: Deck) -> bytes:
    """The deck file of ``deck``: UTF-8, one spring a line, the same bytes every time."""
    first = {"name": deck.name, "note": deck.note, "units": deck.units}
    whole = {"format": FORMAT, "version": VERSION, **first, **_plain(deck)}
    return (_laid_out(whole, "") + "\n").encode()


def _plain(part: msgspec.Struct) -> dict[str, Any]:
    """``part`` as the file has it: without what stands for absent, with its unknown keys."""
    made = {}
    for field in msgspec.structs.fields(part):
        value = getattr(part, field.name)
        if field.name == "extra":
            continue
        if field.required or field.name in _ALWAYS_WRITTEN or value != field.default:
            made[field.name] = _plain_value(value)
    if part.extra:  # type: ignore[attr-defined]  # every structure of the model has it
        made.update(json.loads(part.extra))  # type: ignore[attr-defined]  # as above
    return made


def _plain_value(value: Any) -> Any:
    if isinstance(value, msgspec.Struct):
        return _plain(value)
    if isinstance(value, tuple):
        return [_plain_value(item) for item in value]
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value


def _laid_out(value: Any, indent: str) -> str:
    """JSON text: on one line where it fits, else item by item."""
    line = _one_line(value)
    if not isinstance(value, dict | list) or len(indent) + len(line) <= _LINE:
        return line
    inner = indent + "  "
    if isinstance(value, dict):
        items = [f"{_one_line(key)}: {_laid_out(item, inner)}" for key, item in value.items()]
        opening, closing = "{", "}"
    else:
        items = [_laid_out(item, inner) for item in value]
        opening, closing = "[", "]"
    body = ",\n".join(inner + item for item in items)
    return f"{opening}\n{body}\n{indent}{closing}"


def _one_line(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)
