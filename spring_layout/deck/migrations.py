"""Versions of the deck file: older ones are lifted step by step, newer ones refused.

A step takes the whole file as plain dicts and lists in one version, and returns it in the next.
"""

from collections.abc import Callable, Mapping
from typing import Any

from spring_layout.deck.errors import DeckFileError

Raw = dict[str, Any]
Step = Callable[[Raw], Raw]

FORMAT = "spring-layout-deck"
VERSION = 1

STEPS: dict[int, Step] = {}
"""From each older version, the step to the one after it. Version 1 is the first."""


def lifted(raw: Raw, steps: Mapping[int, Step] = STEPS, version: int = VERSION) -> Raw:
    """``raw`` in ``version``, its ``version`` key too. Raises DeckFileError."""
    _check_format(raw)
    found = _version_of(raw, version)
    for number in range(found, version):
        raw = {**_step(steps[number], raw, number), "version": number + 1}
    return raw


def _step(step: Step, raw: Raw, number: int) -> Raw:
    """One step; it may trust the file's form, so whatever it trips over is the file's fault."""
    try:
        return step(raw)
    except (LookupError, TypeError, ValueError, AttributeError) as error:
        raise DeckFileError(
            "$", f"The file is broken for its version {number}; take a whole copy of it."
        ) from error


def _check_format(raw: Raw) -> None:
    if "format" not in raw:
        raise DeckFileError("$", f'The file has no format; a deck file says "format": "{FORMAT}".')
    if raw["format"] != FORMAT:
        raise DeckFileError(
            "$.format", f'This is not a deck file: its format must be "{FORMAT}"; open another.'
        )


def _up_to(newest: int) -> str:
    return "the whole number 1" if newest == 1 else f"a whole number from 1 to {newest}"


def _version_of(raw: Raw, newest: int) -> int:
    if "version" not in raw:
        raise DeckFileError("$", f'The file has no version; give "version": {newest}.')
    found = raw["version"]
    if not isinstance(found, int) or isinstance(found, bool) or found < 1:
        raise DeckFileError("$.version", f"The version must be {_up_to(newest)}; put it right.")
    if found > newest:
        raise DeckFileError(
            "$.version",
            f"The file is of version {_short(found)}, and this program reads up to {newest}; "
            "use a newer program.",
        )
    return found


def _short(number: int) -> str:
    """A number that may have thousands of digits, for a sentence."""
    return str(number) if number < 10**9 else "over 1000000000"
