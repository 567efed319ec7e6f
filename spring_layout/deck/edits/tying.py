"""Edits of the ties: springs joined or parted, tack points moved by hand."""

from collections.abc import Iterable
from typing import get_args

import msgspec

from spring_layout.deck.edits.common import changed, checked, chosen
from spring_layout.deck.model import RUNS, Deck, End, MovedAnchor, Pairing, Run, Spring
from spring_layout.deck.ranges import shown
from spring_layout.deck.validate import anchor_key, pair_key


def join_springs(deck: Deck, run: Run, first: str, second: str) -> Deck:
    """The two springs joined directly on ``run``; a part of the same two is taken out."""
    pairing = canonical_pairing(deck, run, first, second)
    joins = _without(deck.tying.joins, pairing)
    return _with_pairings(deck, (*joins, pairing), _without(deck.tying.parts, pairing))


def part_springs(deck: Deck, run: Run, first: str, second: str) -> Deck:
    """The two springs parted on ``run``; a join of the same two is taken out."""
    pairing = canonical_pairing(deck, run, first, second)
    parts = _without(deck.tying.parts, pairing)
    return _with_pairings(deck, _without(deck.tying.joins, pairing), (*parts, pairing))


def clear_pairing(deck: Deck, run: Run, first: str, second: str) -> Deck:
    """The two springs neither joined nor parted by hand on ``run``."""
    pairing = canonical_pairing(deck, run, first, second)
    joins, parts = (_without(p, pairing) for p in (deck.tying.joins, deck.tying.parts))
    return _with_pairings(deck, joins, parts)


def clear_pairings(deck: Deck) -> Deck:
    """The deck with no joins and no parts."""
    return _with_pairings(deck, (), ())


def canonical_pairing(deck: Deck, run: Run, first: str, second: str) -> Pairing:
    """The two springs in the direction of ``run``. Raises ValueError where they make no pair."""
    _check_run(run)
    chosen(deck, (first, second))
    if first == second:
        raise ValueError(f"Spring {first} cannot be paired with itself; choose two springs.")
    pair = sorted(
        (deck.spring(first), deck.spring(second)), key=lambda s: (_ahead(s, run), s.x, s.y, s.id)
    )
    return Pairing(run=run, springs=(pair[0].id, pair[1].id))


def _ahead(spring: Spring, run: Run) -> float:
    """How far along the direction of ``run`` the spring stands; y grows toward the front."""
    return {
        "front-to-back": -spring.y,
        "side-to-side": spring.x,
        "diagonal-rising": spring.x - spring.y,
        "diagonal-falling": spring.x + spring.y,
    }[run]


def _without(pairings: Iterable[Pairing], pairing: Pairing) -> tuple[Pairing, ...]:
    return tuple(p for p in pairings if pair_key(p) != pair_key(pairing))


def _with_pairings(deck: Deck, joins: Iterable[Pairing], parts: Iterable[Pairing]) -> Deck:
    tying = msgspec.structs.replace(deck.tying, joins=tuple(joins), parts=tuple(parts))
    return checked(msgspec.structs.replace(deck, tying=tying))


def move_anchor(
    deck: Deck,
    run: Run,
    spring: str,
    end: End,
    side: int,
    along: float,
    line_springs: Iterable[str] = (),
) -> Deck:
    """The tack point at ``end`` of the tie of ``run`` over ``spring``, set by hand.

    It goes on side number ``side``, ``along`` mm from that side's first corner on its inside
    edge. ``line_springs`` are all the springs of the tie: what was set by hand for the same end
    through another of them is taken out.
    """
    _check_end(run, end)
    chosen(deck, (spring,))
    made = changed(
        MovedAnchor(run=run, spring=spring, end=end, side=0, along=0.0), side=side, along=along
    )
    kept = _anchors_without(deck, run, {spring, *line_springs}, end)
    return _with_anchors(deck, (*kept, made))


def clear_anchor(deck: Deck, run: Run, springs: Iterable[str], end: End) -> Deck:
    """The tack point at ``end`` of the tie over ``springs`` back where it is worked out."""
    _check_end(run, end)
    return _with_anchors(deck, _anchors_without(deck, run, chosen(deck, springs), end))


def clear_anchors(deck: Deck) -> Deck:
    """Every tack point back where it is worked out."""
    return _with_anchors(deck, ())


def _anchors_without(deck: Deck, run: Run, springs: set[str], end: End) -> list[MovedAnchor]:
    gone = {(run, spring, end) for spring in springs}
    return [anchor for anchor in deck.tying.anchors if anchor_key(anchor) not in gone]


def _with_anchors(deck: Deck, anchors: Iterable[MovedAnchor]) -> Deck:
    tying = msgspec.structs.replace(deck.tying, anchors=tuple(anchors))
    return checked(msgspec.structs.replace(deck, tying=tying))


def _check_run(run: str) -> None:
    if run not in RUNS:
        raise ValueError(f"There is no run {shown(run)}; give one of {', '.join(RUNS)}.")


def _check_end(run: str, end: str) -> None:
    _check_run(run)
    if end not in get_args(End):
        raise ValueError(f"A tie has a start and a finish, no {shown(end)}.")


def tying_without(deck: Deck, springs: set[str]) -> Deck:
    """The deck's joins, parts and moved tack points without those that name ``springs``."""
    tying = msgspec.structs.replace(
        deck.tying,
        joins=tuple(p for p in deck.tying.joins if springs.isdisjoint(p.springs)),
        parts=tuple(p for p in deck.tying.parts if springs.isdisjoint(p.springs)),
        anchors=tuple(a for a in deck.tying.anchors if a.spring not in springs),
    )
    return msgspec.structs.replace(deck, tying=tying)


def tying_renamed(deck: Deck, old: str, new: str) -> Deck:
    """The deck's joins, parts and moved tack points with ``old`` renamed to ``new``."""

    def renamed(pairing: Pairing) -> Pairing:
        first, second = (new if name == old else name for name in pairing.springs)
        return msgspec.structs.replace(pairing, springs=(first, second))

    tying = msgspec.structs.replace(
        deck.tying,
        joins=tuple(renamed(p) for p in deck.tying.joins),
        parts=tuple(renamed(p) for p in deck.tying.parts),
        anchors=tuple(
            msgspec.structs.replace(a, spring=new) if a.spring == old else a
            for a in deck.tying.anchors
        ),
    )
    return msgspec.structs.replace(deck, tying=tying)
