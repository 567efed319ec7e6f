"""The parts of a plan: the values that each topic of ``planning`` works out and others read.

Springs are named by their ids, lines by their numbers (from 1, in tying order), sides by their
index in the frame. Lengths are mm, angles degrees.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spring_layout.deck.model import Deck, Point, Run
from spring_layout.geometry.outline import Outline

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Standing:
    """The springs of a deck as arrays, in the deck's order; n springs.

    ``ids``: n spring ids; ``index``: id -> row; ``centres``: (n, 2) mm; ``radii``: (n,) radii of
    the top coils, mm; ``outline``: the opening they stand in.
    """

    deck: Deck
    outline: Outline
    ids: tuple[str, ...]
    index: Mapping[str, int]
    centres: Array
    radii: Array


@dataclass(frozen=True, eq=False)
class Spaces:
    """Gaps and distances from the rail, a row a spring.

    ``nearest``: row of the spring with the smallest gap (-1 for a lone one); ``gap``: (n,) that
    gap, mm, nan for a lone one; ``nearest_side``: (n,) side nearest to the top coil;
    ``clearance``: (n,) signed distance of the top coil from the inside edge, mm;
    ``side_clearances``: (n, sides) the same to each side; ``neighbours``: (k, 2) rows of natural
    neighbours, first < second; ``neighbour_gaps``: (k,) their gaps.
    """

    nearest: NDArray[np.intp]
    gap: Array
    nearest_side: NDArray[np.intp]
    clearance: Array
    side_clearances: Array
    neighbours: NDArray[np.intp]
    neighbour_gaps: Array


@dataclass(frozen=True)
class Line:
    """One tie: a piece of twine from rail to rail, in its run's direction.

    ``sides`` and ``anchors`` are (start, finish), None where the way out meets no rail;
    ``along`` is each anchor's distance on the inside edge from its side's first corner, mm;
    ``centres`` are the places of its springs.
    """

    number: int
    run: Run
    springs: tuple[str, ...]
    centres: tuple[Point, ...]
    sides: tuple[int | None, int | None]
    along: tuple[float | None, float | None]
    anchors: tuple[Point | None, Point | None]

    @property
    def path(self) -> tuple[Point, ...]:
        """Anchor, spring centres, anchor; without an anchor that is None."""
        start, finish = self.anchors
        ends = ((start,) if start else ()), ((finish,) if finish else ())
        return (*ends[0], *self.centres, *ends[1])


@dataclass(frozen=True)
class Crossing:
    """A cross knot: where ties of different runs meet; ``lines`` are numbers, ascending.

    ``spring`` is the spring inside whose top coil it lies, or None between springs;
    ``tied_by`` is the line tied last there, which makes the knot.
    """

    place: Point
    lines: tuple[int, ...]
    spring: str | None
    tied_by: int


@dataclass(frozen=True)
class Break:
    """A rule of tying that could not be kept: which rule (1-12), where, how far off.

    ``kind`` is a stable word for the checks, such as "bend", "over-spring", "clash",
    "leaves-opening", "anchor-spacing", "anchor-corner", "anchor-turn", "no-rail", "join".
    """

    rule: int
    kind: str
    springs: tuple[str, ...] = ()
    lines: tuple[int, ...] = ()
    sides: tuple[int, ...] = ()
    value: float | None = None
    limit: float | None = None


@dataclass(frozen=True)
class Ties:
    """The tied deck: lines in tying order, cross knots, what could not be kept.

    ``cost`` and ``bound`` are in pitches (``tying`` says how they are made up); ``proved`` says
    whether no better set of lines exists.
    """

    lines: tuple[Line, ...]
    crossings: tuple[Crossing, ...]
    breaks: tuple[Break, ...] = ()
    cost: float = 0.0
    bound: float = 0.0
    proved: bool = True


@dataclass(frozen=True)
class LineTwine:
    """The twine of one line, mm: over the springs, by the rule of thumb, and what to cut."""

    number: int
    drape: float
    rule_length: float
    cut_length: float


@dataclass(frozen=True)
class TwinePlan:
    """All the twine: a row a line, in tying order; the total, mm; the rule by its name."""

    lines: tuple[LineTwine, ...]
    cut_total: float
    rule: str

    @property
    def pieces(self) -> int:
        """How many pieces to cut."""
        return len(self.lines)


@dataclass(frozen=True, eq=False)
class Heights:
    """How high the deck is tied; ``tied``: (n,) each spring's tied height, mm.

    ``squeeze``: (n,) share of its free height that each spring is tied down by. ``tied_height``
    is the deck's own (rim springs at the front), ``free_height`` and ``typical_squeeze`` those of
    the most used coil; ``finished_height`` None where it is not decided.
    """

    tied: Array
    squeeze: Array
    tied_height: float
    free_height: float
    typical_squeeze: float
    finished_height: float | None


@dataclass(frozen=True, eq=False)
class Parts:
    """Everything the checks may look at: the parts of a plan before its findings."""

    deck: Deck
    standing: Standing
    labels: Mapping[str, str]
    rows: tuple[tuple[str, ...], ...]
    spaces: Spaces
    heights: Heights
    ties: Ties
    twine: TwinePlan
