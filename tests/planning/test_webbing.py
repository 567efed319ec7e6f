"""The webbing: where the strips go, how long they are cut, what stands on them."""

import msgspec
import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from spring_layout.deck.model import Deck, Frame, Side, Spring
from spring_layout.planning.parts import WebbingPlan
from spring_layout.planning.standing import outline_of, standing_of
from spring_layout.planning.webbing import (
    goes_over,
    laid_range,
    on_crossings,
    on_strips,
    webbing_of,
)
from spring_layout.planning.webbing_places import (
    rows_across,
    side_by_side,
    strip_places,
    usual_count,
)
from tests.decks import grid_deck
from tests.random_decks import random_deck

replace = msgspec.structs.replace


def webbed(deck: Deck, **changes: object) -> WebbingPlan:
    return webbing_of(standing_of(replace(deck, webbing=replace(deck.webbing, **changes))))


def places(plan: WebbingPlan, run: str) -> list[float]:
    return [strip.at for strip in plan.of(run)]


def with_springs(deck: Deck, spots: list[tuple[float, float]]) -> Deck:
    springs = tuple(
        Spring(id=f"s{i}", coil="seat", x=x, y=y, held=False) for i, (x, y) in enumerate(spots)
    )
    return replace(deck, springs=springs)


def framed(
    deck: Deck, corners: list[tuple[float, float]], rails: list[str], **sides: float
) -> Deck:
    made = tuple(Side(rail=rail, bow=sides.get(rail, 0)) for rail in rails)
    return replace(
        deck, frame=Frame(corners=tuple(corners), sides=made, rail_width=45, rail_top=75)
    )


def test_each_row_of_springs_has_a_strip_under_its_middle():
    plan = webbed(grid_deck())
    assert places(plan, "front-to-back") == pytest.approx([108, 250, 392])
    assert places(plan, "side-to-side") == pytest.approx([108, 250, 392])
    assert on_crossings(plan, standing_of(grid_deck()).centres).all()


def test_a_strip_is_cut_for_span_rails_folds_and_straining():
    """By hand: 500 + 2 x 22.5 on the rails + 2 x 25 folded + 50 to strain = 645, cut 647.7."""
    strip = webbed(grid_deck()).strips[0]
    assert strip.span == 500
    assert strip.cut_length == pytest.approx(51 * 12.7)
    assert webbed(replace(grid_deck(), units="mm")).strips[0].cut_length == 650


def test_overlap_fold_and_allowance_are_settings():
    plan = webbed(replace(grid_deck(), units="mm"), overlap=30, fold=20, allowance=0)
    assert plan.strips[0].cut_length == 600


def test_each_end_lies_on_half_of_its_own_rail():
    deck = replace(grid_deck(), units="mm")
    wide = (replace(deck.frame.sides[0], rail_width=85), *deck.frame.sides[1:])
    deck = replace(deck, frame=replace(deck.frame, sides=wide))
    plan = webbed(deck, allowance=0)
    assert plan.of("front-to-back")[0].cut_length == 620
    assert plan.of("side-to-side")[0].cut_length == 600


def test_the_whole_webbing_is_told_as_count_total_and_tacks():
    plan = webbed(replace(grid_deck(), units="mm"))
    assert (len(plan.strips), plan.total, plan.fixings) == (6, 6 * 650, 66)


def test_strips_are_woven_over_and_under_by_turns():
    assert [goes_over(0, j) for j in range(4)] == [True, False, True, False]
    assert [goes_over(i, 1) for i in range(3)] == [False, True, False]


def test_missing_strips_fill_the_widest_gaps():
    """Columns 200 apart in 600 mm, 2 in webs a web apart: six is usual, two fit between."""
    plan = webbed(grid_deck(pitch=200, margin=100), width=51, gap=51)
    assert plan.usual == (5, 5)
    assert places(plan, "front-to-back") == pytest.approx([100, 200, 300, 400, 500])


def test_a_single_spare_strip_goes_to_the_front_but_never_to_one_side():
    deck = grid_deck(4, 4, pitch=165, margin=95.5)
    plan = webbed(deck, width=51, gap=32)
    assert plan.usual == (8, 8)
    sideways, forward = places(plan, "front-to-back"), places(plan, "side-to-side")
    assert len(sideways) == 7
    assert np.allclose(np.add(sideways, sideways[::-1]), 686)
    assert len(forward) == 8
    assert forward[-1] > max(s.y for s in deck.springs)


def test_staggered_rows_nearer_than_a_strip_lie_side_by_side():
    """Five columns 71 apart, strips 89 wide: they touch, each still under its springs."""
    spots = [(x, y) for y in (108, 392) for x in (108, 250, 392)] + [(179, 250), (321, 250)]
    deck = with_springs(grid_deck(), spots)
    plan = webbed(deck)
    assert places(plan, "front-to-back") == pytest.approx([72, 161, 250, 339, 428])
    assert on_crossings(plan, standing_of(deck).centres).all()


def test_more_columns_than_strips_have_room_are_laid_evenly():
    spots = [(60 + 38 * i, 108 + 35 * (i % 9)) for i in range(11)]
    plan = webbed(with_springs(grid_deck(), spots))
    assert places(plan, "front-to-back") == pytest.approx([50, 150, 250, 350, 450])


def test_a_deck_without_springs_has_the_usual_strips():
    plan = webbed(replace(grid_deck(), springs=()))
    assert places(plan, "front-to-back") == pytest.approx([50, 150, 250, 350, 450])


def test_an_opening_narrower_than_a_strip_takes_none_that_way():
    assert strip_places([30], 0, 60, 89, 6, False) == ()


def test_a_row_longer_across_than_a_strip_is_wide_takes_two_strips():
    assert rows_across([0, 25, 50, 75, 100], 89) == pytest.approx([25, 75])


def test_strips_set_by_hand_stay_where_they_are():
    plan = webbed(grid_deck(), front_to_back=(400.0, 90.0))
    assert places(plan, "front-to-back") == [90, 400]
    assert plan.set_by_hand == (True, False)


def test_a_strip_set_outside_the_opening_is_no_strip():
    assert webbed(grid_deck(), front_to_back=(900.0,)).of("front-to-back") == ()


def test_a_plywood_floor_has_no_strips_and_its_feet_are_stapled():
    plan = webbed(grid_deck(), fixed="plywood")
    assert (plan.strips, plan.usual, plan.foot_fixing) == ((), (0, 0), "staple")


def test_feet_are_stitched_on_webbing_unless_set():
    assert webbed(grid_deck()).foot_fixing == "stitch"
    assert webbed(grid_deck(), foot_fixing="clip").foot_fixing == "clip"


def test_a_strip_on_a_bowed_front_reaches_to_the_bow():
    deck = grid_deck()
    bowed = tuple(replace(s, bow=18 if s.rail == "front" else 0) for s in deck.frame.sides)
    plan = webbed(replace(deck, frame=replace(deck.frame, sides=bowed)))
    middle, side = plan.of("front-to-back")[1], plan.of("front-to-back")[0]
    assert middle.span == pytest.approx(518, abs=0.05)
    assert 500 < side.span < 518


def test_no_strip_is_laid_on_the_tips_of_a_round_frame():
    """A circle's chord is half its diameter at 0.866 of its radius."""
    deck = framed(grid_deck(1, 1), [(0, 200), (400, 200)], ["back", "front"], back=200, front=200)
    low, high = laid_range(deck.frame, "front-to-back")
    assert low == pytest.approx(200 - 173.2, abs=2)
    assert high == pytest.approx(200 + 173.2, abs=2)


@pytest.mark.parametrize("seed", range(12))
def test_strips_are_laid_where_the_opening_is_half_as_deep_as_at_its_deepest(seed):
    """Depths as shapely cuts them out of the opening."""
    deck = random_deck(seed)
    opening = outline_of(deck.frame).polygon
    x0, y0, x1, y1 = opening.bounds
    for run, (low, high), deepest in (
        ("front-to-back", (x0, x1), y1 - y0),
        ("side-to-side", (y0, y1), x1 - x0),
    ):
        across = low + (high - low) * (np.arange(200) + 0.5) / 200
        cuts = [
            [(at, y0 - 1), (at, y1 + 1)] if run == "front-to-back" else [(x0 - 1, at), (x1 + 1, at)]
            for at in across
        ]
        depth = shapely.length(shapely.intersection(shapely.linestrings(cuts), opening))
        deep = across[depth >= deepest / 2]
        step = (high - low) / 200
        expected = (deep.min() - step / 2, deep.max() + step / 2)
        assert laid_range(deck.frame, run) == pytest.approx(expected)


def test_a_strip_under_a_leg_block_is_split_round_it():
    corners = [(40, 0), (460, 0), (460, 60), (500, 60), (500, 500), (0, 500), (0, 60), (40, 60)]
    rails = ["back", "right", "back", "right", "front", "left", "back", "left"]
    plan = webbed(framed(grid_deck(), corners, rails), front_to_back=(50.0, 250.0))
    assert plan.strips[0].split == (True, False)
    assert plan.strips[0].span == 500
    assert plan.strips[1].split == (False, False)


def test_a_strip_across_a_hollow_is_two_strips():
    corners = [(0, 0), (180, 0), (180, 200), (320, 200), (320, 0), (500, 0), (500, 500), (0, 500)]
    rails = ["back", "right", "back", "left", "back", "right", "front", "left"]
    plan = webbed(framed(grid_deck(), corners, rails), side_to_side=(100.0, 400.0))
    assert [(s.start, s.finish) for s in plan.of("side-to-side")] == [
        (0, 180),
        (320, 500),
        (0, 500),
    ]


def test_a_stitch_between_strips_is_not_on_webbing():
    plan = webbed(grid_deck())
    points = np.array([[108, 179], [179, 179], [250, 250], [108, 600]])
    assert on_strips(plan.strips, points).tolist() == [True, False, True, False]


@given(
    st.lists(st.floats(30, 470), min_size=1, max_size=9),
    st.floats(40, 100),
    st.floats(0, 57),
)
@settings(max_examples=80, deadline=None)
def test_strips_never_overlap_and_stay_in_the_opening(coordinates, width, gap):
    made = np.array(strip_places(coordinates, 0, 500, width, gap, False))
    assert len(made) >= 1
    assert (np.diff(made) >= width - 1e-6).all()
    assert made[0] >= width / 2 - 1e-6
    assert made[-1] <= 500 - width / 2 + 1e-6


@given(
    st.lists(st.integers(30, 470), min_size=1, max_size=6),
    st.sampled_from([(89, 6), (51, 51), (85, 0)]),
)
@settings(max_examples=80, deadline=None)
def test_a_mirrored_deck_has_the_mirrored_strips(coordinates, school):
    here = strip_places(coordinates, 0, 500, *school, False)
    there = strip_places([500 - c for c in coordinates], 0, 500, *school, False)
    assert here == pytest.approx([500 - at for at in reversed(there)])


@given(st.lists(st.floats(0, 1000), min_size=1, max_size=8))
@settings(max_examples=40, deadline=None)
def test_strips_side_by_side_lie_as_near_to_their_rows_as_they_can(wished):
    """Against a general least-squares routine."""
    from scipy.optimize import minimize

    wished = sorted(wished)
    made = np.array(side_by_side(wished, 0, 1000, 100))
    apart = [{"type": "ineq", "fun": lambda p: np.diff(p) - 100}] if len(wished) > 1 else []
    start = np.linspace(50, 950, len(wished))
    found = minimize(
        lambda p: ((p - wished) ** 2).sum(),
        start,
        bounds=[(0, 1000)] * len(wished),
        constraints=apart,
        options={"maxiter": 500},
    )
    assert ((made - wished) ** 2).sum() <= found.fun + 1e-3 * (1 + found.fun)


def test_the_usual_count_is_the_schools_gap_alone():
    assert usual_count(500, 89, 6) == 5
    assert usual_count(500, 51, 51) == 4
    assert usual_count(500, 85, 0) == 5
    assert usual_count(60, 89, 6) == 1


def test_a_strip_over_the_rails_is_cut_to_reach_their_outer_edges():
    """By hand: 500 across, a fold of 25 at each end, 50 to strain it with; rails 45 wide."""
    under = webbing_of(standing_of(grid_deck()))
    web = replace(grid_deck().webbing, fixed="over-rails")
    deck = replace(grid_deck(), units="mm", webbing=web)
    over = webbing_of(standing_of(deck))
    assert {strip.cut_length for strip in over.strips} == {690}  # 500 + 90 + 50 + 50
    assert [s.at for s in over.strips] == [s.at for s in under.strips]
    under = webbing_of(standing_of(replace(grid_deck(), units="mm")))
    assert {strip.cut_length for strip in under.strips} == {650}  # 500 + 45 + 50 + 50 = 645
