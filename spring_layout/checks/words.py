"""How the checks speak: springs by their labels, ties by their numbers, lengths as people say them.

Every check names things through these, so that all findings sound alike.
"""

from collections.abc import Iterable, Sequence

from spring_layout.deck.model import Deck, Frame, Run
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


def length(deck: Deck, mm: float) -> str:
    """``mm`` as a tradesman says it, in the deck's units: "1 1/8 in", "29 mm"."""
    text = format_length(mm, deck.units)
    return format_length(mm, deck.units, "exact") if text.startswith("0 ") and mm > 0 else text


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

    Where it shares its name, with its number.
    """
    name = _side_name(deck.frame, side)
    others = range(len(deck.frame.sides))
    alike = sum(_side_name(deck.frame, other) == name for other in others) > 1
    return f"the {name} (side {side + 1})" if alike else f"the {name}"


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
