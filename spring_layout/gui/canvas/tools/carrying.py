"""Springs carried by the hand: previews that are checked only for what a movement can break.

Sixty times a second the whole deck is not gone through; when the springs are let go,
``deck.edits.move_springs`` makes the same deck with every check.
"""

from collections.abc import Collection

import msgspec

from spring_layout.deck.model import Deck
from spring_layout.deck.validate import outside_springs


def carried(deck: Deck, ids: Collection[str], dx: float, dy: float) -> Deck:
    """``deck``, which is sound, with these springs moved by (dx, dy), mm.

    Raises ValueError, with one sentence, where one of them would leave the opening.
    """
    springs = tuple(
        msgspec.structs.replace(s, x=s.x + dx, y=s.y + dy) if s.id in ids else s
        for s in deck.springs
    )
    moved = tuple(spring for spring in springs if spring.id in ids)
    if outside_springs(deck.frame, moved):
        raise ValueError("A spring cannot stand outside the frame's opening; keep it inside.")
    return msgspec.structs.replace(deck, springs=springs)
