"""From the floor to the sitter: what the seat is made up of, and what springs to buy for it.

The stack, from the floor up: floor to the webbing's upper face, tied height, what lies over the
springs (hessian, stuffing), the cushion less what it sinks. It is measured at the front, over the
front springs, or in the middle, where a deck that falls to the back is halfway between its front
and back heights and stands higher by what its deepest spring takes of the crown. Any one of its
parts follows from the others.

Check (common practice, no source): a seat that finishes at 18 in with a 4 in cushion, its webbing
9 in up, has its springs tied to 5 in.
"""

from dataclasses import dataclass
from typing import Literal

from spring_layout.deck.model import Deck, Units
from spring_layout.planning.crown import crown_taken
from spring_layout.units import format_length

StackPart = Literal[
    "finished_height", "floor_to_webbing", "tied_height", "over_springs", "cushion", "cushion_sink"
]

USUAL_SQUEEZE = 0.25
"""share of the free height: 6 in tied to 4 1/2 in (19th-century British Mechanics How-To
upholstery chapters); French and US workshops say a quarter too."""

FRENCH_BLOCK = 30.0
"""mm that the springs stand above the rail or tacking block (French workshop pages)."""

SQUEEZED_BY = (38.0, 75.0)
"""mm, the least and most that a spring is tied down by (US workshop pages)."""


def measured_tied_height(deck: Deck) -> float:
    """How high the springs' tops stand above the webbing where the seat is measured, mm."""
    tying = deck.tying
    if deck.seat.measured_at == "front":
        return tying.tied_height
    back = tying.tied_height if tying.tied_height_back is None else tying.tied_height_back
    return (tying.tied_height + back) / 2 + crown_taken(deck)


def tied_height_for(deck: Deck, measured: float) -> float:
    """The deck's tied height that puts the tops at ``measured`` (mm) where the seat is measured."""
    tying = deck.tying
    if deck.seat.measured_at == "front":
        return measured
    if tying.tied_height_back is None:
        return measured - crown_taken(deck)
    return 2 * (measured - crown_taken(deck)) - tying.tied_height_back


def following(deck: Deck, wanted: StackPart) -> float | None:
    """What ``wanted`` must be for the rest of the deck's stack, mm; None where a part is missing.

    It may come out as nothing or less: then the rest of the stack is too high by that much.
    """
    seat = deck.seat
    tops, soft = measured_tied_height(deck), seat.over_springs + seat.cushion - seat.cushion_sink
    if wanted == "finished_height":
        return None if seat.floor_to_webbing is None else seat.floor_to_webbing + tops + soft
    if seat.finished_height is None:
        return None
    if wanted == "floor_to_webbing":
        return seat.finished_height - tops - soft
    if seat.floor_to_webbing is None:
        return None
    left = seat.finished_height - seat.floor_to_webbing
    if wanted == "tied_height":
        return tied_height_for(deck, left - soft)
    spare = left - tops - soft
    now: float = getattr(seat, wanted)
    return now - spare if wanted == "cushion_sink" else now + spare


@dataclass(frozen=True)
class Layer:
    """One layer of the stack: its name in words, its bottom and top above the webbing, mm."""

    name: str
    bottom: float
    top: float


def layers_of(deck: Deck) -> tuple[Layer, ...]:
    """The stack from the bottom up where the seat is measured; the floor only where it is known."""
    seat, tops = deck.seat, measured_tied_height(deck)
    layers = [Layer("tied height", 0.0, tops)]
    if seat.floor_to_webbing is not None:
        layers.insert(0, Layer("floor to webbing", -seat.floor_to_webbing, 0.0))
    cover = tops + seat.over_springs
    if seat.over_springs:
        layers.append(Layer("over the springs", tops, cover))
    if seat.cushion > seat.cushion_sink:
        layers.append(Layer("cushion", cover, cover + seat.cushion - seat.cushion_sink))
    return tuple(layers)


@dataclass(frozen=True)
class FreeHeightAdvice:
    """What one school would buy: the usual free height and its range, mm, with its source."""

    school: str
    usual: float
    least: float
    most: float
    source: str

    def rule(self, units: Units) -> str:
        """The school's rule in words, its lengths in ``units``."""
        if self.school.startswith("French"):
            over = format_length(FRENCH_BLOCK, units)
            return f"the top of the rail and {over} over it, and a third more"
        if self.school.endswith(" in"):
            least, most = (format_length(mm, units, unit=False) for mm in SQUEEZED_BY)
            return f"tied down by {least} to {most} {units}"
        return self.school


def free_heights_to_buy(tied_height: float, rail_top: float) -> tuple[FreeHeightAdvice, ...]:
    """The free heights that the schools buy for springs tied to ``tied_height`` (all mm).

    ``rail_top`` is the rail or tacking block above the webbing, which the French rule starts from.
    """
    least, most = SQUEEZED_BY
    french = (rail_top + FRENCH_BLOCK) * 4 / 3
    return (
        FreeHeightAdvice(
            "tied down by a quarter",
            tied_height / (1 - USUAL_SQUEEZE),
            tied_height * 1.25,
            tied_height * 1.5,
            "19th-century British Mechanics How-To chapters; French and US workshops",
        ),
        FreeHeightAdvice(
            "French: the rail and 30 mm, and a third more",
            french,
            french,
            french,
            "French workshop pages",
        ),
        FreeHeightAdvice(
            "tied down by 1 1/2 to 3 in",
            tied_height + (least + most) / 2,
            tied_height + least,
            tied_height + most,
            "US workshop pages",
        ),
    )


@dataclass(frozen=True)
class Outcome:
    """What springs that one has come out at: tied and, where known, finished heights, mm.

    Each is (least, usual, most); ``finished`` None where the floor to the webbing is not known.
    """

    tied: tuple[float, float, float]
    finished: tuple[float, float, float] | None


def outcome_of(deck: Deck, free_height: float) -> Outcome:
    """What comes out with springs of that free height, mm, squeezed as the deck's limits say."""
    limits = deck.spacing.limits
    shares = (limits.squeeze_most, USUAL_SQUEEZE, limits.squeeze_least)
    low, usual, high = (free_height * (1 - share) for share in shares)
    floor = deck.seat.floor_to_webbing
    if floor is None:
        return Outcome((low, usual, high), None)
    soft = deck.seat.over_springs + deck.seat.cushion - deck.seat.cushion_sink
    rest = floor + soft + measured_tied_height(deck) - deck.tying.tied_height
    return Outcome((low, usual, high), (rest + low, rest + usual, rest + high))
