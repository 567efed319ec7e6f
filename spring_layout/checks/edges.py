"""Springs and the inside edge: over it, too near a side or a corner, off the wished distance."""

import numpy as np
from numpy.typing import NDArray

from spring_layout.checks.faults import Fault
from spring_layout.checks.words import (
    COMMON_PRACTICE,
    length,
    length_short_of,
    middle,
    side_named,
    springs_at,
    springs_named,
)
from spring_layout.deck.model import Deck
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Array, Parts
from spring_layout.tolerances import SAME_PLACE

JOHNSON = (
    "Johnson 1919: from the top coil's outside to the rail's outer face 75 mm (3 in) with a 5 in "
    "spring; the range in use is 0 (with an edge wire) to 100 mm."
)

Which = NDArray[np.bool_]

EDGE_MEND = "Move inward, space evenly, or take a smaller spring."


def check_over_the_edge(deck: Deck, parts: Parts) -> list[Finding]:
    """Coils over the inside edge: EDGE-RING and EDGE-FOOT (wrong), EDGE-OVERHANG (doubtful).

    A top coil over a rail is wrong where the rail, or a side without one, stands in its way, and
    doubtful where it stands clear above the rail, as with an edge wire.
    """
    ring = Fault("EDGE-RING", "wrong", "springs", EDGE_MEND, JOHNSON, 0.0)
    above = Fault("EDGE-OVERHANG", "doubtful", "springs", EDGE_MEND, JOHNSON, 0.0)
    foot = Fault("EDGE-FOOT", "wrong", "springs", EDGE_MEND, JOHNSON, 0.0)
    found = []
    for side in range(len(deck.frame.sides)):
        edge, reach = (
            f"the inside edge of {side_named(deck, side)}",
            parts.spaces.side_clearances[:, side],
        )
        over, clear = reach < -SAME_PLACE, _stands_clear(deck, parts, side)
        found += _at_side(parts, side, over & ~clear, reach, ring, f"over {edge}")
        wired = f"over {edge}, above the wood: right only with an edge wire"
        found += _at_side(parts, side, over & clear, reach, above, wired)
        feet = reach + parts.standing.radii - _foot_radii(deck)
        on = f"over {edge} with the bottom coil"
        found += _at_side(parts, side, feet < -SAME_PLACE, feet, foot, on)
    return found


def _stands_clear(deck: Deck, parts: Parts, side: int) -> Which:
    """(n,) whether each top coil stands higher than this side's rail."""
    if deck.frame.sides[side].rail == "none":
        return np.zeros(len(parts.standing.ids), bool)
    return np.asarray(parts.heights.tied > deck.frame.top_of(side) + SAME_PLACE)


def _foot_radii(deck: Deck) -> Array:
    """(n,) half the bottom coil's outside diameter, mm."""
    foot = {coil.id: coil.foot_diameter / 2 for coil in deck.coils}
    return np.array([foot[spring.coil] for spring in deck.springs], float)


def check_clearance(deck: Deck, parts: Parts) -> list[Finding]:
    """CLEARANCE-SMALL (doubtful): can rub the rail. CLEARANCE-NARROW, -WIDE (notes): off the wish.

    A side with a rail is wide when no spring stands near it.
    """
    wish, limits, found = deck.spacing.clearance, deck.spacing.limits, []
    least, off = limits.clearance_least, limits.clearance_off
    keep = f"Keep {length(deck, least)} or more from the wood, or space evenly."
    rubs = Fault("CLEARANCE-SMALL", "doubtful", "springs", keep, COMMON_PRACTICE, least)
    firm = "Fine for a firm edge; if not meant, space evenly."
    near = Fault("CLEARANCE-NARROW", "note", "springs", firm, JOHNSON, wish - off)
    for side, own in enumerate(deck.frame.sides):
        rail, reach = side_named(deck, side), parts.spaces.side_clearances[:, side]
        small = (reach >= -SAME_PLACE) & (reach < least - SAME_PLACE)
        narrow = (reach >= least - SAME_PLACE) & (reach < wish - off - SAME_PLACE)
        edge = f"from the inside edge of {rail}"
        found += _at_side(parts, side, small, reach, rubs, f"{edge} and can rub on it")
        wished = f"{edge}; the wish is {length(deck, wish)}"
        found += _at_side(parts, side, narrow, reach, near, wished)
        if own.rail != "none" and wish > 0:
            found += _wide(deck, parts, side, reach)
    return found


def _wide(deck: Deck, parts: Parts, side: int, reach: Array) -> list[Finding]:
    """The note about a rail that no spring stands near."""
    wish = deck.spacing.clearance
    most = wish + deck.spacing.limits.clearance_off
    if len(reach) == 0 or reach.min() <= most + SAME_PLACE:
        return []
    nearest = np.arange(len(reach)) == reach.argmin()
    says = (
        f"from {side_named(deck, side)}, and no spring is nearer; the wish is {length(deck, wish)}"
    )
    mend = "If not meant, space evenly."
    fault = Fault("CLEARANCE-WIDE", "note", "springs", mend, JOHNSON, most)
    return _at_side(parts, side, nearest, reach, fault, says)


def _at_side(
    parts: Parts, side: int, which: Which, reach: Array, fault: Fault, says: str
) -> list[Finding]:
    """One finding about the springs at ``side`` that ``says`` how they stand to it, or none.

    ``reach``: (n,) how far each stands from it, mm, - over it.
    """
    rows = np.flatnonzero(which)
    if len(rows) == 0:
        return []
    springs, worst = springs_at(parts, rows), float(reach[rows].min())
    far = length_short_of(parts.deck, abs(worst), fault.limit or 0.0)
    if len(rows) > 1:
        far = f"as little as {far}" if worst >= 0 else f"up to {far}"
    are = "is" if len(rows) == 1 else "are"
    message = f"{springs_named(parts, springs)} {are} {far} {says}."
    return [fault.found(message, worst, springs, middle(parts, springs), sides=(side,))]


def check_corners(deck: Deck, parts: Parts) -> list[Finding]:
    """CORNER-NEAR (note): a top coil close to a corner, where a corner block would be."""
    least, outline, found = deck.spacing.limits.corner_ring, parts.standing.outline, []
    for corner, place in enumerate(outline.corners):
        if outline.turns[corner] <= 0 or not outline.is_corner(corner):
            continue
        away = np.hypot(*(parts.standing.centres - place).T) - parts.standing.radii
        rows = np.flatnonzero((away < least - SAME_PLACE) & (away >= 0))
        found += [_in_corner(deck, parts, corner, int(row), float(away[row])) for row in rows]
    return found


def _in_corner(deck: Deck, parts: Parts, corner: int, row: int, away: float) -> Finding:
    springs = springs_at(parts, [row])
    before = (corner - 1) % len(deck.frame.sides)
    between = f"between {side_named(deck, before)} and {side_named(deck, corner)}"
    fault = Fault(
        "CORNER-NEAR",
        "note",
        "springs",
        "See that it stands clear of the corner block, or move it in.",
        "A manual of 1914: about 25 mm (1 in) from each corner on a five-spring chair.",
        deck.spacing.limits.corner_ring,
    )
    far = "at" if away < SAME_PLACE else f"{length(deck, away)} from"
    message = f"{springs_named(parts, springs)} is {far} the corner {between}."
    place = middle(parts, springs)
    return fault.found(message, away, springs, place, sides=(before, corner))
