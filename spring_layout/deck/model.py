"""The deck: what the user decided, as one immutable value.

Lengths are millimetres, x to the right, y toward the front (down the page), origin where the
user's outline puts it. Coordinates are snapped to ``COORDINATE_STEP``. Every field that the
deck file may leave out has a default here; ``extra`` holds, as JSON text, the keys of a file
that this version does not know, so that saving keeps them.

The structures only hold values; ``deck.validate`` says whether they make a usable deck, and
``deck.edits`` makes new decks from old ones.
"""

import math
from typing import Literal

import msgspec

from spring_layout.tolerances import COORDINATE_STEP

Point = tuple[float, float]
Rail = Literal["back", "right", "front", "left", "none"]
Run = Literal["front-to-back", "side-to-side", "diagonal-rising", "diagonal-falling"]
Diagonals = Literal["all", "two-or-more", "none"]
Order = Literal["balanced", "by-direction"]
RimRing = Literal["nearest-rail-top", "ring-2", "ring-3", "top"]
End = Literal["start", "finish"]
CoilShape = Literal["double-cone", "single-cone", "cylinder"]
CoilEnds = Literal["knotted-both", "knotted-foot", "open"]
TwineRule = Literal["over-springs-3", "single-1.67", "doubled-4"]
Hitch = Literal["clove", "half", "overhand"]
WebbingSchool = Literal["us", "uk", "fr"]
WebbingFixed = Literal["under-rails", "over-rails", "plywood"]
Fastening = Literal["tacks", "staples"]
FootFixing = Literal["stitch", "clip", "staple"]
MeasuredAt = Literal["front", "middle"]
Units = Literal["in", "mm"]

RUNS: tuple[Run, ...] = (
    "front-to-back",
    "side-to-side",
    "diagonal-rising",
    "diagonal-falling",
)


def snapped(value: float) -> float:
    """``value`` (mm) on the coordinate grid, never a negative zero. NaN and infinity pass."""
    if value - value != 0.0:
        return value
    return round(value, _DECIMALS) + 0.0


_DECIMALS = round(-math.log10(COORDINATE_STEP))


class Side(msgspec.Struct, frozen=True, kw_only=True):
    """One side of the frame, from its corner to the next one clockwise.

    ``bow`` > 0 curves outward (mm, the rise of a circular arc). ``rail_width`` and ``rail_top``
    override the frame's own where this rail differs; ``nail_line`` is how far outside the inside
    edge the tacks go, mm (None: half the rail's width). ``lower_rail`` is the height above the
    webbing of the lower edge of the arm's or back's lower rail on this side, mm (None: none, or
    not measured).
    """

    rail: Rail
    bow: float
    rail_width: float | None = None
    rail_top: float | None = None
    nail_line: float | None = None
    lower_rail: float | None = None
    extra: str = ""


class Frame(msgspec.Struct, frozen=True, kw_only=True):
    """The opening: inside corners clockwise on paper, one side a corner.

    ``rail_top`` is the height of the rail's upper face above the webbing's upper face.
    """

    corners: tuple[Point, ...]
    sides: tuple[Side, ...]
    rail_width: float
    rail_top: float
    extra: str = ""

    def __post_init__(self) -> None:
        corners = tuple((snapped(x), snapped(y)) for x, y in self.corners)
        msgspec.structs.force_setattr(self, "corners", corners)

    def width_of(self, side: int) -> float:
        """The width of the rail on side number ``side``, mm."""
        own = self.sides[side].rail_width
        return self.rail_width if own is None else own

    def nail_line_of(self, side: int) -> float:
        """How far outside the inside edge of side number ``side`` its tacks go, mm."""
        own = self.sides[side].nail_line
        return self.width_of(side) / 2 if own is None else own

    def top_of(self, side: int) -> float:
        """The rail's upper face above the webbing on side number ``side``, mm."""
        own = self.sides[side].rail_top
        return self.rail_top if own is None else own


class Coil(msgspec.Struct, frozen=True, kw_only=True):
    """A kind of spring. Diameters are outside diameters, mm; ``wire`` is the wire's, mm."""

    id: str
    free_height: float
    wire: float
    turns: float
    top_diameter: float
    waist_diameter: float
    foot_diameter: float
    shape: CoilShape = "double-cone"
    gauge: str | None = None
    ends: CoilEnds = "knotted-both"
    extra: str = ""

    @property
    def top_radius(self) -> float:
        """Half the top coil's outside diameter, mm."""
        return self.top_diameter / 2


class Spring(msgspec.Struct, frozen=True, kw_only=True):
    """One coil standing at a place; ``turned`` is the angle to the top coil's wire knot.

    ``measured_height`` is how high its top was found to stand once it was tied, mm (None: not
    measured); it goes into the record of the seat, and a check holds it against the tied height.
    """

    id: str
    coil: str
    x: float
    y: float
    held: bool
    turned: float = 45.0
    measured_height: float | None = None
    extra: str = ""

    def __post_init__(self) -> None:
        msgspec.structs.force_setattr(self, "x", snapped(self.x))
        msgspec.structs.force_setattr(self, "y", snapped(self.y))


class Pairing(msgspec.Struct, frozen=True, kw_only=True):
    """Two springs, in the run's direction, that the user joins or parts on that run."""

    run: Run
    springs: tuple[str, str]
    extra: str = ""


class MovedAnchor(msgspec.Struct, frozen=True, kw_only=True):
    """A tack point set by hand: the ``end`` of the line of ``run`` that holds ``spring``.

    ``along`` is measured on the inside edge of ``side`` from that side's first corner, mm.
    """

    run: Run
    spring: str
    end: End
    side: int
    along: float
    extra: str = ""

    def __post_init__(self) -> None:
        msgspec.structs.force_setattr(self, "along", snapped(self.along))


class Tying(msgspec.Struct, frozen=True, kw_only=True):
    """How the deck is tied; ``tied_height`` is that of the rim springs at the front, mm."""

    front_to_back: bool
    side_to_side: bool
    diagonals: Diagonals
    tied_height: float
    crown: float
    tied_height_back: float | None = None
    order: Order = "balanced"
    rim_ring: RimRing = "nearest-rail-top"
    joins: tuple[Pairing, ...] = ()
    parts: tuple[Pairing, ...] = ()
    anchors: tuple[MovedAnchor, ...] = ()
    extra: str = ""


class Limits(msgspec.Struct, frozen=True, kw_only=True):
    """The limits of the checks, each a setting; sources stand beside the checks that use them."""

    gap_click: float = 10.0
    """mm; nearer top coils can click."""
    gap_most: float = 75.0
    """mm; the widest gap that a school uses (figures: 10-75 mm)."""
    gap_spread: float = 25.0
    """mm; gaps that differ by more than this are uneven."""
    clearance_least: float = 10.0
    """mm; nearer to a side a top coil can rub the rail."""
    corner_least: float = 25.0
    """mm; tack points keep this from a corner joint, along the inside edge."""
    anchor_spacing: float = 20.0
    """mm; tack points keep this from each other, along the nail line."""
    squeeze_least: float = 0.20
    """share of the free height."""
    squeeze_most: float = 0.35
    """share of the free height."""
    bend_doubtful: float = 12.0
    """degrees; a tie that bends more at a spring pulls it sideways."""
    height_step: float = 6.0
    """mm; how far a spring's measured height may be off the slope and crown meant, and the finished
    seat off the height wanted."""
    gap_off: float = 15.0
    """mm; a gap that is off the wished gap by more than this is told."""
    clearance_off: float = 25.0
    """mm; a distance from the rail that is off the wished one by more than this is told."""
    corner_ring: float = 25.0
    """mm; a top coil nearer to a corner than this is told."""
    squeeze_least_depth: float = 38.0
    """mm; a spring tied down by this much is squeezed enough, whatever its share."""
    squeeze_most_depth: float = 75.0
    """mm; a spring tied down by no more than this is not squeezed too much."""
    height_between: float = 25.0
    """mm; tied heights of neighbouring springs that differ by more than this are told."""
    over_lower_rail_least: float = 0.0
    """mm; tops beside an arm's or back's lower rail stand this far over its lower edge, or more."""
    over_lower_rail_most: float = 25.0
    """mm; and no farther over it than this; 13 mm is usual."""
    hitch_below: float = 12.0
    """mm; an outer hitch lower than its rail's top by more than this is told (half a usual pitch of
    the turns, which the coil nearest to the rail's top may lie off it)."""
    knot_clear: float = 12.0
    """mm; a top coil's wire knot keeps this from every tie, along the coil."""
    wire_least: float = 2.9
    """mm; thinner wire than this is told (11 gauge)."""
    wire_most: float = 4.2
    """mm; thicker wire than this is told (8 gauge)."""
    extra: str = ""


class Spacing(msgspec.Struct, frozen=True, kw_only=True):
    """What the user wishes between top coils and to the rails, mm; 0 leaves a wish out."""

    gap: float = 50.0
    clearance: float = 40.0
    limits: Limits = Limits()
    extra: str = ""


class Twine(msgspec.Struct, frozen=True, kw_only=True):
    """The spring twine and how it is counted, mm.

    ``ten_hitches`` and ``ten_cross_knots`` are what ten of the user's own took, untied and
    measured (None: the wrap model counts); ``allowance`` is what is added to a piece to work
    with; ``hank`` is how much twine a hank or ball holds (None: not known).
    """

    diameter: float = 3.0
    rule: TwineRule = "over-springs-3"
    hitch: Hitch = "clove"
    tail_wraps: int = 0
    fold_back: float = 75.0
    return_tie: bool = True
    step: float = 10.0
    cross_knot: Hitch = "half"
    ten_hitches: float | None = None
    ten_cross_knots: float | None = None
    allowance: float = 150.0
    hank: float | None = None
    extra: str = ""


class Seat(msgspec.Struct, frozen=True, kw_only=True):
    """The finished seat around the deck, mm; None is not decided.

    ``measured_at`` is where the finished height is taken; ``hessian_edge`` is how far the cloth
    over the springs reaches past the opening on each side.
    """

    finished_height: float | None = None
    cushion: float = 100.0
    cushion_sink: float = 0.0
    over_springs: float = 0.0
    floor_to_webbing: float | None = None
    measured_at: MeasuredAt = "front"
    hessian_edge: float = 50.0
    extra: str = ""


class Webbing(msgspec.Struct, frozen=True, kw_only=True):
    """The woven floor; the strips' middles are given each way, or None to have them worked out.

    ``fold`` is what is folded over at each end, ``overlap`` what lies on the rail before the fold
    (None: half the rail's width, or all of it where the strips go over the rails), ``allowance``
    what is added to a strip to strain it with, mm. ``school`` names whose measurements ``width``
    and ``gap`` are meant to be; it changes neither. ``tacks`` is the number of tacks or staples of
    a whole strip. ``foot_fixing`` None: stitched on webbing, stapled on plywood.
    """

    school: WebbingSchool = "us"
    width: float = 89.0
    gap: float = 6.0
    fixed: WebbingFixed = "under-rails"
    front_to_back: tuple[float, ...] | None = None
    side_to_side: tuple[float, ...] | None = None
    fold: float = 25.0
    overlap: float | None = None
    allowance: float = 50.0
    tacks: int = 11
    fastening: Fastening = "tacks"
    foot_fixing: FootFixing | None = None
    extra: str = ""


class Stitching(msgspec.Struct, frozen=True, kw_only=True):
    """How the bottom coils are sewn in: stitches and loops a foot, the twine and its length, mm."""

    points: int = 4
    loops: int = 1
    twine: float = 2.5
    working_length: float = 1500.0
    extra: str = ""


class Work(msgspec.Struct, frozen=True, kw_only=True):
    """How long the user takes, minutes; None gives no estimate of the time."""

    minutes_per_spring: float | None = None
    minutes_per_tie: float | None = None
    extra: str = ""


class Deck(msgspec.Struct, frozen=True, kw_only=True):
    """A whole deck file: frame, coils, springs, tying and the rest."""

    name: str
    frame: Frame
    coils: tuple[Coil, ...]
    springs: tuple[Spring, ...]
    tying: Tying
    note: str = ""
    units: Units = "in"
    spacing: Spacing = Spacing()
    twine: Twine = Twine()
    seat: Seat = Seat()
    webbing: Webbing = Webbing()
    stitching: Stitching = Stitching()
    work: Work = Work()
    extra: str = ""

    def coil_of(self, spring: Spring) -> Coil:
        """The coil that ``spring`` names. Raises KeyError if there is none."""
        for coil in self.coils:
            if coil.id == spring.coil:
                return coil
        raise KeyError(spring.coil)

    def spring(self, spring_id: str) -> Spring:
        """The spring with that id. Raises KeyError if there is none."""
        for spring in self.springs:
            if spring.id == spring_id:
                return spring
        raise KeyError(spring_id)
