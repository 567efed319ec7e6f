"""Plain decks that the tests share."""

from spring_layout.deck.model import Coil, Deck, Frame, Side, Spring, Tying

SEAT_COIL = Coil(
    id="seat",
    free_height=152,
    wire=3.66,
    turns=6,
    top_diameter=92,
    waist_diameter=60,
    foot_diameter=92,
)


def straight_frame(width: float = 500, depth: float = 500, bow: float = 0) -> Frame:
    """A frame with four rails, its front bowed by ``bow``."""
    return Frame(
        corners=((0, 0), (width, 0), (width, depth), (0, depth)),
        sides=(
            Side(rail="back", bow=0),
            Side(rail="right", bow=0),
            Side(rail="front", bow=bow),
            Side(rail="left", bow=0),
        ),
        rail_width=45,
        rail_top=75,
    )


def grid_deck(rows: int = 3, columns: int = 3, pitch: float = 142, margin: float = 108) -> Deck:
    """Springs in straight rows, named s1, s2 ... from the back left, row by row."""
    springs = tuple(
        Spring(
            id=f"s{row * columns + column + 1}",
            coil="seat",
            x=margin + column * pitch,
            y=margin + row * pitch,
            held=False,
        )
        for row in range(rows)
        for column in range(columns)
    )
    return Deck(
        name=f"{rows} by {columns}",
        frame=straight_frame(2 * margin + (columns - 1) * pitch, 2 * margin + (rows - 1) * pitch),
        coils=(SEAT_COIL,),
        springs=springs,
        tying=Tying(
            front_to_back=True,
            side_to_side=True,
            diagonals="two-or-more",
            tied_height=115,
            crown=0,
        ),
    )
