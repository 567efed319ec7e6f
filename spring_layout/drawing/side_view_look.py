"""The colours of the side view and of the height stack, for paper and for a light or dark screen.

``ink`` is for what is read, ``soft`` for what may recede but must be read, ``wire`` for the edge
of a coil's wire and ``steel`` for its body, ``far`` for wire at the back of a coil. Text stands at
least 4.5 : 1 on its ground, lines and symbols at least 3 : 1.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from spring_layout.deck.model import Run
from spring_layout.drawing import look
from spring_layout.drawing.primitives import Stroke


@dataclass(frozen=True)
class SideColours:
    """Every colour of an upright picture, ``#RRGGBB``."""

    paper: str
    ink: str
    soft: str
    wood: str
    wood_edge: str
    jute: str
    jute_edge: str
    steel: str
    wire: str
    far: str
    accent: str
    soft_fill: str
    runs: Mapping[Run, str]

    def run(self, run: Run, width: float, fine: float = 1.0) -> Stroke:
        """How a tie of ``run`` is drawn, ``width`` mm wide, with its own dashes."""
        usual = look.RUN_LOOKS[run].stroke
        dashes = tuple(dash * fine for dash in usual.dashes)
        return Stroke(self.runs[run], width, dashes, usual.ends)


LIGHT = SideColours(
    paper=look.PAPER,
    ink=look.INK,
    soft=look.SOFT_INK,
    wood=look.WOOD,
    wood_edge=look.WOOD_EDGE,
    jute="#E9DFCB",
    jute_edge="#8D7C58",
    steel="#DDE1E5",
    wire="#4A4D52",
    far="#8F959C",
    accent="#2457A6",
    soft_fill="#F4EEE2",
    runs={run: run_look.stroke.colour for run, run_look in look.RUN_LOOKS.items()},
)

DARK = SideColours(
    paper="#23252A",
    ink="#E8E4DA",
    soft="#ABA598",
    wood="#5B4A33",
    wood_edge="#C2A273",
    jute="#5C5443",
    jute_edge="#A39471",
    steel="#4A4F57",
    wire="#C9CDD2",
    far="#80868E",
    accent="#86B4F4",
    soft_fill="#2C2E33",
    runs={
        "front-to-back": "#4DB8BE",
        "side-to-side": "#E58A5F",
        "diagonal-rising": "#B49AE6",
        "diagonal-falling": "#B7C25A",
    },
)
