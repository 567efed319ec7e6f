"""The tail to leave at a tie's first tack: the return tie there is tied with it, last of all.

At the other end the return tie is tied with what is left of the piece; at the first tack it must
be left free before the first hitch is made, or there is nothing to come back with.
"""

import math
from itertools import pairwise

from spring_layout.deck.model import Deck
from spring_layout.planning.parts import LineHitches
from spring_layout.planning.twine_geometry import hitch_twine


def first_tail(deck: Deck, line: LineHitches) -> float:
    """The tail to leave beyond the first tack of a tie, mm; 0 where no return tie starts there.

    The way from the tack to the outside of the top coil, the hitch there, and half of the working
    allowance to pull it tight by (the other half is for the other end).
    """
    hitch = line.returns[0]
    if hitch is None:
        return 0.0
    coils = {spring.id: spring.coil for spring in deck.springs}
    wires = {coil.id: coil.wire for coil in deck.coils}
    way = math.fsum(math.dist(a, b) for a, b in pairwise(line.return_way(0)))
    return way + hitch_twine(deck.twine, wires[coils[hitch.spring]]) + deck.twine.allowance / 2
