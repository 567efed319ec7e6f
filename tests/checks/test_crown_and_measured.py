"""What the checks say of a crown that no spring takes, and of heights measured once tied."""

import pytest

from spring_layout.deck.model import Limits
from tests.checks.made import framed, moved, tied, told, wished, with_
from tests.decks import grid_deck


def test_a_crown_that_no_spring_takes_is_noted():
    (finding,) = told(tied(grid_deck(2, 3), crown=19.05))["CROWN-NOT-TAKEN"]
    assert finding.severity == "note"
    assert (finding.value, finding.limit) == (0, 19.05)
    assert finding.message.startswith("No spring takes the crown of 3/4 in: all stand on the rim")


def test_a_crown_taken_in_part_is_noted_with_what_is_taken():
    near = {f"s{i + 1}": (200 + 50 * (i % 3), 200 + 25 * (i // 3)) for i in range(9)}
    (finding,) = told(moved(tied(grid_deck(), crown=20), **near))["CROWN-NOT-TAKEN"]
    assert finding.value is not None
    assert 0 < finding.value < 20
    assert "of the crown" in finding.message


@pytest.mark.parametrize("deck", [tied(grid_deck(), crown=20), grid_deck(2, 3)])
def test_a_crown_that_is_taken_or_not_wanted_is_not_told(deck):
    assert "CROWN-NOT-TAKEN" not in told(deck)


def measured(deck, **heights):
    springs = tuple(with_(s, measured_height=heights.get(s.id)) for s in deck.springs)
    return with_(deck, springs=springs)


def test_a_spring_found_lower_than_meant_once_tied_is_doubtful():
    (finding,) = told(measured(grid_deck(), s5=60.0, s1=115.0))["HEIGHT-MEASURED"]
    assert (finding.severity, finding.springs) == ("doubtful", ("s5",))
    assert (finding.value, finding.limit) == (pytest.approx(-55), 6)
    assert finding.message == (
        "Once tied B2 stands 2 1/8 in lower than its slope and crown ask for."
    )


def test_springs_off_both_ways_are_told_together():
    (finding,) = told(measured(grid_deck(), s5=105.0, s1=135.0))["HEIGHT-MEASURED"]
    assert finding.value == pytest.approx(20)
    assert finding.message.startswith("Once tied A1 and B2 stand up to 3/4 in higher or lower")


def test_measured_heights_are_held_against_slope_and_crown_within_a_limit():
    deck = tied(grid_deck(), tied_height_back=95, crown=10)
    assert "HEIGHT-MEASURED" not in told(measured(deck, s2=95.0, s5=115.0, s8=115.0))
    assert told(measured(deck, s2=105.0))["HEIGHT-MEASURED"][0].springs == ("s2",)
    assert "HEIGHT-MEASURED" not in told(measured(grid_deck(), s5=121.0))
    strict = wished(grid_deck(), limits=Limits(height_step=2.0))
    assert "HEIGHT-MEASURED" in told(measured(strict, s5=118.0))


def lower_railed(height: float):
    back, *rest = grid_deck().frame.sides
    return framed(grid_deck(), sides=(with_(back, lower_rail=height), *rest))


def test_tops_under_the_lower_edge_of_a_backs_lower_rail_are_doubtful():
    """Common practice, no source: tops about 13 mm over that edge, 0 to 25 mm."""
    (finding,) = told(lower_railed(125.0))["TOP-AT-RAIL"]
    assert (finding.springs, finding.sides) == (("s1", "s2", "s3"), (0,))
    assert (finding.value, finding.limit) == (pytest.approx(-10), 0)
    assert "stand up to 3/8 in under the lower edge of the lower rail" in finding.message


def test_tops_far_over_that_edge_are_doubtful_and_those_at_it_are_not_told():
    (finding,) = told(lower_railed(75.0))["TOP-AT-RAIL"]
    assert (finding.value, finding.limit) == (pytest.approx(40), 25)
    assert finding.message.endswith("usual is 0 to 1 in over.")
    assert "TOP-AT-RAIL" not in told(lower_railed(102.0))
