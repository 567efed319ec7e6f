"""The ranges of every number and text in a deck, as the contract of its file gives them.

Lengths are over 0 unless they can be 0 by what they mean (a gap, a clearance, a crown, an
allowance, a rail whose top lies level with the webbing); nothing is larger than 20 m.
"""

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

import msgspec

from spring_layout.deck.fault import Fault
from spring_layout.deck.model import (
    Coil,
    Frame,
    Limits,
    MovedAnchor,
    Seat,
    Side,
    Spacing,
    Spring,
    Stitching,
    Twine,
    Tying,
    Webbing,
    Work,
)

FARTHEST_MM = 20_000.0
MOST_SIDES = 200
MOST_SPRINGS = 2_000
MOST_COILS = 200
MOST_STRIPS = 200
MOST_PAIRINGS = 20_000
LONGEST_NAME = 200
LONGEST_NOTE = 20_000

ID_PATTERN = re.compile(r"[A-Za-z0-9_-]{1,40}")


class Range(NamedTuple):
    """From ``least`` (itself left out where ``over``) to ``most``, in ``unit``."""

    least: float
    most: float
    unit: str
    over: bool = False

    def holds(self, value: float) -> bool:
        """Whether ``value`` lies in the range; NaN never does."""
        if self.over:
            return self.least < value <= self.most
        return self.least <= value <= self.most

    def words(self) -> str:
        """The range as the end of a sentence: "over 0 and at most 20000 mm"."""
        if self.over:
            return f"over {self.least:g} and at most {self.most:g}{self.unit}"
        return f"from {self.least:g} to {self.most:g}{self.unit}"


LENGTH = Range(0, FARTHEST_MM, " mm", over=True)
ALLOWANCE = Range(0, FARTHEST_MM, " mm")
COORDINATE = Range(-FARTHEST_MM, FARTHEST_MM, " mm")
_SHARE = Range(0, 1, "")
_DEGREES = Range(0, 180, " degrees")
_MINUTES = Range(0, 10_000, " minutes")
_ANY_ANGLE = Range(-1e6, 1e6, " degrees")

_RANGES: dict[type[msgspec.Struct], dict[str, Range]] = {
    Frame: {"rail_width": LENGTH, "rail_top": ALLOWANCE},
    Side: {
        "bow": COORDINATE,
        "rail_width": LENGTH,
        "rail_top": ALLOWANCE,
        "nail_line": ALLOWANCE,
        "lower_rail": ALLOWANCE,
    },
    Coil: {
        "free_height": LENGTH,
        "wire": LENGTH,
        # a coil has at least a top coil and a bottom coil; the rings' heights divide by turns - 1
        "turns": Range(2, 100, " turns"),
        "top_diameter": LENGTH,
        "waist_diameter": LENGTH,
        "foot_diameter": LENGTH,
    },
    Spring: {
        "x": COORDINATE,
        "y": COORDINATE,
        "turned": _ANY_ANGLE,
        "measured_height": LENGTH,
    },
    Tying: {"tied_height": LENGTH, "crown": ALLOWANCE, "tied_height_back": LENGTH},
    MovedAnchor: {"along": ALLOWANCE},
    Spacing: {"gap": ALLOWANCE, "clearance": ALLOWANCE},
    Limits: {"squeeze_least": _SHARE, "squeeze_most": _SHARE, "bend_doubtful": _DEGREES},
    Twine: {
        "diameter": LENGTH,
        "tail_wraps": Range(0, 100, " turns"),
        "fold_back": ALLOWANCE,
        "step": LENGTH,
        "ten_hitches": LENGTH,
        "ten_cross_knots": LENGTH,
        "allowance": ALLOWANCE,
        "hank": Range(0, 1e6, " mm", over=True),
    },
    Seat: {
        "finished_height": LENGTH,
        "cushion": ALLOWANCE,
        "cushion_sink": ALLOWANCE,
        "over_springs": ALLOWANCE,
        "floor_to_webbing": LENGTH,
        "hessian_edge": ALLOWANCE,
    },
    Webbing: {
        "width": LENGTH,
        "gap": ALLOWANCE,
        "fold": ALLOWANCE,
        "overlap": ALLOWANCE,
        "allowance": ALLOWANCE,
        "tacks": Range(0, 200, ""),
    },
    Stitching: {
        "points": Range(3, 4, " stitches"),
        "loops": Range(1, 10, " loops"),
        "twine": LENGTH,
        "working_length": LENGTH,
    },
    Work: {"minutes_per_spring": _MINUTES, "minutes_per_tie": _MINUTES},
}


@lru_cache
def ranges_of(kind: type[msgspec.Struct]) -> dict[str, Range]:
    """The range of each number of ``kind``; a length that has none of its own may be 0."""
    lengths = {f.name: ALLOWANCE for f in msgspec.structs.fields(kind) if f.type is float}
    return {**lengths, **_RANGES.get(kind, {})}


def in_words(field: str) -> str:
    """The name of a field as words: ``free_height`` -> "free height"."""
    return field.replace("_", " ")


def range_faults(part: msgspec.Struct, place: str, words: str) -> Iterator[Fault]:
    """The numbers of ``part`` outside their ranges; ``words`` names the part ("spring s4")."""
    for field, allowed in ranges_of(type(part)).items():
        value = getattr(part, field)
        if value is not None and not allowed.holds(value):
            yield number_fault(value, allowed, f"{place}.{field}", f"{words}: {in_words(field)}")


def number_fault(value: float, allowed: Range, place: str, words: str) -> Fault:
    """The sentence for a number outside ``allowed``."""
    told = f"{number_words(value)}{allowed.unit if abs(value) < BEYOND_REASON else ''}"
    return Fault(place, f"{words} is {told}; it must be {allowed.words()}.")


def number_words(value: float) -> str:
    """A number for a sentence, however large an integer a file may hold."""
    is_tellable = abs(value) < BEYOND_REASON or value != value
    return f"{value:.10g}" if is_tellable else "a number beyond reason"


BEYOND_REASON = 1e300
"""A file may hold whole numbers of any length; from here on they are not written out."""


def id_faults(value: str, place: str, words: str) -> Iterator[Fault]:
    """Whether ``value`` is an id: 1 to 40 letters, digits, ``_`` and ``-``."""
    if not ID_PATTERN.fullmatch(value):
        yield Fault(
            place,
            f"{words}: the id {shown(value)} must be 1 to 40 letters A-Z, digits, _ or -.",
        )


_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")


def text_faults(value: str, longest: int, place: str, words: str) -> Iterator[Fault]:
    """Whether ``value`` can be printed and is at most ``longest`` characters long."""
    if len(value) > longest:
        yield Fault(place, f"{words} has {len(value)} characters; keep it to {longest}.")
    bad = _UNPRINTABLE.search(value)
    if bad:
        yield Fault(
            place,
            f"{words} holds the character U+{ord(bad[0]):04X}, which cannot be printed; "
            "take it out.",
        )


def shown(value: str) -> str:
    """A text from a file, short and printable, in quotes."""
    value = value if len(value) <= 40 else value[:39] + "…"
    return "“" + "".join(c if c.isprintable() else "?" for c in value) + "”"
