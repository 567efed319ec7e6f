"""The wire knot of each top coil, and the ties that pass over the coil near it."""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence

from spring_layout.checks.words import COMMON_PRACTICE, middle, springs_named
from spring_layout.deck.model import Deck
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Line, Parts

USUAL_TURN = 45.0
"""degrees. A spring that stands at this turn has not been turned by the user yet."""

_Near = tuple[str, int, float]
"""A spring, the tie near its wire knot, how near along the coil, mm."""


def check_wire_knots(deck: Deck, parts: Parts) -> list[Finding]:
    """KNOT-UNDER-TIE (doubtful): a tie's hitch would sit on the wire knot of a top coil.

    Springs still at the usual 45 degrees, not yet turned by the user, are told together in one
    note, KNOT-TURN.
    """
    ways = _ways_out(parts.ties.lines)
    coils = {coil.id: coil for coil in deck.coils}
    turned: list[_Near] = []
    usual: list[_Near] = []
    for spring in deck.springs:
        coil = coils[spring.coil]
        if coil.ends != "knotted-both" or not ways[spring.id]:
            continue
        away, line = min((_apart(spring.turned, angle), n) for angle, n in ways[spring.id])
        reach = math.radians(away) * coil.top_radius
        if reach < deck.spacing.limits.knot_clear:
            told = usual if spring.turned == USUAL_TURN else turned
            told.append((spring.id, line, reach))
    return [*(_under(deck, parts, *one) for one in turned), *_usual(deck, parts, usual)]


def _ways_out(lines: Sequence[Line]) -> Mapping[str, list[tuple[float, int]]]:
    """For each spring the directions (degrees) in which ties leave its centre, and their lines."""
    ways: defaultdict[str, list[tuple[float, int]]] = defaultdict(list)
    for line in lines:
        path = line.path
        first = 1 if line.anchors[0] else 0
        for i, spring in enumerate(line.springs, first):
            ways[spring] += [
                (_direction(path[i], path[j]), line.number)
                for j in (i - 1, i + 1)
                if 0 <= j < len(path)
            ]
    return ways


def _direction(start: Sequence[float], finish: Sequence[float]) -> float:
    return math.degrees(math.atan2(finish[1] - start[1], finish[0] - start[0]))


def _apart(first: float, second: float) -> float:
    """The angle between two directions, degrees, 0 to 180."""
    return abs((first - second + 180) % 360 - 180)


def _under(deck: Deck, parts: Parts, spring: str, line: int, reach: float) -> Finding:
    return Finding(
        code="KNOT-UNDER-TIE",
        severity="doubtful",
        stage="ties",
        message=f"The wire knot of {springs_named(parts, [spring])} lies under tie {line}.",
        mend="Turn the spring until its knot lies between two ties.",
        source=COMMON_PRACTICE,
        springs=(spring,),
        lines=(line,),
        value=reach,
        limit=deck.spacing.limits.knot_clear,
        place=middle(parts, [spring]),
    )


def _usual(deck: Deck, parts: Parts, found: Sequence[_Near]) -> list[Finding]:
    """The one note about springs at the usual turn whose knots lie under a diagonal tie."""
    if not found:
        return []
    under = {spring for spring, _, _ in found}
    springs = tuple(spring for spring in parts.labels if spring in under)
    one = len(springs) == 1
    who = "all springs" if len(springs) == len(parts.labels) > 1 else springs_named(parts, springs)
    return [
        Finding(
            code="KNOT-TURN",
            severity="note",
            stage="ties",
            message=f"At the usual 45 degrees the wire {'knot' if one else 'knots'} of {who} "
            f"{'lies' if one else 'lie'} under a tie.",
            mend="Turn each until its knot lies between two ties.",
            source=COMMON_PRACTICE,
            springs=springs,
            lines=tuple(sorted({line for _, line, _ in found})),
            value=min(reach for _, _, reach in found),
            limit=deck.spacing.limits.knot_clear,
            place=middle(parts, springs),
        )
    ]
