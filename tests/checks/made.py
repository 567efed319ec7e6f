"""Decks with a fault made on purpose, and what the checks say of them."""

from dataclasses import replace
from typing import Any

import msgspec

from spring_layout.checks import CODES, all_findings
from spring_layout.deck.model import Deck, Spring
from spring_layout.plan import make_plan
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import HitchPlan, Parts, Ties
from tests.decks import grid_deck


def with_(value: Any, **changes: Any) -> Any:
    """A structure with some fields changed."""
    return msgspec.structs.replace(value, **changes)


def moved(deck: Deck, **places: tuple[float, float]) -> Deck:
    """The deck with some springs at other places: ``moved(deck, s5=(200, 250))``."""
    return with_(deck, springs=tuple(_moved(spring, places) for spring in deck.springs))


def _moved(spring: Spring, places: dict[str, tuple[float, float]]) -> Spring:
    x, y = places.get(spring.id, (spring.x, spring.y))
    return with_(spring, x=x, y=y)


def turned(deck: Deck, angle: float) -> Deck:
    """The deck with the wire knot of every spring turned to ``angle``, degrees."""
    return with_(deck, springs=tuple(with_(spring, turned=angle) for spring in deck.springs))


def coiled(deck: Deck, **changes: Any) -> Deck:
    """The deck with its one spring size changed."""
    return with_(deck, coils=(with_(deck.coils[0], **changes),))


def tied(deck: Deck, **changes: Any) -> Deck:
    return with_(deck, tying=with_(deck.tying, **changes))


def framed(deck: Deck, **changes: Any) -> Deck:
    return with_(deck, frame=with_(deck.frame, **changes))


def wished(deck: Deck, **changes: Any) -> Deck:
    return with_(deck, spacing=with_(deck.spacing, **changes))


def told(deck: Deck) -> dict[str, list[Finding]]:
    """What the checks find about ``deck``, by code."""
    return by_code(make_plan(deck).findings)


def told_of_ties(change: Any, deck: Deck | None = None) -> dict[str, list[Finding]]:
    """What the checks find once ``change`` (Ties -> Ties) has spoilt the deck's ties."""
    parts = make_plan(deck or grid_deck()).parts
    ties = change(parts.ties)
    left = {line.number for line in ties.lines}
    hitches = HitchPlan(tuple(line for line in parts.hitches.lines if line.number in left))
    spoilt: Parts = replace(parts, ties=ties, hitches=hitches)
    return by_code(all_findings(spoilt))


def by_code(findings: tuple[Finding, ...]) -> dict[str, list[Finding]]:
    found: dict[str, list[Finding]] = {}
    for finding in findings:
        assert finding.severity == CODES[finding.code][0]
        assert finding.message.endswith(".")
        assert finding.mend.endswith(".")
        assert finding.source.endswith(".")
        found.setdefault(finding.code, []).append(finding)
    return found


def spoilt_line(ties: Ties, number: int, **changes: Any) -> Ties:
    """``ties`` with some fields of one line changed."""
    lines = (replace(ln, **changes) if ln.number == number else ln for ln in ties.lines)
    return replace(ties, lines=tuple(lines))


def without(ties: Ties, number: int) -> Ties:
    """``ties`` with one line, and every cross knot on it, undone."""
    return replace(
        ties,
        lines=tuple(line for line in ties.lines if line.number != number),
        crossings=tuple(c for c in ties.crossings if number not in c.lines),
    )
