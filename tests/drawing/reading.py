"""Reads drawings back for the tests: their texts and shapes, with their places on the sheet."""

import xml.etree.ElementTree as ET
from collections.abc import Iterator

import shapely

from spring_layout.drawing import lettering
from spring_layout.drawing.pen import RecordingPen, play
from spring_layout.drawing.primitives import Circle, Drawing, Line, Move, Path, Text

SVG = "{http://www.w3.org/2000/svg}"


def texts(drawing: Drawing) -> list[Text]:
    """Every text of the drawing."""
    return [item for item in items(drawing) if isinstance(item, Text)]


def items(drawing: Drawing) -> Iterator[object]:
    """Every primitive of the drawing, out of its groups, in painting order."""
    pen = RecordingPen()
    play(drawing, pen)
    return (item for name, item in pen.calls if name in ("path", "circle", "text"))


def of_kind(drawing: Drawing, kind: str) -> list[object]:
    """The primitives whose tag has that kind."""
    return [item for item in items(drawing) if item.tag.kind == kind]


def shape_of(text: Text) -> shapely.Polygon:
    """What a text covers."""
    return shapely.Polygon(lettering.corners(text))


def rings(drawing: Drawing) -> list[Circle]:
    """The springs' top rings."""
    return [ring for ring in of_kind(drawing, "spring") if isinstance(ring, Circle)]


def tie_lines(drawing: Drawing) -> list[shapely.LineString]:
    """The ties as lines on the sheet."""
    ties = (tie for tie in of_kind(drawing, "tie") if isinstance(tie, Path))
    return [
        shapely.LineString([(s.x, s.y) for s in tie.steps if isinstance(s, Move | Line)])
        for tie in ties
    ]


def parsed(svg: bytes) -> ET.Element:
    """The SVG's root element."""
    return ET.fromstring(svg)


def by_id(root: ET.Element) -> dict[str, ET.Element]:
    """The elements that have an id."""
    return {e.attrib["id"]: e for e in root.iter() if "id" in e.attrib}
