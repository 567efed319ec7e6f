"""Every sheet of every sample, read back with software that is not ours.

The PDF is read with pdfium (the PDF library of a web browser): where its words are, whether any lie
on others, and whether what is drawn has the scale that the sheet says. The SVG is read as plain XML
(W3C, Scalable Vector Graphics 1.1, second edition, 2011: the elements and the order of title and
description, 5.4).
"""

import ctypes
import itertools
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from functools import lru_cache

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
import shapely

from spring_layout.drawing.bench_sheet import bench_sheet
from spring_layout.drawing.paper import PAPERS
from spring_layout.drawing.primitives import Drawing, Text
from spring_layout.drawing.rail_strips import rail_strips
from spring_layout.drawing.record import record_sheet
from spring_layout.drawing.sheet import tie_diagram
from spring_layout.drawing.side_view import side_view
from spring_layout.drawing.steps import tying_steps
from spring_layout.drawing.svg import svg_bytes
from spring_layout.drawing.template import full_size_template
from spring_layout.qtrender.pdf import pdf_bytes
from tests.drawing.samples import NAMES, plan_of
from tests.qtrender.pdf_reading import MM_PER_POINT, circles_of, paths_of, undated

SHEETS = {
    "diagram": lambda plan, paper: (tie_diagram(plan, paper),),
    "bench": bench_sheet,
    "template": full_size_template,
    "rail strips": rail_strips,
    "record": record_sheet,
    "steps": tying_steps,
    "side view": lambda plan, paper: tuple(side_view(plan, n, paper) for n in (1, 2, 9)),
}
ONCE = [("bay-window-seat", "letter"), ("tapered-dining-chair", "a4")]
ALL = [pair for pair in itertools.product(NAMES, ("a4", "letter")) if pair not in ONCE]
PAIRS = [*ONCE, *(pytest.param(*pair, marks=pytest.mark.larger) for pair in ALL)]
SVG = "{http://www.w3.org/2000/svg}"
ELEMENTS = {"svg", "title", "desc", "style", "g", "path", "circle", "text", "clipPath"}
STATED = re.compile(r"1 : (\d+(?:\.\d+)?)")


@lru_cache(maxsize=16)
def drawn(name, paper, what):
    return SHEETS[what](plan_of(name), PAPERS[paper])


@lru_cache(maxsize=16)
def written(name, paper, what):
    return pdf_bytes(drawn(name, paper, what))


def pages(name, paper, what):
    return pypdfium2.PdfDocument(written(name, paper, what))


def quads(page):
    """What each piece of text on the page covers, turned as it stands, mm."""
    left, _, _, top = page.get_mediabox()
    found = []
    for item in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT]):
        quad = pdfium.FS_QUADPOINTSF()
        assert pdfium.FPDFPageObj_GetRotatedBounds(item.raw, ctypes.byref(quad))
        corners = [(getattr(quad, f"x{i}"), getattr(quad, f"y{i}")) for i in (1, 2, 3, 4)]
        places = (np.array(corners) - (left, top)) * (MM_PER_POINT, -MM_PER_POINT)
        found.append(shapely.Polygon(places))
    return found


def most_in_common(shapes):
    """How much two of the shapes have in common at most, square mm."""
    first, second = shapely.STRtree(shapes).query(shapes, predicate="intersects")
    pairs = zip(first.tolist(), second.tolist(), strict=True)
    return max((shapes[i].intersection(shapes[j]).area for i, j in pairs if i < j), default=0.0)


@pytest.mark.parametrize("what", SHEETS)
@pytest.mark.parametrize(("name", "paper"), PAIRS)
def test_all_words_are_on_the_page_and_none_on_others(qapp, name, paper, what):
    for page in pages(name, paper, what):
        wide, high = (mm * MM_PER_POINT for mm in page.get_size())
        shapes = quads(page)
        sheet = shapely.box(5, 5, wide - 5, high - 5)
        assert len(shapes) > 4
        assert all(sheet.covers(shape) for shape in shapes)
        # a thread's breadth where a quad is a little larger than its letters
        assert most_in_common(shapes) < 0.1


@pytest.mark.parametrize("what", ["diagram", "record"])
@pytest.mark.parametrize(("name", "paper"), PAIRS)
def test_the_springs_have_the_scale_that_the_sheet_states(qapp, name, paper, what):
    plan = plan_of(name)
    (page,) = pages(name, paper, what)
    (stated,) = {float(n) for n in STATED.findall(page.get_textpage().get_text_range())}
    springs = np.array([(s.x, s.y) for s in plan.deck.springs])
    found = np.array(circles_of(page, plan.deck.coils[0].top_diameter / stated))
    assert len(found) >= len(springs)
    # all springs stand to each other as they do in the deck, at that scale
    apart = (springs - springs[0]) / stated
    fits = [np.abs(found[:, None] - (start + apart)).max(axis=-1).min(axis=0) for start in found]
    assert min(fit.max() for fit in fits) < 0.1


@pytest.mark.parametrize(("name", "paper"), PAIRS)
def test_the_rails_of_a_side_view_have_the_scale_that_it_states(qapp, name, paper):
    plan = plan_of(name)
    (page, *_) = pages(name, paper, "side view")
    (stated,) = {float(n) for n in STATED.findall(page.get_textpage().get_text_range())}
    heights = {round(float(path.size[1]) * stated, 1) for path in paths_of(page)}
    line = plan.parts.ties.lines[0]
    tops = {plan.deck.frame.top_of(side) for side in line.sides if side is not None}
    assert all(any(abs(high - top) < 0.2 * stated / 2 for high in heights) for top in tops)


@pytest.mark.parametrize("what", ["bench", "steps"])
@pytest.mark.parametrize(("name", "paper"), PAIRS)
def test_sheets_that_are_not_to_scale_state_none(qapp, name, paper, what):
    for page in pages(name, paper, what):
        assert not STATED.search(page.get_textpage().get_text_range())
    for drawing in drawn(name, paper, what):
        assert ET.fromstring(svg_bytes(drawing)).get("data-scale") is None


@pytest.mark.parametrize("what", SHEETS)
@pytest.mark.parametrize(("name", "paper"), PAIRS)
def test_the_svg_is_sound_and_says_what_it_shows(name, paper, what):
    for drawing in drawn(name, paper, what):
        root = ET.fromstring(svg_bytes(drawing))
        assert root.tag == f"{SVG}svg"
        assert root.get("version") == "1.1"
        assert {element.tag.removeprefix(SVG) for element in root.iter()} <= ELEMENTS
        title, description = list(root)[:2]
        assert (title.tag, description.tag) == (f"{SVG}title", f"{SVG}desc")
        assert plan_of(name).deck.name in title.text
        assert len(description.text) > 20
        ids = [element.get("id") for element in root.iter() if element.get("id")]
        assert len(ids) == len(set(ids))


@pytest.mark.parametrize("what", SHEETS)
@pytest.mark.parametrize(("name", "paper"), ONCE)
def test_the_same_sheet_is_written_in_the_same_bytes(qapp, name, paper, what):
    again = SHEETS[what](plan_of(name), PAPERS[paper])
    assert [svg_bytes(d) for d in again] == [svg_bytes(d) for d in drawn(name, paper, what)]
    assert undated(pdf_bytes(again)) == undated(written(name, paper, what))


def test_words_on_others_would_be_noticed(qapp):
    ground = Drawing(100, 100, "Two words", "One on the other", ())
    told = [Text(20 + shift, 50, "one word", 5, "#000000") for shift in (0, 6)]
    (page,) = pypdfium2.PdfDocument(pdf_bytes([replace(ground, items=tuple(told))]))
    assert most_in_common(quads(page)) > 1
