"""The crown: whether the springs take it."""

from spring_layout.checks.faults import Fault
from spring_layout.checks.words import COMMON_PRACTICE, length
from spring_layout.deck.model import Deck
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Parts
from spring_layout.tolerances import SAME_PLACE

MEND = "Leave the crown out, or stand a spring deep inside the others."


def check_crown(deck: Deck, parts: Parts) -> list[Finding]:
    """CROWN-NOT-TAKEN (note): no spring stands so far inside the rim that it takes the crown."""
    crown, taken = deck.tying.crown, parts.heights.crown_taken
    if taken >= crown - SAME_PLACE:
        return []
    fault = Fault("CROWN-NOT-TAKEN", "note", "height", MEND, COMMON_PRACTICE, crown)
    return [fault.found(_told(deck, taken), taken, (), None)]


def _told(deck: Deck, taken: float) -> str:
    crown = length(deck, deck.tying.crown)
    if taken < SAME_PLACE:
        return f"No spring takes the crown of {crown}: all stand on the rim."
    return (
        f"The deepest spring stands so near the rim that it takes {length(deck, taken)} of the "
        f"crown of {crown}."
    )
