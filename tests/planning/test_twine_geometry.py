"""The twine of each tie, counted from where it goes."""

import math

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spring_layout.deck.model import Deck
from spring_layout.planning.hitches import hitches_of
from spring_layout.planning.parts import Ties, TwineCount
from spring_layout.planning.standing import standing_of
from spring_layout.planning.twine import twine_of
from spring_layout.planning.twine_geometry import (
    counted,
    counts_of,
    cut_length,
    shortfall,
    wrapped,
)
from tests.decks import SEAT_COIL, grid_deck
from tests.tied_by_hand import eight_way, level, line_of, rows_and_columns

replace = msgspec.structs.replace
INCH = 25.4


def counts(deck: Deck, ties: Ties, tied: float | None = None) -> tuple[TwineCount, ...]:
    standing = standing_of(deck)
    return counts_of(deck, hitches_of(deck, standing, level(deck, standing, tied), ties), ties)


def with_twine(deck: Deck, **changes: object) -> Deck:
    return replace(deck, twine=replace(deck.twine, **changes))


def row_of_eighteen_inches() -> tuple[Deck, Ties]:
    """Three springs in a row level with the rails, 18 in from tack point to tack point."""
    deck = with_twine(grid_deck(1, 3, 140, 88.6), return_tie=False, allowance=0)
    frame, tying = replace(deck.frame, rail_top=115), replace(deck.tying, rim_ring="top")
    deck = replace(deck, frame=frame, tying=tying)
    names, y = ("s1", "s2", "s3"), deck.springs[0].y
    start = deck.springs[1].x - 9 * INCH
    ends = ((start, y), (start + 18 * INCH, y))
    return deck, Ties((line_of(deck, 1, "side-to-side", names, ends, (3, 1)),), ())


def test_an_eighteen_inch_row_of_three_takes_about_919_mm_before_crossings():
    """By hand: 18 in is 457.2, six clove hitches of 52 and 75 folded back at both ends: 919.2."""
    deck, ties = row_of_eighteen_inches()
    (count,) = counts(with_twine(deck, ten_hitches=520), ties)
    assert count.way == pytest.approx(18 * INCH)
    assert count.total == pytest.approx(919.2)


def test_the_wrap_model_comes_within_a_hand_of_that_row():
    deck, ties = row_of_eighteen_inches()
    (count,) = counts(deck, ties)
    assert count.hitches == pytest.approx(6 * 51.817, abs=0.01)
    assert count.total == pytest.approx(919.2, abs=2)


def test_johnsons_rule_leaves_that_row_short_and_the_shortfall_is_said():
    """Johnson 1919: 1 2/3 times the dimension, 30 in or 762 mm for an 18 in row."""
    deck, ties = row_of_eighteen_inches()
    deck = replace(
        deck, frame=replace(deck.frame, corners=((0, 0), (457.2, 0), (457.2, 177), (0, 177)))
    )
    deck = with_twine(deck, rule="single-1.67", ten_hitches=520)
    standing = standing_of(deck)
    (line,) = twine_of(deck, ties, level(deck, standing)).lines
    (count,) = counts(deck, ties)
    assert line.rule_length == pytest.approx(762, abs=0.1)
    assert shortfall(line, count) == pytest.approx(919.2 - 762, abs=0.1)


def test_a_generous_rule_leaves_nothing_short():
    deck = grid_deck()
    ties = eight_way(deck)
    plan = twine_of(deck, ties, level(deck, standing_of(deck)))
    assert [shortfall(*pair) for pair in zip(plan.lines, counts(deck, ties), strict=True)] == [
        0
    ] * 12


def test_a_square_deck_row_is_counted_as_by_hand():
    """Row of three at 108, 250, 392 mm, rails 75 high, tied to 115; outer hitches on ring 3.

    The way runs over the rail to its inside edge, down to ring 3 (33.2 out, 69 high, so 6 below
    the edge), across to the top coil's far side (46 out, 115 high), level to the last spring, and
    down again.
    """
    deck = grid_deck()
    count = counts(deck, rows_and_columns(deck, 3, 3))[3]
    rail = 22.5 + math.hypot(108 - 33.2, 75 - 69)
    across = math.hypot(33.2 + 46, 115 - 69)
    level_part = (392 - 46) - (108 + 46)
    assert count.way == pytest.approx(2 * rail + 2 * across + level_part)
    assert count.returns == pytest.approx(2 * math.hypot(108 + 22.5 - 46, 115 - 75))
    assert count.hitches == pytest.approx(8 * wrapped("clove", 3.66, 3))
    assert (count.fold_backs, count.wraps, count.allowance) == (150, 0, 150)


def test_a_cross_knots_twine_belongs_to_the_tie_that_makes_it():
    deck = grid_deck()
    knots = [count.cross_knots for count in counts(deck, rows_and_columns(deck, 3, 3))]
    assert knots == [0, 0, 0, *[pytest.approx(3 * wrapped("half", 3, 3))] * 3]


def test_a_knot_round_four_ties_counts_them_as_one_strand_of_twice_the_thickness():
    deck = grid_deck()
    ties = rows_and_columns(deck, 3, 3)
    (knot, *_) = ties.crossings
    crowded = Ties(ties.lines, (type(knot)(knot.place, (1, 2, 3, 4, 5), None, 5),))
    assert counts(deck, crowded)[4].cross_knots == pytest.approx(wrapped("half", 6, 3))


def test_the_users_own_knots_replace_the_model():
    deck = with_twine(grid_deck(), ten_hitches=600, ten_cross_knots=310)
    count = counts(deck, rows_and_columns(deck, 3, 3))[3]
    assert count.hitches == pytest.approx(8 * 60)
    assert count.cross_knots == pytest.approx(3 * 31)


def test_half_hitches_take_less_than_overhand_knots_and_those_less_than_clove_hitches():
    deck = grid_deck()
    ties = rows_and_columns(deck, 3, 3)
    took = [
        counts(with_twine(deck, hitch=h), ties)[0].hitches for h in ("half", "overhand", "clove")
    ]
    assert took == sorted(took)
    assert took[0] < took[1] < took[2]


def test_wraps_where_the_tail_leaves_the_rail_are_turns_round_the_twine_itself():
    deck = with_twine(grid_deck(), tail_wraps=3)
    count = counts(deck, rows_and_columns(deck, 3, 3))[0]
    assert count.wraps == pytest.approx(2 * 3 * math.sqrt((6 * math.pi) ** 2 + 9))


def test_an_end_without_a_rail_takes_no_fold_back_and_no_wraps():
    deck = with_twine(grid_deck(), tail_wraps=3)
    line = line_of(deck, 1, "side-to-side", ("s1", "s2"), ((-22.5, 108), None), (3, None))
    (count,) = counts(deck, Ties((line,), ()))
    assert count.fold_backs == 75
    assert count.wraps == pytest.approx(3 * math.sqrt((6 * math.pi) ** 2 + 9))


def test_what_to_cut_is_rounded_up_to_the_step():
    deck = with_twine(grid_deck(), step=25)
    for count in counts(deck, eight_way(deck)):
        cut = cut_length(deck, count)
        assert cut % 25 == 0
        assert 0 <= cut - count.total < 25


def test_the_plan_takes_its_cut_lengths_from_the_count():
    deck = grid_deck()
    ties = eight_way(deck)
    plan = twine_of(deck, ties, level(deck, standing_of(deck)))
    made = counted(plan, deck, counts(deck, ties))
    assert [line.rule_length for line in made.lines] == [line.rule_length for line in plan.lines]
    assert made.cut_total == sum(line.cut_length for line in made.lines)
    assert made.lines[3].cut_length == 10 * math.ceil(counts(deck, ties)[3].total / 10)


decks = st.builds(
    lambda margin, turns, waist, rail_top, width: replace(
        grid_deck(margin=margin),
        coils=(replace(SEAT_COIL, turns=turns, waist_diameter=waist),),
        frame=replace(grid_deck(margin=margin).frame, rail_top=rail_top, rail_width=width),
    ),
    st.floats(50, 120),
    st.integers(4, 9),
    st.floats(40, 90),
    st.floats(0, 110),
    st.floats(20, 60),
)


@settings(max_examples=60, deadline=None)
@given(decks, st.floats(0, 60), st.floats(0, 30))
def test_raising_the_tied_height_never_shortens_the_twine(deck, above, more):
    """While the tops stand above the rails, and with return ties."""
    ties, low = rows_and_columns(deck, 3, 3), max(deck.frame.rail_top, 20) + above
    before, after = counts(deck, ties, low), counts(deck, ties, low + more)
    assert all(b.total <= a.total + 1e-9 for b, a in zip(before, after, strict=True))


@settings(max_examples=40, deadline=None)
@given(decks, st.floats(20, 150))
def test_the_way_is_never_shorter_than_the_straight_distance(deck, tied):
    ties = eight_way(deck)
    for line, count in zip(ties.lines, counts(deck, ties, tied), strict=True):
        assert count.way >= math.dist(*line.anchors) - 1e-9


@settings(max_examples=30, deadline=None)
@given(st.floats(0.3, 4), st.floats(60, 140))
def test_scaling_the_deck_scales_the_twine(factor, tied):
    small, large = grid_deck(), scaled(grid_deck(), factor)
    before = counts(small, eight_way(small), tied)
    after = counts(large, eight_way(large), tied * factor)
    for b, a in zip(before, after, strict=True):
        assert a.total == pytest.approx(factor * b.total, rel=1e-4)


def scaled(deck: Deck, factor: float) -> Deck:
    def all_of(part: msgspec.Struct, *fields: str) -> dict[str, float]:
        return {field: getattr(part, field) * factor for field in fields}

    coil = deck.coils[0]
    diameters = ("top_diameter", "waist_diameter", "foot_diameter")
    frame = replace(
        deck.frame,
        corners=tuple((x * factor, y * factor) for x, y in deck.frame.corners),
        **all_of(deck.frame, "rail_width", "rail_top"),
    )
    return replace(
        deck,
        frame=frame,
        coils=(replace(coil, **all_of(coil, "free_height", "wire", *diameters)),),
        springs=tuple(replace(s, **all_of(s, "x", "y")) for s in deck.springs),
        twine=replace(deck.twine, **all_of(deck.twine, "diameter", "fold_back", "allowance")),
    )
