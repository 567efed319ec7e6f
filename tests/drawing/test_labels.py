"""Labels take their cheapest free places, and what they must not touch is found."""

import itertools

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from spring_layout.drawing.labels import Ways, choose
from spring_layout.drawing.obstacles import Boxes, Pieces, Rings, Spots, clear_of

COORDINATES = st.floats(-10, 10).map(lambda value: round(value, 2))
PLACES = st.tuples(COORDINATES, COORDINATES)
BOXES = st.lists(st.tuples(PLACES, st.tuples(st.floats(0.5, 6), st.floats(0.5, 6))), min_size=1)


def boxes_of(drawn):
    low = np.array([place for place, _ in drawn])
    return Boxes(low, low + np.array([size for _, size in drawn]))


def hit(obstacle, boxes):
    return set(obstacle.hits(boxes).tolist())


def shapes(boxes, wider=0.0):
    low, high = boxes.low - wider, boxes.high + wider
    return shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1])


@given(BOXES, PLACES, PLACES)
def test_boxes_on_a_straight_piece_are_those_that_shapely_finds(drawn, start, finish):
    boxes, line = boxes_of(drawn), shapely.LineString([start, finish])
    found = hit(Pieces(np.array([[start, finish]]), 0.5), boxes)
    assert set(np.flatnonzero(shapely.intersects(shapes(boxes, 0.499), line)).tolist()) <= found
    assert found <= set(np.flatnonzero(shapely.intersects(shapes(boxes, 0.501), line)).tolist())


@given(BOXES, PLACES, st.floats(1, 8))
def test_boxes_on_a_ring_are_those_that_shapely_finds(drawn, centre, radius):
    boxes = boxes_of(drawn)
    ring = shapely.Point(centre).buffer(radius, quad_segs=128).exterior
    away = shapely.distance(shapes(boxes), ring)
    found = hit(Rings(np.array([centre]), np.array([radius]), 0.5), boxes)
    assert set(np.flatnonzero(away < 0.49).tolist()) <= found
    assert found <= set(np.flatnonzero(away < 0.51).tolist())


def test_a_box_near_a_spot_is_not_clear():
    boxes = Boxes(np.array([[0.0, 0.0], [5.0, 5.0]]), np.array([[1.0, 1.0], [6.0, 6.0]]))
    assert clear_of([Spots(np.array([[1.4, 0.5]]), 0.5)], boxes).tolist() == [False, True]


def test_nothing_is_in_the_way_where_there_is_nothing():
    boxes = Boxes(np.zeros((1, 2)), np.ones((1, 2)))
    assert clear_of([Spots(np.empty((0, 2)), 1.0), Pieces(np.empty((0, 2, 2)), 1.0)], boxes).all()


def ways(*candidates, labels):
    """Candidates (label, x, cost), each 2 mm wide on one line."""
    label, x, cost = (np.array(column) for column in zip(*candidates, strict=True))
    middles = np.column_stack([x, np.zeros(len(x))]).astype(float)
    leaders = np.full((len(x), 2, 2), np.nan)
    sizes = np.full((labels, 2), 2.0)
    return Ways(label, middles, cost.astype(float), sizes, leaders, np.zeros(len(x), int))


def chosen(candidates, labels, apart=0.5):
    found = choose(ways(*candidates, labels=labels), labels, apart)
    return [None if place is None else place.middle[0] for place in found]


def test_a_label_takes_its_cheapest_place():
    assert chosen([(0, 0, 3), (0, 10, 1), (0, 20, 2)], 1) == [10]


def test_two_labels_do_not_take_one_place():
    assert chosen([(0, 0, 0), (0, 10, 1), (1, 0.5, 0), (1, 20, 5)], 2) == [10, 0.5]


def test_a_label_with_one_place_pushes_another_aside():
    assert chosen([(0, 0, 0), (0, 10, 1), (1, 0, 0)], 2) == [10, 0]


def test_a_label_left_out_moves_a_neighbour_that_has_another_place():
    candidates = [(0, 0, 0), (0, 1, 0.5), (1, 0, 0), (1, 4, 0), (2, 4, 0), (2, 8, 3), (0, -9, 9)]
    assert None not in chosen(candidates, 3)


def test_a_label_without_any_place_is_left_out():
    assert chosen([(0, 0, 0), (2, 0, 0)], 3)[1] is None


@given(st.lists(st.tuples(st.integers(0, 4), st.integers(0, 12), st.integers(0, 9)), min_size=1))
def test_chosen_places_never_touch(candidates):
    candidates = sorted(candidates)
    places = sorted(x for x in chosen(candidates, 5) if x is not None)
    assert all(b - a > 2.5 - 1e-9 for a, b in itertools.pairwise(places))


@given(st.lists(st.tuples(st.integers(0, 2), st.integers(0, 8), st.integers(0, 9)), min_size=1))
def test_as_many_labels_are_placed_as_trying_everything_places(candidates):
    candidates = sorted(candidates)
    found = chosen(candidates, 3)
    best = most_by_trying_everything(candidates, 3)
    assert best - sum(x is not None for x in found) <= 1
    if best == 1:
        assert sum(x is not None for x in found) == 1


def most_by_trying_everything(candidates, labels):
    """The most labels that can be placed at once."""

    def place(label, taken):
        if label == labels:
            return len(taken)
        free = [
            x for at, x, _ in candidates if at == label and all(abs(x - t) > 2.5 for t in taken)
        ]
        return max([place(label + 1, taken), *(place(label + 1, [*taken, x]) for x in free)])

    return place(0, [])


@pytest.mark.parametrize("seed", range(3))
def test_the_same_labels_give_the_same_choice(seed):
    random = np.random.default_rng(seed)
    candidates = sorted(
        (int(a), float(b), float(c))
        for a, b, c in zip(
            random.integers(0, 9, 60), random.uniform(0, 40, 60), random.random(60), strict=True
        )
    )
    assert chosen(candidates, 9) == chosen(candidates, 9)
