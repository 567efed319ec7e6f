"""Papers, scales, and what is no paper."""

from fractions import Fraction
from itertools import islice

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spring_layout.drawing.paper import (
    INCH_SCALES,
    PAPERS,
    Paper,
    PaperError,
    larger_papers,
    paper_named,
    scale_to_fit,
    scale_words,
    scales,
)

UNITS = st.sampled_from(["mm", "in"])


def test_the_scales_in_mm_are_those_of_iso_5455_and_of_a_metric_scale_rule():
    """ISO 5455: 1:2, 1:5, 1:10 and on by tens. The rule: 1:20 to 1:125 by ten. From memory."""
    usual = list(islice(scales(), 20))
    assert {1, 2, 5, 10, 20, 50, 100, 200} <= set(usual)
    assert {2, 2.5, 5, 7.5, 10, 12.5} <= set(usual)
    assert usual == sorted(usual)


def test_the_scales_in_inches_are_those_of_a_us_scale_rule():
    """The architect's: 3, 1 1/2, 1, 3/4, 1/2, 3/8, 1/4, 3/16 and 1/8 in to the foot. The
    engineer's: 10 and 20 parts to the inch, and 50 for 1:5. From memory."""
    rule = [12 / inches for inches in (3, 1.5, 1, 0.75, 0.5, 0.375, 0.25, 0.1875, 0.125)]
    usual = list(islice(scales("in"), 19))
    assert {*rule, 5, 10, 20} <= set(usual)
    assert usual == sorted(usual)


def test_a_scale_in_inches_is_told_by_the_foot_as_well():
    assert scale_words(8, "in") == "1 : 8 (1 1/2 in to the foot)"
    assert scale_words(1, "in") == "1 : 1 (full size)"
    assert scale_words(10, "in") == "1 : 10"
    assert scale_words(200, "in") == "1 : 200"
    assert scale_words(2.5, "mm") == "1 : 2.5"


@pytest.mark.parametrize("scale", [s for s, told in INCH_SCALES.items() if "foot" in told])
def test_so_many_inches_to_the_foot_make_that_scale(scale):
    told = scale_words(scale, "in").split("(")[1].removesuffix(" in to the foot)")
    assert float(sum(Fraction(part) for part in told.split())) == 12 / scale


@given(
    st.floats(10, 10_000), st.floats(10, 10_000), st.floats(50, 1000), st.floats(50, 1000), UNITS
)
def test_the_largest_scale_that_fits_is_taken(width, height, room_width, room_height, units):
    scale = scale_to_fit((width, height), (room_width, room_height), units)
    assert width / scale <= room_width * (1 + 1e-9)
    assert height / scale <= room_height * (1 + 1e-9)
    larger = [s for s in islice(scales(units), 40) if s < scale]
    assert all(width / s > room_width or height / s > room_height for s in larger)


def test_a_paper_can_be_turned_either_way():
    paper = PAPERS["a4"]
    assert (paper.portrait().width, paper.portrait().height) == (210, 297)
    assert (paper.landscape().width, paper.landscape().height) == (297, 210)


@pytest.mark.parametrize("name", ["A4", " a4 ", "Letter", "ANSI C", "ansi-c", "TABLOID"])
def test_papers_go_by_the_names_people_know(name):
    assert paper_named(name) in PAPERS.values()


@pytest.mark.parametrize("name", ["420x297", "420 x 297", "420×297 mm", "420.0x297mm"])
def test_any_size_can_be_given_in_millimetres(name):
    paper = paper_named(name)
    assert (paper.width, paper.height) == (420, 297)


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("foolscap", "no paper called 'foolscap'; use a4"),
        ("", "no paper called"),
        ("50x50", "cannot be drawn on"),
        ("30000x300", "cannot be drawn on"),
        ("1.2.3x300", "not a size in millimetres"),
    ],
)
def test_what_is_no_paper_is_told_in_a_sentence(name, reason):
    with pytest.raises(PaperError, match=reason):
        paper_named(name)


def test_the_larger_papers_are_of_the_same_family():
    assert [paper.name for paper in larger_papers(PAPERS["a2"])] == ["A1", "A0"]
    assert next(paper.name for paper in larger_papers(PAPERS["legal"])) == "Tabloid"
    assert next(paper.name for paper in larger_papers(Paper("own", 300, 300))) == "A3"
    assert larger_papers(PAPERS["a0"]) == []


def test_larger_sheets_are_lettered_larger_and_none_smaller():
    assert PAPERS["a4"].lettering == 1.0
    assert Paper("small", 105, 148).lettering == 1.0
    assert PAPERS["letter"].lettering == 1.0
    assert PAPERS["a0"].lettering == pytest.approx(2.0, abs=0.01)
