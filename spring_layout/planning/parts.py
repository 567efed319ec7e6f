"""The parts of a plan: the values that each topic of ``planning`` works out and others read.

Springs are named by their ids, lines by their numbers (from 1, in tying order), sides by their
index in the frame. Lengths are mm, angles degrees.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from spring_layout.deck.model import Deck, FootFixing, Point, Run
from spring_layout.geometry.outline import Outline
from spring_layout.words import Words

Array = NDArray[np.float64]
Point3 = tuple[float, float, float]
HitchEnd = Literal["entering", "leaving", "return"]
StripRun = Literal["front-to-back", "side-to-side"]


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
        """Anchor, spring centres, anchor, mm; without an anchor that is None."""
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
    the most used coil; ``finished_height`` None where it is not decided. ``crown_taken`` is how
    much higher than the slope the deepest spring is tied, mm.
    """

    tied: Array
    squeeze: Array
    tied_height: float
    free_height: float
    typical_squeeze: float
    finished_height: float | None
    crown_taken: float = 0.0


class PlacedHitch(NamedTuple):
    """One hitch: its line's number, its spring, which end, its ring, its place (x, y, z, mm)."""

    line: int
    spring: str
    end: HitchEnd
    ring: int
    place: Point3


@dataclass(frozen=True)
class LineHitches:
    """The hitches of one line, in its direction.

    ``anchors``: where it is fixed, at its rails' tops (None where it meets no rail); ``along``:
    an entering and a leaving hitch for each spring; ``returns``: the hitches of the return ties
    at its start and finish, None where there is none; ``edges``: where it bends over the inside
    edge of its rails, at their tops, None where it rises clear of them.
    """

    number: int
    anchors: tuple[Point3 | None, Point3 | None]
    along: tuple[PlacedHitch, ...]
    returns: tuple[PlacedHitch | None, PlacedHitch | None]
    edges: tuple[Point3 | None, Point3 | None] = (None, None)

    @property
    def way(self) -> tuple[Point3, ...]:
        """Its way from tack point to tack point: over the rails' edges and every hitch along it."""
        (start, finish), (over, out) = self.anchors, self.edges
        along = (hitch.place for hitch in self.along)
        places = (start, over, *along, out, finish)
        return tuple(place for place in places if place is not None)

    def return_way(self, end: int) -> tuple[Point3, ...]:
        """The way of the return tie at its start (0) or finish (1), from the tack; () without."""
        tack, over, hitch = self.anchors[end], self.edges[end], self.returns[end]
        if tack is None or hitch is None:
            return ()
        if over is None or hitch.place[2] >= over[2]:
            return (tack, hitch.place)
        return (tack, over, hitch.place)

    @property
    def in_order(self) -> tuple[PlacedHitch, ...]:
        """Every hitch: the return at the start, those along the line, the return at the finish."""
        start, finish = self.returns
        return (*((start,) if start else ()), *self.along, *((finish,) if finish else ()))


@dataclass(frozen=True)
class HitchPlan:
    """All the hitches: the hitches of each line, in tying order."""

    lines: tuple[LineHitches, ...]

    @property
    def in_order(self) -> tuple[PlacedHitch, ...]:
        """Every hitch of every line, in tying order."""
        return tuple(hitch for line in self.lines for hitch in line.in_order)


@dataclass(frozen=True)
class TwineCount:
    """What one tie takes, mm: ``way`` over its hitches, then hitches, knots, ends, allowance.

    ``returns`` is the way of its return ties; their hitches are counted in ``hitches``.
    """

    number: int
    way: float
    hitches: float
    cross_knots: float
    returns: float
    wraps: float
    fold_backs: float
    allowance: float

    @property
    def total(self) -> float:
        """All of it, mm, before rounding up."""
        ends = self.returns + self.wraps + self.fold_backs
        return self.way + self.hitches + self.cross_knots + ends + self.allowance


@dataclass(frozen=True)
class Strip:
    """One strip of webbing.

    ``at`` is its middle: x for a front-to-back strip, y for a side-to-side one; ``start`` and
    ``finish`` are where the inside edges begin and end it, along it, ascending, mm. ``split``
    says for those two ends whether they are split round a block. ``fixings`` is the number of
    tacks or staples in the whole strip.
    """

    run: StripRun
    at: float
    width: float
    start: float
    finish: float
    cut_length: float
    split: tuple[bool, bool]
    fixings: int

    @property
    def span(self) -> float:
        """The longest stretch between inside edges, mm."""
        return self.finish - self.start


@dataclass(frozen=True)
class WebbingPlan:
    """All the strips: front to back from the left, then side to side from the back.

    ``usual``: how many strips each way the school's gap alone would lay; ``set_by_hand``: which
    directions the user has set; ``foot_fixing``: how the springs' feet are fixed.
    """

    strips: tuple[Strip, ...]
    usual: tuple[int, int]
    set_by_hand: tuple[bool, bool]
    foot_fixing: FootFixing

    def of(self, run: StripRun) -> tuple[Strip, ...]:
        """The strips of one direction."""
        return tuple(strip for strip in self.strips if strip.run == run)

    @property
    def total(self) -> float:
        """What to pull off the roll for all strips, mm."""
        return math.fsum(strip.cut_length for strip in self.strips)

    @property
    def fixings(self) -> int:
        """The tacks or staples in all strips."""
        return sum(strip.fixings for strip in self.strips)


@dataclass(frozen=True, eq=False)
class Parts:
    """Everything the checks may look at: the parts of a plan before its findings.

    ``counts``: what each tie's twine is made up of, in tying order. ``words``: those of whom it is
    told to; None leaves it in American words.
    """

    deck: Deck
    standing: Standing
    labels: Mapping[str, str]
    rows: tuple[tuple[str, ...], ...]
    spaces: Spaces
    heights: Heights
    ties: Ties
    twine: TwinePlan
    hitches: HitchPlan = HitchPlan(())
    counts: tuple[TwineCount, ...] = ()
    webbing: WebbingPlan = WebbingPlan((), (0, 0), (False, False), "stitch")
    words: Words | None = None

    def told(self, sentence: str) -> str:
        """``sentence``, which is in American words, in the words of whom it is told to."""
        return self.words.retold(sentence) if self.words else sentence
