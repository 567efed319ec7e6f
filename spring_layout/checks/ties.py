"""Single ties: sharp bends, ends without a rail, twine that rubs on a rail's edge."""

import math
from collections import defaultdict
from itertools import pairwise

from spring_layout.checks.faults import Fault
from spring_layout.checks.words import (
    COMMON_PRACTICE,
    length,
    middle,
    opened,
    percent,
    side_named,
    springs_named,
    ties_named,
)
from spring_layout.deck.model import Deck
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Line, Parts
from spring_layout.tolerances import SAME_PLACE

MOST_BEND = 25.0
"""degrees. At this bend the twine pulls a spring sideways with 0.43 of its tension (2 sin 12.5)."""

_ANGLE_NOISE = 1e-6


def bends(line: Line) -> list[tuple[str, float]]:
    """How much ``line`` bends at each spring between its first and last: (spring, degrees)."""
    ways = [math.atan2(y1 - y0, x1 - x0) for (x0, y0), (x1, y1) in pairwise(line.centres)]
    turns = [abs((math.degrees(b - a) + 180) % 360 - 180) for a, b in pairwise(ways)]
    return list(zip(line.springs[1:-1], turns, strict=True))


def check_bends(deck: Deck, parts: Parts) -> list[Finding]:
    """TIE-BEND-SHARP (wrong) over 25 degrees between springs, TIE-BEND (doubtful) over the limit.

    The turn from the last spring to the tack point is told only where it breaks a rule (see
    ``breaks``): beside a corner joint a diagonal cannot go straight on.
    """
    found = []
    for line in parts.ties.lines:
        spring, bend = max(bends(line), key=lambda bend: bend[1], default=("", 0.0))
        if bend > min(deck.spacing.limits.bend_doubtful, MOST_BEND) + _ANGLE_NOISE:
            found.append(_bend(deck, parts, line, spring, bend))
    return found


def _bend(deck: Deck, parts: Parts, line: Line, spring: str, bend: float) -> Finding:
    sharp = bend > MOST_BEND + _ANGLE_NOISE
    pull = percent(2 * math.sin(math.radians(bend) / 2))
    return Finding(
        code="TIE-BEND-SHARP" if sharp else "TIE-BEND",
        severity="wrong" if sharp else "doubtful",
        stage="ties",
        message=f"Tie {line.number} bends by {bend:.0f} degrees at "
        f"{springs_named(parts, [spring])} and pulls that spring sideways with {pull} of its own "
        "pull.",
        mend="Bring the springs into line, or move the tack point, join or part the tie there.",
        source=COMMON_PRACTICE,
        springs=(spring,),
        lines=(line.number,),
        value=bend,
        limit=MOST_BEND if sharp else deck.spacing.limits.bend_doubtful,
        place=middle(parts, [spring]),
    )


def check_rails(deck: Deck, parts: Parts) -> list[Finding]:
    """ANCHOR-NONE (doubtful): ties whose way out meets no rail, so that they end at a spring.

    RAIL-NONE (wrong): a frame that has no rail at all.
    """
    if all(side.rail == "none" for side in deck.frame.sides):
        every = tuple(range(len(deck.frame.sides)))
        return [NO_RAIL.found(NOTHING_HOLDS, 0.0, (), None, sides=every)]
    ends = defaultdict(list)
    for line in parts.ties.lines:
        for end in (0, 1):
            side = line.sides[end]
            if side is None or deck.frame.sides[side].rail == "none":
                ends[line.springs[0 if end == 0 else -1]].append(line.number)
    if not ends:
        return []
    springs = tuple(spring for spring in parts.labels if spring in ends)
    lines = tuple(sorted({number for numbers in ends.values() for number in numbers}))
    one = len(lines) == 1
    return [
        Finding(
            code="ANCHOR-NONE",
            severity="doubtful",
            stage="ties",
            message=f"{opened(ties_named(lines))} {'finds' if one else 'find'} no rail beyond "
            f"{springs_named(parts, springs)} and {'ends' if one else 'end'} there.",
            mend="Fix a strip of wood across the open side, or lead the twine to the next rail.",
            source=COMMON_PRACTICE,
            springs=springs,
            lines=lines,
            place=middle(parts, springs),
        )
    ]


NOTHING_HOLDS = "No side of the frame has a rail, so no tie is fixed to anything."
NO_RAIL = Fault(
    "RAIL-NONE",
    "wrong",
    "frame",
    "Say which sides have a rail to take tacks.",
    COMMON_PRACTICE,
)


def check_rubbing(deck: Deck, parts: Parts) -> list[Finding]:
    """TIE-RUBS (doubtful): twine that comes from lower than the rail, and saws on its edge.

    Either the springs are tied lower than the rail, or the coil of the outer hitches lies too low.
    """
    lower, hitched = defaultdict(list), defaultdict(list)
    for line, hitches in zip(parts.ties.lines, parts.hitches.lines, strict=True):
        for end in (0, 1):
            side, spring = line.sides[end], line.springs[0 if end == 0 else -1]
            if side is None:
                continue
            below = deck.frame.top_of(side) - hitches.along[0 if end == 0 else -1].place[2]
            if _rise(deck, parts, spring, side) < -SAME_PLACE:
                lower[side].append((line.number, spring))
            elif below > deck.spacing.limits.hitch_below + SAME_PLACE:
                hitched[side].append((line.number, spring, below))
    return [
        *(_rubbing(deck, parts, side, lower[side]) for side in sorted(lower)),
        *(_low_hitches(deck, parts, side, hitched[side]) for side in sorted(hitched)),
    ]


def _low_hitches(
    deck: Deck, parts: Parts, side: int, ends: list[tuple[int, str, float]]
) -> Finding:
    """The finding about outer hitches so low that the twine comes up over the rail's edge."""
    lines = tuple(sorted({number for number, _, _ in ends}))
    low = {spring for _, spring, _ in ends}
    springs = tuple(spring for spring in parts.labels if spring in low)
    worst = max(below for _, _, below in ends)
    hitches, lie = ("hitch", "lies") if len(ends) == 1 else ("hitches", "lie up to")
    nearest = deck.tying.rim_ring == "nearest-rail-top"
    other = "Tie higher" if nearest else "Put them on the coil nearest to the rail's top"
    return Finding(
        code="TIE-RUBS",
        severity="doubtful",
        stage="height",
        message=f"The outer {hitches} of {ties_named(lines)} at {springs_named(parts, springs)} "
        f"{lie} {length(deck, worst)} lower than the top of {side_named(deck, side)}, so the twine "
        "comes up over its inside edge and rubs there.",
        mend=f"{other}, or ease the edge well with a rasp.",
        source=COMMON_PRACTICE,
        springs=springs,
        lines=lines,
        sides=(side,),
        value=-worst,
        limit=-deck.spacing.limits.hitch_below,
        place=middle(parts, springs),
    )


def _rise(deck: Deck, parts: Parts, spring: str, side: int) -> float:
    """How much higher ``spring`` is tied than the rail on ``side``, mm."""
    return float(parts.heights.tied[parts.standing.index[spring]]) - deck.frame.top_of(side)


def _rubbing(deck: Deck, parts: Parts, side: int, ends: list[tuple[int, str]]) -> Finding:
    lines = tuple(sorted({number for number, _ in ends}))
    low = {spring for _, spring in ends}
    springs = tuple(spring for spring in parts.labels if spring in low)
    worst = min(_rise(deck, parts, spring, side) for spring in springs)
    one = len(springs) == 1
    return Finding(
        code="TIE-RUBS",
        severity="doubtful",
        stage="height",
        message=f"{springs_named(parts, springs)} {'is' if one else 'are'} tied "
        f"{length(deck, -worst)} lower than the top of {side_named(deck, side)}, so "
        f"{ties_named(lines)} {'rubs' if len(lines) == 1 else 'rub'} on its inside edge.",
        mend="Tie higher, or ease the edge well with a rasp.",
        source=COMMON_PRACTICE,
        springs=springs,
        lines=lines,
        sides=(side,),
        value=worst,
        limit=0.0,
        place=middle(parts, springs),
    )
