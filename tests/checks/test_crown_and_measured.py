"""What the checks say of a crown that no spring takes, and of heights measured once tied."""

import pytest

from tests.checks.made import moved, tied, told
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
