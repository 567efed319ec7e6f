"""Spring sizes that are odd for a seat, or whose measurements are at odds."""

from spring_layout.checks.words import COMMON_PRACTICE, length
from spring_layout.deck.model import Coil, Deck
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Parts
from spring_layout.units import format_length


def check_coils(deck: Deck, parts: Parts) -> list[Finding]:
    """COIL-WIRE (note): wire outside what seats use. COIL-SHAPE (doubtful): sizes at odds.

    Only coils that stand somewhere are looked at.
    """
    used = {spring.coil for spring in parts.deck.springs}
    coils = [coil for coil in deck.coils if coil.id in used]
    found = (*(_wire(deck, c) for c in coils), *(_shape(deck, c) for c in coils))
    return [finding for finding in found if finding]


def _wire(deck: Deck, coil: Coil) -> Finding | None:
    limits = deck.spacing.limits
    if limits.wire_least <= coil.wire <= limits.wire_most:
        return None
    thin = coil.wire < limits.wire_least
    limit = limits.wire_least if thin else limits.wire_most
    return Finding(
        code="COIL-WIRE",
        severity="note",
        stage="springs",
        message=f"The wire of spring size {coil.id}, {_wire_words(deck, coil.wire)}, is "
        f"{'thinner' if thin else 'thicker'} than the {_wire_words(deck, limit)} of seat springs.",
        mend="Measure the wire again; thin wire is for backs and arms, thick wire sits hard.",
        source="Seat wire 8 to 11 gauge: US and eastern British lists.",
        springs=_standing(deck, coil),
        value=coil.wire,
        limit=limit,
    )


def _wire_words(deck: Deck, mm: float) -> str:
    return format_length(mm, deck.units, "wire")


def _shape(deck: Deck, coil: Coil) -> Finding | None:
    ends = min(coil.top_diameter, coil.foot_diameter)
    if coil.shape != "double-cone" or coil.waist_diameter < ends:
        return None
    return Finding(
        code="COIL-SHAPE",
        severity="doubtful",
        stage="springs",
        message=f"Spring size {coil.id} is called a double cone, but its waist "
        f"({length(deck, coil.waist_diameter)}) is no narrower than its ends "
        f"({length(deck, ends)}).",
        mend="Measure the waist again, or choose another shape.",
        source=COMMON_PRACTICE,
        springs=_standing(deck, coil),
        value=coil.waist_diameter,
        limit=ends,
    )


def _standing(deck: Deck, coil: Coil) -> tuple[str, ...]:
    """The springs of this size."""
    return tuple(spring.id for spring in deck.springs if spring.coil == coil.id)
