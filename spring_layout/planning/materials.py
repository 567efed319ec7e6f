"""What to buy and cut for the deck, each item with the rule that it was counted by.

Springs, webbing and twines come from the plan. Fixings: a strip of webbing takes as many tacks or
staples as set (5 + 4 + 2 = 11 in a British upholstery handbook of 1961), of 10 oz or 16 mm (Johnson
1919; French workshops); a tack point of a tie takes two of 14 oz, the twine folded back between
them (common practice, no source; a row of light tacks can let go under load: UNH bulletin).
Hessian covers the opening and as far past it on each side as set (50 mm: French workshops), cut
to the next 10 mm or 1/2 in. Time is told only where the user has said how long a spring and a tie
take.
"""

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

from spring_layout.deck.model import Coil, Deck
from spring_layout.planning.cutting import Cutting, hanks_cut
from spring_layout.planning.parts import Parts
from spring_layout.planning.stitching import StitchingPlan
from spring_layout.planning.twine import rounded_up, total_as_cut
from spring_layout.units import about, format_length, held_by, step_mm
from spring_layout.words import words_for

TACKS_PER_POINT = 2
"""Tacks at each tack point. Common practice, no source."""


@dataclass(frozen=True)
class Material:
    """One thing to have: how much of it, in which unit, and how that was counted.

    ``as_cut``: how much where every piece is rounded up in the deck's units, as paper shows it;
    None where that is the same.
    """

    item: str
    quantity: float
    unit: str
    rule: str
    as_cut: float | None = None

    @property
    def on_paper(self) -> float:
        """How much of it a list in the deck's units asks for."""
        return self.quantity if self.as_cut is None else self.as_cut


def materials_of(parts: Parts, stitching: StitchingPlan) -> tuple[Material, ...]:
    """Everything that the deck takes, in the order in which it is used."""
    materials = (
        material
        for materials in (
            _webbing(parts),
            _springs(parts.deck),
            _feet(parts, stitching),
            _twine(parts),
            _tack_points(parts),
            _hessian(parts),
            _time(parts),
        )
        for material in materials
    )
    return tuple(_told(parts, material) for material in materials)


def _told(parts: Parts, material: Material) -> Material:
    """The material in the plan's words; a spring size keeps the name that the user gave it."""
    own = material.item.startswith("springs, ")
    item = material.item if own else parts.told(material.item)
    return replace(material, item=item, rule=parts.told(material.rule))


def _length(deck: Deck, mm: float) -> str:
    return format_length(mm, deck.units)


def _metres(mm: float) -> float:
    return mm / 1000


def _webbing(parts: Parts) -> Iterator[Material]:
    plan, web = parts.webbing, parts.deck.webbing
    if not plan.strips:
        return
    along, across = len(plan.of("front-to-back")), len(plan.of("side-to-side"))
    yield Material(
        f"webbing, {_length(parts.deck, web.width)} wide",
        _metres(plan.total),
        "m",
        f"front to back {along}, side to side {across}, as they are cut",
    )
    long = {"in": "5/8 in", "mm": "16 mm"}[parts.deck.units]
    size = f", of 10 oz ({long})" if web.fastening == "tacks" else ""
    rule = f"{web.tacks} to a strip of webbing{size}"
    yield Material(f"{web.fastening} for the webbing", plan.fixings, "pieces", rule)


def _springs(deck: Deck) -> Iterator[Material]:
    used = Counter(spring.coil for spring in deck.springs)
    for coil in deck.coils:
        if used[coil.id]:
            yield Material(f"springs, {coil.id}", used[coil.id], "pieces", _size(deck, coil))


def _size(deck: Deck, coil: Coil) -> str:
    gauge = f"{coil.gauge}, " if coil.gauge else ""
    wire = format_length(coil.wire, deck.units, "wire")
    return (
        f"free height {_length(deck, coil.free_height)}, {gauge}wire {wire}, "
        f"{coil.turns:g} turns, top coil {_length(deck, coil.top_diameter)} across"
    )


def _feet(parts: Parts, stitching: StitchingPlan) -> Iterator[Material]:
    deck = parts.deck
    fixing, points = parts.webbing.foot_fixing, deck.stitching.points
    if fixing != "stitch":
        count = len(deck.springs) * points
        if count:
            yield Material(f"{fixing}s for the feet", count, "pieces", f"{points} to a spring")
    elif stitching.stitches:
        each = about(deck.stitching.working_length, deck.units)
        lengths = len(stitching.new_lengths)
        yield Material(
            "stitching twine",
            _metres(stitching.twine),
            "m",
            f"{len(stitching.stitches)} stitches, {points} to a spring, in {lengths} working "
            f"{'length' if lengths == 1 else 'lengths'} of about {each} at most",
        )


def _twine(parts: Parts) -> Iterator[Material]:
    deck, twine = parts.deck, parts.twine
    if not twine.lines:
        return
    rule = f"{twine.pieces} pieces, as they are cut"
    as_cut = _metres(total_as_cut(deck, twine))
    yield Material("spring twine", _metres(twine.cut_total), "m", rule, as_cut)
    cutting = hanks_cut(deck, twine)
    if cutting is not None and deck.twine.hank is not None:
        yield from _hanks(parts, cutting, f"a hank holds {held_by(deck.twine.hank, deck.units)}")


def _hanks(parts: Parts, cutting: Cutting, holds: str) -> Iterator[Material]:
    least = "the fewest there can be" if cutting.proved else f"at least {cutting.fewest}"
    if cutting.hanks:
        yield Material("hanks of spring twine", len(cutting.hanks), "hanks", f"{holds}; {least}")
    if cutting.too_long:
        numbers = ", ".join(str(parts.twine.lines[i].number) for i in cutting.too_long)
        ties = f"tie {numbers} is" if len(cutting.too_long) == 1 else f"ties {numbers} are"
        rule = f"{holds}; {ties} longer: join two lengths, or buy longer hanks"
        yield Material("pieces longer than a hank", len(cutting.too_long), "pieces", rule)


def _tack_points(parts: Parts) -> Iterator[Material]:
    points = sum(a is not None for line in parts.ties.lines for a in line.anchors)
    if points:
        rule = f"{TACKS_PER_POINT} to each of {points} tack points, of 14 oz"
        yield Material("tacks for the ties", TACKS_PER_POINT * points, "pieces", rule)


def _hessian(parts: Parts) -> Iterator[Material]:
    deck = parts.deck
    x0, y0, x1, y1 = parts.standing.outline.bounds
    edge = deck.seat.hessian_edge
    step = step_mm(deck.units, "cut")
    width, depth = (rounded_up(side + 2 * edge, step) for side in (x1 - x0, y1 - y0))
    rule = (
        f"{_length(deck, width)} by {_length(deck, depth)}, "
        f"{_length(deck, edge)} past the opening on each side"
    )
    # one cloth with two names
    cloth = (parts.words or words_for(deck.units)).burlap
    yield Material(cloth, _metres(width) * _metres(depth), "m2", rule)


def _time(parts: Parts) -> Iterator[Material]:
    work = parts.deck.work
    springs, ties = len(parts.deck.springs), len(parts.ties.lines)
    told = [
        (minutes, count, what)
        for minutes, count, what in (
            (work.minutes_per_spring, springs, "spring"),
            (work.minutes_per_tie, ties, "tie"),
        )
        if minutes is not None
    ]
    if told:
        minutes = math.fsum(each * count for each, count, _ in told)
        rule = " and ".join(f"{each:g} to a {what}" for each, _, what in told)
        yield Material("time", minutes, "minutes", f"{rule}, as you set them")
