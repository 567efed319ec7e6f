"""Frames from the measurements that are taken at the bench.

All lengths are mm, inside edges; a depth is measured straight from the back to the front. Every
frame starts at its back left corner and runs clockwise on paper. Each maker raises ValueError
with one sentence where the measurements make no frame.
"""

import math
from collections.abc import Sequence
from typing import Literal, NamedTuple

from spring_layout.deck.model import Frame, Point, Rail, Side
from spring_layout.deck.ranges import FARTHEST_MM, in_words
from spring_layout.deck.validate import frame_faults
from spring_layout.geometry.sides import Array
from spring_layout.units import Units, format_length

RAIL_WIDTH_MM = 45.0
RAIL_TOP_MM = 75.0
"""Where the user has not measured the rails yet: our own starting values, no source."""

_RAILS: tuple[Rail, ...] = ("back", "right", "front", "left")


def straight_frame(
    width: float, depth: float, *, rail_width: float = RAIL_WIDTH_MM, rail_top: float = RAIL_TOP_MM
) -> Frame:
    """A frame with square corners; all lengths in mm."""
    return bowed_frame(width, width, depth, rail_width=rail_width, rail_top=rail_top)


def tapered_frame(
    back: float,
    front: float,
    depth: float,
    *,
    rail_width: float = RAIL_WIDTH_MM,
    rail_top: float = RAIL_TOP_MM,
) -> Frame:
    """A frame whose back and front differ in width, the same on both sides."""
    return bowed_frame(back, front, depth, rail_width=rail_width, rail_top=rail_top)


def bowed_frame(
    back: float,
    front: float,
    depth: float,
    *,
    front_bow: float = 0.0,
    back_bow: float = 0.0,
    side_bow: float = 0.0,
    rail_width: float = RAIL_WIDTH_MM,
    rail_top: float = RAIL_TOP_MM,
) -> Frame:
    """A straight or tapered frame with bowed sides; a bow is the rise above a straightedge; mm."""
    _check(back=back, front=front, depth=depth)
    middle = max(back, front) / 2
    corners = (
        (middle - back / 2, 0.0),
        (middle + back / 2, 0.0),
        (middle + front / 2, depth),
        (middle - front / 2, depth),
    )
    return _framed(corners, (back_bow, side_bow, front_bow, side_bow), rail_width, rail_top)


def round_frame(
    diameter: float, *, rail_width: float = RAIL_WIDTH_MM, rail_top: float = RAIL_TOP_MM
) -> Frame:
    """A round frame: a back and a front half circle; mm."""
    _check(diameter=diameter)
    radius = diameter / 2
    corners = ((0.0, radius), (diameter, radius))
    return _framed(corners, (radius, radius), rail_width, rail_top, ("back", "front"))


def notched_frame(
    back: float,
    front: float,
    depth: float,
    notch_width: float,
    notch_depth: float,
    *,
    at: Literal["front", "back"] = "front",
    posts_take_tacks: bool = False,
    rail_width: float = RAIL_WIDTH_MM,
    rail_top: float = RAIL_TOP_MM,
) -> Frame:
    """A straight or tapered frame notched round the posts at two corners, front or back; mm.

    A notch is ``notch_width`` from side to side and ``notch_depth`` from front to back. The
    faces of the posts take no tacks unless ``posts_take_tacks``.
    """
    _check(back=back, front=front, depth=depth, notch_width=notch_width, notch_depth=notch_depth)
    if 2 * notch_width >= (front if at == "front" else back) or notch_depth >= depth:
        raise ValueError("The notches leave no rail between them; measure the posts again.")
    notch = depth - notch_depth if at == "front" else notch_depth
    # half widths: at the back, at the front, where the notch begins, and between the posts
    half = (back / 2, front / 2, (back + (front - back) * notch / depth) / 2)
    between = (front if at == "front" else back) / 2 - notch_width
    if at == "front":
        right = [(half[0], 0.0), (half[2], notch), (between, notch), (between, depth)]
        rails = _NOTCHED_FRONT
    else:
        right = [(between, 0.0), (between, notch), (half[2], notch), (half[1], depth)]
        rails = _NOTCHED_BACK
    named: list[Rail] = [rail if posts_take_tacks or not post else "none" for rail, post in rails]
    return _framed(
        _both_halves(right, max(back, front) / 2), (0.0,) * 8, rail_width, rail_top, named
    )


_NOTCHED_FRONT: tuple[tuple[Rail, bool], ...] = (
    ("back", False),
    ("right", False),
    ("front", True),
    ("right", True),
    ("front", False),
    ("left", True),
    ("front", True),
    ("left", False),
)
_NOTCHED_BACK: tuple[tuple[Rail, bool], ...] = (
    ("back", False),
    ("right", True),
    ("back", True),
    ("right", False),
    ("front", False),
    ("left", False),
    ("back", True),
    ("left", True),
)
"""Each side clockwise from the back: the rail that it faces, and whether it is a post's face."""


def _both_halves(right: list[Point], middle: float) -> list[Point]:
    """Corners from the right half's, given as (off the middle, depth) from back to front."""
    left = [(middle - off, y) for off, y in right]
    return [left[0], *((middle + off, y) for off, y in right), *left[:0:-1]]


class MeasuredFrame(NamedTuple):
    """A frame from its four sides and two diagonals.

    ``out_of_square_mm``: the diagonal from the back left to the front right less the other one.
    ``misfit_mm``: the most by which a measurement has to give for all six to agree.
    """

    frame: Frame
    out_of_square_mm: float
    misfit_mm: float

    def words(self, units: Units) -> str:
        """What the diagonals say of the frame, in one or two sentences."""
        told = "The diagonals agree: the frame is the same on both sides."
        difference = format_length(abs(self.out_of_square_mm), units, "exact")
        if not difference.startswith("0 "):
            told = f"The diagonals differ by {difference}: the frame is out of square."
        if self.misfit_mm <= _MISFIT_MM:
            return told
        off = format_length(self.misfit_mm, units, "exact")
        return f"{told} The six measurements do not agree by up to {off}; measure them again."


_MISFIT_MM = 3.0
"""A tape read on a bare frame is good to about 1/8 in (common practice, no source)."""


def measured_frame(
    back: float,
    right: float,
    front: float,
    left: float,
    rising: float,
    falling: float,
    *,
    rail_width: float = RAIL_WIDTH_MM,
    rail_top: float = RAIL_TOP_MM,
) -> MeasuredFrame:
    """A four-sided frame from its sides and its diagonals, mm.

    ``rising`` runs from the front left to the back right, ``falling`` from the back left to the
    front right. Five lengths fix the shape and the sixth checks it: the frame is the one that
    fits all six best (least squares), with its back along the x axis.
    """
    _check(back=back, right=right, front=front, left=left, rising=rising, falling=falling)
    front_left = _over(back, left, rising, "left", "rising")
    across = _over(back, right, falling, "right", "falling")
    front_right = (back - across[0], across[1])
    corners = _fitted(
        [(0.0, 0.0), (back, 0.0), front_right, front_left],
        (back, right, front, left, falling, rising),
    )
    lengths = _six_lengths(corners)
    wanted = (back, right, front, left, falling, rising)
    misfit = max(abs(a - b) for a, b in zip(lengths, wanted, strict=True))
    frame = _framed(corners, (0.0,) * 4, rail_width, rail_top)
    return MeasuredFrame(frame, falling - rising, misfit)


def _over(back: float, side: float, diagonal: float, name: str, diagonal_name: str) -> Point:
    """The front corner ``side`` off the back corner at 0, ``diagonal`` off that at ``back``."""
    x = (back**2 + side**2 - diagonal**2) / (2 * back)
    if abs(x) >= side:
        raise ValueError(
            f"Back, {name} and the {diagonal_name} diagonal make no triangle; "
            "measure the three again."
        )
    return x, math.sqrt(side**2 - x**2)


def _six_lengths(corners: list[Point]) -> list[float]:
    """Back, right, front, left, falling and rising between the four corners, mm."""
    pairs = ((0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3))
    return [math.dist(corners[a], corners[b]) for a, b in pairs]


def _fitted(corners: list[Point], wanted: tuple[float, ...]) -> list[Point]:
    """The corners moved to fit the six lengths best; the first stays, the second on the x axis."""
    from scipy.optimize import least_squares  # 0.3 s to import, and only this needs it

    def placed(free: Array, /) -> list[Point]:
        x, *rest = (float(v) for v in free)
        return [(0.0, 0.0), (x, 0.0), (rest[0], rest[1]), (rest[2], rest[3])]

    def misses(free: Array, /) -> list[float]:
        return [a - b for a, b in zip(_six_lengths(placed(free)), wanted, strict=True)]

    start = [corners[1][0], *corners[2], *corners[3]]
    return placed(least_squares(misses, start, xtol=1e-12, ftol=1e-12).x)


def _check(**lengths: float) -> None:
    """Refuses a measurement that is no length."""
    for name, value in lengths.items():
        if not 0 < value <= FARTHEST_MM:
            raise ValueError(
                f"The {in_words(name)} is {value:.10g} mm; it must be over 0 and at most "
                f"{FARTHEST_MM:g} mm."
            )


def _framed(
    corners: Sequence[Point],
    bows: Sequence[float],
    rail_width: float,
    rail_top: float,
    rails: Sequence[Rail] = _RAILS,
) -> Frame:
    """The frame, sound. Raises ValueError with the reason where it is not."""
    sides = tuple(Side(rail=rail, bow=float(bow)) for rail, bow in zip(rails, bows, strict=True))
    frame = Frame(
        corners=tuple(corners), sides=sides, rail_width=float(rail_width), rail_top=float(rail_top)
    )
    for fault in frame_faults(frame):
        raise ValueError(fault.message)
    return frame
