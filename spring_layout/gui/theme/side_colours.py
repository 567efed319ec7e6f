"""The colours of the upright pictures, taken from the palette in use."""

from functools import lru_cache

from spring_layout.deck.model import RUNS
from spring_layout.drawing.side_view_look import DARK, LIGHT, SideColours
from spring_layout.gui.theme.palettes import Palette


@lru_cache(maxsize=4)
def side_colours(palette: Palette) -> SideColours:
    """The drawing's own colours for a dark or light screen, on this palette's paper and ink."""
    base = DARK if palette.dark else LIGHT
    return SideColours(
        paper=palette.paper,
        ink=palette.ink,
        soft=palette.faint,
        wood=palette.rail,
        wood_edge=palette.rail_edge,
        jute=base.jute,
        jute_edge=base.jute_edge,
        steel=base.steel,
        wire=base.wire,
        far=base.far,
        accent=palette.accent,
        soft_fill=base.soft_fill,
        runs={run: palette.run(run) for run in RUNS},
    )
