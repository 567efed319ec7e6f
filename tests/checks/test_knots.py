"""What the checks say of wire knots and ties."""

import pytest

from tests.checks.made import coiled, told, turned, with_
from tests.decks import grid_deck


def test_a_wire_knot_under_a_tie_is_doubtful():
    (finding,) = told(turned(grid_deck(), 0))["KNOT-UNDER-TIE"]
    assert finding.severity == "doubtful"
    assert finding.value == pytest.approx(0, abs=1e-6)
    assert finding.limit == 12
    assert finding.message == "The wire knots of all springs lie under ties 2, 5 and 6."


def test_a_wire_knot_between_two_ties_is_clear():
    assert "KNOT-UNDER-TIE" not in told(turned(grid_deck(), 22))


def test_one_spring_turned_badly_is_named():
    deck = turned(grid_deck(), 22)
    springs = tuple(with_(s, turned=90) if s.id == "s5" else s for s in deck.springs)
    (finding,) = told(with_(deck, springs=springs))["KNOT-UNDER-TIE"]
    assert finding.springs == ("s5",)
    assert finding.message == "The wire knot of B2 lies under tie 1."


def test_springs_that_nobody_has_turned_yet_make_one_note():
    found = told(grid_deck())
    (finding,) = found["KNOT-TURN"]
    assert finding.severity == "note"
    assert "KNOT-UNDER-TIE" not in found


def test_a_coil_whose_top_is_not_knotted_has_nothing_under_a_tie():
    assert "KNOT-UNDER-TIE" not in told(turned(coiled(grid_deck(), ends="knotted-foot"), 0))


def test_without_diagonals_the_usual_turn_is_clear():
    deck = grid_deck()
    deck = with_(deck, tying=with_(deck.tying, diagonals="none"))
    assert "KNOT-TURN" not in told(deck)


def test_a_lone_turn_is_told_in_the_singular():
    deck = turned(grid_deck(), 22)
    springs = tuple(with_(s, turned=45) if s.id == "s5" else s for s in deck.springs)
    (finding,) = told(with_(deck, springs=springs))["KNOT-TURN"]
    assert finding.message == "At the usual 45 degrees the wire knot of B2 lies under tie 8."


def test_a_wire_knot_above_an_outer_hitch_on_a_lower_coil_is_clear():
    """Without return ties nothing sits on the top coil where the tie goes down to the rail."""
    deck = turned(grid_deck(), 22)
    springs = tuple(with_(s, turned=270) if s.id == "s2" else s for s in deck.springs)
    deck = with_(deck, springs=springs)
    assert told(deck)["KNOT-UNDER-TIE"][0].springs == ("s2",)
    bare = with_(deck, twine=with_(deck.twine, return_tie=False))
    assert "KNOT-UNDER-TIE" not in told(bare)
