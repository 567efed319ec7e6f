"""The height of the finished seat: whether it comes out as wanted, and as seats usually are."""

from spring_layout.checks.words import COMMON_PRACTICE, length
from spring_layout.deck.model import Deck, Units
from spring_layout.planning.finding import Finding
from spring_layout.planning.height_stack import following
from spring_layout.planning.parts import Parts
from spring_layout.tolerances import SAME_PLACE

USUAL_SEAT = (400.0, 510.0)
"""mm. Furniture dimension tables give 17 to 18 in; this is their whole range."""

USUAL_WORDS: dict[Units, str] = {"in": "16 and 20 in", "mm": "400 and 510 mm"}
"""The same as people say it."""


def check_finished_height(deck: Deck, parts: Parts) -> list[Finding]:
    """SEAT-HEIGHT (doubtful): the stack comes to another height than the one wanted.

    SEAT-UNUSUAL (note): a finished height that few people sit well at.
    """
    comes_to = parts.heights.finished_height
    if comes_to is None:
        return []
    wanted = deck.seat.finished_height
    found = []
    if wanted is not None and abs(comes_to - wanted) > deck.spacing.limits.height_step + SAME_PLACE:
        found.append(_off(deck, comes_to, wanted))
    low, high = USUAL_SEAT
    if not low <= comes_to <= high:
        found.append(_unusual(deck, comes_to, low if comes_to < low else high))
    return found


def _off(deck: Deck, comes_to: float, wanted: float) -> Finding:
    off = comes_to - wanted
    mended = following(deck, "tied_height")
    tie = f"Tie to {length(deck, mended)}, or change" if mended and mended > 0 else "Change"
    return Finding(
        code="SEAT-HEIGHT",
        severity="doubtful",
        stage="height",
        message=f"The seat comes out at {length(deck, comes_to)}, {length(deck, abs(off))} "
        f"{'higher' if off > 0 else 'lower'} than the {length(deck, wanted)} wanted.",
        mend=f"{tie} the cushion, the stuffing, or the height of the webbing.",
        source=COMMON_PRACTICE,
        value=comes_to,
        limit=wanted,
    )


def _unusual(deck: Deck, comes_to: float, limit: float) -> Finding:
    return Finding(
        code="SEAT-UNUSUAL",
        severity="note",
        stage="height",
        message=f"The seat finishes at {length(deck, comes_to)}; seats usually finish between "
        f"{USUAL_WORDS[deck.units]}.",
        mend="Leave it if the sitter wants it so; else change the tied height or the cushion.",
        source="Furniture dimension tables.",
        value=comes_to,
        limit=limit,
    )
