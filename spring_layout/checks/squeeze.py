"""How far each spring is tied down, and what its coil can take."""

import numpy as np
from numpy.typing import NDArray

from spring_layout.checks.words import (
    COMMON_PRACTICE,
    length,
    middle,
    percent,
    springs_at,
    springs_named,
)
from spring_layout.deck.model import Deck
from spring_layout.planning.coil_shape import solid_height
from spring_layout.planning.finding import Finding, Severity
from spring_layout.planning.heights import free_heights
from spring_layout.planning.parts import Parts
from spring_layout.tolerances import SAME_PLACE

SOURCE = (
    "19th-century British upholstery chapters: 6 in springs tied to 4 1/2 in (25 %); French and US "
    "workshops: 20 to 35 %, or 38 to 75 mm (1 1/2 to 3 in)."
)

_SHARE_NOISE = 1e-6


def check_squeeze(deck: Deck, parts: Parts) -> list[Finding]:
    """SQUEEZE-NONE (wrong), SQUEEZE-SMALL and SQUEEZE-LARGE (doubtful), SQUEEZE-SOLID (wrong).

    A spring is within range when its share of the free height is, or how far it is tied down.
    """
    limits, share = deck.spacing.limits, parts.heights.squeeze
    down = free_heights(deck) - parts.heights.tied
    none = down <= SAME_PLACE
    small = (
        ~none
        & (share < limits.squeeze_least - _SHARE_NOISE)
        & (down < limits.squeeze_least_depth - SAME_PLACE)
    )
    large = (share > limits.squeeze_most + _SHARE_NOISE) & (
        down > limits.squeeze_most_depth + SAME_PLACE
    )
    solid = _solid_heights(deck) >= parts.heights.tied - SAME_PLACE
    return [
        *_squeezed(parts, "SQUEEZE-NONE", none),
        *_squeezed(parts, "SQUEEZE-SMALL", small),
        *_squeezed(parts, "SQUEEZE-LARGE", large & ~solid),
        *_squeezed(parts, "SQUEEZE-SOLID", solid & ~none),
    ]


def _solid_heights(deck: Deck) -> NDArray[np.float64]:
    """(n,) the height at which the turns lie on each other, mm."""
    solid = {coil.id: solid_height(coil) for coil in deck.coils}
    return np.array([solid[spring.coil] for spring in deck.springs], float)


def _squeezed(parts: Parts, code: str, which: NDArray[np.bool_]) -> list[Finding]:
    """One finding about all springs of ``which`` (n,), None where there are none."""
    rows = np.flatnonzero(which)
    if len(rows) == 0:
        return []
    share = parts.heights.squeeze[rows]
    worst = float(share.max() if code in ("SQUEEZE-LARGE", "SQUEEZE-SOLID") else share.min())
    springs = springs_at(parts, rows)
    severity, says, mend, limit = _told(parts, code, worst)
    everyone = len(rows) == len(parts.standing.ids)
    who = "All springs" if everyone and len(rows) > 1 else springs_named(parts, springs)
    are = "is" if len(rows) == 1 else "are"
    return [
        Finding(
            code=code,
            severity=severity,
            stage="height",
            message=f"{who} {are} {says}.",
            mend=mend,
            source=SOURCE,
            springs=springs,
            value=worst,
            limit=limit,
            place=middle(parts, springs),
        )
    ]


def _told(parts: Parts, code: str, worst: float) -> tuple[Severity, str, str, float]:
    """(severity, what is said of the springs, mend, limit) of each code."""
    limits = parts.deck.spacing.limits
    least, most = percent(limits.squeeze_least), percent(limits.squeeze_most)
    if code == "SQUEEZE-NONE":
        mend = "Tie lower, or take springs of a greater free height."
        return "wrong", "tied no lower than the free height, so the ties hold nothing", mend, 0.0
    if code == "SQUEEZE-SMALL":
        says = f"tied down by only {percent(worst)} of the free height; usual is {least} to {most}"
        return "doubtful", says, "Tie lower, or take taller springs.", limits.squeeze_least
    if code == "SQUEEZE-LARGE":
        says = f"tied down by {percent(worst)} of the free height; usual is {least} to {most}"
        return "doubtful", says, "Tie higher, or take shorter springs.", limits.squeeze_most
    says = "tied to where the turns lie on each other and nothing gives any more"
    return "wrong", says, "Tie higher, or take springs of fewer turns.", limits.squeeze_most


def check_heights(deck: Deck, parts: Parts) -> list[Finding]:
    """HEIGHT-BETWEEN (doubtful): a step between neighbours' tied heights that will be felt."""
    pairs, tied = parts.spaces.neighbours, parts.heights.tied
    step = np.abs(tied[pairs[:, 0]] - tied[pairs[:, 1]])
    limit = deck.spacing.limits.height_between
    over = step > limit + SAME_PLACE
    if not over.any():
        return []
    springs = springs_at(parts, pairs[int(step.argmax())])
    most, count = float(step.max()), int(over.sum())
    others = "those of one more pair" if count == 2 else f"those of {count - 1} more pairs"
    more = f", {others} by more than {length(deck, limit)}" if count > 1 else ""
    return [
        Finding(
            code="HEIGHT-BETWEEN",
            severity="doubtful",
            stage="height",
            message=f"The tied heights of {springs_named(parts, springs)} differ by "
            f"{length(deck, most)}{more}.",
            mend="Lower the crown, or bring the back's tied height nearer to the front's.",
            source=COMMON_PRACTICE,
            springs=springs_at(parts, np.unique(pairs[over])),
            value=most,
            limit=limit,
            place=middle(parts, springs),
        )
    ]
