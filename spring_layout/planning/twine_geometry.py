"""The twine of each tie, counted from where it goes: its way, its hitches, knots and ends.

**The wrap model.** Twine of thickness t on wire of thickness w, both mm:

* a turn that lies beside the one before is a helix of l1 = sqrt((pi (w + t))^2 + t^2);
* a turn laid over another is one of l2 = sqrt((pi (w + 3 t))^2 + (2 t)^2);
* a clove hitch takes 1.5 l1 + 0.5 l2, a half hitch 0.75 l1 and a quarter of a turn laid over,
  0.25 sqrt((pi (w + 3 t))^2 + t^2); an overhand knot takes a whole turn l1 round the wire and one
  turn of the twine round itself, sqrt((2 pi t)^2 + t^2).

The turns are geometry, the totals of the knots a model: ten real knots, untied and measured, are
better, and replace it (``ten_hitches``, ``ten_cross_knots``). A cross knot is made round the m ties
that are there already, which count as one strand of t sqrt(m), the same area; its twine
belongs to the tie that makes it.

**A tie** takes its way in space from tack point over every hitch to tack point (over the rail's
edge where it comes from lower than the rail's top), the twine of its hitches and cross knots, for
each end at a rail the fold-back and the wraps round itself, for each return tie the way from the
rail to the top coil and a hitch, and an allowance to work with.
"""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

from spring_layout.deck.model import Deck, Hitch, Twine
from spring_layout.planning.parts import (
    HitchPlan,
    LineHitches,
    LineTwine,
    Point3,
    Ties,
    TwineCount,
    TwinePlan,
)
from spring_layout.planning.twine import rounded_up


def counts_of(deck: Deck, hitches: HitchPlan, ties: Ties) -> tuple[TwineCount, ...]:
    """What every tie takes, in tying order."""
    wires = _wires(deck)
    knots = cross_knot_twine(deck.twine, ties)
    return tuple(_count(deck.twine, line, wires, knots[line.number]) for line in hitches.lines)


def _wires(deck: Deck) -> dict[str, float]:
    wires = {coil.id: coil.wire for coil in deck.coils}
    return {spring.id: wires[spring.coil] for spring in deck.springs}


def _count(
    twine: Twine, line: LineHitches, wires: Mapping[str, float], cross_knots: float
) -> TwineCount:
    ends = sum(anchor is not None for anchor in line.anchors)
    return TwineCount(
        number=line.number,
        way=_length(line.way),
        hitches=math.fsum(hitch_twine(twine, wires[h.spring]) for h in line.in_order),
        cross_knots=cross_knots,
        returns=_length(line.return_way(0)) + _length(line.return_way(1)),
        wraps=ends * twine.tail_wraps * beside_turn(twine.diameter, twine.diameter),
        fold_backs=ends * twine.fold_back,
        allowance=twine.allowance,
    )


def _length(places: Sequence[Point3]) -> float:
    return math.fsum(math.dist(a, b) for a, b in pairwise(places))


def first_tail(deck: Deck, line: LineHitches) -> float:
    """The tail to leave beyond the first tack of a tie, mm; 0 where no return tie starts there.

    At the other end the return tie is tied with what is left of the piece; at the first tack the
    twine for it must be left before the first hitch is made: the way from the tack to the outside
    of the top coil, the hitch there, and half of the working allowance to pull it tight by (the
    other half is for the other end).
    """
    hitch = line.returns[0]
    if hitch is None:
        return 0.0
    wire = _wires(deck)[hitch.spring]
    return _length(line.return_way(0)) + hitch_twine(deck.twine, wire) + deck.twine.allowance / 2


def cut_length(deck: Deck, count: TwineCount) -> float:
    """What to cut for that tie: all that it takes, rounded up to the deck's step, mm."""
    return rounded_up(count.total, deck.twine.step)


def cross_knot_twine(twine: Twine, ties: Ties) -> dict[int, float]:
    """The twine that each line, by number, spends on the cross knots it makes, mm."""
    spent: dict[int, float] = defaultdict(float)
    for crossing in ties.crossings:
        spent[crossing.tied_by] += knot_twine(twine, len(crossing.lines) - 1)
    return spent


def hitch_twine(twine: Twine, wire: float) -> float:
    """What one hitch round ``wire`` (mm) takes, mm: the user's own measure, else the model's."""
    if twine.ten_hitches is not None:
        return twine.ten_hitches / 10
    return wrapped(twine.hitch, wire, twine.diameter)


def knot_twine(twine: Twine, others: int) -> float:
    """What one cross knot round ``others`` ties takes, mm: the user's own measure or the model."""
    if twine.ten_cross_knots is not None:
        return twine.ten_cross_knots / 10
    return wrapped(twine.cross_knot, twine.diameter * math.sqrt(others), twine.diameter)


@lru_cache(maxsize=256)
def wrapped(hitch: Hitch, wire: float, twine: float) -> float:
    """The twine of one hitch round a ``wire`` of that thickness by the wrap model, all mm."""
    beside = beside_turn(wire, twine)
    if hitch == "clove":
        return 1.5 * beside + 0.5 * over_turn(wire, twine)
    if hitch == "half":
        return 0.75 * beside + 0.25 * math.hypot(math.pi * (wire + 3 * twine), twine)
    return beside + math.hypot(2 * math.pi * twine, twine)


def beside_turn(wire: float, twine: float) -> float:
    """One turn round ``wire`` that lies beside the turn before it, mm."""
    return math.hypot(math.pi * (wire + twine), twine)


def over_turn(wire: float, twine: float) -> float:
    """One turn round ``wire`` laid over a turn that is there already, mm."""
    return math.hypot(math.pi * (wire + 3 * twine), 2 * twine)


def counted(plan: TwinePlan, deck: Deck, counts: Sequence[TwineCount]) -> TwinePlan:
    """``plan`` with what to cut counted from the hitches instead of by the rule of thumb."""
    lines = tuple(
        replace(line, cut_length=cut_length(deck, count))
        for line, count in zip(plan.lines, counts, strict=True)
    )
    return replace(plan, lines=lines, cut_total=math.fsum(line.cut_length for line in lines))


def shortfall(line: LineTwine, count: TwineCount) -> float:
    """By how much the rule of thumb would leave the tie short, mm; 0 where it is long enough.

    The allowance to work with is not held against the rule.
    """
    return max(0.0, count.total - count.allowance - line.rule_length)
