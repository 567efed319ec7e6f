"""A finding: something the program wants to tell the user."""

from typing import Literal

import msgspec

Severity = Literal["wrong", "doubtful", "note"]
Stage = Literal["frame", "height", "springs", "base", "ties", "paper"]


class Finding(msgspec.Struct, frozen=True, kw_only=True):
    """One thing to tell, with a stable ``code``, the place, how far off, and what to do.

    ``message`` is one or two sentences in the deck's units and the trade's words: what, where,
    how far off. ``mend`` says what to do. ``springs`` are ids, ``lines`` numbers of ties,
    ``sides`` numbers of sides. ``value`` and ``limit`` are in mm, degrees or shares, as the code
    says. ``source`` names where the limit comes from. ``place`` is where to look, mm.
    """

    code: str
    severity: Severity
    stage: Stage
    message: str
    mend: str
    source: str
    springs: tuple[str, ...] = ()
    lines: tuple[int, ...] = ()
    sides: tuple[int, ...] = ()
    value: float | None = None
    limit: float | None = None
    place: tuple[float, float] | None = None
