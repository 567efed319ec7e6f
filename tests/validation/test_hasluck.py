"""A British easy-chair chapter, probably *Cabinetwork and Joinery*, Cassell 1907 (Hasluck).

Seen: 16 springs in the seat; a back of seven, four below and three above. The sizes are ours: a
seat of 24 by 24 in, a back 14 in high and 18 in wide at the top, 24 at the bottom, rings of 4 in.
"""

import msgspec

from spring_layout.planning.placing.propose import propose
from tests.placing_frames import bare_deck

INCH = 25.4


def test_an_easy_chair_is_offered_sixteen_springs_first():
    layout = propose(bare_deck(24 * INCH, 24 * INCH, 4 * INCH), "seat", 1.5 * INCH, 1.5 * INCH)[0]
    assert (layout.pattern, layout.counts) == ("square", (4, 4, 4, 4))


def test_a_chair_back_is_offered_seven_springs_three_above_four():
    deck = bare_deck(24 * INCH, 14 * INCH, 4 * INCH)
    corners = ((3 * INCH, 0), (21 * INCH, 0), (24 * INCH, 14 * INCH), (0, 14 * INCH))
    deck = msgspec.structs.replace(deck, frame=msgspec.structs.replace(deck.frame, corners=corners))
    layouts = propose(deck, "seat", 2 * INCH, 1.5 * INCH)
    assert (3, 4) in [layout.counts for layout in layouts[:2]]
