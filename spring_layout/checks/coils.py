"""Spring sizes that are odd for a seat, or whose measurements are at odds."""

import re

from spring_layout.checks.words import COMMON_PRACTICE, length
from spring_layout.deck.coils import (
    GAUGES,
    SYSTEMS,
    GaugeError,
    gauge_note,
    nearest_gauge,
    parse_gauge,
)
from spring_layout.deck.model import Coil, Deck
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Parts
from spring_layout.units import format_length

GAUGE_OFF = 0.05
"""mm that a wire may be off its gauge's table, as wires are drawn and calipers read; number 9 of
the two tables differs by 0.11."""


def check_coils(deck: Deck, parts: Parts) -> list[Finding]:
    """COIL-WIRE, COIL-GAUGE (notes): odd wire, a gauge at odds. COIL-SHAPE (doubtful): odd waist.

    Only coils that stand somewhere are looked at.
    """
    used = {spring.coil for spring in parts.deck.springs}
    coils = [coil for coil in deck.coils if coil.id in used]
    found = (check(deck, coil) for check in (_wire, _gauge, _shape) for coil in coils)
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


def _gauge(deck: Deck, coil: Coil) -> Finding | None:
    """The note about a gauge that names no system, or that is not that of the wire."""
    if coil.gauge is None:
        return None
    try:
        gauge = parse_gauge(coil.gauge)
    except GaugeError:
        return _gauge_finding(deck, coil, _unread(deck, coil, coil.gauge), None)
    if abs(gauge.wire_mm - coil.wire) <= GAUGE_OFF:
        return None
    own, told = _wire_words(deck, coil.wire), _wire_words(deck, gauge.wire_mm)
    said = (
        f"Spring size {coil.id} is said to be of {gauge}, {told}, but its wire is {own}{_as(coil)}."
    )
    return _gauge_finding(deck, coil, said, gauge.wire_mm)


def _unread(deck: Deck, coil: Coil, gauge: str) -> str:
    """What is said of a gauge without a system, or of one that is in neither table."""
    said = f"The gauge of spring size {coil.id}, “{gauge.strip()[:20]}”,"
    number = re.search(r"\d+", gauge)
    if number is None or int(number[0]) not in GAUGES:
        return f"{said} is not in the tables of SWG or W&M, 6 to 16."
    return f"{said} names no system. {gauge_note(int(number[0]), deck.units)}"


def _as(coil: Coil) -> str:
    """ ", which is W&M 9", where the wire is that of a gauge."""
    near = (nearest_gauge(coil.wire, system) for system in SYSTEMS)
    alike = [str(gauge) for gauge in near if abs(gauge.wire_mm - coil.wire) <= GAUGE_OFF / 2]
    return f", which is {' or '.join(alike)}" if alike else ""


def _gauge_finding(deck: Deck, coil: Coil, said: str, limit: float | None) -> Finding:
    return Finding(
        code="COIL-GAUGE",
        severity="note",
        stage="springs",
        message=said,
        mend="Measure the wire, and name the gauge with its system, or leave the gauge out.",
        source="SWG: British Standard Wire Gauge; W&M: US steel wire gauge, 9 is 12 % stiffer.",
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
