"""Edits of the springs: set, move, copy, mirror, hold, turn, remove."""

from collections import Counter
from collections.abc import Iterable, Mapping

import msgspec

from spring_layout.deck.edits.common import changed, checked, chosen, with_springs
from spring_layout.deck.edits.mirror import mirrored_spring
from spring_layout.deck.edits.tying import tying_renamed, tying_without
from spring_layout.deck.model import Coil, Deck, Point, Spring
from spring_layout.deck.ranges import shown
from spring_layout.deck.symmetry import mirrored_point, partner_spring, twice_middle


def fresh_id(springs: Iterable[Spring]) -> str:
    """An id that none of ``springs`` has: s1, s2 ..."""
    taken = {spring.id for spring in springs}
    number = len(taken) + 1
    while f"s{number}" in taken:
        number += 1
    return f"s{number}"


def add_spring(deck: Deck, x: float, y: float, coil: str | None = None) -> Deck:
    """One more spring at (x, y), mm, last in the list, with a fresh id.

    ``coil`` is its size; None takes the size that most springs have.
    """
    return add_springs(deck, [(x, y)], coil)


def add_springs(deck: Deck, places: Iterable[Point], coil: str | None = None) -> Deck:
    """A spring at each of ``places``, mm, last in the list, with fresh ids."""
    size = usual_coil(deck) if coil is None else coil
    springs = list(deck.springs)
    for x, y in places:
        made = Spring(id=fresh_id(springs), coil=size, x=float(x), y=float(y), held=False)
        springs.append(made)
    return with_springs(deck, springs)


def usual_coil(deck: Deck) -> str:
    """The spring size that most springs have, else the first one."""
    if not deck.coils:
        raise ValueError("There is no spring size yet; choose one first.")
    used = Counter(spring.coil for spring in deck.springs)
    return max(deck.coils, key=lambda coil: used[coil.id]).id


def place_spring(deck: Deck, spring: str, x: float, y: float) -> Deck:
    """The spring at (x, y), mm."""
    return place_springs(deck, {spring: (x, y)})


def place_springs(deck: Deck, places: Mapping[str, Point]) -> Deck:
    """Each of the springs at its place, mm."""
    chosen(deck, places)
    return with_springs(deck, [_at(s, places.get(s.id, (s.x, s.y))) for s in deck.springs])


def _at(spring: Spring, place: Point) -> Spring:
    x, y = place
    return msgspec.structs.replace(spring, x=float(x), y=float(y))


def move_springs(
    deck: Deck, ids: Iterable[str], dx: float, dy: float, *, symmetric: bool = False
) -> Deck:
    """The springs moved by (dx, dy), mm, to the right and toward the front.

    ``symmetric``: their partners on the other side of the frame's middle move as in a mirror;
    springs in the middle, and partners that are both chosen, only move front and back.
    """
    wanted = chosen(deck, ids)
    moves = dict.fromkeys(wanted, (dx, dy))
    if symmetric:
        moves = _mirrored_moves(deck, wanted, dx, dy)
    return place_springs(
        deck,
        {s.id: (s.x + moves[s.id][0], s.y + moves[s.id][1]) for s in deck.springs if s.id in moves},
    )


def _mirrored_moves(deck: Deck, wanted: set[str], dx: float, dy: float) -> dict[str, Point]:
    """How each chosen spring and its partner move, mm."""
    twice = twice_middle(deck.frame)
    moves: dict[str, Point] = {}
    for name in sorted(wanted):
        partner = partner_spring(deck.spring(name), deck.springs, twice)
        if partner is not None and partner.id in wanted:
            moves[name] = (0.0, dy)
            continue
        moves[name] = (dx, dy)
        if partner is not None:
            moves[partner.id] = (-dx, dy)
    return moves


def remove_springs(deck: Deck, ids: Iterable[str]) -> Deck:
    """The deck without the springs and without the joins, parts and tack points that name them."""
    gone = chosen(deck, ids)
    return with_springs(tying_without(deck, gone), [s for s in deck.springs if s.id not in gone])


def replace_springs(deck: Deck, springs: Iterable[Spring]) -> Deck:
    """The deck with other springs altogether; what named one that is gone goes too."""
    springs = tuple(springs)
    gone = {spring.id for spring in deck.springs} - {spring.id for spring in springs}
    return with_springs(tying_without(deck, gone), springs)


def rename_spring(deck: Deck, spring: str, new_id: str) -> Deck:
    """The spring under another id, in joins, parts and tack points too."""
    chosen(deck, (spring,))
    springs = [changed(s, id=new_id) if s.id == spring else s for s in deck.springs]
    return with_springs(tying_renamed(deck, spring, new_id), springs)


def _change_springs(deck: Deck, ids: Iterable[str], **fields: object) -> Deck:
    wanted = chosen(deck, ids)
    return with_springs(deck, [changed(s, **fields) if s.id in wanted else s for s in deck.springs])


def hold_springs(deck: Deck, ids: Iterable[str], held: bool = True) -> Deck:
    """The springs kept where they are when the others are spaced evenly, or let go."""
    return _change_springs(deck, ids, held=held)


def turn_springs(deck: Deck, ids: Iterable[str], degrees: float) -> Deck:
    """The springs turned so that the top coil's wire knot lies at ``degrees`` from the x axis."""
    return _change_springs(deck, ids, turned=degrees % 360)


def recoil_springs(deck: Deck, ids: Iterable[str], coil: str) -> Deck:
    """The springs made another size."""
    if coil not in {known.id for known in deck.coils}:
        raise ValueError(f"There is no spring size {shown(coil)}; choose one of the deck's.")
    return _change_springs(deck, ids, coil=coil)


def measure_springs(deck: Deck, ids: Iterable[str], height: float | None) -> Deck:
    """How high the tops of the springs were found to stand once tied, mm; None: not measured."""
    if height is not None and height <= 0:
        raise ValueError("A measured height must be more than nothing.")
    return _change_springs(deck, ids, measured_height=height)


def mirror_springs(deck: Deck, ids: Iterable[str]) -> Deck:
    """The springs mirrored about the frame's middle; the frame stays."""
    wanted, twice = chosen(deck, ids), twice_middle(deck.frame)
    return with_springs(
        deck, [mirrored_spring(s, twice) if s.id in wanted else s for s in deck.springs]
    )


def add_mirrored(deck: Deck, ids: Iterable[str]) -> Deck:
    """A spring at the mirrored place of each one chosen, where none of its size stands yet."""
    wanted, twice = chosen(deck, ids), twice_middle(deck.frame)
    springs = list(deck.springs)
    for spring in deck.springs:
        if spring.id in wanted and partner_spring(spring, springs, twice) is None:
            image = mirrored_spring(spring, twice)
            springs.append(msgspec.structs.replace(image, id=fresh_id(springs)))
    return with_springs(deck, springs)


def paste_springs(
    deck: Deck,
    copied: Iterable[Spring],
    dx: float = 0.0,
    dy: float = 0.0,
    coils: Iterable[Coil] = (),
) -> Deck:
    """Copies of springs moved by (dx, dy), mm, last in the list, with fresh ids.

    ``coils`` are the sizes that came with them; those that the deck lacks are added.
    """
    springs = list(deck.springs)
    for spring in copied:
        moved = _at(spring, (spring.x + dx, spring.y + dy))
        springs.append(msgspec.structs.replace(moved, id=fresh_id(springs)))
    known = {coil.id for coil in deck.coils}
    used = {spring.coil for spring in springs}
    added = tuple(coil for coil in coils if coil.id in used - known)
    return checked(msgspec.structs.replace(deck, coils=deck.coils + added, springs=tuple(springs)))


def image_of(deck: Deck, x: float, y: float) -> Point:
    """The place (x, y), mm, mirrored about the frame's middle."""
    return mirrored_point((x, y), twice_middle(deck.frame))
