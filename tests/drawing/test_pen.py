"""A drawing is walked once, in painting order, and tells the pen everything."""

import math

import pytest

from spring_layout.drawing.pen import RecordingPen, play
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
    polyline,
    rectangle,
)

BLACK = Stroke("#000000", 0.5, (2.0, 1.0))


def picture(*items):
    return Drawing(100, 50, "A picture", "With things in it.", items)


def test_the_pen_hears_everything_in_painting_order():
    ring, words = Circle(1, 2, 3), Text(0, 0, "A1", 3, "#000000")
    inner = Group((ring,), Tag(id="inner"))
    outer = Group((inner, words))
    line = Path(polyline([(0, 0), (1, 1)]))
    drawing = picture(line, outer)
    pen = RecordingPen()
    play(drawing, pen)
    assert pen.calls == [
        ("begin", drawing),
        ("path", line),
        ("begin_group", outer),
        ("begin_group", inner),
        ("circle", ring),
        ("end_group", None),
        ("text", words),
        ("end_group", None),
        ("end", None),
    ]


def test_an_arc_ends_where_its_sweep_takes_it_clockwise_on_paper():
    x, y = Arc(10, 20, 5, start=0, sweep=90).finish
    assert (x, y) == pytest.approx((10, 25))


def test_a_rectangle_is_closed():
    assert rectangle(1, 2, 3, 4) == (Move(1, 2), Line(4, 2), Line(4, 6), Line(1, 6), Close())


def test_an_enlarged_drawing_is_larger_in_everything():
    arc = Path((Move(1, 0), Arc(0, 0, 1, 0, 90), Line(3, 4), Close()), BLACK)
    clip = Path(rectangle(0, 0, 5, 5))
    words = Text(5, 6, "B2", 3, "#000000", turned=30)
    drawing = picture(Group((arc, words), clip=clip), Circle(1, 2, 3, BLACK), Circle(1, 2, 3))
    double = drawing.enlarged(2)
    group, circle, bare = double.items
    assert (double.width, double.height) == (200, 100)
    assert group.clip.steps == rectangle(0, 0, 10, 10)
    assert group.items[0].steps == (Move(2, 0), Arc(0, 0, 2, 0, 90), Line(6, 8), Close())
    assert group.items[0].stroke == Stroke("#000000", 1.0, (4.0, 2.0))
    assert group.items[1] == Text(10, 12, "B2", 6, "#000000", turned=30)
    assert (circle.x, circle.y, circle.radius) == (2, 4, 6)
    assert bare.stroke is None
    assert math.isclose(double.enlarged(0.5).items[1].radius, 3)
