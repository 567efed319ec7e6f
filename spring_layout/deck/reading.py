"""From the bytes of a deck file to a deck, each fault told with its place.

The way: text, JSON (no doubled keys, no NaN, not nested too deep), version, unknown keys set
aside, types, and at last the rules of ``deck.validate``.
"""

import json
import math
import re
from collections import Counter
from functools import lru_cache
from types import UnionType
from typing import Any, get_args, get_origin

import msgspec

from spring_layout.deck.errors import DeckFileError
from spring_layout.deck.kinds import found, wanted
from spring_layout.deck.migrations import Raw, lifted
from spring_layout.deck.model import Deck
from spring_layout.deck.ranges import in_words, shown
from spring_layout.deck.validate import faults

MOST_BYTES = 8_000_000
MOST_DEPTH = 40


def deck_from_bytes(data: bytes) -> Deck:
    """The deck in ``data``, the bytes of a deck file. Raises DeckFileError."""
    if len(data) > MOST_BYTES:
        raise DeckFileError(
            "$",
            f"The file is larger than {MOST_BYTES // 1_000_000} MB, far more than a deck needs; "
            "open another.",
        )
    raw = lifted(_parsed(_text(data)))
    deck = _converted(_prepared(raw, Deck, "$", raw))
    for fault in faults(deck):
        raise DeckFileError(fault.place, fault.message)
    return deck


def _text(data: bytes) -> str:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise DeckFileError(
            "$", f"The file is not text in UTF-8 (byte {error.start + 1}); save it as UTF-8."
        ) from None
    if not text.strip():
        raise DeckFileError("$", "The file is empty; open another.")
    return text


class _Doubled(dict[str, Any]):
    """A JSON object that names one key twice."""

    key = ""


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made = dict(pairs)
    if len(made) == len(pairs):
        return made
    doubled = _Doubled(made)
    doubled.key = Counter(name for name, _ in pairs).most_common(1)[0][0]
    return doubled


def _parsed(text: str) -> Raw:
    """The JSON object in ``text``."""
    try:
        raw = json.loads(text, object_pairs_hook=_object)
    except json.JSONDecodeError as error:
        raise DeckFileError("$", _json_fault(text, error)) from None
    except RecursionError:
        raise _too_deep("$") from None
    except ValueError:
        raise DeckFileError("$", "A number has thousands of digits; put it right.") from None
    if not isinstance(raw, dict):
        raise DeckFileError("$", "This is not a deck file: it must be one object in braces {}.")
    _check_values(raw, "$", MOST_DEPTH, raw)
    return raw


def _json_fault(text: str, error: json.JSONDecodeError) -> str:
    where = f"line {error.lineno}, column {error.colno}"
    if not text[error.pos :].strip():
        return f"The file breaks off at {where}; take a whole copy of it."
    return f"The file is not JSON at {where} ({error.msg}); put that place right."


def _too_deep(place: str) -> DeckFileError:
    return DeckFileError(
        place, f"The file is nested more than {MOST_DEPTH} deep here; take out what is too much."
    )


def _check_values(value: Any, place: str, depth: int, whole: Any) -> None:
    """Refuses at any depth, in unknown keys too, what could not be written back.

    ``whole`` is the file, for the words of a fault.
    """
    if isinstance(value, float | str):
        _check_value(value, place, whole)
    elif isinstance(value, dict | list):
        if depth == 0:
            raise _too_deep(place)
        if isinstance(value, _Doubled):
            raise DeckFileError(
                place, f"The key {shown(value.key)} stands twice here; keep one of the two."
            )
        for step, inner in _steps(value):
            _check_values(inner, place + step, depth - 1, whole)


def _steps(value: dict[str, Any] | list[Any]) -> list[tuple[str, Any]]:
    """What stands inside ``value``, each with its step of the path: ``.x`` or ``[3]``."""
    if isinstance(value, dict):
        return [(_key_step(key), inner) for key, inner in value.items()]
    return [(f"[{i}]", inner) for i, inner in enumerate(value)]


def _key_step(key: str) -> str:
    """A key as a step of a path; quoted, escaped and cut short where it is no plain name."""
    if _HALF_CHARACTER.search(key):
        raise DeckFileError("$", f"The key {shown(key)} holds half a character; write it anew.")
    return f".{key}" if key.isidentifier() and len(key) <= 40 else f"[{json.dumps(key[:40])}]"


def _check_value(value: float | str, place: str, whole: Any) -> None:
    if isinstance(value, float) and not math.isfinite(value):
        told = f"{_words(place, whole)} is not a finite number; give a plain number."
        raise DeckFileError(place, told)
    if isinstance(value, str) and _HALF_CHARACTER.search(value):
        raise DeckFileError(place, "A text here holds half a character; write it anew.")


_HALF_CHARACTER = re.compile("[\ud800-\udfff]")


def _prepared(raw: Any, kind: type[msgspec.Struct], place: str, whole: Raw) -> Any:
    """``raw`` with its unknown keys set aside as JSON text in ``extra``, at every level.

    ``whole`` is the file, for the words of a fault. Raises DeckFileError where a required key
    is missing.
    """
    if not isinstance(raw, dict):
        return raw
    required, parts, known = _fields(kind)
    for field in required:
        if field not in raw:
            raise DeckFileError(
                place, f'{_words(place, whole)} has no {in_words(field)}; give "{field}".'
            )
    made = {key: value for key, value in raw.items() if key in known}
    for field, inner in parts.items():
        if field in made:
            made[field] = _prepared_part(made[field], inner, f"{place}.{field}", whole)
    unknown = {key: value for key, value in raw.items() if key not in known}
    if unknown:
        made["extra"] = json.dumps(unknown, ensure_ascii=False, separators=(",", ":"))
    return made


def _prepared_part(raw: Any, kind: Any, place: str, whole: Raw) -> Any:
    """What stands in a field whose type is a structure, or a tuple of structures."""
    if get_origin(kind) is not tuple:
        return _prepared(raw, kind, place, whole)
    if not isinstance(raw, list):
        return raw
    item_kind = get_args(kind)[0]
    return [_prepared(item, item_kind, f"{place}[{i}]", whole) for i, item in enumerate(raw)]


@lru_cache
def _fields(kind: type[msgspec.Struct]) -> tuple[list[str], dict[str, Any], set[str]]:
    """(required fields, the type of each field that holds structures, all known keys)."""
    fields = msgspec.structs.fields(kind)
    parts = {field.name: field.type for field in fields if _holds_structures(field.type)}
    known = {field.name for field in fields} - {"extra"}
    if kind is Deck:
        known |= {"format", "version"}
    return [field.name for field in fields if field.required], parts, known


def _holds_structures(kind: Any) -> bool:
    """Whether a field's type is a structure, or a tuple of structures."""
    inner = get_args(kind)[0] if get_origin(kind) is tuple else kind
    return isinstance(inner, type) and issubclass(inner, msgspec.Struct)


def _converted(prepared: Any) -> Deck:
    try:
        return msgspec.convert(prepared, Deck)
    except msgspec.ValidationError as error:
        told = re.search(r" - at `(\$[^`]*)`$", str(error))
        place = told[1] if told else "$"
        raise DeckFileError(place, _type_fault(place, prepared)) from None


def _type_fault(place: str, prepared: Any) -> str:
    """The sentence for a value of the wrong type: what must stand at ``place``."""
    kind: Any = Deck
    value = prepared
    for step in _path(place):
        kind, value = _type_at(kind, step), value[step]
    return f"{_words(place, prepared)} must be {wanted(kind)}, not {found(value)}."


def _path(place: str) -> list[str | int]:
    return [int(i) if i else name for name, i in re.findall(r"\.(\w+)|\[(\d+)\]", place)]


def _type_at(kind: Any, step: str | int) -> Any:
    """The type one step further on the path."""
    if isinstance(kind, UnionType):
        kind = get_args(kind)[0]
    if isinstance(step, str):
        return next(f.type for f in msgspec.structs.fields(kind) if f.name == step)
    args = get_args(kind)
    return args[0] if args[-1] is ... else args[step]


_THINGS = {"coils": "Spring size", "springs": "Spring"}


def _words(place: str, raw: Any = None) -> str:
    """The place in words: ``$.springs[3].x`` -> "Spring s4: x", with the ids from ``raw``."""
    path = _path(place)
    if not path:
        return "The deck"
    head, *rest = path
    if head in _THINGS and rest:
        head, rest = f"{_THINGS[str(head)]} {_name_at(raw, head, rest[0])}", rest[1:]
    elif head == "frame" and len(rest) > 1 and rest[0] in ("sides", "corners"):
        which = f"{str(rest[0]).capitalize()[:-1]} {int(rest[1]) + 1}"
        head, rest = which, ["xy"[s] if s in (0, 1) else s for s in rest[2:]]
    else:
        head = in_words(str(head)).capitalize()
    tail = ", ".join(f"number {s + 1}" if isinstance(s, int) else in_words(s) for s in rest)
    return f"{head}: {tail}" if tail else str(head)


def _name_at(raw: Any, head: str | int, number: str | int) -> str:
    """The id of an item in a list of the file, else its number in the list."""
    try:
        name = raw[head][number]["id"]
    except (KeyError, IndexError, TypeError):
        name = None
    if isinstance(name, str) and name.isprintable() and 0 < len(name) <= 40:
        return name
    # a file may have an object where the list belongs; then its key is all there is to say
    return f"{number + 1} in the list" if isinstance(number, int) else f"{number!r}"
