"""The twine: where the rule of thumb would leave a piece short of what its hitches take."""

from spring_layout.checks.words import length, ties_named
from spring_layout.deck.model import Deck, TwineRule
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Parts
from spring_layout.planning.twine_geometry import shortfall

MODEL_ERROR = 0.03
"""share of a piece. The twine of a knot is a model; a rule nearer than this is not short."""

RULE_NAMES: dict[TwineRule, str] = {
    "over-springs-3": "Three times the length over the springs",
    "single-1.67": "One and two thirds times the distance between the inside edges",
    "doubled-4": "Four times the distance between the inside edges",
}


def check_rule_of_thumb(deck: Deck, parts: Parts) -> list[Finding]:
    """TWINE-SHORT (note): the chosen rule of thumb cuts a piece too short, and by how much."""
    short = {
        line.number: shortfall(line, count)
        for line, count in zip(parts.twine.lines, parts.counts, strict=True)
        if shortfall(line, count) > MODEL_ERROR * count.total
    }
    if not short:
        return []
    worst = max(short, key=lambda number: short[number])
    many = len(short) > 1
    return [
        Finding(
            code="TWINE-SHORT",
            severity="note",
            stage="ties",
            message=f"{RULE_NAMES[deck.twine.rule]} would leave {ties_named(tuple(short))} short"
            f"{f', tie {worst} the most,' if many else ''} by {length(deck, short[worst])}.",
            mend="Cut by the counted lengths; they hold every hitch, knot and end.",
            source="Johnson 1919 takes 1 2/3 times the dimension, others three or four times.",
            lines=tuple(short),
            value=short[worst],
            limit=0.0,
        )
    ]
