"""What makes a deck unusable: the place in its file, and one sentence."""

from typing import NamedTuple


class Fault(NamedTuple):
    """One thing that makes a deck unusable.

    ``place`` is the path in the deck file, such as ``$.springs[3].x``; ``message`` is one
    sentence that says the place in words, what is wrong, and the mend.
    """

    place: str
    message: str
