"""Decks that the rules of tying do not fit: tied all the same, and every break owned up to.

Overlapping and coincident springs, springs in corners, sides without rails, wishes that break a
rule. Rules 1 and 2 (every spring on one line of each run) are kept whatever happens.
"""

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spring_layout.deck.model import Deck, Frame, MovedAnchor, Pairing, Run, Side
from spring_layout.planning.parts import Line, Ties
from spring_layout.planning.standing import standing_of
from spring_layout.planning.tying import ties_of
from tests.decks import grid_deck, straight_frame
from tests.planning.tying_rules import unnamed
from tests.random_decks import (
    Place,
    Recipe,
    crowded_deck,
    deck_of,
    make_deck,
    open_sided,
    plain_tying,
    random_deck,
    recipes,
    replace_struct,
    with_random_wishes,
)

RUNS_AND_ENDS = [("front-to-back", 2, 0), ("side-to-side", 3, 1)]


def tied(deck: Deck) -> Ties:
    """The ties of ``deck``, after seeing that they break no rule that they do not name."""
    ties = ties_of(standing_of(deck))
    assert [str(broken) for broken in unnamed(deck, ties)] == []
    return ties


def seat(places: list[Place], frame: Frame | None = None, **tying: object) -> Deck:
    return make_deck(frame or straight_frame(), places, 92, plain_tying(**tying))


def with_tying(deck: Deck, **changes: object) -> Deck:
    return replace_struct(deck, tying=replace_struct(deck.tying, **changes))


def lines_of(ties: Ties, run: Run) -> list[Line]:
    return [line for line in ties.lines if line.run == run]


def spring_sets(ties: Ties, run: Run) -> list[tuple[str, ...]]:
    return sorted(line.springs for line in lines_of(ties, run))


def kinds(ties: Ties) -> set[str]:
    return {told.kind for told in ties.breaks}


# Few springs.


def test_a_deck_without_springs_has_no_ties() -> None:
    ties = tied(seat([]))
    assert ties.lines == ()
    assert ties.crossings == ()
    assert ties.breaks == ()


def test_one_spring_in_the_middle_is_tied_eight_ways_to_the_rails() -> None:
    ties = tied(seat([(250, 250)]))
    assert [line.springs for line in ties.lines] == [("s1",)] * 4
    assert ties.breaks == ()
    assert [(c.lines, c.spring) for c in ties.crossings] == [((1, 2, 3, 4), "s1")]


@pytest.mark.parametrize(("run", "start", "finish"), RUNS_AND_ENDS)
def test_one_spring_is_tied_straight_across(run: Run, start: int, finish: int) -> None:
    (line,) = lines_of(tied(seat([(200, 300)])), run)
    assert line.sides == (start, finish)
    axis = 0 if run == "front-to-back" else 1
    wanted = (200, 300)[axis]
    for anchor in line.anchors:
        assert anchor is not None
        assert anchor[axis] == pytest.approx(wanted, abs=0.01)


def test_two_springs_abreast_share_the_side_to_side_line_alone() -> None:
    ties = tied(seat([(170, 250), (330, 250)]))
    assert spring_sets(ties, "side-to-side") == [("s1", "s2")]
    for run in ("front-to-back", "diagonal-rising", "diagonal-falling"):
        assert spring_sets(ties, run) == [("s1",), ("s2",)]
    assert ties.breaks == ()


def test_two_springs_one_behind_the_other_share_the_front_to_back_line_alone() -> None:
    ties = tied(seat([(250, 170), (250, 330)]))
    assert spring_sets(ties, "front-to-back") == [("s2", "s1")]
    assert spring_sets(ties, "side-to-side") == [("s1",), ("s2",)]


def test_two_springs_askew_share_one_diagonal() -> None:
    ties = tied(seat([(180, 320), (320, 180)]))
    assert spring_sets(ties, "diagonal-rising") == [("s1", "s2")]
    assert spring_sets(ties, "front-to-back") == [("s1",), ("s2",)]
    assert spring_sets(ties, "side-to-side") == [("s1",), ("s2",)]


def test_one_row_takes_one_line_and_one_column_each() -> None:
    ties = tied(grid_deck(1, 6))
    assert spring_sets(ties, "side-to-side") == [("s1", "s2", "s3", "s4", "s5", "s6")]
    assert len(lines_of(ties, "front-to-back")) == 6
    assert ties.breaks == ()


def test_one_column_takes_one_line_and_one_row_each() -> None:
    ties = tied(grid_deck(6, 1))
    assert spring_sets(ties, "front-to-back") == [("s6", "s5", "s4", "s3", "s2", "s1")]
    assert len(lines_of(ties, "side-to-side")) == 6
    assert ties.breaks == ()


# Patterns that are no rows and columns.


def staggered_chair() -> Deck:
    """Four springs in a square, the fifth in their middle."""
    return seat([(125, 125), (375, 125), (250, 250), (125, 375), (375, 375)])


def test_the_five_spring_chair_is_tied_through_its_middle_on_both_diagonals() -> None:
    ties = tied(staggered_chair())
    assert ("s4", "s3", "s2") in spring_sets(ties, "diagonal-rising")
    assert ("s1", "s3", "s5") in spring_sets(ties, "diagonal-falling")
    assert spring_sets(ties, "front-to-back") == [("s3",), ("s4", "s1"), ("s5", "s2")]
    assert spring_sets(ties, "side-to-side") == [("s1", "s2"), ("s3",), ("s4", "s5")]
    assert ties.breaks == ()


def ring_deck(count: int, radius: float) -> Deck:
    """``count`` springs evenly round one in the middle of a round frame of 560 mm."""
    turns = [2 * math.pi * i / count for i in range(count)]
    places = [(radius * math.sin(t), -radius * math.cos(t)) for t in turns]
    frame = Frame(
        corners=((-280, 0), (280, 0)),
        sides=(Side(rail="back", bow=280), Side(rail="front", bow=280)),
        rail_width=45,
        rail_top=75,
    )
    return seat([(0, 0), *places], frame)


@pytest.mark.parametrize("count", [5, 6, 7, 8])
def test_a_ring_with_one_in_the_middle_is_tied_by_the_rules(count: int) -> None:
    assert tied(ring_deck(count, 170)).breaks == ()


@pytest.mark.parametrize("count", [6, 8])
def test_lines_go_right_through_the_middle_of_an_even_ring(count: int) -> None:
    lines = tied(ring_deck(count, 170)).lines
    assert any("s1" in line.springs and len(line.springs) == 3 for line in lines)


def test_a_spring_in_a_corner_is_tied_and_its_tacks_keep_out_of_the_joint() -> None:
    ties = tied(seat([(50, 50), (250, 250)]))
    for line in ties.lines:
        if line.springs == ("s1",):
            assert all(along is not None for along in line.along)


# Springs that overlap or stand at one place.


@pytest.mark.parametrize("apart", [0.0, 0.001, 5.0, 46.0, 60.0, 91.0])
def test_two_springs_that_overlap_are_tied_and_owned_up_to(apart: float) -> None:
    ties = tied(seat([(250 - apart / 2, 250), (250 + apart / 2, 250), (250, 400)]))
    assert sum(len(line.springs) for line in ties.lines) == 12
    if apart < 46:
        assert "over-spring" in kinds(ties) or "clash" in kinds(ties)


def test_all_springs_at_one_place_are_tied_and_owned_up_to() -> None:
    ties = tied(seat([(250, 250)] * 4))
    assert sum(len(line.springs) for line in ties.lines) == 16
    assert ties.breaks


@settings(max_examples=15, deadline=None, derandomize=True)
@given(seed=st.integers(0, 10_000), count=st.integers(2, 10))
def test_springs_strewn_anywhere_are_tied_and_every_break_is_named(seed: int, count: int) -> None:
    tied(crowded_deck(seed, count))


@pytest.mark.larger
@pytest.mark.parametrize("seed", range(30))
def test_many_strewn_decks_are_tied_and_every_break_is_named(seed: int) -> None:
    tied(crowded_deck(seed, 2 + seed % 20))


# Sides without a rail, rails too short.


def frame_without(*open_rails: str, frame: Frame | None = None) -> Frame:
    frame = frame or straight_frame()
    sides = tuple(
        replace_struct(side, rail="none") if side.rail in open_rails else side
        for side in frame.sides
    )
    return replace_struct(frame, sides=sides)


def test_without_any_rail_every_line_ends_at_its_springs() -> None:
    deck = replace_struct(grid_deck(), frame=frame_without("back", "right", "front", "left"))
    ties = tied(deck)
    assert all(line.anchors == (None, None) for line in ties.lines)
    told = {number for b in ties.breaks if b.kind == "no-rail" for number in b.lines}
    assert told == {line.number for line in ties.lines}
    assert spring_sets(ties, "side-to-side") == [
        ("s1", "s2", "s3"),
        ("s4", "s5", "s6"),
        ("s7", "s8", "s9"),
    ]


def test_an_open_back_leaves_the_front_to_back_lines_without_a_finish() -> None:
    deck = replace_struct(grid_deck(), frame=frame_without("back"))
    ties = tied(deck)
    for line in lines_of(ties, "front-to-back"):
        assert line.sides == (2, None)
        assert line.path[-1] == line.centres[-1]
    for line in lines_of(ties, "side-to-side"):
        assert line.sides == (3, 1)
    assert kinds(ties) == {"no-rail"}


@settings(max_examples=15, deadline=None, derandomize=True)
@given(recipe=recipes(most=20))
def test_a_random_deck_with_an_open_side_names_every_break(recipe: Recipe) -> None:
    tied(deck_of(open_sided(recipe)))


def test_a_rail_too_short_for_its_tacks_spreads_them_evenly_and_says_so() -> None:
    """Six lines in a rail of 120 mm: 70 mm between the corners' clearances, 14 mm a tack."""
    frame = frame_without("left", "right", frame=straight_frame(120, 500))
    places = [(15.0 + 18 * i, 250.0) for i in range(6)]
    deck = make_deck(frame, places, 16, plain_tying(diagonals="none", side_to_side=False))
    ties = tied(deck)
    for end, side in ((0, 2), (1, 0)):
        lines = lines_of(ties, "front-to-back")
        assert {line.sides[end] for line in lines} == {side}
        along = sorted(line.along[end] for line in lines)
        steps = [b - a for a, b in pairwise(along)]
        assert max(steps) - min(steps) < 1.0
        assert min(steps) > 12.0
    assert kinds(ties) & {"anchor-spacing", "anchor-corner"}


def test_a_rail_shorter_than_two_clearances_still_takes_its_tack() -> None:
    frame = Frame(
        corners=((0, 0), (300, 0), (170, 300), (130, 300)),
        sides=tuple(Side(rail=r, bow=0) for r in ("back", "right", "front", "left")),
        rail_width=45,
        rail_top=75,
    )
    ties = tied(seat([(150, 90), (150, 200)], frame, diagonals="none"))
    (line,) = [ln for ln in lines_of(ties, "front-to-back") if len(ln.springs) == 2]
    assert line.sides == (2, 0)
    assert "anchor-corner" in kinds(ties)


# What the user asks for.


def test_springs_are_joined_as_wished() -> None:
    """In the square nine nothing joins s4 to s2 from front to back, unless it is asked for."""
    wish = Pairing(run="front-to-back", springs=("s4", "s2"))
    ties = tied(with_tying(grid_deck(), joins=(wish,)))
    (line,) = [ln for ln in lines_of(ties, "front-to-back") if "s4" in ln.springs]
    at = line.springs.index("s4")
    assert line.springs[at + 1] == "s2"


def test_springs_are_parted_as_wished() -> None:
    wish = Pairing(run="side-to-side", springs=("s4", "s5"))
    ties = tied(with_tying(grid_deck(), parts=(wish,)))
    for line in lines_of(ties, "side-to-side"):
        assert ("s4", "s5") not in pairwise(line.springs)


def test_a_join_over_a_spring_in_the_way_is_obeyed_and_named() -> None:
    wish = Pairing(run="front-to-back", springs=("s8", "s2"))
    ties = tied(with_tying(grid_deck(), joins=(wish,)))
    assert any(("s8", "s2") in pairwise(ln.springs) for ln in lines_of(ties, "front-to-back"))
    assert "over-spring" in kinds(ties)


def test_joins_that_contradict_each_other_are_named() -> None:
    wishes = (
        Pairing(run="front-to-back", springs=("s8", "s5")),
        Pairing(run="front-to-back", springs=("s7", "s5")),
    )
    ties = tied(with_tying(grid_deck(), joins=wishes))
    assert any(told.rule == 9 for told in ties.breaks)


def test_joins_that_run_in_a_circle_are_named() -> None:
    wishes = (
        Pairing(run="front-to-back", springs=("s8", "s5")),
        Pairing(run="front-to-back", springs=("s5", "s8")),
    )
    ties = tied(with_tying(grid_deck(), joins=wishes))
    assert any(told.rule == 9 for told in ties.breaks)


def test_a_wish_both_joined_and_parted_is_named() -> None:
    pair = Pairing(run="front-to-back", springs=("s8", "s5"))
    ties = tied(with_tying(grid_deck(), joins=(pair,), parts=(pair,)))
    assert any(told.rule == 9 for told in ties.breaks)


def moved_anchor(along: float, side: int = 0, spring: str = "s2") -> MovedAnchor:
    return MovedAnchor(run="front-to-back", spring=spring, end="finish", side=side, along=along)


def test_a_moved_tack_point_stays_where_it_was_put() -> None:
    ties = tied(with_tying(grid_deck(), anchors=(moved_anchor(280.0),)))
    (line,) = [ln for ln in lines_of(ties, "front-to-back") if "s2" in ln.springs]
    assert line.along[1] == 280.0
    assert line.anchors[1] == pytest.approx((280.0, -22.5), abs=0.001)


def test_a_tack_point_moved_too_far_aside_is_obeyed_and_named() -> None:
    ties = tied(with_tying(grid_deck(), anchors=(moved_anchor(380.0),)))
    (line,) = [ln for ln in lines_of(ties, "front-to-back") if "s2" in ln.springs]
    assert line.along[1] == 380.0
    assert ties.breaks


def test_a_tack_point_moved_into_the_corner_is_obeyed_and_named() -> None:
    ties = tied(with_tying(grid_deck(), anchors=(moved_anchor(10.0, spring="s1"),)))
    (line,) = [ln for ln in lines_of(ties, "front-to-back") if "s1" in ln.springs]
    assert line.along[1] == 10.0
    assert "anchor-corner" in kinds(ties)


def test_of_two_wishes_for_the_same_end_one_is_obeyed_and_the_other_named() -> None:
    wishes = (moved_anchor(230.0, spring="s2"), moved_anchor(280.0, spring="s5"))
    ties = ties_of(standing_of(with_tying(grid_deck(), anchors=wishes)))
    (line,) = [ln for ln in lines_of(ties, "front-to-back") if "s2" in ln.springs]
    assert line.along[1] in (230.0, 280.0)
    assert any(told.rule == 9 and line.number in told.lines for told in ties.breaks)


def test_a_tack_point_moved_to_a_side_without_a_rail_is_named() -> None:
    deck = replace_struct(grid_deck(), frame=frame_without("back"))
    ties = ties_of(standing_of(with_tying(deck, anchors=(moved_anchor(250.0),))))
    (line,) = [ln for ln in lines_of(ties, "front-to-back") if "s2" in ln.springs]
    told = [b for b in ties.breaks if line.number in b.lines and b.rule in (5, 9)]
    assert {b.rule for b in told} == {5, 9}


@settings(max_examples=15, deadline=None, derandomize=True)
@given(recipe=recipes(most=16), seed=st.integers(0, 10_000))
def test_any_wishes_are_obeyed_or_named(recipe: Recipe, seed: int) -> None:
    tied(with_random_wishes(deck_of(recipe), seed))


@pytest.mark.larger
@pytest.mark.parametrize("batch", range(4))
def test_any_wishes_are_obeyed_or_named_on_many_decks(batch: int) -> None:
    for seed in range(10 * batch, 10 * batch + 10):
        tied(with_random_wishes(random_deck(seed, most=25), seed))


def test_a_wish_for_a_run_that_is_off_is_left_alone() -> None:
    wish = Pairing(run="front-to-back", springs=("s8", "s5"))
    ties = tied(
        with_tying(grid_deck(), joins=(wish,), anchors=(moved_anchor(250.0),), front_to_back=False)
    )
    assert ties.breaks == ()
    assert lines_of(ties, "front-to-back") == []
