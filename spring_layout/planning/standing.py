"""The springs of a deck as arrays, with the opening they stand in."""

from functools import lru_cache

import numpy as np

from spring_layout.deck.model import Deck, Frame
from spring_layout.geometry.outline import Outline, make_outline
from spring_layout.planning.parts import Standing


@lru_cache(maxsize=64)
def outline_of(frame: Frame) -> Outline:
    """The opening of ``frame``. Raises OutlineError, with a reason, where it is unusable."""
    return make_outline(frame.corners, [side.bow for side in frame.sides])


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
