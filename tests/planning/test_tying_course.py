"""The course of each run, and which springs a line may join directly."""

import math

import numpy as np
import pytest

from spring_layout.deck.model import RUNS, Frame, Side
from spring_layout.planning.standing import standing_of
from spring_layout.planning.tying import (
    courses_of,
    end_costs_of,
    links_of,
    runs_on,
    solve_run,
    ways_of,
)
from spring_layout.planning.tying.course import DENSE, Courses, near_pairs
from spring_layout.planning.tying.ground import Ground
from spring_layout.planning.tying.links import (
    LINK_ANGLE,
    Odds,
    forward_links,
    is_heap,
)
from spring_layout.planning.tying.passing import springs_passed
from tests.decks import grid_deck, straight_frame
from tests.random_decks import (
    Recipe,
    deck_of,
    make_deck,
    mirrored,
    plain_tying,
    random_deck,
    replace_struct,
)

STEPS = 1_000_000


def seat(places, frame=None, diameter=92.0):
    return make_deck(frame or straight_frame(), places, diameter, plain_tying())


def leans(deck, run, places):
    """Degrees that a straight run's course leans from its axis at ``places``."""
    axis = -math.pi / 2 if run == "front-to-back" else 0.0
    course = courses_of(standing_of(deck)).straight(run, np.array(places, float))
    return np.degrees(course - axis)


def tapered(left=60.0, right=60.0):
    """500 wide at the back, wider at the front by ``left`` and ``right``, 500 deep."""
    corners = ((0, 0), (500, 0), (500 + right, 500), (-left, 500))
    return replace_struct(straight_frame(), corners=corners)


def test_in_a_square_frame_the_courses_are_the_axes():
    deck = grid_deck()
    assert leans(deck, "front-to-back", [(100, 100), (400, 300)]) == pytest.approx([0, 0])
    assert leans(deck, "side-to-side", [(100, 100), (400, 300)]) == pytest.approx([0, 0])


def test_front_to_back_fans_with_the_side_rails():
    deck = seat([(250, 250)], tapered())
    side = math.degrees(math.atan2(60, 500))
    beside_left, middle, beside_right = leans(
        deck, "front-to-back", [(-30, 250), (250, 250), (530, 250)]
    )
    assert beside_left == pytest.approx(side)
    assert middle == pytest.approx(0, abs=1e-9)
    assert beside_right == pytest.approx(-side)


def test_side_to_side_takes_up_the_bow_of_the_front_gradually():
    deck = seat([(250, 250)], straight_frame(bow=40))
    shares = leans(deck, "side-to-side", [(100, 10), (100, 250), (100, 490)])
    assert shares[0] == pytest.approx(0, abs=0.5)
    assert shares[0] < shares[1] < shares[2]
    assert shares[2] > 8
    assert leans(deck, "side-to-side", [(250, 400)]) == pytest.approx([0], abs=1e-9)


def test_on_a_round_frame_rows_do_not_follow_the_rim():
    frame = Frame(
        corners=((-300, 0), (300, 0)),
        sides=(Side(rail="back", bow=300), Side(rail="front", bow=300)),
        rail_width=45,
        rail_top=75,
    )
    deck = seat([(0, 0)], frame)
    assert np.abs(leans(deck, "side-to-side", [(-150, -150), (0, -200), (150, 100)])).max() < 21


def test_a_deck_without_named_sides_goes_by_the_axes():
    frame = tapered()
    sides = tuple(replace_struct(side, rail="none") for side in frame.sides)
    deck = seat([(250, 250)], replace_struct(frame, sides=sides))
    assert leans(deck, "front-to-back", [(10, 250)]) == pytest.approx([0])


def test_a_left_rail_alone_is_blended_with_the_axis_at_the_far_edge():
    frame = tapered()
    sides = (*frame.sides[:1], replace_struct(frame.sides[1], rail="none"), *frame.sides[2:])
    deck = seat([(250, 250)], replace_struct(frame, sides=sides))
    near, far = leans(deck, "front-to-back", [(-30, 250), (559, 499)])
    assert near == pytest.approx(math.degrees(math.atan2(60, 500)))
    assert far == pytest.approx(0, abs=0.1)


def test_a_diagonal_steps_one_pitch_each_way():
    squashed = replace_struct(
        grid_deck(), springs=tuple(replace_struct(s, y=s.y * 0.75) for s in grid_deck().springs)
    )
    courses = courses_of(standing_of(squashed))
    slope = math.degrees(math.atan2(0.75, 1))
    assert np.degrees(courses.springs["diagonal-rising"]) == pytest.approx(-slope)
    assert np.degrees(courses.springs["diagonal-falling"]) == pytest.approx(slope)


def test_the_pitch_is_the_usual_distance_to_the_nearest_spring():
    assert courses_of(standing_of(grid_deck())).pitch == 142
    assert courses_of(standing_of(seat([(250, 250)]))).pitch == 92 + 50


# Links.


def pairs(deck, run):
    links = links_of(standing_of(deck))[run]
    names = [spring.id for spring in deck.springs]
    return {(names[a], names[b]) for a, b in zip(links.first, links.second, strict=True)}


def test_in_even_rows_neighbours_may_be_joined():
    deck = grid_deck(2, 2)
    assert pairs(deck, "front-to-back") == {("s3", "s1"), ("s4", "s2")}
    assert pairs(deck, "side-to-side") == {("s1", "s2"), ("s3", "s4")}
    assert pairs(deck, "diagonal-rising") == {("s3", "s2")}
    assert pairs(deck, "diagonal-falling") == {("s1", "s4")}


@pytest.mark.parametrize("seed", range(6))
def test_two_springs_may_be_joined_by_one_run_only(seed):
    links = links_of(standing_of(random_deck(seed)))
    joined = [
        frozenset(pair)
        for run in RUNS
        for pair in zip(links[run].first.tolist(), links[run].second.tolist(), strict=True)
    ]
    assert len(joined) == len(set(joined))


def test_a_spring_in_between_is_not_passed_over():
    assert ("s7", "s1") not in pairs(grid_deck(), "front-to-back")


def test_a_missing_spring_is_passed_by():
    deck = grid_deck()
    without_middle = replace_struct(deck, springs=deck.springs[:4] + deck.springs[5:])
    assert ("s8", "s2") in pairs(without_middle, "front-to-back")


def test_a_link_across_a_notch_leaves_the_opening():
    frame = Frame(
        corners=(
            (0, 0),
            (500, 0),
            (500, 400),
            (300, 400),
            (300, 150),
            (200, 150),
            (200, 400),
            (0, 400),
        ),
        sides=tuple(
            Side(rail=rail, bow=0)
            for rail in ("back", "right", "front", "left", "front", "right", "front", "left")
        ),
        rail_width=45,
        rail_top=75,
    )
    deck = seat([(100, 300), (400, 300), (100, 80), (400, 80)], frame)
    assert pairs(deck, "side-to-side") == {("s3", "s4")}


def test_a_link_costs_its_length_and_the_square_of_its_departure():
    """Two springs a pitch apart, 10 degrees off the row."""
    turn = math.radians(10)
    x, y = 250 + 142 * math.cos(turn), 250 + 142 * math.sin(turn)
    deck = seat([(250, 250), (round(x, 3), round(y, 3))])
    (cost,) = links_of(standing_of(deck))["side-to-side"].cost
    assert cost == pytest.approx((1 + (turn / LINK_ANGLE) ** 2) * STEPS, abs=20)


def test_an_end_costs_the_way_to_the_inside_edge():
    costs = end_costs_of(standing_of(grid_deck()), "front-to-back")
    assert costs[0].tolist() == pytest.approx([392 / 142 * STEPS, 108 / 142 * STEPS], abs=1)


def test_a_spring_outside_the_opening_costs_a_pitch():
    deck = seat([(250, 250), (900, 900)])
    costs = end_costs_of(standing_of(deck), "front-to-back")
    assert costs[1].tolist() == [STEPS, STEPS]


def test_ways_out_fan_about_the_course():
    start, finish = ways_of(standing_of(grid_deck()), "front-to-back")
    middle = int(np.abs(finish.offset[1]).argmin())
    assert finish.clear[1, middle]
    assert finish.anchor[1, middle] == pytest.approx([250, -22.5])
    assert not start.clear[1, int(np.abs(start.offset[1]).argmin())]  # s5 stands in the way
    assert start.over[1, int(np.abs(start.offset[1]).argmin())] == 2


# Many springs at once are looked up in another way than few: both must agree.


def test_neighbours_are_the_same_looked_up_or_counted():
    places = np.random.default_rng(1).uniform(0, 3000, (DENSE + 60, 2))
    first, second = near_pairs(places, 250.0)
    a, b = np.triu_indices(len(places), 1)
    near = np.hypot(*(places[a] - places[b]).T) <= 250
    assert set(zip(first.tolist(), second.tolist(), strict=True)) == set(
        zip(a[near].tolist(), b[near].tolist(), strict=True)
    )


@pytest.fixture(scope="module")
def big_deck():
    return deck_of(Recipe("tapered", "square", 18, 18, 0.1, 142.0, 1))


def test_the_pitch_and_the_springs_in_the_way_are_the_same_for_many_springs(big_deck, monkeypatch):
    standing = standing_of(big_deck)
    links = forward_links(standing)
    pitch = Courses(standing).pitch
    line = np.array([[*standing.centres[0], *standing.centres[200]]])
    over = springs_passed(standing, line, np.array([[0, 200]]), 0.0)
    for module in ("course", "passing"):
        monkeypatch.setattr(f"spring_layout.planning.tying.{module}.DENSE", 10_000)
    assert Courses(standing).pitch == pitch
    counted = springs_passed(standing, line, np.array([[0, 200]]), 0.0)
    assert over.tolist() == counted.tolist()
    dense = forward_links(standing)
    for run in RUNS:
        assert sorted(links[run].cost.tolist()) == sorted(dense[run].cost.tolist())


def test_a_big_deck_is_tied_in_rows_and_columns(big_deck):
    solved = solve_run(standing_of(big_deck), "front-to-back")
    assert len(solved.ends.chains) == 18
    assert solved.proved


# Heaps, and the tie-breaker.


def test_springs_that_stand_apart_are_no_heap(big_deck):
    assert not is_heap(standing_of(big_deck))
    assert not is_heap(standing_of(seat([(250, 250)] * 8)))


def test_many_springs_thrown_anywhere_are_a_heap_and_still_tied():
    places = np.random.default_rng(2).uniform(20, 1480, (90, 2)).round(3)
    standing = standing_of(seat(places.tolist(), straight_frame(1500, 1500)))
    assert is_heap(standing)
    assert Ground(standing).is_heap
    solved = solve_run(standing, "side-to-side")
    assert sorted(i for chain in solved.ends.chains for i in chain) == list(range(90))
    assert not solved.proved


def test_the_tie_breaker_goes_along_with_a_mirror():
    deck = random_deck(5)
    there, back = standing_of(deck), standing_of(mirrored(deck))
    odds = Odds(there).at(there.centres)
    assert Odds(back).at(back.centres) == pytest.approx(odds, abs=1e-9)
    assert len(set(odds.round(6))) > 1


def test_the_runs_that_are_tied_are_those_asked_for():
    deck = grid_deck()
    assert runs_on(deck) == RUNS
    off = replace_struct(
        deck, tying=replace_struct(deck.tying, diagonals="none", front_to_back=False)
    )
    assert runs_on(off) == ("side-to-side",)
