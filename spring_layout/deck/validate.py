"""Whether a deck can be used: the same rules for a file that is read and for a hand's edit.

``faults`` says what makes a deck unusable. What is merely odd (rings that overlap, a ring over
the edge, sizes that no shop sells) is left to the plan's findings.
"""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from spring_layout.deck.fault import Fault
from spring_layout.deck.model import Coil, Deck, Frame, MovedAnchor, Pairing, Spring
from spring_layout.deck.ranges import (
    COORDINATE,
    LONGEST_NAME,
    LONGEST_NOTE,
    MOST_COILS,
    MOST_PAIRINGS,
    MOST_SIDES,
    MOST_SPRINGS,
    MOST_STRIPS,
    id_faults,
    number_fault,
    number_words,
    range_faults,
    shown,
    text_faults,
)
from spring_layout.tolerances import CHORD_ERROR, SAME_PLACE


def faults(deck: Deck) -> list[Fault]:
    """Everything that makes ``deck`` unusable, in the order of its file; empty when it is sound.

    ``deck`` has the types of the model; numbers may be anything, NaN too. Faults that rest on
    other faults (springs outside an outline that crosses itself) are left out.
    """
    found = [
        *text_faults(deck.name, LONGEST_NAME, "$.name", "The name"),
        *text_faults(deck.note, LONGEST_NOTE, "$.note", "The note"),
        *frame_faults(deck.frame),
        *_coils_faults(deck.coils),
        *_springs_faults(deck),
    ]
    found += _tying_faults(deck, frame_is_sound=not frame_faults(deck.frame))
    found += _settings_faults(deck)
    return found


@lru_cache(maxsize=64)
def frame_faults(frame: Frame) -> tuple[Fault, ...]:
    """What makes ``frame`` unusable."""
    return tuple(_frame_number_faults(frame)) or tuple(_outline_faults(frame))


def _frame_number_faults(frame: Frame) -> Iterator[Fault]:
    if len(frame.corners) != len(frame.sides):
        yield Fault(
            "$.frame.sides",
            f"The frame has {len(frame.corners)} corners and {len(frame.sides)} sides; "
            "give one side for each corner.",
        )
    if len(frame.corners) > MOST_SIDES:
        yield Fault(
            "$.frame.corners",
            f"The frame has {len(frame.corners)} corners; at most {MOST_SIDES} can be used.",
        )
    yield from range_faults(frame, "$.frame", "The frame")
    for i, corner in enumerate(frame.corners):
        for axis, value in enumerate(corner):
            if not COORDINATE.holds(value):
                place = f"$.frame.corners[{i}][{axis}]"
                yield number_fault(value, COORDINATE, place, f"Corner {i + 1}: {'xy'[axis]}")
    for i, side in enumerate(frame.sides):
        yield from range_faults(side, f"$.frame.sides[{i}]", side_words(frame, i))


def side_words(frame: Frame, side: int) -> str:
    """Side number ``side`` as words, counted from 1: "Side 3 (front)", "Side 4 (no rail)"."""
    rail = frame.sides[side].rail
    return f"Side {side + 1} ({'no rail' if rail == 'none' else rail})"


def _outline_faults(frame: Frame) -> Iterator[Fault]:
    # numpy and shapely cost 0.15 s to import; a deck that fails earlier does not pay for them
    from spring_layout.deck.opening import outline_of
    from spring_layout.geometry.outline import OutlineError

    try:
        outline_of(frame)
    except OutlineError as error:
        place = "corners" if error.side is None else f"sides[{error.side}]"
        yield Fault(f"$.frame.{place}", _outline_words(frame, error.reason))


def _outline_words(frame: Frame, reason: str) -> str:
    """The reason as a sentence, each side in it with its rail: "side 3 (front)"."""
    told = _SIDE.sub(lambda found: f"side {side_words(frame, int(found[1]) - 1)[5:]}", reason)
    return f"{told[0].upper()}{told[1:]}."


_SIDE = re.compile(r"\bside (\d+)\b")


def _coils_faults(coils: tuple[Coil, ...]) -> Iterator[Fault]:
    if len(coils) > MOST_COILS:
        yield Fault("$.coils", f"There are {len(coils)} spring sizes; keep to {MOST_COILS}.")
    for i, coil in enumerate(coils):
        yield from _coil_faults(coil, f"$.coils[{i}]", f"Spring size {coil.id}")
    yield from _doubled_ids([coil.id for coil in coils], "$.coils", "spring sizes")


def _coil_faults(coil: Coil, place: str, words: str) -> Iterator[Fault]:
    yield from id_faults(coil.id, f"{place}.id", "Spring size")
    yield from range_faults(coil, place, words)
    if coil.gauge is not None:
        yield from text_faults(coil.gauge, LONGEST_NAME, f"{place}.gauge", f"{words}: the gauge")


def _doubled_ids(ids: list[str], place: str, words: str) -> Iterator[Fault]:
    seen: set[str] = set()
    for i, name in enumerate(ids):
        if name in seen:
            yield Fault(
                f"{place}[{i}].id",
                f"Two {words} have the id {shown(name)}; give one of them another.",
            )
        seen.add(name)


def _springs_faults(deck: Deck) -> Iterator[Fault]:
    if len(deck.springs) > MOST_SPRINGS:
        yield Fault(
            "$.springs",
            f"There are {len(deck.springs)} springs; at most {MOST_SPRINGS} can be used.",
        )
        return
    coils = {coil.id for coil in deck.coils}
    numbers: list[Fault] = []
    for i, spring in enumerate(deck.springs):
        numbers += _spring_faults(spring, i, coils)
    yield from numbers
    yield from _doubled_ids([spring.id for spring in deck.springs], "$.springs", "springs")
    if not numbers and not frame_faults(deck.frame):
        yield from _outside_faults(deck)


def _spring_faults(spring: Spring, number: int, coils: set[str]) -> Iterator[Fault]:
    place, words = f"$.springs[{number}]", f"Spring {spring.id}"
    yield from id_faults(spring.id, f"{place}.id", f"Spring {number + 1} in the list")
    yield from range_faults(spring, place, words)
    if spring.coil not in coils:
        yield Fault(
            f"{place}.coil",
            f"{words} names the spring size {shown(spring.coil)}, which is not in coils; "
            "name one that is.",
        )


def _outside_faults(deck: Deck) -> Iterator[Fault]:
    for i in outside_springs(deck.frame, deck.springs):
        spring = deck.springs[i]
        yield Fault(
            f"$.springs[{i}]",
            f"Spring {spring.id} stands outside the frame's opening; move it inside.",
        )


def outside_springs(frame: Frame, springs: tuple[Spring, ...]) -> list[int]:
    """The numbers of the springs whose centres lie outside the opening of a sound ``frame``."""
    import numpy as np
    import shapely

    from spring_layout.deck.opening import outline_of

    if not springs:
        return []
    centres = np.array([(spring.x, spring.y) for spring in springs])
    # the polygon's chords lie up to CHORD_ERROR inside the true arc
    off = shapely.distance(outline_of(frame).polygon, shapely.points(centres))
    return [int(i) for i in np.flatnonzero(off > CHORD_ERROR)]


def _tying_faults(deck: Deck, frame_is_sound: bool) -> Iterator[Fault]:
    tying = deck.tying
    yield from range_faults(tying, "$.tying", "Tying")
    springs = {spring.id for spring in deck.springs}
    pairs: dict[object, str] = {}
    for kind, pairings in (("joins", tying.joins), ("parts", tying.parts)):
        yield from _count_fault(len(pairings), f"$.tying.{kind}", kind)
        for i, pairing in enumerate(pairings):
            place, words = f"$.tying.{kind}[{i}]", f"{kind.capitalize()}, number {i + 1}"
            yield from _named_faults(pairing.springs, springs, f"{place}.springs", words)
            yield from _pair_faults(pairing, pairs, place, words)
    yield from _count_fault(len(tying.anchors), "$.tying.anchors", "moved tack points")
    yield from _anchors_faults(deck, springs, frame_is_sound)


def _count_fault(count: int, place: str, words: str) -> Iterator[Fault]:
    if count > MOST_PAIRINGS:
        yield Fault(place, f"There are {count} {words}; at most {MOST_PAIRINGS} can be used.")


def _named_faults(ids: Iterable[str], springs: set[str], place: str, words: str) -> Iterator[Fault]:
    for i, name in enumerate(ids):
        if name not in springs:
            yield Fault(
                f"{place}[{i}]",
                f"{words}: there is no spring {shown(name)}; name one that is in springs.",
            )


def _pair_faults(
    pairing: Pairing, pairs: dict[object, str], place: str, words: str
) -> Iterator[Fault]:
    first, second = pairing.springs
    if first == second:
        yield Fault(
            f"{place}.springs", f"{words}: {shown(first)} is named twice; name two springs."
        )
    key = pair_key(pairing)
    if key in pairs:
        yield Fault(
            place,
            f"{words}: {shown(first)} and {shown(second)} on the run {pairing.run} are already "
            f"in {pairs[key]}; keep one of the two.",
        )
    pairs.setdefault(key, place.removeprefix("$.tying."))


def pair_key(pairing: Pairing) -> tuple[str, frozenset[str]]:
    """What makes two pairings the same: the run and the two springs, whichever is first."""
    return pairing.run, frozenset(pairing.springs)


def _anchors_faults(deck: Deck, springs: set[str], frame_is_sound: bool) -> Iterator[Fault]:
    seen: set[object] = set()
    for i, anchor in enumerate(deck.tying.anchors):
        place, words = f"$.tying.anchors[{i}]", f"Moved tack point {i + 1}"
        if anchor.spring not in springs:
            yield Fault(
                f"{place}.spring",
                f"{words}: there is no spring {shown(anchor.spring)}; name one that is in springs.",
            )
        yield from range_faults(anchor, place, words)
        yield from _anchor_side_faults(deck.frame, anchor, place, words, frame_is_sound)
        key = anchor_key(anchor)
        if key in seen:
            yield Fault(
                place,
                f"{words}: the {anchor.end} of the {anchor.run} tie over {anchor.spring} is "
                "moved twice; keep one of the two.",
            )
        seen.add(key)


def anchor_key(anchor: MovedAnchor) -> tuple[str, str, str]:
    """What makes two moved tack points the same: run, spring and end."""
    return anchor.run, anchor.spring, anchor.end


def _anchor_side_faults(
    frame: Frame, anchor: MovedAnchor, place: str, words: str, frame_is_sound: bool
) -> Iterator[Fault]:
    if not 0 <= anchor.side < len(frame.sides):
        yield Fault(
            f"{place}.side",
            f"{words}: there is no side {number_words(anchor.side)}; give a number from 0 to "
            f"{len(frame.sides) - 1}.",
        )
    elif frame_is_sound and anchor.along > side_length(frame, anchor.side) + SAME_PLACE:
        yield Fault(
            f"{place}.along",
            f"{words}: {anchor.along:.10g} mm lies beyond the end of "
            f"{side_words(frame, anchor.side).lower()}; give at most "
            f"{side_length(frame, anchor.side):.1f} mm.",
        )


def side_length(frame: Frame, side: int) -> float:
    """The length of the inside edge of side number ``side`` of a sound ``frame``, mm."""
    from spring_layout.deck.opening import outline_of

    return outline_of(frame).sides[side].length


def _settings_faults(deck: Deck) -> Iterator[Fault]:
    for name in ("spacing", "twine", "seat", "webbing", "stitching", "work"):
        yield from range_faults(getattr(deck, name), f"$.{name}", name.capitalize())
    yield from range_faults(deck.spacing.limits, "$.spacing.limits", "Limits")
    for field in ("front_to_back", "side_to_side"):
        yield from _strips_faults(getattr(deck.webbing, field), field)


def _strips_faults(strips: tuple[float, ...] | None, field: str) -> Iterator[Fault]:
    place, words = f"$.webbing.{field}", f"Webbing {field.replace('_', ' ')}"
    if strips and len(strips) > MOST_STRIPS:
        yield Fault(place, f"{words} has {len(strips)} strips; keep to {MOST_STRIPS}.")
    for i, at in enumerate(strips or ()):
        if not COORDINATE.holds(at):
            yield number_fault(at, COORDINATE, f"{place}[{i}]", f"{words}: strip {i + 1}")
