"""Gaps, clearances and natural neighbours, against plain loops, shapely and scipy."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import Delaunay, cKDTree

from spring_layout.geometry.outline import make_outline
from spring_layout.geometry.spacing import (
    centre_inside,
    facing_sides,
    gaps,
    joined_pairs,
    natural_neighbours,
    nearest_rings,
    side_clearances,
    side_feet,
)
from spring_layout.tolerances import CHORD_ERROR

SQUARE = make_outline(((0, 0), (600, 0), (600, 600), (0, 600)), (0, 0, 0, 0))
ROUND = make_outline(((0, 300), (600, 300)), (300, 300))
BOWED = make_outline(((0, 0), (600, 0), (640, 560), (-40, 560)), (-30, 0, 60, 0))
NOTCHED = make_outline(
    ((80, 0), (520, 0), (520, 100), (600, 100), (600, 600), (0, 600), (0, 100), (80, 100)),
    (0,) * 8,
)
OUTLINES = st.sampled_from([SQUARE, ROUND, BOWED, NOTCHED])


def places(least=2, most=25):
    one = st.tuples(st.integers(-50, 650), st.integers(-50, 650))
    return st.lists(one, min_size=least, max_size=most, unique=True).map(
        lambda rows: np.array(rows, float)
    )


def grid(rows, columns, pitch=140.0):
    y, x = np.mgrid[:rows, :columns]
    return np.stack([x.ravel(), y.ravel()], axis=1) * pitch + 90


@given(OUTLINES, places(1))
def test_a_centre_is_inside_where_shapely_says_so_or_within_a_chord_of_the_edge(outline, centres):
    points = shapely.points(centres)
    sure = shapely.distance(points, outline.polygon.exterior) > 2 * CHORD_ERROR
    covered = shapely.covers(outline.polygon, points)
    assert (centre_inside(outline, centres) == covered)[sure].all()


def test_just_inside_and_just_outside_the_true_arc_are_told_apart():
    angle = np.linspace(0.01, 6.2, 500)
    way = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    assert centre_inside(ROUND, (300, 300) + 299.999 * way).all()
    assert not centre_inside(ROUND, (300, 300) + 300.001 * way).any()


@given(OUTLINES, places(1))
def test_the_clearance_is_the_distance_to_the_edge_less_the_ring(outline, centres):
    radii = np.full(len(centres), 40.0)
    found = side_clearances(outline, centres, radii)
    away = shapely.distance(shapely.points(centres), outline.polygon.exterior)
    inside = centre_inside(outline, centres)
    wanted = np.where(inside, away, -away) - 40
    assert found.min(axis=1) == pytest.approx(wanted, abs=CHORD_ERROR + 1e-6)
    for number, line in enumerate(outline.lines):
        own = np.abs(found[:, number] + 40)
        assert own == pytest.approx(line_distance(line, centres), abs=CHORD_ERROR + 1e-6)


def line_distance(line, centres):
    return shapely.distance(shapely.points(centres), line)


def test_a_ring_over_the_edge_has_a_negative_clearance():
    centres = np.array([[30, 300], [-20, 300], [300, 300]], float)
    found = side_clearances(SQUARE, centres, np.full(3, 46.0)).min(axis=1)
    assert found.tolist() == [-16, -66, 254]


@given(OUTLINES, places(1))
def test_a_clearance_grows_in_its_direction(outline, centres):
    radii = np.zeros(len(centres))
    clearance, way = side_feet(outline, centres, radii)
    assert clearance == pytest.approx(side_clearances(outline, centres, radii))
    for number in range(len(outline.sides)):
        after = side_clearances(outline, centres + 1e-3 * way[:, number], radii)[:, number]
        apart = np.sort(np.abs(clearance), axis=1)
        # Outside, and as near to two sides, a centre counts as past either; at an edge it crosses.
        unsure = (apart[:, 1] - apart[:, 0] < 0.01) & ~centre_inside(outline, centres)
        unsure |= np.abs(clearance[:, number]) < 0.2
        # As near to both ends of a side, a centre comes nearer to one as it leaves the other.
        along = outline.sides[number].nearest_along(centres)
        at_end = np.minimum(along, outline.sides[number].length - along) < 0.01
        grown = (after - clearance[:, number])[~unsure]
        assert (grown <= 1e-3 * (1 + 1e-3)).all()
        assert grown[~at_end[~unsure]] == pytest.approx(1e-3, rel=1e-3)


def test_a_clearance_from_the_very_edge_grows_inward():
    clearance, way = side_feet(SQUARE, np.array([[300.0, 0.0]]), np.zeros(1))
    assert clearance[0, 0] == 0
    assert way[0, 0] == pytest.approx([0, 1])


@given(places(), st.lists(st.floats(20, 60), min_size=25, max_size=25))
def test_the_nearest_ring_is_that_of_a_plain_search(centres, sizes):
    radii = np.array(sizes[: len(centres)])
    nearest, gap = nearest_rings(centres, radii)
    for i, place in enumerate(centres):
        others = [
            (round(math.dist(place, other) - radii[i] - radii[j], 6), other[1], other[0], j)
            for j, other in enumerate(centres)
            if j != i
        ]
        assert nearest[i] == min(others)[3]
        assert gap[i] == pytest.approx(min(others)[0], abs=2e-6)


def test_of_equal_gaps_the_spring_farther_back_counts_then_the_one_farther_left():
    nearest, gap = nearest_rings(grid(3, 3), np.full(9, 46.0))
    assert nearest.tolist() == [1, 0, 1, 0, 1, 2, 3, 4, 5]
    assert gap == pytest.approx(np.full(9, 48))


def test_a_lone_spring_has_no_nearest():
    nearest, gap = nearest_rings(np.array([[100.0, 100.0]]), np.array([46.0]))
    assert nearest.tolist() == [-1]
    assert np.isnan(gap).all()


def test_two_springs_at_one_place_are_nearest_to_each_other():
    centres = np.array([[100, 100], [250, 100], [100, 100], [400, 250]], float)
    nearest, gap = nearest_rings(centres, np.full(4, 46.0))
    assert nearest.tolist()[:3] == [2, 0, 0]
    assert gap[0] == pytest.approx(-92)


@settings(max_examples=50)
@given(places(4))
def test_joined_pairs_are_those_of_a_delaunay_triangulation(centres):
    if len(np.unique(centres, axis=0)) < len(centres) or _flat(centres):
        return
    pairs, seen = joined_pairs(centres)
    theirs = {
        tuple(sorted(pair))
        for triangle in Delaunay(centres).simplices
        for pair in zip(triangle, np.roll(triangle, 1), strict=True)
    }
    ours = {tuple(pair) for pair in pairs[seen < 89.9].tolist()}
    assert ours <= theirs


def _flat(centres):
    return np.linalg.matrix_rank(centres - centres.mean(axis=0), tol=1e-6) < 2


def neighbours_by_angle(centres, limit=75.0):
    """Pairs that no third spring sees under ``limit`` degrees or more, or nearest: plain loops."""
    found = []
    for i in range(len(centres)):
        for j in range(i + 1, len(centres)):
            if math.dist(centres[i], centres[j]) <= _least(centres, i, j) + 1e-6 or all(
                _angle(centres[k], centres[i], centres[j]) < limit
                for k in range(len(centres))
                if k not in (i, j)
            ):
                found.append((i, j))
    return found


def _least(centres, *springs):
    """The larger of the distances from each of ``springs`` to its own nearest."""
    apart = np.hypot(*(centres[:, None] - centres[None]).transpose(2, 0, 1))
    np.fill_diagonal(apart, np.inf)
    return max(apart[i].min() for i in springs)


def _angle(eye, one, two):
    first, second = one - eye, two - eye
    cosine = first @ second / math.hypot(*first) / math.hypot(*second)
    return math.degrees(math.acos(max(-1.0, min(1.0, cosine))))


@settings(max_examples=60)
@given(places(2, 14))
def test_natural_neighbours_are_those_that_nobody_stands_between(centres):
    pairs = natural_neighbours(SQUARE, centres)
    assert [tuple(pair) for pair in pairs.tolist()] == neighbours_by_angle(centres)


@given(places(2, 25))
def test_no_spring_is_left_without_a_neighbour(centres):
    assert set(natural_neighbours(SQUARE, centres).ravel()) == set(range(len(centres)))


@pytest.mark.parametrize(("rows", "columns"), [(1, 5), (2, 2), (3, 3), (4, 10)])
def test_in_square_rows_the_diagonal_springs_are_no_neighbours(rows, columns):
    pairs = natural_neighbours(SQUARE, grid(rows, columns, 40))
    assert len(pairs) == rows * (columns - 1) + columns * (rows - 1)


def test_jitter_makes_no_diagonal_neighbours():
    centres = grid(5, 5) + np.random.default_rng(4).uniform(-6, 6, (25, 2))
    assert len(natural_neighbours(SQUARE, centres)) == 40


def test_a_spring_amid_four_is_neighbour_to_each_and_they_are_none_to_each_other():
    centres = np.array([[100, 100], [300, 100], [200, 200], [100, 300], [300, 300]], float)
    assert natural_neighbours(SQUARE, centres).tolist() == [[0, 2], [1, 2], [2, 3], [2, 4]]


def test_equal_staggered_rows_have_six_neighbours_around():
    angles = np.radians(60 * np.arange(6))
    ring = 300 + 140 * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    centres = np.concatenate([[[300.0, 300.0]], ring])
    pairs = natural_neighbours(SQUARE, centres)
    assert (pairs[:, 0] == 0).sum() == 6
    assert len(pairs) == 12


def test_a_notch_parts_two_springs_on_either_side_of_it():
    slot = make_outline(
        ((0, 0), (280, 0), (280, 400), (320, 400), (320, 0), (600, 0), (600, 600), (0, 600)),
        (0,) * 8,
    )
    centres = np.array([[200, 100], [400, 100]], float)
    assert len(natural_neighbours(slot, centres)) == 0
    assert len(natural_neighbours(SQUARE, centres)) == 1


def test_one_spring_has_no_neighbours():
    assert natural_neighbours(SQUARE, np.array([[100.0, 100.0]])).shape == (0, 2)


def test_a_single_row_in_a_deep_deck_faces_back_and_front():
    frame = make_outline(((0, 0), (600, 0), (600, 900), (0, 900)), (0,) * 4)
    centres = np.array([[100, 450], [230, 455], [370, 445], [500, 450]], float)
    rim = facing_sides(frame, centres).tolist()
    assert [[i, 0] for i in range(4)] + [[i, 2] for i in range(4)] == sorted(
        [pair for pair in rim if pair[1] in (0, 2)], key=lambda pair: pair[::-1]
    )


@pytest.mark.parametrize(("rows", "columns"), [(1, 1), (1, 4), (3, 3), (5, 4)])
def test_in_square_rows_the_outer_springs_face_the_rails(rows, columns):
    centres = grid(rows, columns, 110)
    width, depth = 180 + 110 * (columns - 1), 180 + 110 * (rows - 1)
    frame = make_outline(((0, 0), (width, 0), (width, depth), (0, depth)), (0,) * 4)
    rim = facing_sides(frame, centres)
    assert len(rim) == 2 * (rows + columns)
    rows_of = centres[rim[:, 0]]
    assert (rows_of[rim[:, 1] == 0][:, 1] == 90).all()


def test_a_spring_behind_two_others_faces_no_rail():
    centres = np.array([[100, 100], [500, 100], [300, 300], [100, 500], [500, 500]], float)
    assert 2 not in facing_sides(SQUARE, centres)[:, 0]


def test_a_spring_faces_the_corner_of_a_notch_once():
    frame = make_outline(((0, 0), (300, 0), (300, 300), (600, 300), (600, 600), (0, 600)), (0,) * 6)
    rim = facing_sides(frame, np.array([[200.0, 400.0]]))
    assert rim[:, 1].tolist() == [0, 2, 3, 4, 5]


def test_gaps_of_given_pairs():
    centres = np.array([[0, 0], [300, 400], [0, 100]], float)
    found = gaps(centres, np.array([50.0, 60.0, 50.0]), np.array([[0, 1], [0, 2]]))
    assert found.tolist() == [390, 0]


def test_two_thousand_springs_agree_with_a_search_tree():
    rng = np.random.default_rng(7)
    centres = rng.uniform(0, 5000, (2000, 2))
    radii = rng.choice([40.0, 46.0, 55.0], 2000)
    nearest, gap = nearest_rings(centres, radii)
    distance, index = cKDTree(centres).query(centres, k=12)
    theirs = distance[:, 1:] - radii[index[:, 1:]] - radii[:, None]
    assert gap == pytest.approx(theirs.min(axis=1))
    assert (nearest == index[np.arange(2000), 1 + theirs.argmin(axis=1)]).all()
