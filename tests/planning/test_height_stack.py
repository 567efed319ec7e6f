"""The stack from the floor to the sitter, and the springs to buy for it."""

from itertools import pairwise

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spring_layout.deck.model import Deck, Seat
from spring_layout.plan import make_plan
from spring_layout.planning.height_stack import (
    following,
    free_heights_to_buy,
    layers_of,
    measured_tied_height,
    outcome_of,
)
from tests.decks import grid_deck

replace = msgspec.structs.replace
INCH = 25.4


def seated(tied: float = 127, crown: float = 0, back: float | None = None, **seat: object) -> Deck:
    deck = grid_deck()
    tying = replace(deck.tying, tied_height=tied, crown=crown, tied_height_back=back)
    return replace(deck, tying=tying, seat=Seat(**seat))


def test_springs_are_tied_to_5_in_for_an_18_in_seat():
    """Common practice, no source: 18 in finished, 4 in cushion, webbing face 9 in up."""
    deck = seated(finished_height=18 * INCH, cushion=4 * INCH, floor_to_webbing=9 * INCH)
    assert following(deck, "tied_height") == pytest.approx(5 * INCH)


PARTS = ("finished_height", "floor_to_webbing", "over_springs", "cushion", "cushion_sink")


@pytest.mark.parametrize("part", PARTS)
def test_any_one_part_follows_from_the_others(part):
    """By hand: 230 + 127 + 12 + 100 - 15 = 454."""
    whole = {
        "finished_height": 454.0,
        "floor_to_webbing": 230.0,
        "over_springs": 12.0,
        "cushion": 100.0,
        "cushion_sink": 15.0,
    }
    deck = seated(**{**whole, part: 1.0})
    assert following(deck, part) == pytest.approx(whole[part])


@pytest.mark.parametrize("part", ["cushion", "tied_height", "floor_to_webbing"])
def test_nothing_follows_while_the_wanted_height_is_missing(part):
    assert following(seated(floor_to_webbing=230), part) is None


def test_nothing_follows_without_the_floor():
    assert following(seated(finished_height=454), "cushion") is None
    assert following(seated(finished_height=454), "finished_height") is None
    assert following(seated(finished_height=454, cushion=100), "floor_to_webbing") == 227


@given(
    st.floats(60, 200),
    st.floats(0, 40),
    st.one_of(st.none(), st.floats(60, 200)),
    st.sampled_from(["front", "middle"]),
)
@settings(max_examples=60, deadline=None)
def test_the_tied_height_that_follows_gives_the_finished_height_wanted(tied, crown, back, at):
    deck = seated(tied, crown, back, floor_to_webbing=230, measured_at=at)
    wanted = following(deck, "finished_height")
    other = replace(deck, seat=replace(deck.seat, finished_height=wanted))
    other = replace(other, tying=replace(other.tying, tied_height=90.0))
    assert following(other, "tied_height") == pytest.approx(tied)


def test_in_the_middle_the_crown_and_half_the_fall_count():
    assert measured_tied_height(seated(120, 15, 100, measured_at="middle")) == 125
    assert measured_tied_height(seated(120, 15, 100)) == 120


def test_the_layers_stand_on_each_other():
    deck = seated(floor_to_webbing=230, over_springs=12, cushion=100, cushion_sink=15)
    layers = layers_of(deck)
    assert [layer.name for layer in layers] == [
        "floor to webbing",
        "tied height",
        "over the springs",
        "cushion",
    ]
    assert all(a.top == b.bottom for a, b in pairwise(layers))
    assert layers[-1].top - layers[0].bottom == following(deck, "finished_height")


def test_layers_that_are_not_there_are_left_out():
    assert [layer.name for layer in layers_of(seated(cushion=0))] == ["tied height"]


def test_a_6_in_spring_is_bought_for_4_1_2_in():
    """19th-century British Mechanics How-To upholstery chapters: 6 in tied to 4 1/2 in."""
    quarter, _, by_depth = free_heights_to_buy(4.5 * INCH, 75)
    assert quarter.usual == pytest.approx(6 * INCH)
    assert (quarter.least, quarter.most) == (pytest.approx(142.875), pytest.approx(171.45))
    assert (by_depth.least, by_depth.most) == (pytest.approx(152.3), pytest.approx(189.3))


def test_each_school_says_where_it_comes_from():
    assert all(a.source and a.least <= a.usual <= a.most for a in free_heights_to_buy(115, 75))


def test_springs_that_one_has_come_out_at_a_quarter_less():
    outcome = outcome_of(seated(floor_to_webbing=230), 160)
    assert outcome.tied == pytest.approx((104, 120, 128))
    assert outcome.finished == pytest.approx((434, 450, 458))
    assert outcome_of(seated(), 160).finished is None


def test_they_come_out_higher_in_the_middle_of_a_crowned_deck():
    deck = seated(crown=10, floor_to_webbing=230, measured_at="middle")
    assert outcome_of(deck, 160).finished[1] == pytest.approx(460)


def two_rows(crown: float = 20, **seat: object) -> Deck:
    """Two rows of three springs: every one stands on the rim."""
    deck = grid_deck(2, 3)
    return replace(deck, tying=replace(deck.tying, crown=crown), seat=Seat(**seat))


def test_a_crown_that_no_spring_takes_adds_nothing_to_the_seat():
    deck = two_rows(floor_to_webbing=200, cushion=100, measured_at="middle")
    assert make_plan(deck).parts.heights.tied.tolist() == [115] * 6
    assert measured_tied_height(deck) == 115
    assert make_plan(deck).parts.heights.finished_height == 415


def test_the_seat_in_the_middle_stands_as_high_as_its_deepest_spring_is_tied():
    deck = seated(115, 20, measured_at="middle")
    springs = tuple(
        replace(s, x=250 + (s.x - 250) * 0.25, y=250 + (s.y - 250) * 0.25) for s in deck.springs
    )
    deck = replace(deck, springs=springs)
    tied = make_plan(deck).parts.heights.tied
    assert 115 < tied.max() < 135
    assert measured_tied_height(deck) == pytest.approx(tied.max())


def test_a_deck_without_springs_yet_has_its_whole_crown_in_the_middle():
    deck = replace(seated(115, 20, measured_at="middle"), springs=())
    assert measured_tied_height(deck) == 135
