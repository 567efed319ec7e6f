"""Edits of the frame: corners, bows, rails. Moved tack points stay on the rail they are on."""

import math
from collections.abc import Callable

import msgspec

from spring_layout.deck.edits.common import changed, checked, in_units
from spring_layout.deck.edits.tying import tying_without
from spring_layout.deck.model import Deck, Frame, MovedAnchor, Point, Rail, Side, snapped
from spring_layout.deck.symmetry import (
    is_symmetric,
    mirrored_point,
    partner_corner,
    partner_side,
    symmetric_frame,
    twice_middle,
)
from spring_layout.deck.validate import frame_faults, outside_springs, side_length
from spring_layout.geometry.outline import Fold, OutlineError, make_outline
from spring_layout.geometry.sides import SideCurve

Carry = Callable[[MovedAnchor], MovedAnchor | None]


def set_frame(deck: Deck, frame: Frame, *, drop_outside: bool = False) -> Deck:
    """The deck in another frame.

    ``drop_outside``: springs that stand outside it are taken away; else they are an error.
    Moved tack points stay where the number of sides stays.
    """
    if drop_outside and not frame_faults(frame):
        gone = {deck.springs[i].id for i in outside_springs(frame, deck.springs)}
        springs = tuple(s for s in deck.springs if s.id not in gone)
        deck = msgspec.structs.replace(tying_without(deck, gone), springs=springs)
    same = len(frame.sides) == len(deck.frame.sides)
    return _reframed(deck, frame, lambda anchor: anchor if same else None)


def _reframed(
    deck: Deck, frame: Frame, carry: Carry = lambda anchor: anchor, mend: str = ""
) -> Deck:
    """The deck in ``frame``; ``carry`` says where each moved tack point goes (None: away).

    ``mend``: what the hand is to do instead where the frame would cross itself.
    """
    for fault in frame_faults(frame):
        fold = _fold(frame) if mend else ""
        if fold:
            raise ValueError(f"The frame would {fold} there; {mend}.")
        raise ValueError(in_units(fault.message, deck.units))
    carried = [carry(anchor) for anchor in deck.tying.anchors]
    anchors = tuple(_on_its_side(frame, anchor) for anchor in carried if anchor is not None)
    tying = msgspec.structs.replace(deck.tying, anchors=anchors)
    return checked(msgspec.structs.replace(deck, frame=frame, tying=tying))


def _fold(frame: Frame) -> Fold:
    """Whether, and how, the edge of a faulty frame crosses itself or runs the wrong way round."""
    bows = [side.bow for side in frame.sides]
    if not all(math.isfinite(v) for v in (*bows, *(v for xy in frame.corners for v in xy))):
        return ""
    try:
        make_outline(frame.corners, bows)
    except OutlineError as error:
        return error.fold
    return ""


def _on_its_side(frame: Frame, anchor: MovedAnchor) -> MovedAnchor:
    """The tack point, drawn back onto a side that has grown shorter."""
    along = min(anchor.along, side_length(frame, anchor.side))
    return msgspec.structs.replace(anchor, along=along)


def move_corner(deck: Deck, corner: int, to: Point, *, symmetric: bool = False) -> Deck:
    """Corner number ``corner`` at ``to``, mm; ``symmetric``: its partner goes as in a mirror."""
    frame = deck.frame
    _check_number(corner, len(frame.corners), "corner")
    corners = list(frame.corners)
    corners[corner] = (float(to[0]), float(to[1]))
    if symmetric:
        _check_symmetric(frame)
        partner, twice = partner_corner(frame, corner), twice_middle(frame)
        if partner == corner:
            corners[corner] = (twice / 2, float(to[1]))
        else:
            corners[partner] = mirrored_point(corners[corner], twice)
    moved = msgspec.structs.replace(frame, corners=tuple(corners))
    return _reframed(deck, moved, mend="keep the corner on its own side of the others")


def _check_number(number: int, count: int, words: str) -> None:
    if not 0 <= number < count:
        raise ValueError(f"There is no {words} {number + 1}; the frame has {count}.")


def _check_symmetric(frame: Frame) -> None:
    if not is_symmetric(frame):
        raise ValueError("The frame is not the same on both sides; make it so first.")


def make_symmetric(deck: Deck) -> Deck:
    """The frame made the same on both sides of its middle, each half the mean of the two."""
    return _reframed(deck, symmetric_frame(deck.frame))


def bow_side(deck: Deck, side: int, bow: float, *, symmetric: bool = False) -> Deck:
    """Side number ``side`` bowed by ``bow`` mm (+ outward); ``symmetric``: its partner too."""
    if symmetric:
        _check_number(side, len(deck.frame.sides), "side")
        _check_symmetric(deck.frame)
        return _changed_sides(deck, {side, partner_side(deck.frame, side)}, bow=bow)
    return _changed_sides(deck, {side}, bow=bow)


def change_side(deck: Deck, side: int, **fields: object) -> Deck:
    """Other measurements of one side, mm: ``bow``, ``rail_width``, ``rail_top``, ``nail_line``,
    ``lower_rail``.

    None takes the frame's own. ``rail`` says which rail it is; "none" takes away its moved tack
    points.
    """
    return _changed_sides(deck, {side}, **fields)


def set_rail(deck: Deck, side: int, rail: Rail) -> Deck:
    """Which rail side number ``side`` is; "none" takes no tacks."""
    return _changed_sides(deck, {side}, rail=rail)


def _changed_sides(deck: Deck, numbers: set[int], **fields: object) -> Deck:
    sides = list(deck.frame.sides)
    for number in sorted(numbers):
        _check_number(number, len(sides), "side")
        sides[number] = changed(sides[number], **fields)
    frame = msgspec.structs.replace(deck.frame, sides=tuple(sides))
    bare = {number for number in numbers if sides[number].rail == "none"}
    mend = "bow the side less"
    return _reframed(deck, frame, lambda at: None if at.side in bare else at, mend)


def set_rails(deck: Deck, **fields: object) -> Deck:
    """The frame's own ``rail_width`` and ``rail_top``, mm, for the sides that have none."""
    return _reframed(deck, changed(deck.frame, **fields))


def insert_corner(deck: Deck, side: int, along: float, *, symmetric: bool = False) -> Deck:
    """A corner on side number ``side``, ``along`` mm from its first corner; the shape stays.

    ``symmetric``: one at the mirrored place of the partner side too.
    """
    _check_number(side, len(deck.frame.sides), "side")
    if not symmetric:
        return _inserted(deck, side, along)
    _check_symmetric(deck.frame)
    partner = partner_side(deck.frame, side)
    rest = side_length(deck.frame, side) - along
    places = {(side, snapped(along)), (partner, snapped(rest))}
    # from the last back, so that the numbers of those still to come stay
    for number, at in sorted(places, reverse=True):
        deck = _inserted(deck, number, at)
    return deck


def _inserted(deck: Deck, side: int, along: float) -> Deck:
    frame, curve = deck.frame, _curve(deck.frame, side)
    if not 0 < along < curve.length:
        raise ValueError(f"A corner must lie between the ends of side {side + 1}; move it there.")
    x, y = (float(v) for v in curve.point(along))
    halves = [_piece(frame.sides[side], curve, length) for length in (along, curve.length - along)]
    made = msgspec.structs.replace(
        frame,
        corners=(*frame.corners[: side + 1], (x, y), *frame.corners[side + 1 :]),
        sides=(*frame.sides[:side], *halves, *frame.sides[side + 1 :]),
    )
    return _reframed(deck, made, lambda anchor: _past_insertion(anchor, side, along))


def _curve(frame: Frame, side: int) -> SideCurve:
    corners = frame.corners
    return SideCurve(corners[side], corners[(side + 1) % len(corners)], frame.sides[side].bow)


def _piece(side: Side, curve: SideCurve, length: float) -> Side:
    """A piece of a side, ``length`` mm long, with the bow that it has by itself."""
    if curve.is_straight:
        return msgspec.structs.replace(side, bow=0.0)
    half_sweep = length * curve.curvature / 2
    bow = (1 - math.cos(half_sweep)) / curve.curvature
    return msgspec.structs.replace(side, bow=bow)


def _past_insertion(anchor: MovedAnchor, side: int, along: float) -> MovedAnchor:
    if anchor.side > side:
        return msgspec.structs.replace(anchor, side=anchor.side + 1)
    if anchor.side == side and anchor.along > along:
        return msgspec.structs.replace(anchor, side=side + 1, along=anchor.along - along)
    return anchor


def remove_corner(deck: Deck, corner: int, *, symmetric: bool = False) -> Deck:
    """The frame without a corner: its two sides become one straight side.

    The longer side's rail stays; tack points moved on either are taken away. ``symmetric``: the
    partner corner goes too.
    """
    _check_number(corner, len(deck.frame.corners), "corner")
    gone = {corner}
    if symmetric:
        _check_symmetric(deck.frame)
        gone.add(partner_corner(deck.frame, corner))
    frame, carries = deck.frame, []
    # from the last back, so that the numbers of those still to come stay
    for number in sorted(gone, reverse=True):
        frame, carry = _without_corner(frame, number)
        carries.append(carry)
    return _reframed(deck, frame, lambda anchor: _carried(anchor, carries))


def _carried(anchor: MovedAnchor | None, carries: list[Carry]) -> MovedAnchor | None:
    for carry in carries:
        anchor = carry(anchor) if anchor is not None else None
    return anchor


def _without_corner(frame: Frame, corner: int) -> tuple[Frame, Carry]:
    """The frame without one corner, and where its tack points go."""
    count = len(frame.corners)
    if count < 3:
        raise ValueError("A frame needs its last two corners; this one cannot go.")
    before = (corner - 1) % count
    longer = max((before, corner), key=lambda side: _curve(frame, side).length)
    sides = list(frame.sides)
    sides[before] = msgspec.structs.replace(frame.sides[longer], bow=0.0)
    del sides[corner]
    corners = frame.corners[:corner] + frame.corners[corner + 1 :]

    def carry(anchor: MovedAnchor) -> MovedAnchor | None:
        if anchor.side in (before, corner):
            return None
        return msgspec.structs.replace(anchor, side=anchor.side - (anchor.side > corner))

    return msgspec.structs.replace(frame, corners=corners, sides=tuple(sides)), carry
