"""Spacing evenly: what comes out of one deck and another, and what is refused."""

import math

import msgspec
import numpy as np
import pytest

from spring_layout.planning.parts import Standing
from spring_layout.planning.placing import climb
from spring_layout.planning.placing.even import even_out, even_out_steps
from spring_layout.planning.placing.keep import Constraints, rows_of_ties
from spring_layout.planning.placing.measure import Wish, compare
from spring_layout.planning.placing.step import best_move
from spring_layout.planning.standing import standing_of
from spring_layout.planning.tying import ties_of
from tests.decks import grid_deck, straight_frame
from tests.placing_frames import frame_named
from tests.planning.evening import grid_lines, jittered, stand, worth

ROWS_EQUAL = 2e-3


# What it is for


def test_nine_crooked_springs_come_out_in_even_rows():
    start = jittered(standing_of(grid_deck()), 12)
    places = even_out(start, (), 50, 40, Constraints(grid_lines(3, 3), order=True))
    share = worth(start, places)[:24]
    # 500 mm hold 3 rings of 92 mm, 2 gaps and 2 clearances: 224 mm for 180 mm of wishes
    assert share[0] == pytest.approx(224 / 180, abs=ROWS_EQUAL)
    assert share[23] == pytest.approx(224 / 180, abs=ROWS_EQUAL)


def test_a_spring_between_two_held_ones_comes_to_the_middle():
    start = stand([(100, 250), (190, 250), (400, 250)], held=(0, 2))
    places = even_out(start, None, 50, 0, Constraints(rows=((0, 1, 2),)))
    assert places[1] == pytest.approx([250, 250], abs=0.1)
    assert (places[[0, 2]] == start.centres[[0, 2]]).all()


def test_the_next_smallest_is_raised_when_the_smallest_cannot_be():
    """Two held springs touch; the third still comes to the best of the room that is left."""
    start = stand([(100, 60), (192, 60), (120, 300)], held=(0, 1))
    places = even_out(start, None, 0, 40)
    assert places[2] == pytest.approx([250, 250], abs=0.1)
    places = even_out(start, None, 50, 40)
    assert worth(start, places)[0] == pytest.approx(0, abs=1e-6)
    to_rings = [(math.dist(places[2], places[i]) - 92) / 50 for i in (0, 1)]
    to_rails = (np.array([*places[2], *(500 - places[2])]) - 46) / 40
    least = sorted([*to_rings, *to_rails])[:3]
    # A place in a plane is settled when three distances hold it, all alike.
    assert least == pytest.approx([least[0]] * 3, abs=0.02)


def test_a_lone_spring_comes_to_the_middle():
    start = stand([(100, 130)])
    assert even_out(start, (), 50, 40)[0] == pytest.approx([250, 250], abs=0.1)


def test_overlapping_rings_come_apart():
    start = stand([(200, 250), (230, 250), (215, 260)])
    assert worth(start, even_out(start, (), 50, 40))[0] > 1


def test_springs_over_the_edge_come_in():
    start = stand([(20, 250), (480, 250)])
    places = even_out(start, (), 50, 40)
    assert worth(start, places)[0] > 1


def test_more_springs_than_fit_are_spaced_as_well_as_can_be():
    start = jittered(stand(standing_of(grid_deck(7, 7, 70, 40)).centres), 5)
    places = even_out(start, (), 50, 40)
    before, after = worth(start, start.centres), worth(start, places)
    assert before[0] < after[0] < 0.0


def test_rows_take_up_the_bow_of_the_front_gradually():
    frame = frame_named("bowed")
    start = standing_of(msgspec.structs.replace(grid_deck(), frame=frame))
    places = even_out(start, (), 50, 40, Constraints(grid_lines(3, 3), order=True))
    sag = [float(places[i + 1, 1] - (places[i, 1] + places[i + 2, 1]) / 2) for i in (0, 3, 6)]
    assert -0.2 <= sag[0] <= sag[1] + 0.2
    assert sag[1] <= sag[2] + 0.2


def test_the_ties_say_which_rows_and_columns_to_keep():
    standing = standing_of(grid_deck())
    rows = rows_of_ties(standing, ties_of(standing).lines)
    assert {frozenset(row) for row in rows} == {frozenset(line) for line in grid_lines(3, 3)}


# A wish of 0


def test_without_a_wished_clearance_springs_spread_to_the_edge_and_not_past_it():
    start = stand([(180, 180), (320, 180), (180, 320), (320, 320)])
    places = even_out(start, (), 50, 0)
    assert sorted(map(tuple, places.round(1))) == [(46, 46), (46, 454), (454, 46), (454, 454)]


def test_without_a_wished_gap_rings_still_may_not_overlap():
    start = stand([(100, 250), (220, 250), (300, 250)])
    places = even_out(start, (), 0, 40)
    gap = min(math.dist(places[i], places[j]) for i, j in ((0, 1), (0, 2), (1, 2))) - 92
    assert gap > -0.05
    clearances = worth(start, places, Wish(0, 40))
    assert clearances[0] > worth(start, start.centres, Wish(0, 40))[0]


def test_without_any_wish_only_what_is_amiss_is_mended():
    fine = stand([(100, 100), (300, 300)])
    assert (even_out(fine, (), 0, 0) == fine.centres).all()
    amiss = stand([(30, 100), (300, 300), (340, 300)])
    places = even_out(amiss, (), 0, 0)
    assert worth(amiss, places, Wish(0, 0))[0] > -0.05


# Steps


def test_each_step_is_better_than_the_start_and_none_follows_the_last():
    start = jittered(standing_of(grid_deck()), 15)
    before = worth(start, start.centres)
    steps = list(even_out_steps(start, (), 50, 40))
    assert len(steps) > 2
    assert all(compare(worth(start, places), before) == 1 for places in steps)
    assert (steps[-1] == even_out(start, (), 50, 40)).all()


def test_it_can_be_stopped_at_any_step():
    start = jittered(standing_of(grid_deck()), 15)
    steps = even_out_steps(start, (), 50, 40)
    first = next(steps)
    steps.close()
    assert compare(worth(start, first), worth(start, start.centres)) == 1


def test_the_start_is_not_touched():
    start = jittered(standing_of(grid_deck()), 15)
    before = start.centres.copy()
    even_out(start, (), 50, 40)
    assert (start.centres == before).all()


def test_wishes_and_held_springs_are_the_decks_own_unless_given():
    start = stand([(100, 100), (300, 300)], held=(0,))
    assert (even_out(start)[0] == start.centres[0]).all()
    assert (even_out(start) == even_out(start, {"s0"}, 50, 40)).all()


def test_with_every_spring_held_nothing_moves():
    start = stand([(100, 100), (300, 300)], held=(0, 1))
    assert list(even_out_steps(start)) == []


def test_a_large_deck_takes_its_pairs_from_the_triangulation():
    frame = straight_frame(1100, 1100)
    deck = msgspec.structs.replace(grid_deck(7, 7, 140, 130), frame=frame)
    start = jittered(standing_of(deck), 8)
    places = even_out(start, (), 50, 40, Constraints(grid_lines(7, 7), order=True))
    # 1100 mm hold 7 rings, 6 gaps and 2 clearances: 456 mm for 380 mm of wishes
    assert worth(start, places)[0] == pytest.approx(456 / 380, abs=0.01)


def test_springs_jammed_in_a_straight_line_go_zigzag_where_no_row_is_kept():
    start = stand([(70, 230), (190, 230), (310, 230), (430, 230)])
    in_line = even_out(start, (), 50, 40, Constraints(rows=((0, 1, 2, 3),)))
    assert np.ptp(in_line[:, 1]) < 1
    assert worth(start, even_out(start, (), 50, 40))[0] > worth(start, in_line)[0] + 0.5


# Bad cases


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
@pytest.mark.parametrize(("which", "words"), [("gap", "gap"), ("clearance", "from the rail")])
def test_a_wish_that_is_no_distance_is_refused(bad, which, words):
    start = standing_of(grid_deck())
    with pytest.raises(ValueError, match=f"wished .*{words} must be 0 or more"):
        even_out_steps(start, (), **({"gap": 50, "clearance": 40} | {which: bad}))


def test_an_unknown_held_spring_is_refused():
    with pytest.raises(ValueError, match="No spring is called 'nobody'"):
        even_out_steps(standing_of(grid_deck()), {"nobody"})


@pytest.mark.parametrize("row", [(0, 9), (-1, 0), (0, 1, 0)])
def test_a_row_that_does_not_fit_the_deck_is_refused(row):
    with pytest.raises(ValueError, match="does not fit the deck"):
        even_out_steps(standing_of(grid_deck()), (), constraints=Constraints(rows=(row,)))


def test_a_wish_larger_than_the_opening_ends_and_spreads_the_springs():
    start = jittered(standing_of(grid_deck()), 10)
    places = even_out(start, (), 5000, 4000)
    assert (
        worth(start, places, Wish(5000, 4000))[0] > worth(start, start.centres, Wish(5000, 4000))[0]
    )


def test_a_deck_without_springs_has_nothing_to_space():
    empty: Standing = standing_of(msgspec.structs.replace(grid_deck(), springs=()))
    assert even_out(empty, (), 50, 40).shape == (0, 2)


def test_two_springs_in_a_round_frame_come_to_rest(monkeypatch):
    """They may slide round for ever, and once did: nothing was kept that could stop them."""
    tried = []

    def counted(*args):
        tried.append(1)
        assert len(tried) < 2000
        return best_move(*args)

    monkeypatch.setattr(climb, "best_move", counted)
    start = stand([(266.147, 494.241), (162.152, 220.13)], frame_named("round"))
    share = worth(start, even_out(start, (), 50, 40))
    # Across the middle: 520 mm hold two rings, a gap and two clearances.
    assert share[0] == pytest.approx((520 - 2 * 92) / (50 + 2 * 40), abs=0.01)


def test_springs_at_one_place_come_apart():
    start = stand([(250, 250), (250, 250)])
    assert worth(start, even_out(start, (), 50, 40))[0] > 0


def test_a_lopsided_frame_has_no_mirror_to_look_in_and_is_spaced_all_the_same():
    corners = ((0, 0), (420, 0), (500, 480), (-20, 440))
    frame = msgspec.structs.replace(straight_frame(), corners=corners)
    start = stand([(150, 150), (200, 260), (330, 300)], frame)
    assert worth(start, even_out(start, (), 50, 40))[0] > worth(start, start.centres)[0] + 0.5
