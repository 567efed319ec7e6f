"""The outline of the frame: corners that no joiner makes."""

from spring_layout.checks.faults import Fault
from spring_layout.checks.words import COMMON_PRACTICE, opened, side_named
from spring_layout.deck.model import Deck
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Parts

SHARPEST = 30.0
"""degrees between two sides; seats' corners are some 60 to 120 (common practice, no source)."""

SPIKE = Fault(
    "FRAME-SPIKE",
    "doubtful",
    "frame",
    "Drag the corner to where it is, remove it, or measure the sides again.",
    COMMON_PRACTICE,
    SHARPEST,
)


def check_outline(deck: Deck, parts: Parts) -> list[Finding]:
    """FRAME-SPIKE (doubtful): two sides that meet in a spike, as after a slip in tracing."""
    found = []
    for corner, turn in enumerate(parts.standing.outline.turns):
        between = 180.0 - abs(float(turn))
        if between < SHARPEST:
            before = (corner - 1) % len(deck.frame.sides)
            first, second = (side_named(deck, side) for side in (before, corner))
            message = f"{opened(first)} and {second} meet in a spike of {between:.0f}°."
            place = deck.frame.corners[corner]
            found.append(SPIKE.found(message, between, (), place, sides=(before, corner)))
    return found
