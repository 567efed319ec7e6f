"""The whole deck mirrored left to right."""

import msgspec

from spring_layout.deck.edits.common import checked
from spring_layout.deck.model import (
    Deck,
    End,
    MovedAnchor,
    Pairing,
    Run,
    Spring,
    Tying,
    Webbing,
    snapped,
)
from spring_layout.deck.symmetry import mirrored_frame, mirrored_point, twice_middle
from spring_layout.deck.validate import side_length

_MIRRORED_RUN: dict[Run, Run] = {
    "diagonal-rising": "diagonal-falling",
    "diagonal-falling": "diagonal-rising",
}
_OTHER_END: dict[End, End] = {"start": "finish", "finish": "start"}


def mirror_deck(deck: Deck) -> Deck:
    """The deck as in a mirror: left and right, and the two diagonal runs, change places.

    Mirrored twice it is the same deck again.
    """
    twice = twice_middle(deck.frame)
    return checked(
        msgspec.structs.replace(
            deck,
            frame=mirrored_frame(deck.frame),
            springs=tuple(mirrored_spring(spring, twice) for spring in deck.springs),
            tying=_mirrored_tying(deck),
            webbing=_mirrored_webbing(deck.webbing, twice),
        )
    )


def mirrored_spring(spring: Spring, twice: float) -> Spring:
    """``spring`` mirrored about x = ``twice`` / 2 mm, the turn of its wire knot too."""
    x, y = mirrored_point((spring.x, spring.y), twice)
    return msgspec.structs.replace(spring, x=x, y=y, turned=round(180 - spring.turned, 6))


def _mirrored_tying(deck: Deck) -> Tying:
    return msgspec.structs.replace(
        deck.tying,
        joins=tuple(_mirrored_pairing(pairing) for pairing in deck.tying.joins),
        parts=tuple(_mirrored_pairing(pairing) for pairing in deck.tying.parts),
        anchors=tuple(_mirrored_anchor(deck, anchor) for anchor in deck.tying.anchors),
    )


def _mirrored_pairing(pairing: Pairing) -> Pairing:
    """Only front to back keeps its direction in the mirror."""
    if pairing.run == "front-to-back":
        return pairing
    first, second = pairing.springs
    run = _MIRRORED_RUN.get(pairing.run, pairing.run)
    return msgspec.structs.replace(pairing, run=run, springs=(second, first))


def _mirrored_anchor(deck: Deck, anchor: MovedAnchor) -> MovedAnchor:
    turned_round = anchor.run != "front-to-back"
    rest = side_length(deck.frame, anchor.side) - anchor.along
    return msgspec.structs.replace(
        anchor,
        run=_MIRRORED_RUN.get(anchor.run, anchor.run),
        end=_OTHER_END[anchor.end] if turned_round else anchor.end,
        side=-anchor.side % len(deck.frame.sides),
        along=max(0.0, rest),
    )


def _mirrored_webbing(webbing: Webbing, twice: float) -> Webbing:
    strips = webbing.front_to_back
    if strips is None:
        return webbing
    mirrored = tuple(snapped(twice - at) for at in reversed(strips))
    return msgspec.structs.replace(webbing, front_to_back=mirrored)
