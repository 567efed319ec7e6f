"""The base: no webbing to stand on, feet that miss it, strips that lie over each other."""

from collections.abc import Mapping, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from spring_layout.checks.faults import Fault
from spring_layout.checks.words import (
    COMMON_PRACTICE,
    length,
    listed,
    middle,
    side_named,
    springs_at,
    springs_named,
)
from spring_layout.deck.model import Deck
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Parts, StripRun
from spring_layout.planning.stitching import foot_points
from spring_layout.planning.webbing import SCHOOL_SIZES, on_strips
from spring_layout.tolerances import SAME_PLACE

RUNS: tuple[tuple[StripRun, str], ...] = (
    ("front-to-back", "front to back"),
    ("side-to-side", "side to side"),
)


def check_feet(deck: Deck, parts: Parts) -> list[Finding]:
    """What the feet stand on; a plywood floor has nothing to tell.

    WEB-NONE (wrong): no webbing at all. WEB-ONE-WAY (doubtful): feet over strips of one direction
    only. STITCH-OFF-WEB (doubtful): a foot's stitch falls between the strips, into nothing.
    """
    if deck.webbing.fixed == "plywood":
        return []
    if not parts.webbing.strips:
        return [NO_WEBBING.found(NOTHING_LAID, 0.0, (), None)]
    _, points = foot_points(deck.springs, deck.coils, deck.stitching)
    found, is_off = [], np.ones(points.shape[:2], bool)
    for run, words in RUNS:
        strips = parts.webbing.of(run)
        on = on_strips(strips, points.reshape(-1, 2)).reshape(points.shape[:2])
        is_off &= ~on
        missed = np.flatnonzero(~on.any(axis=1))
        if len(missed):
            springs = springs_at(parts, missed)
            found.append(_one_way(parts, springs, words, is_laid=bool(strips)))
    if parts.webbing.foot_fixing == "stitch" and is_off.any():
        found.append(_stitches(parts, is_off))
    return found


NOTHING_LAID = "There is no webbing, so the springs have nothing to stand on or to be fixed to."
NO_WEBBING = Fault(
    "WEB-NONE",
    "wrong",
    "base",
    "Lay strips of webbing both ways, of a width that the opening holds, or a plywood floor.",
    COMMON_PRACTICE,
)
ONE_WAY = Fault(
    "WEB-ONE-WAY",
    "doubtful",
    "base",
    "Lay strips that way too, woven over and under the others, so that each foot stands on a "
    "crossing.",
    "Springs stand where strips cross: British handbook of 1961; Johnson 1919.",
    0.0,
)


def _one_way(parts: Parts, springs: tuple[str, ...], words: str, *, is_laid: bool) -> Finding:
    """The finding about springs under which no strip runs the way of ``words``."""
    many = len(springs) > 1
    who = "all springs" if many and len(springs) == len(parts.labels) else None
    who = who or springs_named(parts, springs)
    if is_laid:
        feet = "feet of" if many else "foot of"
        said = f"No strip of webbing runs {words} under the {feet} {who}."
    else:
        said = f"No webbing runs {words}, so {who} {'stand' if many else 'stands'} on no crossing."
    return ONE_WAY.found(said, float(len(springs)), springs, middle(parts, springs))


OFF_WEB = Fault(
    "STITCH-OFF-WEB",
    "doubtful",
    "base",
    "Move a strip of webbing under the foot, lay another, or move the spring onto a crossing.",
    "French and US workshops: four stitches to a foot, each through the webbing.",
    0.0,
)


def _stitches(parts: Parts, is_off: NDArray[np.bool_]) -> Finding:
    """The finding about stitches that fall between the strips; ``is_off``: (springs, stitches)."""
    springs = springs_at(parts, np.flatnonzero(is_off.any(axis=1)))
    count = int(is_off.sum())
    said = "stitch of the foot" if count == 1 else f"{count} stitches of the feet"
    message = (
        f"{'A ' if count == 1 else ''}{said} of {springs_named(parts, springs)} "
        f"{'falls' if count == 1 else 'fall'} between the strips of webbing."
    )
    return OFF_WEB.found(message, float(count), springs, middle(parts, springs))


OVER_RAILS = Fault(
    "WEB-OVER-RAIL",
    "note",
    "base",
    "Measure again from the webbing's face to the rail's top, or fix the webbing under the rails.",
    COMMON_PRACTICE,
    12.0,
)
"""mm. What a strip's own thickness and a folded end can make up."""


def check_over_rails(deck: Deck, parts: Parts) -> list[Finding]:
    """WEB-OVER-RAIL (note): webbing over the rails lies level with them, not below their tops."""
    frame, least = deck.frame, OVER_RAILS.limit or 0.0
    if deck.webbing.fixed != "over-rails" or not parts.webbing.strips:
        return []
    above = {
        i: frame.top_of(i)
        for i, side in enumerate(frame.sides)
        if side.rail != "none" and frame.top_of(i) > least
    }
    if not above:
        return []
    most = max(above.values())
    rails = listed([side_named(deck, side) for side in above])
    stand = "is said to stand" if len(above) == 1 else "are said to stand up to"
    message = (
        f"The webbing goes over the rails, so its face lies level with their tops; but {rails} "
        f"{stand} {length(deck, most)} above it."
    )
    return [OVER_RAILS.found(message, most, (), None, sides=tuple(above))]


SCHOOL_NAMES: Mapping[str, str] = {"us": "American", "uk": "British", "fr": "French"}
SCHOOL = Fault(
    "WEB-SCHOOL",
    "note",
    "base",
    "Give the width and the gap of the webbing that you have, or name its school.",
    "Width: Johnson 1919; British and French workshops. Gap: US workshops; British handbook of "
    "1961; French workshops.",
)


def check_school(deck: Deck, parts: Parts) -> list[Finding]:
    """WEB-SCHOOL (note): webbing of another school's width and gap than of the one it names."""
    web = deck.webbing
    others = [name for name, sizes in SCHOOL_SIZES.items() if sizes == (web.width, web.gap)]
    if web.school in others or not others or not parts.webbing.strips:
        return []
    own, named = SCHOOL_SIZES[web.school], SCHOOL_NAMES[web.school]
    message = (
        f"The webbing is said to be {named}, of strips {_laid(deck, *own)}, but has the "
        f"{SCHOOL_NAMES[others[0]]} strips, {_laid(deck, web.width, web.gap)}."
    )
    return [SCHOOL.found(message, web.width, (), None, limit=own[0])]


def _laid(deck: Deck, width: float, gap: float) -> str:
    apart = f"{length(deck, gap)} apart" if gap else "edge to edge"
    return f"{length(deck, width)} wide and {apart}"


def check_strips(deck: Deck, parts: Parts) -> list[Finding]:
    """STRIP-OVERLAP (doubtful): strips set by hand that lie over each other."""
    found = []
    for (run, words), by_hand in zip(RUNS, parts.webbing.set_by_hand, strict=True):
        places = sorted({strip.at for strip in parts.webbing.of(run)})
        width = deck.webbing.width
        apart = [b - a for a, b in pairwise(places)]
        if by_hand and min(apart, default=width) < width - SAME_PLACE:
            found.append(_overlap(deck, run, words, apart))
    return found


def _overlap(deck: Deck, run: StripRun, words: str, apart: Sequence[float]) -> Finding:
    """The finding about the strips whose middles stand nearest, ``apart`` mm from the first on."""
    over, first = deck.webbing.width - min(apart), apart.index(min(apart)) + 1
    begin = "left" if run == "front-to-back" else "back"
    return Finding(
        code="STRIP-OVERLAP",
        severity="doubtful",
        stage="base",
        message=f"Two strips of webbing {words}, numbers {first} and {first + 1} from the {begin}, "
        f"lie over each other by {length(deck, over)}.",
        mend="Move one aside, or let the program lay the strips.",
        source=COMMON_PRACTICE,
        value=over,
        limit=0.0,
    )
