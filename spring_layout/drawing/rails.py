"""The rails drawn to width, with the inside edge stronger, on the paper."""

import shapely

from spring_layout.deck.model import Frame
from spring_layout.drawing import look
from spring_layout.drawing.primitives import Item, Path, Tag
from spring_layout.drawing.view import View
from spring_layout.geometry.outline import Outline
from spring_layout.geometry.rails import rail_bands


def rail_shapes(frame: Frame, outline: Outline) -> dict[int, shapely.Polygon]:
    """What each rail covers, by side number, deck mm; sides without a rail are left out."""
    widths = [0.0 if s.rail == "none" else frame.width_of(i) for i, s in enumerate(frame.sides)]
    bands = enumerate(rail_bands(outline, widths))
    return {side: band for side, band in bands if not band.is_empty}


def frame_items(frame: Frame, outline: Outline, view: View) -> list[Item]:
    """The rails, and the inside edge on top of them; open sides as a broken line."""
    items: list[Item] = [
        _rail(side, band, view) for side, band in rail_shapes(frame, outline).items()
    ]
    for side, curve in zip(frame.sides, outline.sides, strict=True):
        stroke = look.OPEN_SIDE if side.rail == "none" else look.INSIDE_EDGE
        items.append(Path(view.side(curve), stroke))
    return items


def _rail(side: int, band: shapely.Polygon, view: View) -> Path:
    steps = view.polyline(band.exterior.coords[:-1], closed=True)
    return Path(steps, look.RAIL_EDGE, look.WOOD, Tag(id=f"rail-{side}", kind="rail"))
