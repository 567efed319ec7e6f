"""Frames of each kind that placing is tested on; all alike left and right."""

import msgspec

from spring_layout.deck.model import Deck, Frame, Side
from tests.decks import SEAT_COIL, grid_deck, straight_frame

ROUND_THE_POSTS = ("back", "right", "none", "right", "front", "left", "none", "left")

FRAMES = {
    "straight": (((0, 0), (520, 0), (520, 480), (0, 480)), (0, 0, 0, 0), None),
    "tapered": (((0, 0), (460, 0), (520, 480), (-60, 480)), (0, 0, 0, 0), None),
    "bowed": (((0, 0), (480, 0), (540, 500), (-60, 500)), (0, 0, 40, 0), None),
    "round": (((0, 260), (520, 260)), (260, 260), ("back", "front")),
    "notched": (
        ((80, 0), (520, 0), (520, 90), (600, 90), (600, 560), (0, 560), (0, 90), (80, 90)),
        (0,) * 8,
        ROUND_THE_POSTS,
    ),
}


def frame_named(name: str) -> Frame:
    """One of ``FRAMES``."""
    corners, bows, rails = FRAMES[name]
    rails = rails or ("back", "right", "front", "left")
    sides = tuple(Side(rail=rail, bow=bow) for rail, bow in zip(rails, bows, strict=True))
    return Frame(corners=corners, sides=sides, rail_width=45, rail_top=75)


def bare_deck(width: float, depth: float, top_diameter: float) -> Deck:
    """A deck with a straight frame and one spring size, called "seat", and no springs yet, mm."""
    coil = msgspec.structs.replace(SEAT_COIL, top_diameter=top_diameter)
    frame = straight_frame(width, depth)
    return msgspec.structs.replace(grid_deck(), frame=frame, coils=(coil,), springs=())
