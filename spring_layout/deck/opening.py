"""The opening of a deck's frame, worked out once for each frame."""

from functools import lru_cache

from spring_layout.deck.model import Frame
from spring_layout.geometry.outline import Outline, make_outline


@lru_cache(maxsize=64)
def outline_of(frame: Frame) -> Outline:
    """The opening of ``frame``. Raises OutlineError, with a reason, where it is unusable."""
    return make_outline(frame.corners, [side.bow for side in frame.sides])
