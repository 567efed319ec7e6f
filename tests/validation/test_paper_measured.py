"""The full-size sheets, measured with software that is not ours.

The PDF is read back with pdfium (the PDF library of a web browser) and pypdf, the SVG as plain XML
and as pictures drawn by resvg. What must hold is the promise on the sheet: 1 : 1. The inch is 25.4
mm exactly (international yard and pound agreement of 1959); a PDF unit is 1/72 in (ISO 32000-1,
8.3.2); a page of A4 is 210 x 297 mm (ISO 216), letter 8 1/2 x 11 in (ASME Y14.1). 0.1 mm is our
own promise, a third of a pencil line.
"""

import io
import itertools
import math
import re
import xml.etree.ElementTree as ET
from functools import lru_cache

import numpy as np
import pypdf
import pypdfium2
import pytest
import resvg_py
import shapely
from PySide6.QtGui import QImage

from spring_layout.drawing.paper import PAPERS
from spring_layout.drawing.primitives import Drawing
from spring_layout.drawing.rail_strips import rail_strips
from spring_layout.drawing.svg import svg_bytes
from spring_layout.drawing.template import full_size_template
from spring_layout.drawing.template_correction import Correction
from spring_layout.qtrender.pdf import pdf_bytes
from tests.drawing.samples import NAMES, plan_of
from tests.qtrender.pdf_reading import circles_of, paths_of, word_boxes

TRUE = 0.1
SVG = "{http://www.w3.org/2000/svg}"
PAGE_SIZES = {"a4": (210.0, 297.0), "letter": (8.5 * 25.4, 11 * 25.4)}
FEW = ["square-stool", "bow-fronted-easy-chair", "round-ottoman"]
ONCE = [("square-stool", "letter"), ("bow-fronted-easy-chair", "a4"), ("round-ottoman", "letter")]
ALL = [pair for pair in itertools.product(NAMES, PAGE_SIZES) if pair not in ONCE]
PAIRS = [*ONCE, *(pytest.param(*pair, marks=pytest.mark.larger) for pair in ALL)]


@lru_cache(maxsize=8)
def tiles(name: str, paper: str) -> tuple[Drawing, ...]:
    return full_size_template(plan_of(name), PAPERS[paper])


@lru_cache(maxsize=8)
def pdf_of(name: str, paper: str) -> bytes:
    return pdf_bytes(tiles(name, paper))


# what is on each page of the PDF


@pytest.mark.parametrize(("name", "paper"), PAIRS)
def test_springs_stand_at_their_true_distances_on_every_page(qapp, name, paper):
    plan = plan_of(name)
    diameter = plan.deck.coils[0].foot_diameter
    springs = np.array([(s.x, s.y) for s in plan.deck.springs])
    seen = 0
    for page in pypdfium2.PdfDocument(pdf_of(name, paper)):
        found = circles_of(page, diameter)
        for first, second in itertools.combinations(found, 2):
            # the two stand as some two springs of the deck do: compare vectors, not just lengths
            wanted = springs[:, None] - springs
            assert np.abs(wanted - (first - second)).max(axis=-1).min() < TRUE
            seen += 1
    assert seen > 3


@pytest.mark.parametrize(("name", "paper"), PAIRS)
def test_springs_and_frame_corners_lie_true_to_each_other_on_every_page(qapp, name, paper):
    plan = plan_of(name)
    corners = plan.parts.standing.outline.corners
    springs = np.array([(s.x, s.y) for s in plan.deck.springs])
    diameter = plan.deck.coils[0].foot_diameter
    matched = 0
    pages = pypdfium2.PdfDocument(pdf_of(name, paper))
    for page, drawing in zip(pages, tiles(name, paper), strict=True):
        wide, high = (mm * 25.4 / 72 for mm in page.get_size())
        points = np.concatenate([p.points for p in paths_of(page) if len(p.points) < 40])
        where = np.array([float(dict(drawing.data)[key]) for key in ("left", "top")])
        for foot in circles_of(page, diameter):
            # which spring it is the sheet says; how far the corners are from it is measured
            spring = springs[np.hypot(*(springs - where - foot).T).argmin()]
            for corner in corners - spring + foot:
                if 12 < corner[0] < wide - 25 and 12 < corner[1] < high - 45:
                    assert np.hypot(*(points - corner).T).min() < TRUE
                    matched += 1
    assert matched > 0


def bars(page: pypdfium2.PdfPage) -> list[float]:
    """The lengths of the ruled bars: stroked rectangles 1.7 mm thick, mm."""
    long = [p.size for p in paths_of(page) if p.stroked and abs(p.size.min() - 1.7) < 0.01]
    return sorted(round(float(size.max()), 3) for size in long if size.max() > 50)


@pytest.mark.parametrize(("name", "paper"), PAIRS)
def test_every_page_has_both_bars_both_ways_at_their_true_length(qapp, name, paper):
    for page in pypdfium2.PdfDocument(pdf_of(name, paper)):
        assert bars(page) == pytest.approx([100, 100, 101.6, 101.6], abs=0.01)


@pytest.mark.parametrize(("name", "paper"), PAIRS)
def test_pages_have_their_real_size_and_all_words_are_on_them(qapp, name, paper):
    width, height = PAGE_SIZES[paper]
    for page in pypdfium2.PdfDocument(pdf_of(name, paper)):
        sides = sorted(mm * 25.4 / 72 for mm in page.get_size())
        assert sides == pytest.approx([width, height], abs=0.001)
        wide, high = (mm * 25.4 / 72 for mm in page.get_size())
        boxes = [box for _, box in word_boxes(page)]
        assert len(boxes) > 8
        for left, top, right, bottom in boxes:
            assert left > 5
            assert top > 5
            assert right < wide - 5
            assert bottom < high - 5


@pytest.mark.parametrize(("name", "paper"), ONCE)
def test_the_words_can_be_copied_out_of_the_pdf(qapp, name, paper):
    reader = pypdf.PdfReader(io.BytesIO(pdf_of(name, paper)), strict=True)
    assert len(reader.pages) == len(tiles(name, paper))
    for page, drawing in zip(reader.pages, tiles(name, paper), strict=True):
        words = " ".join(page.extract_text().split())
        assert f"Sheet {dict(drawing.data)['sheet']}" in words
        assert "Print at 100 % (actual size), not fitted to the page." in words
    assert reader.metadata.title == f"Full-size template: {plan_of(name).deck.name}"
    assert not reader.metadata.author


# the SVG as XML


def svg_rectangle(root: ET.Element) -> shapely.Polygon:
    """What the picture's clip shows, as places of the deck."""
    path = root.find(f".//{SVG}clipPath/{SVG}path").get("d")
    numbers = [float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", path)]
    xs, ys = numbers[0::2], numbers[1::2]
    left, top = float(root.get("data-left")), float(root.get("data-top"))
    return shapely.box(min(xs) + left, min(ys) + top, max(xs) + left, max(ys) + top)


def svg_bars(root: ET.Element) -> list[float]:
    """The lengths of the ruled bars, mm."""
    found = []
    for path in root.iter(f"{SVG}path"):
        if path.get("class") == "bar":
            numbers = [float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", path.get("d"))]
            found.append(max(float(np.ptp(numbers[0::2])), float(np.ptp(numbers[1::2]))))
    return found


@pytest.mark.parametrize(("name", "paper"), PAIRS)
def test_the_tiles_of_the_svg_cover_the_deck_and_overlap_as_stated(name, paper):
    plan, seen = plan_of(name), {}
    outline, pictures = plan.parts.standing.outline, {}
    for drawing in tiles(name, paper):
        root = ET.fromstring(svg_bytes(drawing))
        assert root.get("width") == f"{float(root.get('viewBox').split()[2]):g}mm"
        pictures[root.get("data-sheet")] = svg_rectangle(root)
        assert sorted(svg_bars(root)) == pytest.approx([100, 100, 101.6, 101.6], abs=0.002)
        assert "Pictures overlap by 15 mm" in root.find(f"{SVG}desc").text
        left, top = float(root.get("data-left")), float(root.get("data-top"))
        for foot in root.iter(f"{SVG}circle"):
            if foot.get("class") == "foot":
                place = float(foot.get("cx")) + left, float(foot.get("cy")) + top
                seen.setdefault(foot.get("id"), []).append((place, float(foot.get("r"))))
        for edge in root.iter(f"{SVG}path"):
            if edge.get("class") == "inside-edge":
                # a side is drawn whole where any of it shows, and the picture cuts it off
                begin = [float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", edge.get("d"))[:2]]
                corner = outline.corners[int(edge.get("data-side"))] - (left, top)
                assert begin == pytest.approx(corner.tolist(), abs=TRUE)
    covered = shapely.union_all(list(pictures.values()))
    for spring in plan.deck.springs:
        radius = plan.deck.coil_of(spring).foot_diameter / 2
        assert covered.buffer(0.01).covers(shapely.Point(spring.x, spring.y).buffer(radius))
        for place, drawn in seen[f"foot-{spring.id}"]:
            assert math.dist(place, (spring.x, spring.y)) < TRUE
            assert drawn == pytest.approx(radius, abs=0.001)
    assert covered.buffer(0.01).covers(plan.parts.standing.outline.polygon.exterior)
    for (first, one), (second, other) in itertools.combinations(pictures.items(), 2):
        step = np.subtract([int(n) for n in first.split("-")], [int(n) for n in second.split("-")])
        if np.abs(step).sum() == 1:
            x0, y0, x1, y1 = one.intersection(other).bounds
            assert (x1 - x0 if step[1] else y1 - y0) == pytest.approx(15, abs=0.01)


# the SVG as a picture drawn by resvg


DOTS = 20.0
"""Dots a millimetre in a picture of an SVG."""


def picture_of(svg: bytes) -> np.ndarray:
    """Grey values of the SVG as resvg draws it, without its words and the deck in it."""
    root = ET.fromstring(svg)
    for deck in [child for child in root if child.get("id") == "picture"]:
        root.remove(deck)
    data = resvg_py.svg_to_bytes(
        svg_string=ET.tostring(root).decode(),
        dpi=DOTS * 25.4,
        background="#ffffff",
        skip_system_fonts=True,
    )
    image = QImage.fromData(bytes(data)).convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), -1)
    # the dots belong to the image, which goes
    return rows[:, : image.width()].copy()


def bars_of(svg: bytes) -> dict[str, tuple[float, float]]:
    """Where each bar begins, and where its middle line is across it, mm, by its id."""
    found = {}
    for path in ET.fromstring(svg).iter(f"{SVG}path"):
        if path.get("class") == "bar":
            numbers = [float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", path.get("d"))]
            xs, ys = numbers[0::2], numbers[1::2]
            along, ends = (xs, ys) if path.get("id").endswith("across") else (ys, xs)
            found[path.get("id")] = min(along), (min(ends) + max(ends)) / 2
    return found


@pytest.mark.parametrize(("paper", "name"), [("a4", "square-stool"), ("letter", "hall-bench")])
def test_the_bars_measure_true_in_a_picture_of_the_svg(paper, name):
    svg = svg_bytes(tiles(name, paper)[0])
    grey, found = picture_of(svg), bars_of(svg)
    for bar, long in (("mm", 100.0), ("in", 101.6)):
        for way in ("across", "down"):
            begin, middle = found[f"bar-{bar}-{way}"]
            line = grey[round(middle * DOTS)] if way == "across" else grey[:, round(middle * DOTS)]
            low, high = round((begin - 1.5) * DOTS), round((begin + long + 1.5) * DOTS)
            dark = np.flatnonzero(line[low:high] < 140)
            measured = (dark[-1] - dark[0] + 1) / DOTS
            # the hairline round a bar is 0.1 mm wide, half of it outside
            assert measured == pytest.approx(long + 0.1, abs=TRUE)


# the other full-size sheets


@pytest.mark.parametrize("name", FEW)
def test_tack_points_stand_true_on_the_rail_strips_of_the_pdf(qapp, name):
    plan = plan_of(name)
    drawings = rail_strips(plan, PAPERS["a4"])
    for page in pypdfium2.PdfDocument(pdf_bytes(drawings)):
        assert bars(page) == pytest.approx([100, 100, 101.6, 101.6], abs=0.01)
        rows = {}
        for x, y in circles_of(page, 2.0):
            rows.setdefault(round(float(y), 1), []).append(float(x))
        for xs in rows.values():
            apart = np.diff(sorted(xs))
            assert any(_stands_in(apart, tacks) for tacks in _distances(plan))


def _distances(plan) -> list[np.ndarray]:
    """For every side the places of its tack points along the inside edge, ascending, mm."""
    sides = {}
    for line in plan.parts.ties.lines:
        for side, along in zip(line.sides, line.along, strict=True):
            if side is not None:
                sides.setdefault(side, []).append(along)
    return [np.sort(places) for places in sides.values()]


def _stands_in(apart: np.ndarray, tacks: np.ndarray) -> bool:
    """Whether tacks of a side that follow each other have these distances."""
    gaps = np.diff(tacks)
    count = len(apart)
    return any(
        np.abs(gaps[i : i + count] - apart).max(initial=0.0) < TRUE
        for i in range(len(gaps) - count + 1)
    )


def test_a_corrected_sheet_comes_out_true_from_the_printer_it_is_for(qapp):
    plan, off = plan_of("square-stool"), Correction(0.985, 1.012)
    drawings = full_size_template(plan, PAPERS["a4"], off)
    printed = np.array([off.across, off.down])
    springs = np.array([(s.x, s.y) for s in plan.deck.springs])
    wanted = springs[:, None] - springs
    seen = 0
    for page in pypdfium2.PdfDocument(pdf_bytes(drawings)):
        sides = sorted(mm * 25.4 / 72 for mm in page.get_size())
        assert sides == pytest.approx([210, 297], abs=0.001)
        foot = plan.deck.coils[0].foot_diameter
        rings = [
            p
            for p in paths_of(page)
            if p.stroked and np.allclose(p.size * printed, foot, atol=0.05)
        ]
        for first, second in itertools.combinations(rings, 2):
            apart = (first.middle - second.middle) * printed
            assert np.abs(wanted - apart).max(axis=-1).min() < TRUE
            seen += 1
    assert seen > 3


def test_a_measure_that_is_off_would_be_noticed(qapp):
    # the promise is worth nothing if the measuring could not fail: 0.3 % is 0.3 mm in 100
    drawings = [drawing.enlarged(1.003) for drawing in tiles("square-stool", "a4")[:1]]
    (page,) = pypdfium2.PdfDocument(pdf_bytes(drawings))
    assert bars(page) != pytest.approx([100, 100, 101.6, 101.6], abs=0.01)
