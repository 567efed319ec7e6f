"""The SVG pen: a drawing as the text of an SVG 1.1 file, one millimetre a user unit.

The same drawing gives the same bytes. Words stay words; the font is embedded so that they look
and measure the same everywhere. For programs that do not read embedded fonts, free and common
narrow ones stand behind it, and each text carries its measured length, which most of them keep.
"""

import base64
import xml.etree.ElementTree as ET
from functools import lru_cache

from spring_layout.drawing import lettering
from spring_layout.drawing.pen import play
from spring_layout.drawing.primitives import (
    Arc,
    Circle,
    Close,
    Drawing,
    Group,
    Line,
    Move,
    Path,
    Step,
    Stroke,
    Tag,
    Text,
    Weight,
)

_WEIGHT_NUMBERS: dict[Weight, str] = {"regular": "400", "bold": "700"}
_FALLBACKS = "'Barlow Semi Condensed', 'Liberation Sans Narrow', 'Arial Narrow', sans-serif"
_NAMESPACE = "http://www.w3.org/2000/svg"


def svg_bytes(drawing: Drawing) -> bytes:
    """``drawing`` as the bytes of an SVG file, UTF-8."""
    pen = SvgPen()
    play(drawing, pen)
    return pen.result()


def number(value: float) -> str:
    """``value`` with at most three decimals, without trailing zeros and without "-0"."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


class SvgPen:
    """Builds an SVG file; ``result`` gives it once the drawing has been played."""

    def __init__(self) -> None:
        self._open: list[ET.Element] = []
        self._clips = 0

    def begin(self, drawing: Drawing) -> None:
        """Start the file: size, title, description, font."""
        width, height = number(drawing.width), number(drawing.height)
        root = ET.Element(
            "svg",
            {
                "xmlns": _NAMESPACE,
                "version": "1.1",
                "width": f"{width}mm",
                "height": f"{height}mm",
                "viewBox": f"0 0 {width} {height}",
                "font-family": f"'{lettering.FONT_FAMILY}', {_FALLBACKS}",
                "fill": "none",
                "fill-rule": "evenodd",
                "stroke-linejoin": "round",
                **{f"data-{name}": value for name, value in drawing.data},
            },
        )
        ET.SubElement(root, "title").text = drawing.title
        ET.SubElement(root, "desc").text = drawing.description
        ET.SubElement(root, "style", {"type": "text/css"}).text = _font_faces()
        self._open = [root]

    def begin_group(self, group: Group) -> None:
        """Start a ``g``, behind a ``clipPath`` where the group is clipped."""
        attributes = _tag_attributes(group.tag)
        if group.clip:
            self._clips += 1
            name = f"clip-{self._clips}"
            clip = ET.SubElement(self._open[-1], "clipPath", {"id": name})
            ET.SubElement(clip, "path", {"d": path_data(group.clip.steps), "clip-rule": "evenodd"})
            attributes["clip-path"] = f"url(#{name})"
        self._open.append(self._element("g", attributes, group.tag))

    def end_group(self) -> None:
        """End the ``g``."""
        self._open.pop()

    def path(self, path: Path) -> None:
        """Write a ``path``."""
        attributes = _tag_attributes(path.tag)
        attributes["d"] = path_data(path.steps)
        self._element("path", attributes | _paint(path.fill, path.stroke), path.tag)

    def circle(self, circle: Circle) -> None:
        """Write a ``circle``."""
        attributes = _tag_attributes(circle.tag)
        attributes |= {
            "cx": number(circle.x),
            "cy": number(circle.y),
            "r": number(circle.radius),
        }
        self._element("circle", attributes | _paint(circle.fill, circle.stroke), circle.tag)

    def text(self, text: Text) -> None:
        """Write a ``text``."""
        attributes = _tag_attributes(text.tag)
        attributes |= {
            "x": number(text.x),
            "y": number(text.y),
            "font-size": number(text.size),
            "fill": text.colour,
        }
        if text.anchor != "start":
            attributes["text-anchor"] = text.anchor
        if text.weight != "regular":
            attributes["font-weight"] = _WEIGHT_NUMBERS[text.weight]
        if text.turned:
            place = f"{number(text.x)} {number(text.y)}"
            attributes["transform"] = f"rotate({number(text.turned)} {place})"
        length = lettering.width_at_size(text.words, text.size, text.weight)
        attributes |= {"textLength": number(length), "lengthAdjust": "spacingAndGlyphs"}
        self._element("text", attributes, text.tag).text = _printable(text.words)

    def end(self) -> None:
        """Lay the file out in lines."""
        ET.indent(self._open[0], space=" ")

    def result(self) -> bytes:
        """The whole file."""
        body: bytes = ET.tostring(self._open[0], encoding="utf-8", xml_declaration=True)
        return body + b"\n"

    def _element(self, name: str, attributes: dict[str, str], tag: Tag) -> ET.Element:
        element = ET.SubElement(self._open[-1], name, attributes)
        if tag.title:
            ET.SubElement(element, "title").text = _printable(tag.title)
        return element


def path_data(steps: tuple[Step, ...]) -> str:
    """The ``d`` attribute for ``steps``."""
    return " ".join(_step_data(step) for step in steps)


def _step_data(step: Step) -> str:
    match step:
        case Move(x, y):
            return f"M{number(x)} {number(y)}"
        case Line(x, y):
            return f"L{number(x)} {number(y)}"
        case Arc():
            radius, (x, y) = number(step.radius), step.finish
            flags = f"{int(abs(step.sweep) > 180)} {int(step.sweep > 0)}"
            return f"A{radius} {radius} 0 {flags} {number(x)} {number(y)}"
        case Close():
            return "Z"


def _paint(fill: str | None, stroke: Stroke | None) -> dict[str, str]:
    attributes = {"fill": fill} if fill else {}
    if stroke:
        attributes |= {"stroke": stroke.colour, "stroke-width": number(stroke.width)}
        if stroke.dashes:
            attributes["stroke-dasharray"] = " ".join(number(dash) for dash in stroke.dashes)
        if stroke.offset:
            attributes["stroke-dashoffset"] = number(stroke.offset)
        if stroke.ends != "butt":
            attributes["stroke-linecap"] = stroke.ends
    return attributes


def _tag_attributes(tag: Tag) -> dict[str, str]:
    attributes = {"id": tag.id} if tag.id else {}
    if tag.kind:
        attributes["class"] = tag.kind
    return attributes | {f"data-{name}": value for name, value in tag.data}


def _printable(words: str) -> str:
    """``words`` without the control characters that XML forbids."""
    return "".join(char if char.isprintable() else " " for char in words)


@lru_cache(maxsize=1)
def _font_faces() -> str:
    return "".join(_font_face(weight) for weight in _WEIGHT_NUMBERS)


def _font_face(weight: Weight) -> str:
    data = base64.b64encode((lettering.FONT_FOLDER / f"{weight}.woff2").read_bytes()).decode()
    return (
        f"@font-face{{font-family:'{lettering.FONT_FAMILY}';"
        f"font-weight:{_WEIGHT_NUMBERS[weight]};"
        f"src:url(data:font/woff2;base64,{data}) format('woff2')}}"
    )
