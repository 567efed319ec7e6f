"""A side of the opening: straight or a circular arc, against closed forms.

Sources: arc length, radius and area of a circular segment from its chord and rise are closed
forms of elementary geometry (no source needed).
"""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from spring_layout.geometry.sides import SideCurve
from spring_layout.tolerances import CHORD_ERROR

CHORDS = st.floats(50, 3000)
SHARES = st.floats(-1, 1)


@st.composite
def sides(draw):
    chord, angle = draw(CHORDS), draw(st.floats(-math.pi, math.pi))
    x, y = draw(st.floats(-500, 500)), draw(st.floats(-500, 500))
    end = (x + chord * math.cos(angle), y + chord * math.sin(angle))
    return SideCurve((x, y), end, draw(SHARES) * chord / 2)


def radius_of(chord, rise):
    return chord**2 / (8 * rise) + rise / 2


@given(CHORDS, st.floats(0.01, 1))
def test_a_bowed_side_is_as_long_as_its_arc(chord, share):
    rise = share * chord / 2
    radius = radius_of(chord, rise)
    half = math.asin(min(1.0, chord / 2 / radius))
    assert SideCurve((0, 0), (chord, 0), rise).length == pytest.approx(2 * radius * half, rel=1e-6)


def test_a_half_circle_is_a_bow_of_half_the_chord():
    side = SideCurve((0, 0), (400, 0), 200)
    assert side.length == pytest.approx(math.pi * 200)
    assert side.sweep == pytest.approx(math.pi)
    assert side.point(side.length / 2) == pytest.approx(np.array([200, -200]))
    assert side.is_round


def test_a_bowed_front_is_no_round_frame():
    assert not SideCurve((500, 480), (0, 480), 40).is_round


def test_a_clockwise_side_bows_outward_with_a_positive_bow():
    back = SideCurve((0, 0), (400, 0), 30)
    assert back.point(back.length / 2)[1] == pytest.approx(-30)
    front = SideCurve((400, 300), (0, 300), 30)
    assert front.point(front.length / 2)[1] == pytest.approx(330)


@given(sides())
def test_a_side_runs_from_its_first_corner_to_its_second(side):
    assert side.point(0.0) == pytest.approx(np.array(side.start), abs=1e-6)
    assert side.point(side.length) == pytest.approx(np.array(side.end), abs=1e-6)
    middle = (np.array(side.start) + side.end) / 2
    away = side.point(side.length / 2) - middle
    assert math.hypot(*away) == pytest.approx(
        abs(side.bow) if not side.is_straight else 0, abs=1e-6
    )


@given(sides(), st.floats(0, 1))
def test_the_direction_at_a_place_is_the_way_the_side_goes_on(side, share):
    along = share * side.length
    ahead = (side.point(along + 1e-3) - side.point(along - 1e-3)) / 2e-3
    assert ahead == pytest.approx(side.tangent(along), abs=1e-5)
    assert float(side.tangent(along) @ side.normal(along)) == pytest.approx(0, abs=1e-12)


@given(sides())
def test_chords_keep_within_the_stated_error_of_the_arc(side):
    line = side.polyline()
    middles = (line[1:] + line[:-1]) / 2
    feet = side.point(side.nearest_along(middles))
    assert np.hypot(*(feet - middles).T).max() <= CHORD_ERROR + 1e-6
    on_arc = side.point(side.nearest_along(line))
    assert np.hypot(*(on_arc - line).T).max() < 1e-6


@given(sides(), st.floats(-300, 300), st.floats(-300, 300))
def test_the_nearest_place_on_a_side_is_what_shapely_finds_on_its_chords(side, dx, dy):
    middle = side.point(side.length / 2)
    point = middle + np.array([dx, dy])
    ours = math.dist(point, side.point(side.nearest_along(point)))
    theirs = shapely.LineString(side.polyline()).distance(shapely.Point(point))
    assert ours == pytest.approx(theirs, abs=CHORD_ERROR + 1e-6)


@given(sides(), st.floats(0, 1), st.floats(5, 60))
def test_the_nail_line_lies_its_distance_outside_the_inside_edge(side, share, outside):
    if side.curvature < 0 and -1 / side.curvature < 2 * outside:
        return
    along = share * side.length
    place = side.point(along, outside)
    assert math.dist(place, side.point(along)) == pytest.approx(outside)
    assert float(side.nearest_along(place)) == pytest.approx(along, abs=1e-5)


@given(sides(), st.floats(0, 1), st.floats(-60, 60))
def test_one_place_is_where_many_places_are(side, share, outside):
    along = share * side.length
    assert side.place(along, outside) == pytest.approx(side.point(along, outside).tolist())


@given(sides(), st.floats(0.05, 0.95), st.floats(10, 400), st.floats(-1.2, 1.2))
def test_a_ray_at_a_place_of_the_side_meets_it_there(side, share, away, turn):
    along = share * side.length
    target = side.point(along)
    angle = float(side.heading(along)) + math.pi / 2 + turn
    direction = np.array([math.cos(angle), math.sin(angle)])
    hits = side.meet(target - away * direction, direction)
    assert min(abs(hit - along) for hit in hits) < 1e-3


def test_a_ray_away_from_a_side_or_along_it_meets_nothing():
    straight = SideCurve((0, 0), (400, 0), 0)
    assert straight.meet(np.array([100, 50]), np.array([0, 1])) == []
    assert straight.meet(np.array([100, 50]), np.array([1, 0])) == []
    assert straight.meet(np.array([900, 50]), np.array([0, -1])) == []
    bowed = SideCurve((0, 0), (400, 0), 60)
    assert bowed.meet(np.array([1500, 50]), np.array([0, -1])) == []


def test_a_ray_through_a_round_side_meets_the_nearer_place_first():
    half = SideCurve((0, 0), (400, 0), 200)
    hits = half.meet(np.array([-300.0, -100.0]), np.array([1.0, 0.0]))
    places = half.point(np.array(hits))
    assert places[:, 0] == pytest.approx([200 - math.sqrt(30000), 200 + math.sqrt(30000)])
