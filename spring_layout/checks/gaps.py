"""Springs and their neighbours: touching, so near that they click, nearer or wider than wished."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from spring_layout.checks.words import (
    length,
    middle,
    number_word,
    opened,
    springs_at,
    springs_named,
)
from spring_layout.deck.model import Deck
from spring_layout.geometry.spacing import gaps
from spring_layout.planning.finding import Finding, Severity
from spring_layout.planning.parts import Array, Parts, Standing
from spring_layout.tolerances import SAME_PLACE

SCHOOLS = (
    "A British upholstery handbook (1961) sets springs about 50 mm (2 in) apart, French workshops "
    "almost touching, others up to 75 mm (3 in)."
)

PAIRS_TOLD_SINGLY = 6
"""More pairs than this with the same fault are told in one sentence."""

Pairs = NDArray[np.intp]


@dataclass(frozen=True)
class _Fault:
    """How one fault of pairs is told: ``say`` speaks of one pair, ``many`` of all of them."""

    code: str
    severity: Severity
    limit: float
    say: Callable[[str, float], str]
    many: str
    mend: str
    source: str


def check_touching(deck: Deck, parts: Parts) -> list[Finding]:
    """GAP-TOUCHING (wrong): top coils touch or overlap. GAP-SMALL (doubtful): they can click."""
    least = deck.spacing.limits.gap_click
    pairs, gap = near_pairs(parts.standing, least)
    touch = gap <= SAME_PLACE
    touching = _Fault(
        "GAP-TOUCHING",
        "wrong",
        0.0,
        lambda who, mm: (
            f"{who} overlap by {length(deck, -mm)}" if mm < -SAME_PLACE else f"{who} touch"
        ),
        "pairs of springs touch or overlap",
        "Move them apart, or set fewer or smaller springs.",
        "No school lets top coils touch; French workshops set them almost touching, never more.",
    )
    small = _Fault(
        "GAP-SMALL",
        "doubtful",
        least,
        lambda who, mm: f"{who} are only {length(deck, mm)} apart and can click",
        "pairs of springs are so near that they can click",
        f"Give them {length(deck, least)} or more, or space evenly.",
        "Common practice, no source; French workshops: almost touching, never touching.",
    )
    return [
        *_told(parts, touching, pairs[touch], gap[touch]),
        *_told(parts, small, pairs[~touch], gap[~touch]),
    ]


def near_pairs(standing: Standing, nearer: float) -> tuple[Pairs, Array]:
    """All pairs (k, 2) of springs whose top coils are nearer than ``nearer`` mm, and their gaps."""
    if len(standing.ids) < 2:
        return np.empty((0, 2), np.intp), np.empty(0)
    points = shapely.points(standing.centres)
    reach = standing.radii + standing.radii.max() + nearer
    found = shapely.STRtree(points).query(points, predicate="dwithin", distance=reach).T
    pairs = np.unique(np.sort(found[found[:, 0] != found[:, 1]], axis=1), axis=0)
    gap = gaps(standing.centres, standing.radii, pairs)
    near = gap < max(nearer, 2 * SAME_PLACE) - SAME_PLACE
    return pairs[near], gap[near]


def check_narrow(deck: Deck, parts: Parts) -> list[Finding]:
    """GAP-NARROW (note): neighbours nearer than the wished gap, beyond what clicks."""
    limits, wish = deck.spacing.limits, deck.spacing.gap
    least, gap = wish - limits.gap_off, parts.spaces.neighbour_gaps
    narrow = (gap < least - SAME_PLACE) & (gap >= limits.gap_click - SAME_PLACE)
    rest = gap[gap >= least - SAME_PLACE]
    than = (
        f"the rest are about {length(deck, float(np.median(rest)))}"
        if len(rest)
        else (f"the wish is {length(deck, wish)}")
    )
    fault = _Fault(
        "GAP-NARROW",
        "note",
        least,
        lambda who, mm: f"{who} are {length(deck, mm)} apart; {than}",
        f"pairs of springs are nearer than the wished {length(deck, wish)}",
        "Fine for close springing; if not meant, space evenly.",
        SCHOOLS,
    )
    return _told(parts, fault, parts.spaces.neighbours[narrow], gap[narrow])


def check_wide(deck: Deck, parts: Parts) -> list[Finding]:
    """GAP-WIDE (note): springs whose nearest neighbour is farther away than wished."""
    limits, wish = deck.spacing.limits, deck.spacing.gap
    rows = np.flatnonzero(parts.spaces.gap > wish + limits.gap_off + SAME_PLACE)
    if wish <= 0 or len(rows) == 0:
        return []
    springs, gap = springs_at(parts, rows), parts.spaces.gap[rows]
    everyone = len(rows) == len(parts.standing.ids)
    are, their = ("is", "its") if len(rows) == 1 else ("are", "their")
    who = "All springs" if everyone else springs_named(parts, springs)
    far = f", wider than the {length(deck, limits.gap_most)} that any school sets"
    beyond = float(gap.max()) > limits.gap_most
    return [
        Finding(
            code="GAP-WIDE",
            severity="note",
            stage="springs",
            message=f"{who} {are} {_between(deck, gap)} from {their} nearest neighbours"
            f"{far if beyond else ''}; the wish is {length(deck, wish)}.",
            mend="If not meant, add springs, take larger ones or space evenly.",
            source=SCHOOLS,
            springs=springs,
            value=float(gap.max()),
            limit=wish + limits.gap_off,
            place=middle(parts, springs),
        )
    ]


def _between(deck: Deck, gap: Array) -> str:
    first, last = length(deck, float(gap.min())), length(deck, float(gap.max()))
    return first if first == last else f"{first} to {last}"


def _told(parts: Parts, fault: _Fault, pairs: Pairs, gap: Array) -> list[Finding]:
    """A finding for each pair, or one for all where there are many."""
    if len(pairs) <= PAIRS_TOLD_SINGLY:
        return [_of_pairs(parts, fault, pairs[[i]], gap[[i]]) for i in range(len(pairs))]
    return [_of_pairs(parts, fault, pairs, gap)]


def _of_pairs(parts: Parts, fault: _Fault, pairs: Pairs, gap: Array) -> Finding:
    """One finding about ``pairs`` (k, 2), which speaks of the nearest."""
    worst = int(gap.argmin())
    nearest = springs_at(parts, pairs[worst])
    said = fault.say(springs_named(parts, nearest), float(gap[worst]))
    if len(pairs) > 1:
        said = f"{opened(number_word(len(pairs)))} {fault.many}; the nearest: {said}"
    return Finding(
        code=fault.code,
        severity=fault.severity,
        stage="springs",
        message=f"{said}.",
        mend=fault.mend,
        source=fault.source,
        springs=springs_at(parts, np.unique(pairs)),
        value=float(gap[worst]),
        limit=fault.limit,
        place=middle(parts, nearest),
    )
