"""How the checks speak: springs by their labels, ties by their numbers, lengths as people say them.

Every check names things through these, so that all findings sound alike.
"""

from collections.abc import Iterable, Sequence
from functools import lru_cache

from spring_layout.deck.model import Deck, Frame, Point, Run
from spring_layout.planning.parts import Parts
from spring_layout.units import format_length

NAMED_AT_MOST = 6
"""How many springs or ties a sentence names before it says how many more there are."""

COMMON_PRACTICE = "Common practice; no source."

RUN_WORDS: dict[Run, str] = {
    "front-to-back": "front to back",
    "side-to-side": "side to side",
    "diagonal-rising": "diagonal, front left to back right",
    "diagonal-falling": "diagonal, back left to front right",
}

_NUMBERS = (
    *("no", "one", "two", "three", "four", "five", "six"),
    *("seven", "eight", "nine", "ten", "eleven", "twelve"),
)


_ORDINALS = (
    *("first", "second", "third", "fourth", "fifth", "sixth"),
    *("seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth"),
)


def length(deck: Deck, mm: float) -> str:
    """``mm`` as a tradesman says it, in the deck's units: "1 1/8 in", "29 mm"."""
    text = format_length(mm, deck.units)
    return format_length(mm, deck.units, "exact") if text.startswith("0 ") and mm > 0 else text


def length_short_of(deck: Deck, mm: float, limit: float) -> str:
    """``mm``, which falls short of ``limit`` (mm), so finely that the two do not read the same."""
    text = length(deck, mm)
    if text != length(deck, limit):
        return text
    finer = format_length(mm, deck.units, "exact")
    return finer if finer != format_length(limit, deck.units, "exact") else f"just under {text}"


def span(deck: Deck, least: float, most: float) -> str:
    """``least`` to ``most`` mm, the unit once: "5 5/8 to 6 3/4 in"; one length where they agree."""
    first, last = length(deck, least), length(deck, most)
    return last if first == last else f"{first.removesuffix(f' {deck.units}')} to {last}"


def number_word(count: int) -> str:
    """A count in words up to twelve, then in figures."""
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def listed(names: Sequence[str]) -> str:
    """ "A1", "A1 and A2", "A1, A2 and A3"; many: the first six "and 9 more"."""
    if len(names) > NAMED_AT_MOST + 1:
        more = len(names) - NAMED_AT_MOST
        return f"{', '.join(names[:NAMED_AT_MOST])} and {more} more"
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last


def springs_named(parts: Parts, springs: Iterable[str]) -> str:
    """Springs by their labels: "B2 and B3"."""
    return listed([parts.labels[spring] for spring in springs])


def ties_named(numbers: Sequence[int]) -> str:
    """Ties by their numbers: "tie 4", "ties 4 and 7"."""
    return f"{'tie' if len(numbers) == 1 else 'ties'} {listed([str(n) for n in numbers])}"


def side_named(deck: Deck, side: int) -> str:
    """A side of the frame: "the back rail", "the open right side" where it has no rail.

    Sides that share a name are told apart by where they are: "the front rail at the left".
    """
    return _sides_named(deck.frame)[side]


@lru_cache(maxsize=64)
def _sides_named(frame: Frame) -> tuple[str, ...]:
    """What each side of the frame is called."""
    names = [_side_name(frame, side) for side in range(len(frame.sides))]
    alike = {name: [i for i, own in enumerate(names) if own == name] for name in names}
    return tuple(_among(frame, side, name, alike[name]) for side, name in enumerate(names))


def _among(frame: Frame, side: int, name: str, alike: Sequence[int]) -> str:
    """The name of ``side`` among those that are ``alike``, by its place from left or from back."""
    if len(alike) == 1:
        return f"the {name}"
    middles = {i: _middle_of(frame, i) for i in alike}
    wide, deep = (max(places) - min(places) for places in zip(*middles.values(), strict=True))
    axis = 0 if wide >= deep else 1
    first, last = (("left", "right"), ("back", "front"))[axis]
    number = sorted(alike, key=lambda i: (middles[i][axis], middles[i], i)).index(side)
    if len(alike) > 3:
        return f"the {_ordinal(number)} {name} from the {first}"
    where = {0: f"at the {first}", len(alike) - 1: f"at the {last}"}
    return f"the {name} {where.get(number, 'in the middle')}"


def _ordinal(number: int) -> str:
    """How people count: 0 is "first"; beyond the twelfth "number 13"."""
    return _ORDINALS[number] if number < len(_ORDINALS) else f"number {number + 1}"


def _middle_of(frame: Frame, side: int) -> Point:
    """The middle of the straight line between a side's corners, mm."""
    (x0, y0), (x1, y1) = frame.corners[side], frame.corners[(side + 1) % len(frame.corners)]
    return (x0 + x1) / 2, (y0 + y1) / 2


def _side_name(frame: Frame, side: int) -> str:
    rail = frame.sides[side].rail
    return f"open {_facing(frame, side)} side" if rail == "none" else f"{rail} rail"


def _facing(frame: Frame, side: int) -> str:
    """Which way a side looks out of the deck: "back", "right", "front" or "left"."""
    (x0, y0), (x1, y1) = frame.corners[side], frame.corners[(side + 1) % len(frame.corners)]
    across, along = y1 - y0, x0 - x1  # outward: the sides run clockwise on paper
    if abs(across) >= abs(along):
        return "right" if across > 0 else "left"
    return "front" if along > 0 else "back"


def springs_at(parts: Parts, rows: Iterable[int]) -> tuple[str, ...]:
    """The ids of springs by their rows in the arrays, in the order of their labels."""
    wanted = {parts.standing.ids[row] for row in rows}
    return tuple(spring for spring in parts.labels if spring in wanted)


def opened(sentence: str) -> str:
    """``sentence`` with its first letter large."""
    return sentence[:1].upper() + sentence[1:]


def percent(share: float) -> str:
    """A share as people say it: 0.243 is "24%"."""
    return f"{share * 100:.0f}%"


def middle(parts: Parts, springs: Iterable[str]) -> tuple[float, float]:
    """The middle of some springs, mm: where to look."""
    rows = [parts.standing.index[spring] for spring in springs]
    x, y = parts.standing.centres[rows].mean(axis=0)
    return float(x), float(y)
