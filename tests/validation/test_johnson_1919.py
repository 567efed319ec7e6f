"""E. A. Johnson, *Furniture Upholstery for Schools*, Manual Arts Press, 1919 (public domain).

The numbers were seen quoted from the book, not in the printed book itself.
"""

import pytest

from spring_layout.planning.twine import rounded_up, rule_length

INCH = 25.4


def test_a_row_of_18_inches_takes_30_inches_of_twine_in_a_single_pass():
    # "One and two thirds times": the frame's 18 in make 30 in. The length over the springs
    # does not enter.
    cut = rule_length("single-1.67", over_springs=99.0, between=18 * INCH)
    assert cut == pytest.approx(30 * INCH)
    assert rounded_up(cut, INCH / 2) == pytest.approx(30 * INCH)
