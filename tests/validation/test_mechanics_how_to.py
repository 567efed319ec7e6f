"""19th-century British *Mechanics How-To* upholstery chapters: a small chair has five springs.

The count was seen; the opening (15 by 14 in), the ring (3 5/8 in) and the wishes are ours.
"""

from spring_layout.planning.placing.propose import propose
from tests.placing_frames import bare_deck

INCH = 25.4


def test_a_small_chair_is_offered_five_springs_first_one_amid_four():
    deck = bare_deck(15 * INCH, 14 * INCH, 3.625 * INCH)
    layout = propose(deck, "seat", 2 * INCH, 1.5 * INCH)[0]
    assert (layout.pattern, layout.counts) == ("staggered", (2, 1, 2))
    assert layout.gap_least > INCH
