"""The French rule for the free height to buy, against its published examples."""

import pytest

from spring_layout.planning.height_stack import free_heights_to_buy


@pytest.mark.parametrize(("block_cm", "free_cm"), [(9.5, 16.67), (8.0, 14.67)])
def test_a_block_of_that_height_takes_springs_of_this_free_height(block_cm, free_cm):
    """French workshop pages on guindage: (h + 3 cm) x 4/3, printed to 0.01 cm."""
    french = free_heights_to_buy(100, block_cm * 10)[1]
    assert french.usual / 10 == pytest.approx(free_cm, abs=0.005)


def test_its_springs_are_tied_down_by_a_quarter():
    """The rule's h + 30 mm is the tied height, so it is the quarter of the other schools."""
    quarter, french, _ = free_heights_to_buy(95 + 30, 95)
    assert french.usual == pytest.approx(quarter.usual)
