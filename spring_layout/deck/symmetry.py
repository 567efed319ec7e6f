"""A frame and its mirror image: left and right change places about the middle."""

import math
from collections.abc import Iterable

import msgspec

from spring_layout.deck.model import Frame, Point, Rail, Side, Spring, snapped
from spring_layout.tolerances import MIRROR_PARTNER, SAME_PLACE

_MIRRORED_RAIL: dict[Rail, Rail] = {"left": "right", "right": "left"}


def twice_middle(frame: Frame) -> float:
    """Twice the x of the frame's middle, halfway between its outermost corners, mm.

    Twice, because that lies on the coordinate grid, and so mirroring twice is exact.
    """
    across = [x for x, _ in frame.corners]
    return snapped(min(across) + max(across))


def mirrored_point(point: Point, twice: float) -> Point:
    """``point`` mirrored left to right about the line at x = ``twice`` / 2, mm."""
    return snapped(twice - point[0]), point[1]


def mirrored_side(side: Side) -> Side:
    """``side`` as it is in the mirror: left and right rails change names."""
    return msgspec.structs.replace(side, rail=_MIRRORED_RAIL.get(side.rail, side.rail))


def mirrored_frame(frame: Frame) -> Frame:
    """``frame`` mirrored about its middle, its corners clockwise again.

    Corner j is the image of corner 1 - j, side j that of side -j; so a frame that starts at its
    back left still does.
    """
    twice, count = twice_middle(frame), len(frame.corners)
    return msgspec.structs.replace(
        frame,
        corners=tuple(mirrored_point(frame.corners[(1 - j) % count], twice) for j in range(count)),
        sides=tuple(mirrored_side(frame.sides[-j % count]) for j in range(count)),
    )


def pairing_of(frame: Frame) -> int:
    """The number k with which corner i and corner k - i are most nearly each other's images."""
    count = len(frame.corners)
    return min(range(count), key=lambda k: (round(_misfit(frame, k), 6), k))


def _misfit(frame: Frame, pairing: int) -> float:
    """The farthest that a corner lies from its partner's image, or a bow from its partner's."""
    twice, count = twice_middle(frame), len(frame.corners)
    corners = frame.corners
    apart = [
        math.dist(corners[i], mirrored_point(corners[(pairing - i) % count], twice))
        for i in range(count)
    ]
    bows = [
        abs(side.bow - frame.sides[(pairing - 1 - i) % count].bow)
        for i, side in enumerate(frame.sides)
    ]
    return max(apart + bows)


def is_symmetric(frame: Frame) -> bool:
    """Whether the frame's two halves are each other's images."""
    return _misfit(frame, pairing_of(frame)) < SAME_PLACE


def partner_corner(frame: Frame, corner: int) -> int:
    """The number of the corner on the other side of the middle; itself in the middle."""
    return (pairing_of(frame) - corner) % len(frame.corners)


def partner_side(frame: Frame, side: int) -> int:
    """The number of the side on the other side of the middle; itself across the middle."""
    return (pairing_of(frame) - 1 - side) % len(frame.sides)


def symmetric_frame(frame: Frame) -> Frame:
    """``frame`` made the same on both sides: each corner and bow the mean of both halves'."""
    twice, pairing, count = twice_middle(frame), pairing_of(frame), len(frame.corners)

    def corner(i: int) -> Point:
        x, y = frame.corners[i]
        image = mirrored_point(frame.corners[(pairing - i) % count], twice)
        # the half width on the grid, so that both halves round the same way
        half = snapped((x - twice / 2 + image[0] - twice / 2) / 2)
        return twice / 2 + half, (y + image[1]) / 2

    def side(i: int) -> Side:
        own, other = frame.sides[i], frame.sides[(pairing - 1 - i) % count]
        return msgspec.structs.replace(own, bow=(own.bow + other.bow) / 2)

    return msgspec.structs.replace(
        frame,
        corners=tuple(corner(i) for i in range(count)),
        sides=tuple(side(i) for i in range(count)),
    )


def partner_spring(spring: Spring, springs: Iterable[Spring], twice: float) -> Spring | None:
    """The spring of the same size at the mirrored place, or None; itself in the middle."""
    image = mirrored_point((spring.x, spring.y), twice)
    same = [s for s in springs if s.coil == spring.coil]
    nearest = min(same, key=lambda s: math.dist((s.x, s.y), image), default=None)
    if nearest is None or math.dist((nearest.x, nearest.y), image) > MIRROR_PARTNER:
        return None
    return nearest
