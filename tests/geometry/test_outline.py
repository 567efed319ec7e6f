"""The opening of a frame: its area, its corners, and what makes it unusable.

Areas of circles and circular segments are closed forms; shapely is the reference for polygons.
"""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from spring_layout.geometry.outline import OutlineError, make_outline
from spring_layout.tolerances import CHORD_ERROR

SQUARE = ((0, 0), (400, 0), (400, 300), (0, 300))


def segment_area(chord, rise):
    """The area between a chord and its arc."""
    radius = chord**2 / (8 * rise) + rise / 2
    angle = 2 * math.asin(min(1.0, chord / 2 / radius))
    return radius**2 / 2 * (angle - math.sin(angle))


def test_a_straight_frame_is_its_polygon():
    outline = make_outline(SQUARE, (0, 0, 0, 0))
    assert outline.polygon.equals(shapely.box(0, 0, 400, 300))
    assert outline.bounds == (0, 0, 400, 300)
    assert outline.is_convex


@given(st.floats(0.02, 1), st.floats(0.02, 1))
def test_a_bow_adds_its_circular_segment(front, back):
    rises = (back * 200, front * 200)
    outline = make_outline(SQUARE, (rises[0], 0, rises[1], 0))
    wanted = 400 * 300 + sum(segment_area(400, rise) for rise in rises)
    edge = sum(side.length for side in outline.sides)
    assert outline.polygon.area <= wanted + 1e-6
    assert outline.polygon.area == pytest.approx(wanted, abs=CHORD_ERROR * edge)


def test_a_hollow_side_takes_its_segment_away():
    outline = make_outline(SQUARE, (-40, 0, 0, 0))
    wanted = 400 * 300 - segment_area(400, 40)
    assert outline.polygon.area == pytest.approx(wanted, abs=CHORD_ERROR * 400)
    assert not outline.is_convex


def test_two_half_circles_make_a_round_frame():
    outline = make_outline(((0, 250), (500, 250)), (250, 250))
    assert outline.polygon.area == pytest.approx(math.pi * 250**2, rel=4e-4)
    assert outline.bounds == pytest.approx((0, 0, 500, 500))
    assert not outline.is_corner(0)
    assert not outline.is_corner(1)


def test_a_square_frame_turns_by_a_right_angle_at_each_corner():
    outline = make_outline(SQUARE, (0, 0, 0, 0))
    assert outline.turns == pytest.approx(np.full(4, 90))
    assert all(outline.is_corner(i) for i in range(4))


def test_a_notch_turns_the_other_way():
    notched = ((0, 0), (300, 0), (300, 80), (400, 80), (400, 400), (0, 400))
    outline = make_outline(notched, [0] * 6)
    assert outline.turns == pytest.approx([90, 90, -90, 90, 90, 90])
    assert not outline.is_convex


def test_an_octagon_has_corners_and_a_circle_of_24_sides_runs_on():
    def polygon(count):
        angles = 2 * np.pi * np.arange(count) / count
        return make_outline([(300 * math.cos(a), 300 * math.sin(a)) for a in angles], [0] * count)

    assert polygon(8).is_corner(3)
    assert polygon(24).turns == pytest.approx(np.full(24, 15))
    assert not polygon(30).is_corner(3)


def test_places_on_the_edge_are_held_and_places_outside_are_not():
    outline = make_outline(SQUARE, (0, 0, 0, 0))
    held = outline.holds(np.array([[0, 150], [200, 150], [401, 150]]))
    assert held.tolist() == [True, True, False]


@pytest.mark.parametrize(
    ("corners", "bows", "words", "sides"),
    [
        (((0, 0), (400, 0)), (0, 0), "at least three sides", ()),
        (((0, 0),), (5,), "at least three sides", ()),
        (SQUARE, (0, 0, 0), "4 corners need 4 sides, not 3", ()),
        (((0, 0), (400, 0), (400, 0), (0, 300)), (0,) * 4, "side 2 has no length", (1,)),
        (SQUARE, (0, 0, 201, 0), "bow of side 3 is more than a half circle", (2,)),
        (SQUARE[::-1], (0,) * 4, "run anticlockwise", ()),
        (((0, 0), (400, 300), (400, 0), (0, 300)), (0,) * 4, "side 1 meets side 3", (0, 2)),
        (((0, 0), (200, 0), (400, 0)), (0,) * 3, "lie in one line|crosses itself", None),
        (((0, 0), (400, 0), (400, 60), (0, 60)), (-50, 0, -50, 0), "side 1 meets side 3", (0, 2)),
    ],
)
def test_an_unusable_opening_says_why(corners, bows, words, sides):
    with pytest.raises(OutlineError, match=words) as caught:
        make_outline(corners, bows)
    assert "; " in caught.value.reason  # the mend
    if sides is not None:
        assert caught.value.sides == sides
        assert caught.value.side == (sides[0] if sides else None)


def test_a_crossing_says_where():
    with pytest.raises(OutlineError) as caught:
        make_outline(((0, 0), (400, 300), (400, 0), (0, 300)), (0,) * 4)
    assert caught.value.place == pytest.approx((200, 150))
    assert "side 1 meets side 3; move a corner of one of them" in caught.value.reason


def test_a_side_that_folds_back_on_its_neighbour_is_refused():
    with pytest.raises(OutlineError, match="side 1 meets side 2"):
        make_outline(((0, 0), (400, 0), (200, 0), (200, 300)), (0,) * 4)
