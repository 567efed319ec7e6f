"""Who can sit with the feet flat on the floor: a note beside the seat's height, never a rule.

From ANSUR II (US Army, 2012, report TR-15/007, public data): the height of the hollow of the knee
above the floor. These are soldiers, fitter than civilians; shoes lift a sitter by about 25 mm (from
memory, no source seen). The height that counts is the one with somebody sitting.
"""

from dataclasses import dataclass
from statistics import NormalDist

SHOE = 25.0
"""mm. From memory, no source seen."""


@dataclass(frozen=True)
class KneeHeights:
    """The heights of the hollow of the knee in one group, mm: mean, spread, and hundredths."""

    group: str
    mean: float
    spread: float
    fifth: float
    middle: float
    ninety_fifth: float


KNEES = (
    KneeHeights("men", 429.80, 24.82, 390.0, 430.0, 471.0),
    KneeHeights("women", 388.20, 23.59, 350.0, 387.0, 428.0),
)
"""ANSUR II: 4,082 men and 1,986 women."""


def share_with_feet_down(knees: KneeHeights, seat_height: float) -> float:
    """The share of that group whose knees in shoes are no lower than ``seat_height`` (mm)."""
    return 1 - NormalDist(knees.mean + SHOE, knees.spread).cdf(seat_height)
