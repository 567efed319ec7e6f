"""A deck to begin with: a frame, one spring size from the short list, the usual ways of tying."""

import msgspec

from spring_layout.deck.coils import stock_for
from spring_layout.deck.edits.common import checked
from spring_layout.deck.model import Deck, Frame, Seat, Tying
from spring_layout.units import MM_PER_INCH as INCH
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
    deck = Deck(
        name=name,
        frame=frame,
        coils=(coil,),
        springs=(),
        tying=tying,
        seat=Seat(cushion=0.0),  # nobody has said yet that there will be one
        units=units,
    )
    return checked(_in_whole_inches(deck) if units == "in" else deck)


def _in_whole_inches(deck: Deck) -> Deck:
    """The same usual allowances, as somebody with an inch rule would set them."""
    replace = msgspec.structs.replace
    return replace(
        deck,
        twine=replace(deck.twine, fold_back=3 * INCH, allowance=6 * INCH, step=INCH / 2),
        webbing=replace(deck.webbing, fold=INCH, allowance=2 * INCH),
        stitching=replace(deck.stitching, working_length=60 * INCH),
    )
