"""E. A. Johnson, *Furniture Upholstery for Schools*, Manual Arts Press, 1919 (public domain).

The numbers were seen quoted from the book, not in the printed book itself.
"""

import pytest

from spring_layout.planning.placing.propose import propose
from spring_layout.planning.twine import rounded_up, rule_length
from tests.placing_frames import bare_deck

INCH = 25.4


def test_a_row_of_18_inches_takes_30_inches_of_twine_in_a_single_pass():
    # "One and two thirds times": the frame's 18 in make 30 in. The length over the springs
    # does not enter.
    cut = rule_length("single-1.67", over_springs=99.0, between=18 * INCH)
    assert cut == pytest.approx(30 * INCH)
    assert rounded_up(cut, INCH / 2) == pytest.approx(30 * INCH)


def test_a_stool_of_six_springs_has_them_3_in_from_the_outer_edge():
    # Springs 5 in across, 3 in from the outer edge, the web strip under the first one beginning
    # 3 3/4 in from it. Our rails are 2 in wide and our gaps 2 in, which makes the opening 21 x 14.
    deck = bare_deck(21 * INCH, 14 * INCH, 5 * INCH)
    layout = propose(deck, "seat", 2 * INCH, 1 * INCH)[0]
    assert layout.counts == (3, 3)
    from_outer_edge = [min(place[axis] for place in layout.places) / INCH + 2 for axis in (0, 1)]
    assert from_outer_edge == pytest.approx([3 + 5 / 2] * 2, abs=0.01)
    strip_begins = from_outer_edge[0] - 3.5 / 2
    assert strip_begins == pytest.approx(3.75, abs=0.01)
