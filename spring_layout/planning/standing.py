"""The springs of a deck as arrays, with the opening they stand in."""

import numpy as np

from spring_layout.deck.model import Deck
from spring_layout.deck.opening import outline_of
from spring_layout.planning.parts import Standing

__all__ = ["outline_of", "standing_of"]


def standing_of(deck: Deck) -> Standing:
    """The springs of ``deck`` as arrays. Raises OutlineError where the frame is unusable."""
    radius = {coil.id: coil.top_radius for coil in deck.coils}
    ids = tuple(spring.id for spring in deck.springs)
    return Standing(
        deck=deck,
        outline=outline_of(deck.frame),
        ids=ids,
        index={name: i for i, name in enumerate(ids)},
        centres=np.array([(s.x, s.y) for s in deck.springs], float).reshape(-1, 2),
        radii=np.array([radius[s.coil] for s in deck.springs], float),
    )
