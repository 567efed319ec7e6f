"""The look of everything on paper: colours, line widths and dashes, heights of lettering.

Meaning never hangs on colour alone: the four runs differ in dash and weight as well, so that a
black and white print tells them apart. Widths and heights are mm on an A4 sheet; larger sheets
enlarge the whole picture. Text stands at least 4.5 : 1 against its ground, lines at least 3 : 1.
"""

from dataclasses import dataclass

from spring_layout.deck.model import Run
from spring_layout.drawing.primitives import Stroke

PAPER = "#FFFFFF"
INK = "#2B2A27"
SOFT_INK = "#5F5A52"
HAIR = "#8A847A"
WOOD = "#EFE2CC"
WOOD_EDGE = "#8A6F4A"
JUTE = "#F8F4EB"
STEEL = "#C3C8CD"
FAINT_STEEL = "#A9AEB4"

SMALL = 2.0
"""The least lettering: what one looks up."""
BODY = 2.2
"""What one looks up where there is room."""
NORMAL = 2.5
"""What one reads."""
LARGE = 3.0
"""What one reads from farther away: a spring's label."""
HEAD = 3.5
"""What one finds a thing by."""

SHEET_EDGE = Stroke(INK, 0.5)
RULE = Stroke(INK, 0.18)
HAIRLINE = Stroke(HAIR, 0.15)
STRIP_EDGE = Stroke("#D5C7AA", 0.13)
RAIL_EDGE = Stroke(WOOD_EDGE, 0.2)
INSIDE_EDGE = Stroke(INK, 0.7)
OPEN_SIDE = Stroke(INK, 0.3, (3.0, 1.2))
TOP_RING = Stroke(INK, 0.25)
FAINT_RING = Stroke(FAINT_STEEL, 0.13)
TACK_BAR = Stroke(INK, 0.6)
KNOT_EDGE = Stroke(INK, 0.22)
KNOT_AIR = Stroke(PAPER, 0.4)
"""The white edge round a cross knot at a spring, where the ties end just before the mark."""
KNOT_HALF = 0.85
"""Half the height of a cross knot's diamond between springs, mm."""
SPRING_KNOT = 1.1
"""The same at a spring, where the white edge takes some of it."""
AIR = 0.25
"""mm of white on each side of a tie where it passes over those tied before it."""


@dataclass(frozen=True)
class RunLook:
    """How the ties of a run are drawn, and what people call the run."""

    stroke: Stroke
    words: str


RUN_LOOKS: dict[Run, RunLook] = {
    "front-to-back": RunLook(Stroke("#0B6E75", 0.5), "front to back"),
    "side-to-side": RunLook(Stroke("#B4532A", 0.5, (3.4, 1.1)), "side to side"),
    "diagonal-rising": RunLook(
        Stroke("#6B4C9A", 0.4, (2.2, 0.75, 0.5, 0.75)), "front left to back right"
    ),
    "diagonal-falling": RunLook(
        Stroke("#6F7A1F", 0.5, (0.01, 1.1), "round"), "back left to front right"
    ),
}
