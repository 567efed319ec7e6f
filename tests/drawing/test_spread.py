"""Labels of a row are spread with the least departure from where they belong."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize

from spring_layout.drawing.spread import spread, spread_between

ROWS = st.lists(st.tuples(st.floats(-50, 50), st.floats(1, 5)), min_size=1, max_size=8)


def sorted_row(row):
    row = sorted(row)
    return [wish for wish, _ in row], [size for _, size in row]


def departure(places, wished):
    return sum((place - wish) ** 2 for place, wish in zip(places, wished, strict=True))


@given(ROWS)
def test_no_two_fall_upon_each_other_and_the_order_stays(row):
    wished, sizes = sorted_row(row)
    places = spread(wished, sizes, 0.5)
    for i in range(len(places) - 1):
        least = sizes[i] / 2 + 0.5 + sizes[i + 1] / 2
        assert places[i + 1] - places[i] >= least - 1e-9


@given(ROWS)
def test_the_departure_is_the_least_that_a_general_optimiser_finds(row):
    wished, sizes = sorted_row(row)
    apart = [
        {"type": "ineq", "fun": lambda p, i=i: p[i + 1] - p[i] - sizes[i] / 2 - sizes[i + 1] / 2}
        for i in range(len(sizes) - 1)
    ]
    places = spread(wished, sizes, 0.0)
    found = minimize(departure, places, args=(wished,), constraints=apart, method="SLSQP")
    assert departure(places, wished) <= found.fun + 1e-6 * (1 + found.fun)


def test_what_has_room_stays_where_it_belongs():
    assert spread([0, 10, 20], [4, 4, 4], 1) == [0, 10, 20]


def test_what_is_crowded_parts_evenly_both_ways():
    assert spread([10, 10, 10], [4, 4, 4], 1) == pytest.approx([5, 10, 15])


def test_a_row_between_ends_keeps_to_them():
    assert spread_between([0, 1], [4, 4], 1, 0, 20) == pytest.approx([2, 7])
    assert spread_between([19, 20], [4, 4], 1, 0, 20) == pytest.approx([13, 18])


def test_a_row_without_room_is_refused():
    assert spread_between([0, 1, 2], [4, 4, 4], 1, 0, 13.9) is None
    assert spread_between([], [], 1, 0, 1) == []
