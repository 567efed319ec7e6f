"""Springs and the inside edge: over it, too near a side or a corner, off the wished distance."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spring_layout.checks.words import (
    COMMON_PRACTICE,
    length,
    middle,
    side_named,
    springs_at,
    springs_named,
)
from spring_layout.deck.model import Deck
from spring_layout.planning.finding import Finding, Severity
from spring_layout.planning.parts import Array, Parts
from spring_layout.tolerances import SAME_PLACE

JOHNSON = (
    "Johnson 1919: from the top coil's outside to the rail's outer face 75 mm (3 in) with a 5 in "
    "spring; the range in use is 0 (with an edge wire) to 100 mm."
)

Which = NDArray[np.bool_]


@dataclass(frozen=True)
class _Fault:
    """How springs at one side are told: their names, are or stand, how far, ``says``."""

    code: str
    severity: Severity
    says: str
    mend: str
    limit: float
    source: str = JOHNSON


def check_over_the_edge(deck: Deck, parts: Parts) -> list[Finding]:
    """Coils over the inside edge: EDGE-RING and EDGE-FOOT (wrong), EDGE-OVERHANG (doubtful).

    A top coil over a rail is wrong where the rail, or a side without one, stands in its way, and
    doubtful where it stands clear above the rail, as with an edge wire.
    """
    move = "Move inward, space evenly, or take a smaller spring."
    found = []
    for side in range(len(deck.frame.sides)):
        rail, reach = side_named(deck, side), parts.spaces.side_clearances[:, side]
        over, clear = reach < -SAME_PLACE, _stands_clear(deck, parts, side)
        ring = _Fault("EDGE-RING", "wrong", f"over the inside edge of {rail}", move, 0.0)
        above = _Fault(
            "EDGE-OVERHANG",
            "doubtful",
            f"over the inside edge of {rail}, above the wood: right only with an edge wire",
            move,
            0.0,
        )
        foot = _Fault("EDGE-FOOT", "wrong", f"onto {rail} with the bottom coil", move, 0.0)
        found += _at_side(parts, side, over & ~clear, reach, ring)
        found += _at_side(parts, side, over & clear, reach, above)
        feet = reach + parts.standing.radii - _foot_radii(deck)
        found += _at_side(parts, side, feet < -SAME_PLACE, feet, foot)
    return found


def _stands_clear(deck: Deck, parts: Parts, side: int) -> Which:
    """(n,) whether each top coil stands higher than this side's rail."""
    if deck.frame.sides[side].rail == "none":
        return np.zeros(len(parts.standing.ids), bool)
    return np.asarray(parts.heights.tied > deck.frame.top_of(side) + SAME_PLACE)


def _foot_radii(deck: Deck) -> Array:
    foot = {coil.id: coil.foot_diameter / 2 for coil in deck.coils}
    return np.array([foot[spring.coil] for spring in deck.springs], float)


def check_clearance(deck: Deck, parts: Parts) -> list[Finding]:
    """CLEARANCE-SMALL (doubtful): can rub the rail. CLEARANCE-NARROW, -WIDE (notes): off the wish.

    A side with a rail is wide when no spring stands near it.
    """
    wish, limits, found = deck.spacing.clearance, deck.spacing.limits, []
    for side, own in enumerate(deck.frame.sides):
        rail, reach = side_named(deck, side), parts.spaces.side_clearances[:, side]
        small = (reach >= -SAME_PLACE) & (reach < limits.clearance_least - SAME_PLACE)
        narrow = (reach >= limits.clearance_least - SAME_PLACE) & (
            reach < wish - limits.clearance_off - SAME_PLACE
        )
        found += _at_side(parts, side, small, reach, _small(deck, rail))
        found += _at_side(parts, side, narrow, reach, _narrow(deck, rail))
        if own.rail != "none" and wish > 0:
            found += _wide(deck, parts, side, reach)
    return found


def _small(deck: Deck, rail: str) -> _Fault:
    least = deck.spacing.limits.clearance_least
    return _Fault(
        "CLEARANCE-SMALL",
        "doubtful",
        f"from the inside edge of {rail} and can rub on it",
        f"Keep {length(deck, least)} or more from the wood, or space evenly.",
        least,
        COMMON_PRACTICE,
    )


def _narrow(deck: Deck, rail: str) -> _Fault:
    wish = deck.spacing.clearance
    return _Fault(
        "CLEARANCE-NARROW",
        "note",
        f"from the inside edge of {rail}; the wish is {length(deck, wish)}",
        "Fine for a firm edge; if not meant, space evenly.",
        wish - deck.spacing.limits.clearance_off,
    )


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
    fault = _Fault("CLEARANCE-WIDE", "note", says, "If not meant, space evenly.", most)
    return _at_side(parts, side, nearest, reach, fault)


def _at_side(parts: Parts, side: int, which: Which, reach: Array, fault: _Fault) -> list[Finding]:
    """One finding about the springs at ``side``, none where there are none."""
    rows = np.flatnonzero(which)
    if len(rows) == 0:
        return []
    springs, worst = springs_at(parts, rows), float(reach[rows].min())
    far = length(parts.deck, abs(worst))
    if len(rows) > 1:
        far = f"{far} or more" if worst >= 0 else f"up to {far}"
    are = {"EDGE-FOOT": "stand"}.get(fault.code, "are")
    if len(rows) == 1:
        are = {"are": "is", "stand": "stands"}[are]
    return [
        Finding(
            code=fault.code,
            severity=fault.severity,
            stage="springs",
            message=f"{springs_named(parts, springs)} {are} {far} {fault.says}.",
            mend=fault.mend,
            source=fault.source,
            springs=springs,
            sides=(side,),
            value=worst,
            limit=fault.limit,
            place=middle(parts, springs),
        )
    ]


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
    between = f"between {side_named(deck, corner - 1)} and {side_named(deck, corner)}"
    return Finding(
        code="CORNER-NEAR",
        severity="note",
        stage="springs",
        message=f"{springs_named(parts, springs)} is {length(deck, away)} from the corner "
        f"{between}.",
        mend="See that it stands clear of the corner block, or move it in.",
        source="A manual of 1914: about 25 mm (1 in) from each corner on a five-spring chair.",
        springs=springs,
        sides=((corner - 1) % len(deck.frame.sides), corner),
        value=away,
        limit=deck.spacing.limits.corner_ring,
        place=middle(parts, springs),
    )
