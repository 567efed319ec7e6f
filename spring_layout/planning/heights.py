"""How high each spring is tied, from the slope, the crown and the springs' free heights.

* **Slope.** The front-most spring is tied to ``tied_height``, the back-most to
  ``tied_height_back`` (where that is None: the same), and the heights between lie on the straight
  line from one to the other, by how far back a spring stands.
* **Crown.** The springs inside the rim are tied higher than that by their share of the crown
  (``crown``).

Only distances enter, so a mirrored deck has the mirrored heights.
"""

import numpy as np

from spring_layout.deck.model import Coil, Deck
from spring_layout.planning.crown import crown_shares
from spring_layout.planning.height_stack import following
from spring_layout.planning.parts import Array, Heights, Spaces, Standing


def heights_of(standing: Standing, spaces: Spaces) -> Heights:
    """How high the deck is tied: each spring's tied height and squeeze, and the deck's own."""
    deck = standing.deck
    crown = deck.tying.crown * crown_shares(standing, spaces)
    tied = sloped_heights(standing) + crown
    free = free_heights(deck)
    coil = typical_coil(deck)
    own = deck.tying.tied_height
    return Heights(
        tied=tied,
        squeeze=1 - tied / free,
        tied_height=own,
        free_height=coil.free_height if coil else 0.0,
        typical_squeeze=1 - own / coil.free_height if coil else 0.0,
        finished_height=finished_height(deck),
        crown_taken=float(crown.max(initial=0.0)),
    )


def free_heights(deck: Deck) -> Array:
    """(n,) free height of each spring, mm, in the deck's order."""
    free = {coil.id: coil.free_height for coil in deck.coils}
    return np.array([free[spring.coil] for spring in deck.springs], float)


def sloped_heights(standing: Standing) -> Array:
    """(n,) tied heights without the crown, mm: straight from the front-most to the back-most."""
    tying = standing.deck.tying
    front = tying.tied_height
    back = front if tying.tied_height_back is None else tying.tied_height_back
    y = standing.centres[:, 1]
    depth = float(np.ptp(y)) if len(y) else 0.0
    if depth == 0.0:
        return np.full(len(y), front)
    return np.asarray(front + (back - front) * (y.max() - y) / depth)


def typical_coil(deck: Deck) -> Coil | None:
    """The most used coil; of equally used ones the first in the deck's list; None without any."""
    used = {coil.id: 0 for coil in deck.coils}
    for spring in deck.springs:
        used[spring.coil] += 1
    return max(deck.coils, key=lambda coil: used[coil.id], default=None)


def finished_height(deck: Deck) -> float | None:
    """The finished seat height from the floor, mm; None where it is not decided.

    It is what the stack comes to (``height_stack``) where it is measured. Without the floor to
    the webbing it is the height that the user wants.
    """
    comes_to = following(deck, "finished_height")
    return deck.seat.finished_height if comes_to is None else comes_to
