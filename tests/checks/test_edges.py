"""What the checks say of springs at the rails and in the corners."""

import pytest

from spring_layout.deck.model import Side
from tests.checks.made import coiled, framed, moved, tied, told, wished
from tests.decks import grid_deck, straight_frame


def test_a_top_coil_against_the_rail_is_wrong():
    deck = tied(framed(moved(grid_deck(), s4=(40, 250)), rail_top=120), tied_height=115)
    (finding,) = told(deck)["EDGE-RING"]
    assert finding.severity == "wrong"
    assert finding.springs == ("s4",)
    assert finding.sides == (3,)
    assert finding.value == pytest.approx(-6)
    assert finding.message == "B1 is 1/4 in over the inside edge of the left rail."


def test_a_top_coil_clear_above_the_rail_is_doubtful():
    found = told(coiled(moved(grid_deck(), s4=(40, 250)), foot_diameter=70))
    assert found["EDGE-OVERHANG"][0].severity == "doubtful"
    assert "edge wire" in found["EDGE-OVERHANG"][0].message
    assert not {"EDGE-RING", "EDGE-FOOT"} & set(found)


def test_a_top_coil_over_a_side_without_a_rail_is_wrong():
    sides = list(straight_frame().sides)
    sides[3] = Side(rail="none", bow=0)
    deck = framed(moved(grid_deck(), s4=(40, 250)), sides=tuple(sides))
    (finding,) = told(deck)["EDGE-RING"]
    assert finding.message == "B1 is 1/4 in over the inside edge of the open left side."


def test_a_bottom_coil_on_the_wood_is_wrong():
    (finding,) = told(moved(grid_deck(), s4=(40, 250)))["EDGE-FOOT"]
    assert finding.severity == "wrong"
    assert finding.value == pytest.approx(-6)


def test_a_wide_foot_meets_the_rail_before_the_top_does():
    found = told(coiled(moved(grid_deck(), s4=(50, 250)), foot_diameter=110))
    assert found["EDGE-FOOT"][0].value == pytest.approx(-5)
    assert "EDGE-OVERHANG" not in found


def test_a_spring_that_can_rub_on_the_rail_is_doubtful():
    (finding,) = told(moved(grid_deck(), s4=(50, 250)))["CLEARANCE-SMALL"]
    assert finding.severity == "doubtful"
    assert finding.value == pytest.approx(4)
    assert finding.limit == 10


def test_nearer_to_a_rail_than_wished_is_a_note():
    (finding,) = told(moved(grid_deck(), s4=(58, 250)))["CLEARANCE-NARROW"]
    assert finding.severity == "note"
    assert finding.message == (
        "B1 is 1/2 in from the inside edge of the left rail; the wish is 1 5/8 in."
    )


def test_several_springs_at_one_rail_are_told_together():
    deck = moved(grid_deck(), s1=(50, 108), s4=(51, 250), s7=(52, 392))
    (finding,) = told(deck)["CLEARANCE-SMALL"]
    assert finding.springs == ("s1", "s4", "s7")
    assert finding.value == pytest.approx(4)
    assert finding.message.startswith("A1, B1 and C1 are as little as 1/8 in from the inside")


def test_springs_over_one_rail_are_told_together():
    (finding,) = told(moved(grid_deck(), s1=(40, 108), s4=(43, 250)))["EDGE-FOOT"]
    assert finding.message.startswith("A1 and B1 are up to 1/4 in over the inside edge of the")


def test_a_rail_that_no_spring_stands_near_is_a_note():
    found = told(grid_deck(margin=120))["CLEARANCE-WIDE"]
    assert [finding.sides for finding in found] == [(0,), (1,), (2,), (3,)]
    assert all(finding.severity == "note" for finding in found)


def test_a_wish_of_nothing_leaves_the_rail_out():
    assert "CLEARANCE-WIDE" not in told(wished(grid_deck(margin=120), clearance=0))


def test_a_spring_in_the_corner_is_a_note():
    deck = wished(moved(grid_deck(), s1=(48, 48)), limits=type(grid_deck().spacing.limits)())
    (finding,) = told(deck)["CORNER-NEAR"]
    assert finding.severity == "note"
    assert finding.springs == ("s1",)
    assert set(finding.sides) == {3, 0}


def test_rails_that_share_a_name_are_told_by_their_side():
    corners = ((0, 0), (250, 0), (500, 0), (500, 500), (0, 500))
    sides = tuple(Side(rail=r, bow=0) for r in ("back", "back", "right", "front", "left"))
    deck = framed(moved(grid_deck(), s1=(108, 50)), corners=corners, sides=sides)
    (finding,) = told(deck)["CLEARANCE-SMALL"]
    assert "the back rail at the left" in finding.message
