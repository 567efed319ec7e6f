"""A printer that is off, and paper of every kind for the template."""

import math

import pytest
import shapely

from spring_layout.drawing.paper import Paper, PaperError
from spring_layout.drawing.primitives import (
    Arc,
    Circle,
    Drawing,
    Group,
    Line,
    Move,
    Path,
    Stroke,
    Text,
)
from spring_layout.drawing.template_correction import (
    Correction,
    CorrectionError,
    corrected,
    correction_from,
)
from spring_layout.drawing.template_papers import OneSheet, Roll, pages_for, template_paper_named

INK = Stroke("#000000", 0.4)


def test_the_bars_say_how_far_the_printer_is_off():
    assert correction_from("99", "100.5 mm") == Correction(0.99, 1.005)


def test_a_length_in_inches_is_that_of_the_4_inch_bar():
    off = correction_from("3 15/16 in", '4.02"')
    assert off.across == pytest.approx(3.9375 / 4)
    assert off.down == pytest.approx(4.02 / 4)


@pytest.mark.parametrize("text", ["90", "111 mm", "3 in", "-100"])
def test_a_bar_that_is_far_off_was_fitted_to_the_page(text):
    with pytest.raises(CorrectionError, match="100 % \\(actual size\\)"):
        correction_from("100", text)


def test_words_that_are_no_length_are_refused_with_the_way_they_were_for():
    with pytest.raises(CorrectionError, match="the bar across: “long” is not a length"):
        correction_from("long", "100")


def test_a_true_printer_needs_no_correction_and_says_nothing():
    drawing = Drawing(210, 297, "t", "d", (Circle(100, 100, 40, INK),), (("scale", "1"),))
    assert Correction().words == ""
    assert corrected(drawing, Correction()) is drawing


def test_a_correction_makes_everything_larger_by_what_the_printer_makes_smaller():
    mark = Path((Move(20, 30), Line(120, 130)), INK)
    note = Text(50, 60, "A1", 5, "#000000")
    drawing = Drawing(
        198, 297, "t", "d", (Group((mark, note), clip=mark),), (("scale", "1"), ("sheet", "1-1"))
    )
    sent = corrected(drawing, Correction(198 / 210, 1.0))
    assert (sent.width, sent.height) == (pytest.approx(210), 297)
    (group,) = sent.items
    start, end = group.items[0].steps
    assert end.x - start.x == pytest.approx(100 * 210 / 198)
    assert end.y - start.y == pytest.approx(100)
    assert group.clip.steps == group.items[0].steps
    assert group.items[1].x == pytest.approx(50 * 210 / 198)
    data = dict(sent.data)
    assert "scale" not in data
    assert data["corrected"].split() == ["1.060606", "1.000000"]


def test_a_circle_becomes_the_ellipse_that_prints_round():
    off = Correction(0.98, 1.01)
    drawing = Drawing(210, 297, "t", "d", (Circle(100, 150, 46, INK),))
    (ring,) = corrected(drawing, off).items
    printed = [(step.x * off.across, step.y * off.down) for step in ring.steps]
    assert max(abs(math.hypot(x - 100, y - 150) - 46) for x, y in printed) < 0.006
    assert shapely.Polygon(printed).area == pytest.approx(math.pi * 46**2, rel=1e-3)


def test_an_arc_is_stretched_along_its_own_sweep():
    off = Correction(1.02, 0.99)
    begin = Arc(0, 0, 300, 30, 0).finish
    drawing = Drawing(400, 400, "t", "d", (Path((Move(*begin), Arc(0, 0, 300, 30, 60)), INK),))
    (path,) = corrected(drawing, off).items
    printed = [(step.x * off.across, step.y * off.down) for step in path.steps]
    assert max(abs(math.hypot(*place) - 300) for place in printed) < 0.006
    assert math.degrees(math.atan2(*reversed(printed[-1]))) == pytest.approx(90)


def test_a_roll_has_its_width_and_the_length_that_is_needed():
    roll = template_paper_named("roll-24in")
    assert roll == Roll("Roll 24in", pytest.approx(609.6))
    upright, lying = pages_for(roll, (560, 900), Correction())
    assert (upright.width, lying.height) == (pytest.approx(609.6),) * 2
    assert upright.height >= 900 + 20
    assert upright.height % 10 == pytest.approx(0)


def test_one_sheet_is_as_large_as_it_must_be():
    assert template_paper_named("None") == OneSheet()
    (page,) = pages_for(OneSheet(), (560, 900), Correction())
    assert page.width > 560
    assert page.height > 900


def test_a_sheet_can_lie_either_way():
    paper = template_paper_named("a3")
    assert isinstance(paper, Paper)
    sizes = [(page.width, page.height) for page in pages_for(paper, (560, 900), Correction())]
    assert sizes == [(297, 420), (420, 297)]


@pytest.mark.parametrize("name", ["roll-0", "roll 3m", "roll-wide", "papyrus"])
def test_paper_that_there_is_not_is_refused_in_a_sentence(name):
    with pytest.raises(PaperError):
        template_paper_named(name)
