"""What a value looks like in a deck file, in words, for the sentences about wrong types."""

import json
from types import UnionType
from typing import Any, Literal, get_args, get_origin

from spring_layout.deck.ranges import number_words, shown


def wanted(kind: Any) -> str:
    """What a value of type ``kind`` looks like in the file."""
    if isinstance(kind, UnionType):
        return " or ".join(wanted(arg) for arg in get_args(kind))
    if get_origin(kind) is Literal:
        return "one of " + ", ".join(f'"{value}"' for value in get_args(kind))
    if get_origin(kind) is tuple:
        return _wanted_list(get_args(kind))
    return _WANTED.get(kind, "an object in braces {}")


def _wanted_list(args: tuple[Any, ...]) -> str:
    if args[-1] is not ...:
        return f"a list of {len(args)}"
    return "a list of numbers" if args[0] is float else "a list"


_WANTED = {
    float: "a number",
    int: "a whole number",
    bool: "true or false",
    str: "a text in quotes",
    type(None): "null",
}


def found(value: Any) -> str:
    """What stands in the file instead."""
    if isinstance(value, str):
        return f"the text {shown(value)}"
    if isinstance(value, bool) or value is None:
        return json.dumps(value)
    if isinstance(value, dict):
        return "an object"
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}"
    if isinstance(value, int | float):
        return number_words(value)
    return f"something else ({type(value).__name__})"
