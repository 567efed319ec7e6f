"""Papers, scales, and what is no paper."""

from itertools import islice

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spring_layout.drawing.paper import (
    PAPERS,
    Paper,
    PaperError,
    larger_papers,
    paper_named,
    scale_to_fit,
    scales,
)


def test_the_scales_are_those_that_people_use():
    assert list(islice(scales(), 12)) == [1, 2, 2.5, 4, 5, 10, 20, 25, 40, 50, 100, 200]


@given(st.floats(10, 10_000), st.floats(10, 10_000), st.floats(50, 1000), st.floats(50, 1000))
def test_the_largest_scale_that_fits_is_taken(width, height, room_width, room_height):
    scale = scale_to_fit((width, height), (room_width, room_height))
    assert width / scale <= room_width * (1 + 1e-9)
    assert height / scale <= room_height * (1 + 1e-9)
    larger = [s for s in islice(scales(), 40) if s < scale]
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
    assert PAPERS["a0"].lettering == pytest.approx(2.0, abs=0.01)
