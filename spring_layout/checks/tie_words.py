"""How a tie is told in words: where it is tacked, which coils it is knotted to, its cross knots.

The report and the sheets on paper say the same, so both take their words from here.
"""

import math
from collections import defaultdict
from collections.abc import Iterable
from itertools import groupby, pairwise

import numpy as np

from spring_layout.checks.words import side_named
from spring_layout.deck.model import Deck, Point
from spring_layout.planning.parts import Crossing, Line, Parts
from spring_layout.planning.twine_geometry import first_tail
from spring_layout.units import format_length


def listed_all(names: list[str]) -> str:
    """All names: "A1, A2 and A3"."""
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last


def tack_words(parts: Parts, line: Line, end: int) -> str:
    """Where ``line`` is tacked at its start (0) or finish (1), in words.

    "the back rail, 5 1/2 in left of centre"; without a rail "A1, where it ends without a rail".
    """
    side, along = line.sides[end], line.along[end]
    if side is None or along is None:
        spring = parts.labels[line.springs[0 if end == 0 else -1]]
        return f"{spring}, where it ends without a rail"
    name, distance = side_named(parts.deck, side), from_mark(parts, side, along)
    return f"{name}, {distance} centre" if distance else f"the centre of {name}"


def from_mark(parts: Parts, side: int, along: float) -> str:
    """How far a place of a side is from that side's centre mark: "5 1/2 in left of"; "" there.

    ``along``: from the side's first corner along the inside edge, mm.
    """
    away = abs(along - parts.standing.outline.sides[side].length / 2)
    distance = format_length(away, parts.deck.units)  # nobody measures a hair off the mark
    return "" if distance.startswith("0 ") else f"{distance} {_way(parts, side, along)}"


def _way(parts: Parts, side: int, along: float) -> str:
    """Which way from the centre mark: left or right on back and front, else behind or forward."""
    curve = parts.standing.outline.sides[side]
    dx, dy = np.asarray(curve.point(along)) - curve.point(curve.length / 2)
    if parts.deck.frame.sides[side].rail in ("back", "front"):
        return "left of" if dx < 0 else "right of"
    return "behind" if dy < 0 else "forward of"


_RING_WORDS = {
    1: "top coil",
    2: "second coil down",
    3: "third coil down",
    4: "fourth coil down",
    5: "fifth coil down",
}


def coil_named(ring: int) -> str:
    """A ring of a spring, counted from the top, as people say it: "second coil down"."""
    return _RING_WORDS.get(ring, f"coil {ring} from the top")


def ring_words(parts: Parts, line: Line) -> str:
    """Which coil the outer hitches at both ends sit on, and the return ties: a sentence or none."""
    hitches = parts.hitches.lines[line.number - 1]
    rings = (hitches.along[0].ring, hitches.along[-1].ring)
    if rings == (1, 1):
        return ""
    count = sum(hitch is not None for hitch in hitches.returns)
    back = parts.told(("", ", with a return tie", ", with return ties")[count])
    names = [coil_named(ring) for ring in rings]
    if names[0] == names[1]:
        return f"Outer hitches on the {names[0]} at both ends{back}."
    ends = (parts.labels[line.springs[0]], parts.labels[line.springs[-1]])
    where = " and ".join(f"the {name} of {end}" for name, end in zip(names, ends, strict=True))
    return f"Outer hitches on {where}{back}."


def tail_words(parts: Parts, line: Line) -> str:
    """What to leave at the first tack for the return tie there: words for amid a sentence, or none.

    ", leaving 8 1/2 in beyond the tack for the return tie"
    """
    tail = first_tail(parts.deck, parts.hitches.lines[line.number - 1])
    if not tail:
        return ""
    length = format_length(tail, parts.deck.units, "cut")
    return parts.told(f", leaving {length} beyond the tack for the return tie")


def knot_words(parts: Parts, line: Line, made: Iterable[Crossing]) -> str:
    """The cross knots that ``line`` makes, in its direction: "to 2 and 5 over B2; to 7 ...".

    Several on one stretch are told together: "to 8, then to 5 between the left rail and C2".
    """
    in_turn = sorted(made, key=lambda crossing: _reach(line, crossing))
    stretches = groupby(in_turn, key=lambda crossing: _where(parts, line, crossing))
    return "; ".join(
        f"{', then '.join(_to(line, crossing) for crossing in knots)} {where}"
        for where, knots in stretches
    )


def _to(line: Line, crossing: Crossing) -> str:
    """The other ties that meet in a cross knot: "to 2 and 5"."""
    return f"to {listed_all([str(number) for number in crossing.lines if number != line.number])}"


def _reach(line: Line, crossing: Crossing) -> float:
    """How far along ``line`` the crossing lies, mm."""
    stretch, beyond = _stretch(line, crossing)
    path = line.path
    return math.fsum(math.dist(path[i], path[i + 1]) for i in range(stretch)) + beyond


def _stretch(line: Line, crossing: Crossing) -> tuple[int, float]:
    """The stretch of ``line`` nearest to the crossing, and how far along it that is, mm."""
    found = ((*_beside(a, b, crossing.place), i) for i, (a, b) in enumerate(pairwise(line.path)))
    _, beyond, stretch = min(found, default=(0.0, 0.0, 0))
    return stretch, beyond


def _beside(start: Point, finish: Point, place: Point) -> tuple[float, float]:
    """How far ``place`` is from the straight stretch, and how far along it its foot is, mm."""
    (x, y), length = start, math.dist(start, finish)
    if length == 0:
        return math.dist(start, place), 0.0
    dx, dy = (finish[0] - x) / length, (finish[1] - y) / length
    along = min(max((place[0] - x) * dx + (place[1] - y) * dy, 0.0), length)
    return math.dist((x + along * dx, y + along * dy), place), along


def _where(parts: Parts, line: Line, crossing: Crossing) -> str:
    """ "over B2", "between B2 and C3", "between the left rail and B1"."""
    if crossing.spring is not None:
        return f"over {parts.labels[crossing.spring]}"
    stretch, _ = _stretch(line, crossing)
    first = stretch - (1 if line.anchors[0] else 0)
    ends = [_named(parts, line, first, 0), _named(parts, line, first + 1, 1)]
    return f"between {ends[0]} and {ends[1]}"


def _named(parts: Parts, line: Line, spring: int, end: int) -> str:
    """The spring of ``line`` by its place in it; before the first and after the last the rail."""
    if 0 <= spring < len(line.springs):
        return parts.labels[line.springs[spring]]
    side = line.sides[end]
    return "the rail" if side is None else side_named(parts.deck, side)


def knots_by_tie(parts: Parts) -> dict[int, list[Crossing]]:
    """The cross knots that each tie makes, by its number; ties that make none are left out."""
    made: dict[int, list[Crossing]] = defaultdict(list)
    for crossing in parts.ties.crossings:
        made[crossing.tied_by].append(crossing)
    return dict(made)


def pieces_to_cut(parts: Parts) -> list[tuple[str, list[int]]]:
    """The pieces to cut, longest first: each length and the ties that take a piece of it."""
    pieces: dict[str, list[int]] = defaultdict(list)
    rows = sorted(parts.twine.lines, key=lambda row: (-row.cut_length, row.number))
    for row in rows:
        pieces[format_length(row.cut_length, parts.deck.units, "cut")].append(row.number)
    return [(cut, sorted(numbers)) for cut, numbers in pieces.items()]


def twine_total(deck: Deck, mm: float) -> str:
    """A long length of twine as it is bought, rounded up: "52 ft", "15.8 m"."""
    if deck.units == "in":
        return f"{np.ceil(mm / 304.8 - 1e-6):.0f} ft"
    return f"{np.ceil(mm / 100 - 1e-6) / 10:.1f} m"
