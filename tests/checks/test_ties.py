"""What the checks say of single ties, tack points and rules that could not be kept."""

import math
from dataclasses import replace

import pytest

from spring_layout.checks import CODES
from spring_layout.checks.breaks import KINDS
from spring_layout.checks.ties import bends
from spring_layout.deck.model import Side
from spring_layout.planning.parts import Break, Line
from tests.checks.made import (
    framed,
    spoilt_line,
    tied,
    told,
    told_of_ties,
    wished,
    with_,
    without,
)
from tests.decks import grid_deck, straight_frame


def bent(by: float) -> dict:
    """What is told once the middle spring of tie 1 has slid sideways by ``by`` mm."""
    centres = ((250.0, 392.0), (250.0 + by, 250.0), (250.0, 108.0))
    return told_of_ties(lambda ties: spoilt_line(ties, 1, centres=centres))


def test_a_bend_of_more_than_12_degrees_is_doubtful():
    found = bent(20)
    (finding,) = found["TIE-BEND"]
    assert finding.value == pytest.approx(math.degrees(2 * math.atan(20 / 142)))
    assert finding.limit == 12
    assert finding.springs == ("s5",)
    assert finding.lines == (1,)
    assert finding.message == (
        "Tie 1 bends by 16 degrees at B2 and pulls that spring sideways with 28% of its own pull."
    )
    assert "TIE-BEND-SHARP" not in found


def test_a_bend_of_more_than_25_degrees_is_wrong():
    (finding,) = bent(40)["TIE-BEND-SHARP"]
    assert finding.severity == "wrong"
    assert finding.limit == 25


def test_a_small_bend_is_nothing_to_tell():
    assert "TIE-BEND" not in bent(12)


def test_the_turn_to_the_tack_point_beside_a_corner_is_not_doubtful():
    # On a square deck a corner diagonal must turn aside to miss the corner joint.
    assert not {"TIE-BEND", "TIE-BEND-SHARP"} & set(told(grid_deck()))


def test_a_tie_over_one_spring_or_two_has_no_spring_to_bend_at():
    line = Line(1, "front-to-back", ("a",), ((0.0, 0.0),), (2, None), (5.0, None), ((0, 9), None))
    assert bends(line) == []
    two = replace(line, springs=("a", "b"), centres=((0.0, 0.0), (0.0, -10.0)))
    assert bends(two) == []


def test_ties_that_meet_no_rail_are_told_once():
    sides = list(straight_frame().sides)
    sides[2] = Side(rail="none", bow=0)
    (finding,) = told(framed(grid_deck(), sides=tuple(sides)))["ANCHOR-NONE"]
    assert finding.severity == "doubtful"
    assert len(finding.lines) >= 3
    assert "find no rail beyond" in finding.message
    assert set(finding.springs) == {"s7", "s8", "s9"}


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_break_is_told_by_its_own_code(kind):
    broken = Break(5, kind, springs=("s1", "s2"), lines=(1, 2), sides=(0,), value=12.0, limit=20.0)
    (finding,) = told_of_ties(lambda ties: replace(ties, breaks=(broken,)))[KINDS[kind].fault.code]
    assert finding.severity == CODES[KINDS[kind].fault.code][0]
    assert (finding.springs, finding.lines, finding.sides) == (("s1", "s2"), (1, 2), (0,))
    assert (finding.value, finding.limit) == (12.0, 20.0)
    assert finding.place == pytest.approx((179, 108))


@pytest.mark.parametrize("kind", [*KINDS, "another"])
def test_a_break_that_names_little_is_still_a_sentence(kind):
    broken = Break(4, kind)
    found = told_of_ties(lambda ties: replace(ties, breaks=(broken,)))
    code = KINDS[kind].fault.code if kind in KINDS else "TIE-RULE"
    (finding,) = found[code]
    assert "None" not in finding.message
    assert "  " not in finding.message
    assert finding.place is None


def test_a_break_at_a_tack_point_shows_that_place():
    broken = Break(5, "anchor-corner", lines=(1,), sides=(0,), value=11.0, limit=25.0)
    (finding,) = told_of_ties(lambda ties: replace(ties, breaks=(broken,)))["ANCHOR-CORNER"]
    assert finding.place == pytest.approx((250, -22.5))
    assert finding.message == (
        "The tack point of tie 1 on the back rail is 3/8 in from the corner joint."
    )


def test_tack_points_side_by_side_can_split_the_rail():
    broken = Break(5, "anchor-spacing", lines=(1, 3), sides=(0,), value=12.7, limit=20.0)
    (finding,) = told_of_ties(lambda ties: replace(ties, breaks=(broken,)))["ANCHOR-CLOSE"]
    assert finding.message == (
        "The tack points of ties 1 and 3 on the back rail are 1/2 in apart, so the rail can split."
    )


def test_a_set_of_ties_that_is_not_proved_best_is_a_note():
    found = told_of_ties(lambda ties: replace(ties, proved=False, cost=41.0, bound=40.25))
    (finding,) = found["NOT-PROVED"]
    assert finding.severity == "note"
    assert finding.value == pytest.approx(0.75)
    assert finding.message.endswith("may suit this deck a little better, by 1.8% at most.")


def test_springs_tied_six_ways_are_told_in_one_note():
    (finding,) = told(grid_deck())["TIES-FEWER"]
    assert finding.springs == ("s1", "s3", "s7", "s9")
    assert finding.message == (
        "A1, A3, C1 and C3 are tied six ways instead of eight: the short corner ties are left off."
    )


def test_with_all_diagonals_every_spring_is_tied_eight_ways():
    deck = grid_deck()
    deck = with_(deck, tying=with_(deck.tying, diagonals="all"))
    assert not {"TIES-FEWER", "TIES-MISSING"} & set(told(deck))


def test_without_diagonals_four_ways_are_what_was_chosen():
    deck = grid_deck()
    deck = with_(deck, tying=with_(deck.tying, diagonals="none"))
    assert "TIES-FEWER" not in told(deck)


def test_springs_tied_different_numbers_of_ways_are_counted_apart():
    (finding,) = told(grid_deck(1, 3))["TIES-FEWER"]
    assert "A1, A2 and A3 are tied four ways instead of eight" in finding.message
    cut = told_of_ties(lambda ties: without(ties, 7))["TIES-FEWER"][0].message
    assert "tied six ways, " in cut
    assert "four ways instead of eight" in cut


def test_a_spring_without_its_tie_is_wrong():
    found = told_of_ties(lambda ties: without(ties, 2))
    (finding,) = found["TIES-MISSING"]
    assert finding.severity == "wrong"
    assert finding.message == "B1, B2 and B3 have no tie side to side."


def test_a_spring_without_its_diagonal_is_wrong():
    deck = tied(grid_deck(), diagonals="all")
    found = told_of_ties(lambda ties: without(ties, 7), deck)
    assert found["TIES-MISSING"][0].message == (
        "A3, B2 and C1 have no diagonal tie from front left to back right."
    )


def test_columns_tied_apart_are_not_one_net():
    deck = grid_deck()
    deck = with_(deck, tying=with_(deck.tying, side_to_side=False, diagonals="none"))
    (finding,) = told(deck)["NET-SPLIT"]
    assert finding.severity == "wrong"
    assert finding.value == 3
    assert finding.message.startswith("The ties make three nets instead of one:")


def test_a_spring_on_no_tie_hangs_alone():
    found = told_of_ties(
        lambda ties: replace(
            ties, lines=tuple(ln for ln in ties.lines if "s5" not in ln.springs), crossings=()
        )
    )
    assert found["NET-SPLIT"][0].springs == ("s5",)
    assert (
        "B2 is tied to none of the rest, so it will not move with them"
        in found["NET-SPLIT"][0].message
    )


def test_cross_knots_between_springs_hold_the_net_together():
    # With the four long ties of the outer springs and both long diagonals only, every net hangs
    # on the knots.
    deck = grid_deck()
    assert "NET-SPLIT" not in told(deck)


def test_a_deck_tied_both_ways_without_diagonals_is_one_net():
    deck = grid_deck()
    assert "NET-SPLIT" not in told(with_(deck, tying=with_(deck.tying, diagonals="none")))


def test_the_bend_that_is_doubtful_is_a_setting():
    deck = grid_deck()
    limits = with_(deck.spacing.limits, bend_doubtful=20.0)
    centres = ((250.0, 392.0), (270.0, 250.0), (250.0, 108.0))
    found = told_of_ties(lambda t: spoilt_line(t, 1, centres=centres), wished(deck, limits=limits))
    assert "TIE-BEND" not in found


def test_a_frame_without_any_rail_is_wrong():
    sides = tuple(with_(side, rail="none") for side in grid_deck().frame.sides)
    found = told(framed(grid_deck(), sides=sides))
    (finding,) = found["RAIL-NONE"]
    assert (finding.severity, finding.sides) == ("wrong", (0, 1, 2, 3))
    assert "ANCHOR-NONE" not in found


def test_a_deck_without_a_single_tie_is_told_as_such():
    deck = grid_deck()
    tying = with_(deck.tying, front_to_back=False, side_to_side=False, diagonals="none")
    (finding,) = told(with_(deck, tying=tying))["NET-SPLIT"]
    assert finding.message == (
        "There are no ties, so no spring holds another and each moves by itself."
    )
    assert len(finding.springs) == 9
