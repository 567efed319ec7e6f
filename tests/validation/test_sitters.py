"""Who sits with the feet down, against ANSUR II (US Army, 2012, TR-15/007, public data files)."""

import pytest

from spring_layout.planning.sitters import KNEES, share_with_feet_down

INCH = 25.4
MEN, WOMEN = KNEES


@pytest.mark.parametrize(
    ("inches", "men", "women"),
    [(16, 0.979, 0.616), (17, 0.824, 0.216), (18, 0.455, 0.036), (19, 0.128, 0.003)],
)
def test_shares_counted_in_the_data_files(inches, men, women):
    assert share_with_feet_down(MEN, inches * INCH) == pytest.approx(men, abs=0.015)
    assert share_with_feet_down(WOMEN, inches * INCH) == pytest.approx(women, abs=0.015)


@pytest.mark.parametrize(("knees", "low", "high"), [(MEN, 390, 471), (WOMEN, 350, 428)])
def test_the_twentieths_lie_where_the_spread_puts_them(knees, low, high):
    """Value P1: men 390/471 mm, women 350/428 mm."""
    assert (knees.fifth, knees.ninety_fifth) == (low, high)
    assert knees.mean - 1.645 * knees.spread == pytest.approx(low, abs=2)
    assert knees.mean + 1.645 * knees.spread == pytest.approx(high, abs=2)
