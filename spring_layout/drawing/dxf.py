"""The plan's geometry as a DXF file, for a plotter or a cutter: 1 unit is 1 mm, full size.

DXF counts y upward, so y is turned over: the deck's back lies at the top, as on paper. Each kind
of thing has a layer of its own, so that a cutter can be given the holes to prick and nothing else.
Needs ezdxf, the optional extra ``dxf``.
"""

import contextlib
import io
import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import shapely

from spring_layout.drawing.rails import rail_shapes
from spring_layout.geometry.sides import Array, SideCurve
from spring_layout.planning.parts import Parts

if TYPE_CHECKING:
    from ezdxf.layouts.layout import Modelspace

LAYERS: dict[str, int] = {
    "INSIDE_EDGE": 7,
    "RAILS": 33,
    "NAIL_LINE": 43,
    "WEBBING": 41,
    "FEET": 8,
    "TOP_COILS": 9,
    "CENTRES": 7,
    "TACK_POINTS": 1,
    "TIES": 5,
    "LABELS": 7,
}
"""The layers, each with its number in the colour index of DXF."""

PRICK_RADIUS = 1.0
"""mm; centres and tack points are circles of this radius."""
_LABEL, _TIE_LABEL = 5.0, 3.5


class DxfError(RuntimeError):
    """No DXF file can be made; the message says why, with the mend."""


def dxf_bytes(parts: Parts, title: str = "") -> bytes:
    """The DXF file of a plan. Raises DxfError where ezdxf is not installed."""
    try:
        with _undated():
            return _file(parts, title or parts.deck.name)
    except ImportError as error:
        raise DxfError(
            "DXF needs the package ezdxf; in the program's folder: pip install '.[dxf]'"
        ) from error


def _file(parts: Parts, title: str) -> bytes:
    from ezdxf.filemanagement import new
    from ezdxf.units import MM

    document = new("R2010", units=MM)
    document.header["$MEASUREMENT"] = 1
    document.header.custom_vars.append("Title", title)
    for name, colour in LAYERS.items():
        document.layers.add(name, color=colour)
    _draw(parts, document.modelspace())
    text = io.StringIO()
    document.write(text)
    return text.getvalue().encode("utf-8")


@contextlib.contextmanager
def _undated() -> Iterator[None]:
    """Leave the dates and numbers of its making out of a file, so that it is the same each time."""
    from ezdxf._options import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _draw(parts: Parts, space: "Modelspace") -> None:
    _frame(parts, space)
    _webbing(parts, space)
    _springs(parts, space)
    _ties(parts, space)


def _up(place: Sequence[float] | Array) -> tuple[float, float]:
    """A place of the deck with y turned over."""
    return float(place[0]), -float(place[1]) + 0.0


def _frame(parts: Parts, space: "Modelspace") -> None:
    """Inside edges and nail lines as lines and true arcs, rails as closed outlines."""
    outline, frame = parts.standing.outline, parts.deck.frame
    for number, side in enumerate(frame.sides):
        _side(outline.sides[number], 0.0, "INSIDE_EDGE", space)
        if side.rail != "none":
            _side(outline.sides[number], frame.nail_line_of(number), "NAIL_LINE", space)
    for band in rail_shapes(frame, outline).values():
        corners = [_up((x, y)) for x, y in band.exterior.coords[:-1]]
        space.add_lwpolyline(corners, close=True, dxfattribs={"layer": "RAILS"})


def _side(curve: SideCurve, outside: float, layer: str, space: "Modelspace") -> None:
    """A side, or the line ``outside`` it, as a line or an arc."""
    start, end = (_up(curve.point(along, outside)) for along in (0.0, curve.length))
    if curve.is_straight:
        space.add_line(start, end, dxfattribs={"layer": layer})
        return
    centre = _up(curve.centre)
    angles = [math.degrees(math.atan2(y - centre[1], x - centre[0])) for x, y in (start, end)]
    # an arc runs anticlockwise in DXF; a side that bows outward runs the other way with y up
    first, last = angles[::-1] if curve.bow > 0 else angles
    radius = abs(1 / curve.curvature + outside)
    space.add_arc(centre, radius, first, last, dxfattribs={"layer": layer})


def _webbing(parts: Parts, space: "Modelspace") -> None:
    """The strips' long edges within the opening."""
    opening = parts.standing.outline.polygon
    for strip in parts.webbing.strips:
        for at in (strip.at - strip.width / 2, strip.at + strip.width / 2):
            along = (strip.start, strip.finish)
            ends = [(at, v) if strip.run == "front-to-back" else (v, at) for v in along]
            shown = shapely.LineString(ends).intersection(opening)
            for piece in shapely.get_parts(shown):
                if isinstance(piece, shapely.LineString) and piece.length > 0:
                    first, last = piece.coords[0], piece.coords[-1]
                    space.add_line(_up(first), _up(last), dxfattribs={"layer": "WEBBING"})


def _springs(parts: Parts, space: "Modelspace") -> None:
    for spring in parts.deck.springs:
        coil, place = parts.deck.coil_of(spring), _up((spring.x, spring.y))
        space.add_circle(place, coil.foot_diameter / 2, dxfattribs={"layer": "FEET"})
        space.add_circle(place, coil.top_radius, dxfattribs={"layer": "TOP_COILS"})
        space.add_circle(place, PRICK_RADIUS, dxfattribs={"layer": "CENTRES"})
        beside = place[0] + 4.0, place[1] + 4.0
        _text(parts.labels[spring.id], beside, _LABEL, space)


def _ties(parts: Parts, space: "Modelspace") -> None:
    for line in parts.ties.lines:
        path = [_up(place) for place in line.path]
        space.add_lwpolyline(path, dxfattribs={"layer": "TIES"})
        for anchor in line.anchors:
            if anchor is not None:
                x, y = _up(anchor)
                space.add_circle((x, y), PRICK_RADIUS, dxfattribs={"layer": "TACK_POINTS"})
                _text(str(line.number), (x + 2.0, y + 2.0), _TIE_LABEL, space)


def _text(words: str, place: tuple[float, float], height: float, space: "Modelspace") -> None:
    space.add_text(words, height=height, dxfattribs={"layer": "LABELS", "insert": place})
