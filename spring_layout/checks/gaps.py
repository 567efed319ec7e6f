"""Springs and their neighbours: touching, so near that they click, nearer or wider than wished."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from spring_layout.checks.faults import Fault
from spring_layout.checks.words import (
    length,
    length_short_of,
    middle,
    number_word,
    opened,
    span,
    springs_at,
    springs_named,
)
from spring_layout.deck.model import Deck
from spring_layout.geometry.spacing import gaps
from spring_layout.planning.finding import Finding
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
class _Said:
    """How one fault of pairs is told: ``say`` speaks of one pair, ``many`` of all of them."""

    fault: Fault
    say: Callable[[str, float], str]
    many: str


def check_touching(deck: Deck, parts: Parts) -> list[Finding]:
    """GAP-TOUCHING (wrong): top coils touch or overlap. GAP-SMALL (doubtful): they can click."""
    least = deck.spacing.limits.gap_click
    pairs, gap = near_pairs(parts.standing, least)
    touch = gap <= SAME_PLACE
    return [
        *_told(parts, _touching(deck), pairs[touch], gap[touch]),
        *_told(parts, _small(deck), pairs[~touch], gap[~touch]),
    ]


def _touching(deck: Deck) -> _Said:
    return _Said(
        Fault(
            "GAP-TOUCHING",
            "wrong",
            "springs",
            "Move them apart, or set fewer or smaller springs.",
            "No school lets top coils touch; French workshops set them almost touching, never "
            "more.",
            0.0,
        ),
        lambda who, mm: (
            f"{who} overlap by {length(deck, -mm)}" if mm < -SAME_PLACE else f"{who} touch"
        ),
        "pairs of springs touch or overlap",
    )


def _small(deck: Deck) -> _Said:
    least = deck.spacing.limits.gap_click
    return _Said(
        Fault(
            "GAP-SMALL",
            "doubtful",
            "springs",
            f"Give them {length(deck, least)} or more, or space evenly.",
            "Common practice, no source; French workshops: almost touching, never touching.",
            least,
        ),
        lambda who, mm: f"{who} are only {length_short_of(deck, mm, least)} apart and can click",
        "pairs of springs are so near that they can click",
    )


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
    fault = Fault(
        "GAP-NARROW",
        "note",
        "springs",
        "Fine for close springing; if not meant, space evenly.",
        SCHOOLS,
        least,
    )
    said = _Said(
        fault,
        lambda who, mm: f"{who} are {length(deck, mm)} apart; {than}",
        f"pairs of springs are nearer than the wished {length(deck, wish)}",
    )
    return _told(parts, said, parts.spaces.neighbours[narrow], gap[narrow])


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
    mend = "If not meant, add springs, take larger ones or space evenly."
    fault = Fault("GAP-WIDE", "note", "springs", mend, SCHOOLS, wish + limits.gap_off)
    message = (
        f"{who} {are} {span(deck, float(gap.min()), float(gap.max()))} from {their} nearest "
        f"{'neighbour' if len(rows) == 1 else 'neighbours'}{far if beyond else ''}; "
        f"the wish is {length(deck, wish)}."
    )
    return [fault.found(message, float(gap.max()), springs, middle(parts, springs))]


def _told(parts: Parts, said: _Said, pairs: Pairs, gap: Array) -> list[Finding]:
    """A finding for each pair, or one for all where there are many."""
    if len(pairs) <= PAIRS_TOLD_SINGLY:
        return [_of_pairs(parts, said, pairs[[i]], gap[[i]]) for i in range(len(pairs))]
    return [_of_pairs(parts, said, pairs, gap)]


def _of_pairs(parts: Parts, said: _Said, pairs: Pairs, gap: Array) -> Finding:
    """One finding about ``pairs`` (k, 2), which speaks of the nearest."""
    worst = int(gap.argmin())
    nearest = springs_at(parts, pairs[worst])
    message = said.say(springs_named(parts, nearest), float(gap[worst]))
    if len(pairs) > 1:
        message = f"{opened(number_word(len(pairs)))} {said.many}; the nearest: {message}"
    springs, place = springs_at(parts, np.unique(pairs)), middle(parts, nearest)
    return said.fault.found(f"{message}.", float(gap[worst]), springs, place)
