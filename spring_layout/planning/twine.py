"""The twine, first cut: how long each tie is over the springs, and what the rule of thumb cuts.

The rules of thumb disagree; the user chooses one:

* ``over-springs-3``: three times the length over the springs, with return tie and knots (French
  workshop pages on guindage, and common practice).
* ``single-1.67``: one and two thirds times the frame's dimension, a single pass (E. A. Johnson,
  *Furniture Upholstery for Schools*, 1919); likely short if every coil takes a clove hitch.
* ``doubled-4``: four times from rail to rail, for doubled twine (US workshop pages).
"""

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise

from spring_layout.deck.model import Deck, Point, TwineRule
from spring_layout.geometry.outline import Outline
from spring_layout.planning.parts import Heights, Line, LineTwine, Ties, TwinePlan
from spring_layout.planning.standing import outline_of
from spring_layout.tolerances import COORDINATE_STEP, SAME_PLACE
from spring_layout.units import in_steps, step_mm

OVER_SPRINGS = 3.0
"""Times the length over the springs (French workshop pages; common practice)."""

SINGLE_PASS = 5 / 3
"""Times the distance between the inside edges (Johnson 1919)."""

DOUBLED = 4.0
"""Times the distance between the inside edges (US workshop pages)."""


def twine_of(deck: Deck, ties: Ties, heights: Heights) -> TwinePlan:
    """The twine of every line of ``ties``, in tying order, and the total to cut, mm."""
    tied = dict(zip((s.id for s in deck.springs), heights.tied.tolist(), strict=True))
    outline = outline_of(deck.frame)
    lines = tuple(_line_twine(deck, outline, tied, line) for line in ties.lines)
    return TwinePlan(lines, math.fsum(line.cut_length for line in lines), deck.twine.rule)


def total_as_cut(deck: Deck, twine: TwinePlan) -> float:
    """The pieces added up as they are shown and cut, each rounded up in the deck's units, mm."""
    return step_mm(deck.units, "cut") * sum(steps_as_cut(deck, twine))


def steps_as_cut(deck: Deck, twine: TwinePlan) -> list[int]:
    """Each piece as it is shown and cut, in whole steps of the deck's units (1/2 in or 10 mm)."""
    return [in_steps(line.cut_length, deck.units, "cut") for line in twine.lines]


def _line_twine(deck: Deck, outline: Outline, tied: Mapping[str, float], line: Line) -> LineTwine:
    over = drape(deck, tied, line)
    # the way between the edges takes time, and one rule does not ask for it
    between = 0.0 if deck.twine.rule == "over-springs-3" else between_edges(outline, line)
    rule = rule_length(deck.twine.rule, over, between)
    return LineTwine(line.number, over, rule, rounded_up(rule, deck.twine.step))


def drape(deck: Deck, tied: Mapping[str, float], line: Line) -> float:
    """The length of ``line`` over the springs, mm: a polyline in space.

    It runs from the tack point at its rail's top over each spring's centre at its tied height
    (``tied``: by spring id, mm) to the other tack point. An end that has no tack point is left
    out: there the tie ends at its last spring.
    """
    return _length(_in_space(deck, tied, line))


def _in_space(
    deck: Deck, tied: Mapping[str, float], line: Line
) -> list[tuple[float, float, float]]:
    start, finish = (
        [(*anchor, deck.frame.top_of(side))] if anchor is not None and side is not None else []
        for anchor, side in zip(line.anchors, line.sides, strict=True)
    )
    over = [(*c, tied[name]) for name, c in zip(line.springs, line.centres, strict=True)]
    return [*start, *over, *finish]


def between_edges(outline: Outline, line: Line) -> float:
    """The length of ``line`` in plan between the inside edges that it passes over, mm.

    An end that has no tack point counts from its last spring's centre.
    """
    start = edge_place(outline, line, 0)
    finish = edge_place(outline, line, 1)
    return _length([start, *line.centres, finish])


def edge_place(outline: Outline, line: Line, end: int) -> Point:
    """Where ``line`` passes over the inside edge at its start (0) or finish (1), mm.

    Without a tack point it is the last spring's centre; where the last stretch meets no edge (a
    tack point that does not lie behind one) it is the tack point.
    """
    last = line.centres[0 if end == 0 else -1]
    anchor, side = line.anchors[end], line.sides[end]
    if anchor is None or side is None:
        return last
    curve = outline.sides[side]
    for along in curve.meet(last, (anchor[0] - last[0], anchor[1] - last[1])):
        place = curve.place(along)
        if math.dist(place, last) <= math.dist(anchor, last) + SAME_PLACE:
            return place
    return anchor


def rule_length(rule: TwineRule, over_springs: float, between: float) -> float:
    """What the rule of thumb says to cut, mm, from the two lengths of a tie, mm."""
    if rule == "over-springs-3":
        return OVER_SPRINGS * over_springs
    return (SINGLE_PASS if rule == "single-1.67" else DOUBLED) * between


def rounded_up(length: float, step: float) -> float:
    """``length`` (mm) rounded up to a whole number of ``step`` (mm); what is whole stays."""
    return math.ceil((length - COORDINATE_STEP) / step) * step if length > 0 else 0.0


def _length(places: Sequence[tuple[float, ...]]) -> float:
    """The length of the polyline through ``places`` (plane or space), mm."""
    return math.fsum(math.dist(a, b) for a, b in pairwise(places))
