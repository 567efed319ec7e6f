"""What an upright cut of the deck is made up of, in places of the cut: (u, z), mm.

u runs along the cut, z up from the webbing's upper face. ``side_view_section`` works them out.
"""

import math
from dataclasses import dataclass

from spring_layout.deck.model import Deck, Point, Run
from spring_layout.drawing.side_view_webbing import StripCut
from spring_layout.planning.coil_shape import Ring

Flat = tuple[float, float]


class SightError(ValueError):
    """There is nothing to see there; the message is one sentence with the mend."""


@dataclass(frozen=True)
class Across:
    """A straight cut through ``point`` (mm), ``angle`` degrees from x toward the front."""

    point: Point
    angle: float

    @property
    def way(self) -> Point:
        """The unit direction that runs to the right."""
        turn = math.radians(self.angle)
        return (math.cos(turn), math.sin(turn))


Sight = int | Across
"""What to look at: a tie by its number, or a straight cut."""


@dataclass(frozen=True)
class RailCut:
    """A rail in the cut: its side, from where to where, and its upper face, mm."""

    side: int
    start: float
    finish: float
    top: float


@dataclass(frozen=True)
class SpringCut:
    """A spring in the cut: its middle at ``u``, ``away`` mm beyond the cut; its rings, tied."""

    spring: str
    u: float
    away: float
    wire: float
    rings: tuple[Ring, ...]
    is_cut: bool

    @property
    def tied(self) -> float:
        """The height of its top coil, mm."""
        return self.rings[0].height


@dataclass(frozen=True)
class HitchCut:
    """A hitch in the cut: its place, its ring counted from the top, which end.

    ``side``: -1 at the left of its spring, 1 at the right; ``away``: how far beyond its spring's
    middle it sits, mm.
    """

    place: Flat
    ring: int
    end: str
    run: Run
    side: int
    away: float = 0.0


@dataclass(frozen=True)
class TwineCut:
    """A tie's way in the cut, the straight stretches of its return ties, and its tack points."""

    number: int
    run: Run
    way: tuple[Flat, ...]
    returns: tuple[tuple[Flat, Flat], ...]
    tacks: tuple[Flat, ...]


@dataclass(frozen=True)
class Section:
    """Everything in one cut, mm; ``ends``: the rails' names at the left and the right.

    ``reach``: the least and most u of the picture; ``knots``: cross knots, True at a spring;
    ``beyond``: what is seen of the rails beyond a cut across.
    """

    deck: Deck
    ends: tuple[str, str]
    reach: Flat
    opening: Flat
    rails: tuple[RailCut, ...]
    strips: tuple[StripCut, ...]
    springs: tuple[SpringCut, ...]
    hitches: tuple[HitchCut, ...]
    ties: tuple[TwineCut, ...]
    knots: tuple[tuple[Flat, bool], ...] = ()
    beyond: tuple[RailCut, ...] = ()

    @property
    def top(self) -> float:
        """The highest thing in the cut, mm."""
        tops = [spring.tied for spring in self.springs] + [
            rail.top for rail in (*self.rails, *self.beyond)
        ]
        return max(tops, default=0.0)
