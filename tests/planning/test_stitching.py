"""Sewing in: the stitches of each foot, and the way of their twine."""

import math
from itertools import pairwise

import msgspec
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spring_layout.deck.model import Deck, Spring
from spring_layout.planning.stitching import (
    TAIL,
    StitchingPlan,
    best_route,
    foot_points,
    stitch_twine,
    stitching_of,
)
from spring_layout.planning.stitching_exact import exact_route
from spring_layout.planning.stitching_least import floor_under, plain_floor
from spring_layout.planning.stitching_search import first_route, shorter_route, starts
from spring_layout.planning.stitching_ways import Route, Ways, lengths_along, route_along
from tests.decks import SEAT_COIL, grid_deck
from tests.sewing import (
    shortest_by_trying_all,
    shortest_by_whole_numbers,
    shortest_by_whole_table,
)

replace = msgspec.structs.replace


def sewn(deck: Deck, **changes: object) -> StitchingPlan:
    return stitching_of(replace(deck, stitching=replace(deck.stitching, **changes)))


def scattered(seed: int, count: int, stitches: int = 4) -> Ways:
    draw = np.random.default_rng(seed)
    side = math.ceil(math.sqrt(count))
    grid = np.array([(150.0 * (i % side), 150.0 * (i // side)) for i in range(count)])
    centres = grid + draw.uniform(-30, 30, (count, 2))
    angles = np.radians(np.arange(stitches) * 360 / stitches + draw.uniform(0, 90, (count, 1)))
    return Ways(centres[:, None] + 45 * np.stack([np.cos(angles), np.sin(angles)], axis=-1))


def walked(ways: Ways, route: Route) -> float:
    places = [ways.points[f, i] for f, w in zip(route.feet, route.stitches, strict=True) for i in w]
    return sum(math.dist(a, b) for a, b in pairwise(places))


def visits_all(ways: Ways, route: Route) -> bool:
    every = tuple(range(ways.stitches))
    return sorted(route.feet) == list(range(ways.feet)) and all(
        tuple(sorted(w)) == every for w in route.stitches
    )


def searched(ways: Ways) -> Route:
    return shorter_route(ways, first_route(ways), 0.0)


def test_the_stitches_sit_at_the_four_quarters_of_the_foot():
    deck = replace(grid_deck(1, 1), coils=(replace(SEAT_COIL, foot_diameter=80),))
    plan = sewn(deck)
    places = {stitch.point: stitch.place for stitch in plan.stitches}
    assert places == {
        "back": (108, 68),
        "right": (148, 108),
        "front": (108, 148),
        "left": (68, 108),
    }
    assert plan.route_length == pytest.approx(3 * 40 * math.sqrt(2))


def test_three_stitches_stand_a_third_of_a_turn_apart_with_the_knot_between_two():
    deck = grid_deck(1, 1)
    plan = sewn(deck, points=3)
    assert [stitch.point for stitch in plan.stitches] != []
    angles = sorted(
        math.degrees(math.atan2(s.place[1] - 108, s.place[0] - 108)) % 360 for s in plan.stitches
    )
    assert np.diff(angles) == pytest.approx([120, 120])
    assert min(abs(angle - 45) for angle in angles) == pytest.approx(60)
    assert len({stitch.point for stitch in plan.stitches}) == 3


@given(st.floats(-720, 720))
@settings(max_examples=40, deadline=None)
def test_however_a_coil_is_turned_its_three_stitches_have_three_names(turned):
    deck = grid_deck(1, 1)
    deck = replace(deck, springs=(replace(deck.springs[0], turned=turned),))
    assert len({stitch.point for stitch in sewn(deck, points=3).stitches}) == 3


def test_every_stitch_is_sewn_once_and_a_foots_stitches_follow_one_another():
    plan = sewn(grid_deck(4, 5))
    feet = [stitch.spring for stitch in plan.stitches[::4]]
    assert sorted(feet) == sorted(f"s{i + 1}" for i in range(20))
    for i, stitch in enumerate(plan.stitches):
        assert stitch.spring == feet[i // 4]
    assert len({(s.spring, s.point) for s in plan.stitches}) == 80


def test_the_route_length_is_that_of_the_stitches_as_listed():
    plan = sewn(grid_deck(3, 5))
    places = [stitch.place for stitch in plan.stitches]
    walked_length = sum(math.dist(a, b) for a, b in pairwise(places))
    assert plan.route_length == pytest.approx(walked_length)
    assert plan.least <= plan.route_length


@pytest.mark.parametrize(("seed", "stitches"), [(0, 3), (1, 3), (2, 3), (0, 4)])
def test_no_other_way_over_three_feet_is_shorter(seed, stitches):
    ways = scattered(seed, 3, stitches)
    assert exact_route(ways).length == pytest.approx(shortest_by_trying_all(ways))


@pytest.mark.parametrize("seed", range(3))
def test_an_independent_method_finds_no_shorter_route_over_six_feet(seed):
    ways = scattered(seed, 6)
    assert exact_route(ways).length == pytest.approx(shortest_by_whole_numbers(ways), abs=1e-5)


@pytest.mark.parametrize("seed", range(6))
def test_the_floor_never_rises_above_the_shortest_route(seed):
    ways = scattered(seed, 8)
    shortest = exact_route(ways).length
    floor = floor_under(ways, 1.2 * shortest, 1e-6)
    assert 0.97 * shortest <= floor <= shortest + 1e-6
    assert plain_floor(ways) <= floor + 1e-6


@pytest.mark.parametrize("seed", range(4))
def test_the_search_comes_within_two_percent_of_the_shortest_route(seed):
    ways = scattered(seed, 10)
    shortest = exact_route(ways).length
    route = searched(ways)
    assert shortest - 1e-6 <= route.length <= 1.02 * shortest


def test_a_long_search_is_never_worse_than_the_rows_walked_to_and_fro():
    ways = scattered(5, 24)
    begun = min(route_along(ways, order.tolist()).length for order in starts(ways))
    route, least = best_route(ways)
    assert least <= route.length <= begun
    assert visits_all(ways, route)
    assert walked(ways, route) == pytest.approx(route.length)
    assert route.length <= 1.04 * least


@pytest.mark.parametrize("stitches", [3, 4])
def test_the_lengths_of_many_orders_are_those_of_their_routes(stitches):
    ways = scattered(1, 7, stitches)
    orders = np.array([np.random.default_rng(seed).permutation(7) for seed in range(5)])
    each = [route_along(ways, order.tolist()).length for order in orders]
    assert lengths_along(ways, orders).tolist() == pytest.approx(each)


@pytest.mark.parametrize("count", [2, 3, 4, 5, 7, 8])
@pytest.mark.parametrize("stitches", [3, 4])
def test_half_the_table_gives_the_route_that_the_whole_table_gives(count, stitches):
    ways = scattered(count, count, stitches)
    assert exact_route(ways).length == pytest.approx(shortest_by_whole_table(ways), abs=1e-9)


def test_a_route_once_found_only_gets_shorter():
    gains = []
    for seed in range(4):
        ways = scattered(seed, 30)
        first = first_route(ways)
        better = shorter_route(ways, first, 0.0)
        assert visits_all(ways, better)
        assert walked(ways, better) == pytest.approx(better.length)
        assert shorter_route(ways, first, first.length) is first
        gains.append(first.length - better.length)
    assert min(gains) >= 0
    assert max(gains) > 1


def test_two_feet_beyond_the_exact_are_searched_too():
    ways = scattered(0, 2)
    route = searched(ways)
    assert route.length == pytest.approx(exact_route(ways).length)


def test_the_largest_decks_walk_their_rows_and_still_have_a_floor():
    ways = scattered(3, 420)
    route, least = best_route(ways)
    assert visits_all(ways, route)
    assert walked(ways, route) == pytest.approx(route.length)
    assert 0.5 * route.length < least < route.length


def test_listing_the_springs_in_another_order_changes_nothing():
    deck = grid_deck(3, 3)
    turned = replace(deck, springs=tuple(reversed(deck.springs)))
    assert sewn(deck) == sewn(turned)


@given(st.integers(0, 10_000))
@settings(max_examples=15, deadline=None)
def test_a_mirrored_deck_has_as_long_a_route(seed):
    draw = np.random.default_rng(seed)
    spots = draw.integers(60, 440, (6, 2)).tolist()
    here, there = (
        replace(grid_deck(), springs=_springs(s)) for s in (spots, [(500 - x, y) for x, y in spots])
    )
    assert sewn(here).route_length == pytest.approx(sewn(there).route_length)


def _springs(spots: list[tuple[float, float]]) -> tuple[Spring, ...]:
    return tuple(
        Spring(id=f"s{i}", coil="seat", x=x, y=y, held=False) for i, (x, y) in enumerate(spots)
    )


def test_scaling_the_deck_scales_the_route():
    deck = grid_deck()
    springs = tuple(replace(s, x=2 * s.x, y=2 * s.y) for s in deck.springs)
    large = replace(deck, springs=springs, coils=(replace(SEAT_COIL, foot_diameter=184),))
    assert sewn(large).route_length == pytest.approx(2 * sewn(deck).route_length)


def test_a_long_working_length_sews_a_small_deck_in_one():
    deck = grid_deck(2, 2)
    plan = sewn(deck, working_length=20_000)
    assert plan.new_lengths == (0,)
    each = stitch_twine(deck.stitching, SEAT_COIL)
    assert plan.twine == pytest.approx(plan.route_length + 16 * each + 2 * TAIL)


def test_a_new_length_starts_where_the_last_would_not_reach():
    deck = grid_deck(2, 2)
    plan = sewn(deck, working_length=1000)
    each, places = stitch_twine(deck.stitching, SEAT_COIL), [s.place for s in plan.stitches]
    ends = [*plan.new_lengths[1:], len(places)]
    for first, after in zip(plan.new_lengths, ends, strict=True):
        stretch = places[first:after]
        way = sum(math.dist(a, b) for a, b in pairwise(stretch))
        used = way + len(stretch) * each + 2 * TAIL
        assert used <= 1000 + 1e-9
        if after < len(places):
            assert used + math.dist(places[after - 1], places[after]) + each > 1000


def test_more_loops_take_more_twine():
    deck = grid_deck(2, 2)
    assert sewn(deck, loops=4).twine > sewn(deck, loops=1).twine


@pytest.mark.parametrize("changes", [{"fixed": "plywood"}, {"foot_fixing": "clip"}])
def test_feet_that_are_not_sewn_have_no_stitches(changes):
    deck = grid_deck()
    plan = sewn(replace(deck, webbing=replace(deck.webbing, **changes)))
    assert (plan.stitches, plan.twine, plan.exact) == ((), 0, True)


def test_a_deck_without_springs_has_no_stitches():
    assert sewn(replace(grid_deck(), springs=())).stitches == ()


def test_mirrored_feet_mirror_exactly():
    deck = grid_deck(1, 1)
    _, points = foot_points(deck.springs, deck.coils, deck.stitching)
    assert points[0, 0, 0] == 108
    assert points[0, 1, 1] == 108
