"""A British upholstery handbook first published in 1961: an easy chair has nine springs, 3 x 3.

The count and pattern were seen, and the gap of 2 in; the opening (22 in square), the ring (4 in)
and the distance from the rails are ours.
"""

from spring_layout.planning.placing.propose import propose
from tests.placing_frames import bare_deck

INCH = 25.4


def test_an_easy_chair_is_offered_nine_springs_first_in_three_rows_of_three():
    layout = propose(bare_deck(22 * INCH, 22 * INCH, 4 * INCH), "seat", 2 * INCH, 2 * INCH)[0]
    assert (layout.pattern, layout.counts) == ("square", (3, 3, 3))
