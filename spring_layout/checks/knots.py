"""The wire knot of each top coil, and the ties that pass over the coil near it."""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence

from spring_layout.checks.words import COMMON_PRACTICE, middle, opened, springs_named, ties_named
from spring_layout.deck.model import Deck
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Parts

USUAL_TURN = 45.0
"""degrees. A spring that stands at this turn has not been turned by the user yet."""

_Near = tuple[str, int, float]
"""A spring, the tie near its wire knot, how near along the coil, mm."""


def check_wire_knots(deck: Deck, parts: Parts) -> list[Finding]:
    """KNOT-UNDER-TIE (doubtful): a tie's hitch would sit on the wire knot of a top coil.

    Springs still at the usual 45 degrees, not yet turned by the user, make a note, KNOT-TURN.
    """
    hitches = hitches_on_top(parts)
    coils = {coil.id: coil for coil in deck.coils}
    turned: list[_Near] = []
    usual: list[_Near] = []
    for spring in deck.springs:
        coil = coils[spring.coil]
        if coil.ends != "knotted-both" or not hitches[spring.id]:
            continue
        away, line = min((_apart(spring.turned, angle), n) for angle, n in hitches[spring.id])
        reach = math.radians(away) * coil.top_radius
        if reach < deck.spacing.limits.knot_clear:
            told = usual if spring.turned == USUAL_TURN else turned
            told.append((spring.id, line, reach))
    return [
        *_told(deck, parts, turned, "KNOT-UNDER-TIE", ""),
        *_told(deck, parts, usual, "KNOT-TURN", "at the usual 45 degrees "),
    ]


def hitches_on_top(parts: Parts) -> Mapping[str, list[tuple[float, int]]]:
    """For each spring the directions (degrees) of the hitches on its top coil, and their ties."""
    centres = dict(zip(parts.standing.ids, parts.standing.centres.tolist(), strict=True))
    on_top: defaultdict[str, list[tuple[float, int]]] = defaultdict(list)
    for hitch in parts.hitches.in_order:
        if hitch.ring == 1:
            (x, y), (u, v, _) = centres[hitch.spring], hitch.place
            on_top[hitch.spring].append((math.degrees(math.atan2(v - y, u - x)), hitch.line))
    return on_top


def _apart(first: float, second: float) -> float:
    """The angle between two directions, degrees, 0 to 180."""
    return abs((first - second + 180) % 360 - 180)


def _told(deck: Deck, parts: Parts, found: Sequence[_Near], code: str, where: str) -> list[Finding]:
    """One finding about all wire knots near ties, none where there are none."""
    if not found:
        return []
    under = {spring for spring, _, _ in found}
    springs = tuple(spring for spring in parts.labels if spring in under)
    lines = tuple(sorted({line for _, line, _ in found}))
    one = len(springs) == 1
    who = "all springs" if len(springs) == len(parts.labels) > 1 else springs_named(parts, springs)
    said = f"{where}the wire {'knot' if one else 'knots'} of {who} {'lies' if one else 'lie'} under"
    return [
        Finding(
            code=code,
            severity="doubtful" if code == "KNOT-UNDER-TIE" else "note",
            stage="ties",
            message=f"{opened(said)} {ties_named(lines)}.",
            mend=f"Turn {'it' if one else 'each'} until the knot lies between two ties.",
            source=COMMON_PRACTICE,
            springs=springs,
            lines=lines,
            value=min(reach for _, _, reach in found),
            limit=deck.spacing.limits.knot_clear,
            place=middle(parts, springs),
        )
    ]
