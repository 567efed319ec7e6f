"""The tack points: where each tie ends on a rail, told by running distances.

Each tack point is told by the number of its tie and its distance along the inside edge from the
middle of its side, where the rail has a centre mark, since posts hide the corners.
"""

import math
from collections import defaultdict
from dataclasses import dataclass

from spring_layout.drawing.primitives import Place
from spring_layout.planning.parts import Line, Parts
from spring_layout.units import format_length


@dataclass(frozen=True)
class Tack:
    """One tack point: its tie's number and run, its place, and where along its side, mm.

    ``distance`` is measured along the inside edge from the middle of the side, + clockwise.
    """

    line: Line
    side: int
    along: float
    anchor: Place
    toward: Place
    distance: float


def tacks_of(parts: Parts) -> dict[int, list[Tack]]:
    """The tack points of each side that has any, in order along the side."""
    sides = parts.standing.outline.sides
    found: dict[int, list[Tack]] = defaultdict(list)
    for line in parts.ties.lines:
        inner = (line.centres[0], line.centres[-1])
        for side, along, anchor, toward in zip(
            line.sides, line.along, line.anchors, inner, strict=True
        ):
            if side is not None and along is not None and anchor is not None:
                distance = along - sides[side].length / 2
                found[side].append(Tack(line, side, along, anchor, toward, distance))
    return {side: sorted(found[side], key=lambda t: (t.along, t.line.number)) for side in found}


def distance_words(tack: Tack, parts: Parts) -> str:
    """The distance from the centre mark and which way, such as "5 1/2 L", "3 F" or "0"."""
    words = format_length(abs(tack.distance), parts.deck.units, unit=False)
    return words if words == "0" else f"{words} {way_words(tack, parts)}"


def way_words(tack: Tack, parts: Parts) -> str:
    """Which way from the centre mark: L or R along back and front, B or F along left and right."""
    curve = parts.standing.outline.sides[tack.side]
    heading = float(curve.heading(curve.length / 2))
    if parts.deck.frame.sides[tack.side].rail in ("back", "front"):
        return "L" if tack.distance * math.cos(heading) < 0 else "R"
    return "B" if tack.distance * math.sin(heading) < 0 else "F"
