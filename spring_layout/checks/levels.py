"""Tops that stand off: from the heights meant, once tied, and from a lower rail of arm or back."""

import numpy as np
from numpy.typing import NDArray

from spring_layout.checks.faults import Fault
from spring_layout.checks.words import (
    COMMON_PRACTICE,
    length,
    middle,
    side_named,
    span,
    springs_at,
    springs_named,
)
from spring_layout.deck.model import Deck
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Parts
from spring_layout.tolerances import SAME_PLACE

TIE_AGAIN = "Untie and tie again what stands off, before it is covered."
TO_LOWER_RAIL = "Change the tied height, or measure again to the lower edge of that rail."


def check_measured(deck: Deck, parts: Parts) -> list[Finding]:
    """HEIGHT-MEASURED (doubtful): springs found off the slope and crown meant, once tied."""
    limit = deck.spacing.limits.height_step
    nothing = float("nan")
    found = np.array(
        [nothing if s.measured_height is None else s.measured_height for s in deck.springs]
    )
    off = found - parts.heights.tied
    rows = np.flatnonzero(np.abs(off) > limit + SAME_PLACE)
    if len(rows) == 0:
        return []
    springs = springs_at(parts, rows)
    worst = float(off[rows[np.abs(off[rows]).argmax()]])
    fault = Fault("HEIGHT-MEASURED", "doubtful", "height", TIE_AGAIN, COMMON_PRACTICE, limit)
    message = f"{_stand(deck, parts, springs, worst)} than its slope and crown ask for."
    return [fault.found(message, worst, springs, middle(parts, springs))]


def _stand(deck: Deck, parts: Parts, springs: tuple[str, ...], worst: float) -> str:
    """ "Once tied B2 stands 2 in lower", "... B1 and B2 stand up to 2 in higher or lower"."""
    far = length(deck, abs(worst))
    one = len(springs) == 1
    way = "higher" if worst > 0 else "lower"
    how = f"stands {far} {way}" if one else f"stand up to {far} higher or lower"
    return f"Once tied {springs_named(parts, springs)} {how}"


def check_lower_rails(deck: Deck, parts: Parts) -> list[Finding]:
    """TOP-AT-RAIL (doubtful): tops too low or high beside the lower rail of an arm or a back."""
    found = []
    for side, own in enumerate(deck.frame.sides):
        if own.lower_rail is not None:
            found += _beside(deck, parts, side, own.lower_rail)
    return found


def _beside(deck: Deck, parts: Parts, side: int, lower_edge: float) -> list[Finding]:
    limits, rows = deck.spacing.limits, _nearest_to(parts, side)
    over = parts.heights.tied[rows] - lower_edge
    low = over < limits.over_lower_rail_least - SAME_PLACE
    high = over > limits.over_lower_rail_most + SAME_PLACE
    return [
        *_off(deck, parts, side, rows[low], over[low], limits.over_lower_rail_least),
        *_off(deck, parts, side, rows[high], over[high], limits.over_lower_rail_most),
    ]


def _nearest_to(parts: Parts, side: int) -> NDArray[np.intp]:
    """The rows of the springs that are tied to that side by ties front to back or side to side."""
    ends = {
        line.springs[0 if end == 0 else -1]
        for line in parts.ties.lines
        for end in (0, 1)
        if line.sides[end] == side and line.run in ("front-to-back", "side-to-side")
    }
    return np.array(sorted(parts.standing.index[spring] for spring in ends), np.intp)


def _off(
    deck: Deck,
    parts: Parts,
    side: int,
    rows: NDArray[np.intp],
    over: NDArray[np.float64],
    limit: float,
) -> list[Finding]:
    """The finding about springs whose tops stand ``over`` (mm) the lower edge beside them."""
    if len(rows) == 0:
        return []
    least, most = (
        deck.spacing.limits.over_lower_rail_least,
        deck.spacing.limits.over_lower_rail_most,
    )
    springs = springs_at(parts, rows)
    worst = float(over[np.abs(over - limit).argmax()])
    where = f"{length(deck, abs(worst))} {'over' if worst >= 0 else 'under'}"
    message = (
        f"{'The top' if len(rows) == 1 else 'Tops'} of {springs_named(parts, springs)} "
        f"{'stands' if len(rows) == 1 else 'stand up to'} {where} the lower edge of the lower rail "
        f"at {side_named(deck, side)}; usual is {span(deck, least, most)} over."
    )
    fault = Fault("TOP-AT-RAIL", "doubtful", "height", TO_LOWER_RAIL, COMMON_PRACTICE, limit)
    return [fault.found(message, worst, springs, middle(parts, springs), sides=(side,))]
