"""The height stack as it is edited: the user sets its parts, and one that they chose follows."""

from spring_layout.deck import edits
from spring_layout.deck.model import Deck
from spring_layout.planning.height_stack import StackPart, following
from spring_layout.units import format_length

FOLLOWERS: tuple[tuple[StackPart, str], ...] = (
    ("finished_height", "the finished height"),
    ("tied_height", "the tied height"),
    ("cushion", "the cushion"),
    ("over_springs", "what lies over the springs"),
    ("floor_to_webbing", "the floor to the {webbing}"),
)
"""Which part of the stack can follow from the others, and how it is called."""

CAN_BE_OPEN = ("finished_height", "floor_to_webbing")
"""What need not be decided."""
_CAN_BE_NOTHING = ("cushion", "over_springs")


def part_of(deck: Deck, part: StackPart) -> float | None:
    """A part of the stack as it is set, mm; None where it is not decided."""
    holder = deck.tying if part == "tied_height" else deck.seat
    value: float | None = getattr(holder, part)
    return value


def with_part(deck: Deck, part: StackPart, mm: float | None) -> Deck:
    """The deck with that part set to ``mm``; None leaves one of ``CAN_BE_OPEN`` undecided.

    Raises ValueError where it cannot be.
    """
    if part == "tied_height":
        return edits.set_tying(deck, tied_height=mm)
    return edits.set_seat(deck, **{part: mm})


def is_known(deck: Deck, follows: StackPart) -> bool:
    """Whether enough is decided for that part to follow from the rest."""
    return following(deck, follows) is not None


def stacked(deck: Deck, follows: StackPart) -> Deck:
    """The deck with the part that ``follows`` brought into line with the others.

    Where too little is decided the deck stays as it is. A finished height that follows is no
    longer a wish of its own. Raises ValueError where the rest of the stack leaves no room for it.
    """
    value = following(deck, follows)
    if value is None:
        return deck
    if follows == "finished_height":
        return edits.set_seat(deck, finished_height=None)
    value = round(value, 3)
    if value < 0 or (value == 0 and follows not in _CAN_BE_NOTHING):
        over = format_length(-value, deck.units)
        raise ValueError(f"The rest of the seat is {over} too high; that leaves no room.")
    return deck if value == part_of(deck, follows) else with_part(deck, follows, value)


def let_follow(deck: Deck, follows: StackPart) -> Deck:
    """The deck once another part follows: the finished height as it comes out is then a wish."""
    if follows != "finished_height" and deck.seat.finished_height is None:
        comes_to = following(deck, "finished_height")
        if comes_to is not None:
            deck = edits.set_seat(deck, finished_height=round(comes_to, 3))
    return stacked(deck, follows)
