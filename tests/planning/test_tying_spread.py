"""Tacks spread along a rail: apart, moved least, the straight lines' last of all."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from spring_layout.planning.tying.exchange import Row, best_order, missing
from spring_layout.planning.tying.spread import CROWD, LEAST_GAP, spread, widened


def spaced(wished, low=None, high=None, weight=None, apart=20.0):
    wished = np.array(wished, float)
    low = np.full(len(wished), -1e3) if low is None else np.array(low, float)
    high = np.full(len(wished), 1e3) if high is None else np.array(high, float)
    weight = np.ones(len(wished)) if weight is None else np.array(weight, float)
    return spread(wished, low, high, weight, apart)


def test_tacks_that_stand_apart_stay_where_they_are():
    assert spaced([100, 130, 150]).tolist() == [100, 130, 150]


def test_two_tacks_at_one_place_give_way_alike():
    assert spaced([100, 100]).tolist() == [90, 110]


def test_a_diagonal_gives_way_to_a_straight_line():
    assert spaced([100, 108], weight=[1e8, 1]) == pytest.approx([100, 120], abs=1e-3)


def test_a_tack_at_the_end_of_its_window_pushes_the_others_on():
    assert spaced([100, 105], high=[1e3, 110]).tolist() == [90, 110]


def test_windows_too_narrow_are_shared_out_evenly():
    assert spaced([50, 50, 50], low=[40] * 3, high=[70] * 3) == pytest.approx([40, 55, 70])


def test_only_the_row_that_is_too_narrow_stands_closer():
    places = spaced([0, 5, 10, 90, 100], low=[0] * 3 + [80] * 2, high=[30] * 3 + [200] * 2)
    assert np.diff(places) == pytest.approx([15, 15, places[3] - 30, 20])


def test_no_tacks_have_no_places():
    assert len(spaced([])) == 0


@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    rows=st.lists(
        st.tuples(st.floats(0, 300), st.floats(0, 60), st.floats(0, 60)), min_size=1, max_size=7
    )
)
def test_the_moves_are_the_least_that_a_general_optimiser_finds(rows):
    """Against scipy's SLSQP, on the same windows and spacing."""
    wished = np.sort(np.array([row[0] for row in rows]))
    low, high = wished - [row[1] for row in rows], wished + [row[2] for row in rows]
    if missing(row(wished, low, high, [None] * len(rows)), 20.0) > 1e-9:
        return
    found = spaced(wished, low, high)
    rules = [
        {"type": "ineq", "fun": lambda p, i=i: p[i + 1] - p[i] - 20} for i in range(len(rows) - 1)
    ]
    best = minimize(
        lambda p: ((p - wished) ** 2).sum(),
        found + 0.0,
        jac=lambda p: 2 * (p - wished),
        bounds=list(zip(low, high, strict=True)),
        constraints=rules,
    )
    assert (np.diff(found) >= 20 - 1e-6).all()
    assert ((low - 1e-6 <= found) & (found <= high + 1e-6)).all()
    assert ((found - wished) ** 2).sum() <= best.fun + 1e-3


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    rows=st.lists(
        st.tuples(st.floats(0, 100), st.floats(0, 12), st.floats(0, 12)), min_size=2, max_size=9
    )
)
def test_a_crowded_rail_is_shared_the_same_way_from_either_end(rows):
    wished = np.sort(np.array([row[0] for row in rows]))
    low, high = wished - [row[1] for row in rows], wished + [row[2] for row in rows]
    there = spaced(wished, low, high)
    back = -spaced(-wished[::-1], -high[::-1], -low[::-1])[::-1]
    assert there == pytest.approx(back, abs=1e-4)


def row(wished, low, high, kinds, weight=None):
    wished, low, high = (np.array(column, float) for column in (wished, low, high))
    weight = np.ones(len(wished)) if weight is None else np.array(weight, float)
    return Row(wished, low, high, weight, kinds, np.zeros(len(wished)))


def test_tacks_change_places_where_their_windows_ask_for_it():
    """The first may go right only, the second left only: in the other order both fit."""
    tacks = row([100, 101], [100, 80], [130, 101], ["rising", "side-to-side"])
    assert missing(tacks, 20.0) > 0
    order = best_order(tacks, 20.0)
    assert order == [1, 0]
    assert missing(tacks.take(order), 20.0) == 0


def test_tacks_of_one_run_do_not_change_places():
    assert best_order(row([100, 101], [100, 80], [130, 101], ["rising", "rising"]), 20.0) == [0, 1]


def test_a_diagonal_does_not_stand_between_two_straight_lines_that_have_room_without_it():
    kinds = ["front-to-back", "rising", "side-to-side"]
    tacks = row([100, 110, 120], [0] * 3, [300] * 3, kinds, [1e8, 1e4, 1e8])
    order = best_order(tacks, 20.0)
    now = tacks.take(order)
    places = spread(now.wished, now.low, now.high, now.weight, 20.0)
    straight = [places[order.index(i)] for i in (0, 2)]
    assert straight == pytest.approx([100, 120], abs=0.01)


def test_two_tacks_never_share_one_hole_while_the_rail_has_room():
    at = np.array([100.0, 100.0])
    low, high = widened(at, at, (np.array([100.0, 100.0]), np.array([400.0, 400.0])))
    assert np.diff(spaced(at, low, high)) == pytest.approx([LEAST_GAP])
    assert low.min() == 100.0


def test_a_rail_without_room_keeps_its_tacks_together():
    at = np.array([100.0, 100.0, 100.0])
    rail = (np.full(3, 98.0), np.full(3, 102.0))
    low, high = widened(at, at, rail)
    assert spaced(at, low, high) == pytest.approx([98, 100, 102])


def test_a_rail_crowded_beyond_measure_still_takes_every_tack_in_order():
    count = CROWD + 10
    wished = np.linspace(0, 500, count)
    places = spaced(wished, np.zeros(count), np.full(count, 500.0))
    assert len(places) == count
    assert (np.diff(places) >= 0).all()
    assert places[0] >= 0
    assert places[-1] <= 500 + 1e-6


def test_a_straight_line_gives_way_sooner_than_that_tacks_stand_too_near():
    """The diagonal can stand at the rail's end only, where the straight line would like to be."""
    tacks = row([100, 100], [94, 40], [100, 100], ["rising", "side-to-side"], [1e4, 1e8])
    order = best_order(tacks, 20.0)
    now = tacks.take(order)
    places = spread(now.wished, now.low, now.high, now.weight, 20.0)
    assert order == [1, 0]
    assert np.diff(places) == pytest.approx([20])
