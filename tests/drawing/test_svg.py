"""The SVG pen: well-formed SVG 1.1 in millimetres, the same bytes each time."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spring_layout.drawing import lettering
from spring_layout.drawing.primitives import (
    Arc,
    Circle,
    Close,
    Drawing,
    Group,
    Line,
    Move,
    Path,
    Stroke,
    Tag,
    Text,
    rectangle,
)
from spring_layout.drawing.svg import number, path_data, svg_bytes
from tests.drawing.reading import SVG, by_id, parsed


def picture(*items, **more):
    return Drawing(297, 210, "Tie diagram: stool & co", "A deck <seen> from above.", items, **more)


@given(st.floats(-1e5, 1e5))
def test_numbers_have_at_most_three_decimals_and_no_minus_nought(value):
    text = number(value)
    assert re.fullmatch(r"-?\d+(\.\d{1,3})?", text)
    assert text != "-0"
    assert math.isclose(float(text), value, abs_tol=0.000501)


def test_the_sheet_is_in_millimetres():
    root = parsed(svg_bytes(picture(data=(("scale", "5"),))))
    assert root.tag == f"{SVG}svg"
    assert root.attrib["width"] == "297mm"
    assert root.attrib["height"] == "210mm"
    assert root.attrib["viewBox"] == "0 0 297 210"
    assert root.attrib["version"] == "1.1"
    assert root.attrib["data-scale"] == "5"


def test_title_and_description_come_first_and_keep_their_words():
    root = parsed(svg_bytes(picture()))
    assert [child.tag for child in root][:2] == [f"{SVG}title", f"{SVG}desc"]
    assert root[0].text == "Tie diagram: stool & co"
    assert root[1].text == "A deck <seen> from above."


def test_text_stays_text_in_the_embedded_font():
    text = lettering.lettered(
        (5, 6), "A1", 2.0, "#2B2A27", anchor="middle", weight="bold", turned=-90
    )
    root = parsed(svg_bytes(picture(text)))
    element = root.find(f"{SVG}text")
    assert element.text == "A1"
    assert element.attrib["font-weight"] == "700"
    assert element.attrib["text-anchor"] == "middle"
    assert element.attrib["transform"] == "rotate(-90 5 6)"
    assert float(element.attrib["textLength"]) == pytest.approx(
        lettering.width("A1", 2.0, "bold"), abs=0.001
    )
    style = root.find(f"{SVG}style").text
    assert style.count("@font-face") == 2
    assert lettering.FONT_FAMILY in root.attrib["font-family"]
    assert "sans-serif" in root.attrib["font-family"]


def test_control_characters_do_not_break_the_file():
    root = parsed(svg_bytes(picture(lettering.lettered((0, 0), "A\x07\x0b1", 2.0, "#000000"))))
    assert root.find(f"{SVG}text").text == "A  1"


def test_strokes_fills_and_tags_are_written():
    ring = Circle(
        1, 2, 3, Stroke("#0B6E75", 0.5, (4.2, 1.1), "round"), "#FFFFFF",
        Tag("spring-s1", "spring", "Spring A1", (("run", "side-to-side"),)),
    )  # fmt: skip
    element = by_id(parsed(svg_bytes(picture(ring))))["spring-s1"]
    assert element.attrib == {
        "id": "spring-s1", "class": "spring", "data-run": "side-to-side",
        "cx": "1", "cy": "2", "r": "3", "fill": "#FFFFFF", "stroke": "#0B6E75",
        "stroke-width": "0.5", "stroke-dasharray": "4.2 1.1", "stroke-linecap": "round",
    }  # fmt: skip
    assert element.find(f"{SVG}title").text == "Spring A1"


def test_an_arc_is_an_elliptical_arc_with_the_right_flags():
    small, large = Arc(0, 0, 10, 180, 90), Arc(0, 0, 10, 0, -270)
    assert path_data((Move(-10, 0), small)) == "M-10 0 A10 10 0 0 1 0 -10"
    assert path_data((Move(10, 0), large, Close())) == "M10 0 A10 10 0 1 0 0 10 Z"
    assert path_data((Move(0, 0), Line(1.23456, -0.0001))) == "M0 0 L1.235 0"


def test_a_clipped_group_names_its_own_clip_path():
    def clipped(x):
        return Group((Circle(x, 0, 1),), clip=Path(rectangle(x, 0, 1, 1)))

    root = parsed(svg_bytes(picture(clipped(1), clipped(2))))
    names = [group.attrib["clip-path"] for group in root.iter(f"{SVG}g")]
    assert names == ["url(#clip-1)", "url(#clip-2)"]
    assert [clip.attrib["id"] for clip in root.iter(f"{SVG}clipPath")] == ["clip-1", "clip-2"]


def test_the_same_drawing_gives_the_same_bytes():
    drawing = picture(Circle(1, 2, 3), Text(0, 0, "A1", 3, "#000000"))
    assert svg_bytes(drawing) == svg_bytes(drawing)
    assert svg_bytes(drawing).startswith(b"<?xml version='1.0' encoding='utf-8'?>\n<svg")
