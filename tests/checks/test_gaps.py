"""What the checks say of springs that stand too near to each other, too far, or unevenly."""

import pytest

from tests.checks.made import moved, told, wished
from tests.decks import grid_deck


def test_springs_that_overlap_are_wrong():
    (finding,) = told(moved(grid_deck(), s5=(196, 250)))["GAP-TOUCHING"]
    assert finding.severity == "wrong"
    assert finding.springs == ("s4", "s5")
    assert finding.value == pytest.approx(-4)
    assert finding.message == "B1 and B2 overlap by 1/8 in."
    assert finding.place == pytest.approx((152, 250))


def test_springs_that_just_touch_are_wrong_too():
    (finding,) = told(moved(grid_deck(), s5=(200, 250)))["GAP-TOUCHING"]
    assert finding.message == "B1 and B2 touch."


def test_springs_nearer_than_10_mm_can_click():
    found = told(moved(grid_deck(), s5=(208, 250)))
    (finding,) = found["GAP-SMALL"]
    assert "GAP-TOUCHING" not in found
    assert finding.severity == "doubtful"
    assert finding.value == pytest.approx(8)
    assert finding.limit == 10
    assert "B1 and B2 are only 5/16 in apart" in finding.message


@pytest.mark.parametrize("limit", [5.0, 12.0])
def test_how_near_springs_may_stand_is_a_setting(limit):
    deck = grid_deck()
    limits = type(deck.spacing.limits)(gap_click=limit)
    found = told(wished(moved(deck, s5=(208, 250)), limits=limits))
    assert ("GAP-SMALL" in found) is (limit > 8)


def test_one_close_pair_is_told_beside_the_rest():
    found = told(moved(grid_deck(), s5=(228.575, 250)))
    (finding,) = found["GAP-NARROW"]
    assert finding.severity == "note"
    assert finding.message == "B1 and B2 are 1 1/8 in apart; the rest are about 2 in."
    assert finding.mend == "Fine for close springing; if not meant, space evenly."


def test_many_close_pairs_are_told_in_one_sentence():
    found = told(grid_deck(pitch=122, margin=90))
    (finding,) = found["GAP-NARROW"]
    assert finding.message.startswith("Twelve pairs of springs are nearer than the wished 2 in;")
    assert len(finding.springs) == 9


def test_a_smaller_wish_makes_close_springing_meant():
    assert "GAP-NARROW" not in told(wished(grid_deck(pitch=122, margin=90), gap=30))


def test_gaps_wider_than_wished_are_told_once_with_the_schools():
    (finding,) = told(grid_deck(pitch=172))["GAP-WIDE"]
    assert finding.severity == "note"
    assert finding.message.startswith("All springs are 3 1/8 in from their nearest neighbours,")
    assert "wider than the 3 in that any school sets" in finding.message
    assert "French" in finding.source


def test_a_wide_gap_within_what_schools_set_is_told_against_the_wish_only():
    (finding,) = told(grid_deck(pitch=160))["GAP-WIDE"]
    assert "school sets" not in finding.message


def test_one_spring_that_stands_alone_is_named():
    deck = moved(grid_deck(columns=4), s4=(600, 108), s8=(600, 300), s12=(600, 480))
    (finding,) = told(deck)["GAP-WIDE"]
    assert finding.springs == ("s4", "s8", "s12")


def test_a_wish_of_nothing_leaves_the_gap_out():
    found = told(wished(grid_deck(pitch=172), gap=0))
    assert "GAP-WIDE" not in found


def test_uneven_gaps_in_a_row_are_doubtful():
    found = told(moved(grid_deck(), s5=(264, 250)))
    (finding,) = found["GAP-UNEVEN"]
    assert finding.value == pytest.approx(28)
    assert finding.springs == ("s4", "s5", "s6")
    assert "In the" not in finding.message
    assert "2 1/2 in between B1 and B2" in finding.message


def test_uneven_gaps_in_a_column_are_doubtful():
    (finding,) = told(moved(grid_deck(), s5=(250, 264)))["GAP-UNEVEN"]
    assert "column C2, B2 and A2" in finding.message


def test_gaps_that_differ_a_little_are_even_enough():
    assert "GAP-UNEVEN" not in told(moved(grid_deck(), s5=(260, 250)))


def test_a_lone_spring_and_a_pair_have_no_uneven_gaps():
    assert not {"GAP-UNEVEN", "GAP-WIDE"} & set(told(grid_deck(1, 1)))
    assert "GAP-UNEVEN" not in told(grid_deck(1, 2))
