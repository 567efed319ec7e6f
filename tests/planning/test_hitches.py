"""Rings and hitches: which ring every hitch sits on, and where in space."""

import math
from collections import Counter

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spring_layout.deck.model import Deck
from spring_layout.planning.coil_shape import nearest_ring, radius_at, rings_of
from spring_layout.planning.hitches import hitches_of
from spring_layout.planning.parts import HitchPlan, Ties
from spring_layout.planning.standing import standing_of
from spring_layout.planning.wire_knots import room, suggested_turn, suggested_turns
from tests.decks import SEAT_COIL, grid_deck
from tests.tied_by_hand import eight_way, level, line_of, rows_and_columns

replace = msgspec.structs.replace


def hitched(deck: Deck, ties: Ties, tied: float | None = None) -> HitchPlan:
    standing = standing_of(deck)
    return hitches_of(deck, standing, level(deck, standing, tied), ties)


def with_settings(deck: Deck, rim_ring: str = "nearest-rail-top", **twine: object) -> Deck:
    tying = replace(deck.tying, rim_ring=rim_ring)
    return replace(deck, tying=tying, twine=replace(deck.twine, **twine))


def test_the_rings_share_the_tied_height_evenly():
    rings = rings_of(SEAT_COIL, 115)
    assert [ring.number for ring in rings] == [1, 2, 3, 4, 5, 6]
    assert [ring.height for ring in rings] == pytest.approx([115, 92, 69, 46, 23, 0])


def test_a_double_cone_narrows_to_its_waist_and_widens_again():
    """By hand: 92 at the ends, 60 at half height, so 92 - 64 x 1/5 at the second coil down."""
    radii = [ring.radius for ring in rings_of(SEAT_COIL, 115)]
    assert radii == pytest.approx([46, 39.6, 33.2, 33.2, 39.6, 46])
    assert radius_at(SEAT_COIL, 0.5) == 30


def test_a_single_cone_and_a_cylinder_keep_to_their_profiles():
    cone = replace(SEAT_COIL, shape="single-cone", foot_diameter=52, turns=5)
    assert [r.radius for r in rings_of(cone, 100)] == pytest.approx([46, 41, 36, 31, 26])
    cylinder = replace(SEAT_COIL, shape="cylinder", turns=4)
    assert [r.radius for r in rings_of(cylinder, 90)] == pytest.approx([46] * 4)


def test_part_turns_leave_the_last_ring_above_the_webbing():
    rings = rings_of(replace(SEAT_COIL, turns=5.5), 90)
    assert [ring.height for ring in rings] == pytest.approx([90, 70, 50, 30, 10])


def test_a_coil_of_hardly_a_turn_still_has_a_top_and_a_bottom():
    assert [r.height for r in rings_of(replace(SEAT_COIL, turns=1), 80)] == [80, 0]


@pytest.mark.parametrize(("rail_top", "ring"), [(200, 1), (104, 1), (103, 2), (75, 3), (0, 5)])
def test_the_rim_ring_is_the_one_nearest_to_the_rails_top(rail_top, ring):
    assert nearest_ring(rings_of(SEAT_COIL, 115), rail_top).number == ring


def test_of_two_equally_near_rings_the_upper_is_taken():
    assert nearest_ring(rings_of(SEAT_COIL, 100), 70).number == 2


def test_eight_way_tying_is_eight_hitches_a_spring_on_the_middle_one():
    """Eight hitches a spring: Johnson 1919. 64 on the twelve pieces, by counting."""
    deck = grid_deck()
    hitches = [h for h in hitched(deck, eight_way(deck)).in_order if h.end != "return"]
    assert len(hitches) == 64
    assert Counter(h.spring for h in hitches)["s5"] == 8


def test_the_outer_hitches_of_a_row_sit_low_and_the_rest_on_the_top_coil():
    deck = grid_deck()
    row = hitched(deck, rows_and_columns(deck, 3, 3)).lines[3]
    assert [h.ring for h in row.along] == [3, 1, 1, 1, 1, 3]
    assert [h.ring for h in row.returns] == [1, 1]
    assert [h.end for h in row.in_order] == ["return", *["entering", "leaving"] * 3, "return"]


def test_a_row_has_its_hitches_where_they_were_worked_out_by_hand():
    deck = grid_deck()
    row = hitched(deck, rows_and_columns(deck, 3, 3)).lines[3]
    assert row.anchors == ((-22.5, 108, 75), (522.5, 108, 75))
    assert [h.place[0] for h in row.along] == pytest.approx(
        [108 - 33.2, 108 + 46, 250 - 46, 250 + 46, 392 - 46, 392 + 33.2]
    )
    assert [h.place[2] for h in row.along] == pytest.approx([69, 115, 115, 115, 115, 69])
    assert row.returns[0].place == pytest.approx((108 - 46, 108, 115))


def test_front_to_back_enters_from_the_front():
    deck = grid_deck()
    column = hitched(deck, rows_and_columns(deck, 3, 3)).lines[0]
    assert column.along[0].spring == "s7"
    assert column.along[0].place == pytest.approx((108, 392 + 33.2, 69))
    assert column.along[1].place == pytest.approx((108, 392 - 46, 115))


def test_diagonals_stay_on_the_top_coil_and_need_no_return():
    deck = grid_deck()
    for line in hitched(deck, eight_way(deck)).lines[6:]:
        assert {h.ring for h in line.along} == {1}
        assert line.returns == (None, None)


@pytest.mark.parametrize(("choice", "ring"), [("ring-2", 2), ("ring-3", 3), ("top", 1)])
def test_the_rim_ring_can_be_set(choice, ring):
    deck = with_settings(grid_deck(), choice)
    column = hitched(deck, rows_and_columns(deck, 3, 3)).lines[0]
    assert (column.along[0].ring, column.along[-1].ring) == (ring, ring)
    assert (column.returns[0] is None) == (ring == 1)


def test_a_set_ring_that_the_coil_does_not_have_is_its_lowest():
    deck = with_settings(grid_deck(), "ring-3")
    deck = replace(deck, coils=(replace(SEAT_COIL, turns=2),))
    assert hitched(deck, rows_and_columns(deck, 3, 3)).lines[0].along[0].ring == 2


def test_without_return_ties_the_top_coil_has_no_outer_hitch():
    deck = with_settings(grid_deck(), return_tie=False)
    plan = hitched(deck, rows_and_columns(deck, 3, 3))
    assert all(line.returns == (None, None) for line in plan.lines)


def test_a_line_over_one_spring_has_an_outer_hitch_at_each_end():
    deck = grid_deck(1, 1)
    line = hitched(deck, rows_and_columns(deck, 1, 1)).lines[0]
    assert [h.ring for h in line.along] == [3, 3]
    assert len(line.in_order) == 4


def test_each_end_takes_the_ring_for_its_own_rail():
    deck = grid_deck()
    low_back = (replace(deck.frame.sides[0], rail_top=45), *deck.frame.sides[1:])
    deck = replace(deck, frame=replace(deck.frame, sides=low_back))
    column = hitched(deck, rows_and_columns(deck, 3, 3)).lines[0]
    assert [column.along[0].ring, column.along[-1].ring] == [3, 4]


def test_an_end_without_a_rail_stays_on_the_top_coil():
    deck = grid_deck()
    line = line_of(deck, 1, "side-to-side", ("s1", "s2"), ((-22.5, 108), None), (3, None))
    ends = hitched(deck, Ties((line,), ())).lines[0]
    assert ends.anchors[1] is None
    assert [h.ring for h in ends.along] == [3, 1, 1, 1]
    assert ends.along[-1].place == pytest.approx((250 + 46, 108, 115))
    assert ends.returns[1] is None


def test_a_lone_spring_between_open_sides_is_hitched_along_its_run():
    deck = grid_deck(1, 1)
    line = line_of(deck, 1, "front-to-back", ("s1",), (None, None), (None, None))
    places = [h.place for h in hitched(deck, Ties((line,), ())).lines[0].along]
    assert places == [pytest.approx((108, 154, 115)), pytest.approx((108, 62, 115))]


@settings(max_examples=40, deadline=None)
@given(
    st.floats(40, 150),
    st.floats(0, 120),
    st.sampled_from(["double-cone", "single-cone", "cylinder"]),
    st.floats(1.5, 9),
    st.sampled_from(["nearest-rail-top", "ring-2", "ring-3", "top"]),
)
def test_no_hitch_lies_outside_its_ring(tied, rail_top, shape, turns, choice):
    coil = replace(SEAT_COIL, shape=shape, turns=turns, foot_diameter=80)
    deck = with_settings(grid_deck(), choice)
    deck = replace(deck, coils=(coil,), frame=replace(deck.frame, rail_top=rail_top))
    rings = {ring.number: ring for ring in rings_of(coil, tied)}
    for hitch in hitched(deck, eight_way(deck), tied).in_order:
        spring, ring = deck.spring(hitch.spring), rings[hitch.ring]
        off = math.dist(hitch.place[:2], (spring.x, spring.y))
        assert off == pytest.approx(ring.radius, abs=1e-6)
        assert hitch.place[2] == pytest.approx(ring.height)


def test_the_wire_knot_is_turned_clear_of_eight_ties():
    """Eight ties lie 45 degrees apart, so the knot goes halfway between two of them."""
    deck = grid_deck()
    plan = hitched(with_settings(deck, "top"), eight_way(deck))
    assert suggested_turns(deck, standing_of(deck), plan)["s5"] == pytest.approx(22.5)


def test_the_usual_turn_is_kept_where_only_rows_and_columns_are_tied():
    deck = grid_deck()
    turns = suggested_turns(deck, standing_of(deck), hitched(deck, rows_and_columns(deck, 3, 3)))
    assert set(turns.values()) == {45.0}


def test_open_top_coils_have_no_knot_to_turn():
    deck = replace(grid_deck(), coils=(replace(SEAT_COIL, ends="knotted-foot"),))
    plan = hitched(deck, rows_and_columns(deck, 3, 3))
    assert suggested_turns(deck, standing_of(deck), plan) == {}


@given(st.lists(st.floats(-180, 360), min_size=1, max_size=10))
def test_no_other_turn_leaves_the_knot_more_room_than_the_suggested_one(taken):
    best = room(suggested_turn(taken, 361.0), taken)
    assert best >= max(room(turn, taken) for turn in range(0, 360, 3)) - 1e-6


def test_a_ring_that_nothing_is_tied_to_keeps_the_usual_turn():
    assert suggested_turn([], 15.0) == 45.0


def test_from_a_hitch_below_the_rails_top_the_twine_comes_over_the_rails_edge():
    """By hand: the outer hitches at z 69 and the rail's top at 75; the inside edge at x 0."""
    deck = grid_deck()
    row = hitched(deck, rows_and_columns(deck, 3, 3)).lines[3]
    assert row.edges == (pytest.approx((0, 108, 75)), pytest.approx((500, 108, 75)))
    assert row.way[:3] == (row.anchors[0], row.edges[0], row.along[0].place)
    assert row.way[-3:] == (row.along[-1].place, row.edges[1], row.anchors[1])
    assert row.return_way(0) == (row.anchors[0], row.returns[0].place)


def test_twine_that_rises_clear_of_the_rail_goes_straight_to_the_tack():
    deck = grid_deck()
    deck = replace(deck, frame=replace(deck.frame, rail_top=69))
    assert all(line.edges == (None, None) for line in hitched(deck, eight_way(deck)).lines)


def test_the_return_tie_of_a_spring_tied_lower_than_the_rail_comes_over_the_edge_too():
    deck = with_settings(grid_deck(), "ring-2")
    deck = replace(deck, frame=replace(deck.frame, rail_top=130))
    row = hitched(deck, rows_and_columns(deck, 3, 3)).lines[3]
    assert row.edges[0] == pytest.approx((0, 108, 130))
    assert row.return_way(0) == (row.anchors[0], row.edges[0], row.returns[0].place)


def test_an_end_that_meets_no_rail_or_starts_over_the_wood_has_no_edge_to_come_over():
    deck = grid_deck()
    ties = rows_and_columns(deck, 3, 3)
    row = ties.lines[3]
    loose = line_of(deck, 1, "side-to-side", row.springs, (None, row.anchors[1]), (None, 1))
    assert hitched(deck, Ties((loose,), ())).lines[0].edges == (None, (500, 108, 75))
    at_rail = replace(deck, springs=(replace(deck.springs[0], x=20.0), *deck.springs[1:]))
    row = rows_and_columns(at_rail, 3, 3).lines[3]
    assert hitched(at_rail, Ties((row,), ())).lines[0].edges == (None, (500, 108, 75))
