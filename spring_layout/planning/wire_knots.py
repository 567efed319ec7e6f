"""How each coil is turned, so that its wire knot lies clear of every tie and stitch.

The knot of a top coil is where the wire's end is wound round the coil: twine tied over it chafes
and slips. A knot is clear where no hitch on the top coil, and no stitch on the bottom coil, lies
within the limit ``knot_clear`` along the ring. The usual turn of 45 degrees to the rows (common
practice, no source) is kept wherever it is clear; else the knot goes to the middle of the widest
free stretch of ring, of equally wide ones the one nearest to 45 degrees. Bottom and top knots are
taken to stand above each other, as on coils of whole turns.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from spring_layout.deck.model import Deck
from spring_layout.planning.parts import HitchPlan, Standing

USUAL_TURN = 45.0
"""degrees from the x axis: halfway between the rows and the columns. Common practice, no source."""

_QUARTERS = (0.0, 90.0, 180.0, 270.0)


def turns_apart(first: float, second: float) -> float:
    """The angle between two directions, degrees, 0 to 180."""
    return abs((first - second + 180.0) % 360.0 - 180.0)


def room(turn: float, taken: Iterable[float]) -> float:
    """The angle from ``turn`` to the nearest of the ``taken`` directions, degrees; 180 if none."""
    return min((turns_apart(turn, other) for other in taken), default=180.0)


def hitch_directions(standing: Standing, hitches: HitchPlan) -> dict[str, list[float]]:
    """For each spring the directions, degrees, of the hitches on its top coil."""
    centres = dict(zip(standing.ids, standing.centres.tolist(), strict=True))
    directions = defaultdict(list)
    for hitch in hitches.in_order:
        if hitch.ring == 1:
            x, y = centres[hitch.spring]
            angle = math.degrees(math.atan2(hitch.place[1] - y, hitch.place[0] - x))
            directions[hitch.spring].append(angle)
    return directions


def suggested_turn(taken: Sequence[float], least: float) -> float:
    """The turn, degrees, that keeps ``least`` degrees from every ``taken`` direction, or the best.

    ``taken`` may be empty; the answer lies from 0 up to 360.
    """
    if room(USUAL_TURN, taken) >= least:
        return USUAL_TURN
    around = sorted({angle % 360.0 for angle in taken})
    around.append(around[0] + 360.0)
    middles = [((a + b) / 2 % 360.0, b - a) for a, b in pairwise(around)]
    return min(middles, key=lambda m: (-round(m[1], 6), turns_apart(m[0], USUAL_TURN), m[0]))[0]


def suggested_turns(deck: Deck, standing: Standing, hitches: HitchPlan) -> Mapping[str, float]:
    """For each spring with a knotted top coil the turn that keeps its wire knot clear, degrees."""
    directions = hitch_directions(standing, hitches)
    coils = {coil.id: coil for coil in deck.coils}
    turns = {}
    for spring in deck.springs:
        coil = coils[spring.coil]
        if coil.ends == "knotted-both":
            least = math.degrees(deck.spacing.limits.knot_clear / coil.top_radius)
            turns[spring.id] = suggested_turn([*directions[spring.id], *_QUARTERS], least)
    return turns
