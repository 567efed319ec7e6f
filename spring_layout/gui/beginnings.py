"""A deck to begin with: a frame, one spring size from the short list, the usual ways of tying."""

from spring_layout.deck.coils import stock_for
from spring_layout.deck.edits.common import checked
from spring_layout.deck.model import Deck, Frame, Tying
from spring_layout.units import Units

FREE_HEIGHT = 152.0
"""mm; a six inch spring, the size most seats in the old handbooks are built on (MHT, Johnson)."""
SQUEEZE = 0.25
"""Of the free height; 6 in tied to 4 1/2 in (19th-century British *Mechanics How-To*)."""


def begun(frame: Frame, units: Units, name: str = "New deck") -> Deck:
    """A deck without springs in ``frame``. Raises ValueError where the frame is unusable."""
    coil = stock_for(FREE_HEIGHT)
    tying = Tying(
        front_to_back=True,
        side_to_side=True,
        diagonals="two-or-more",
        tied_height=round(coil.free_height * (1 - SQUEEZE)),
        crown=0.0,
    )
    return checked(
        Deck(name=name, frame=frame, coils=(coil,), springs=(), tying=tying, units=units)
    )
