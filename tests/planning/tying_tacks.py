"""Whether a tack told to stand too near another could simply have gone elsewhere.

Rule 5 lets tacks stand nearer than their least spacing only where the rails are too short. So a
tack of such a pair must not be able to move, all else staying, to a place that is free.
"""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from spring_layout.deck.model import Deck
from spring_layout.planning.parts import Line, Ties
from tests.frame_shapes import side_length, side_places, tacks_apart
from tests.planning.tying_rules import ANCHORS_APART, broken_twine

REACH = 80
STEP = 2


def idle_tacks(deck: Deck, ties: Ties) -> Iterator[str]:
    """The tacks told to stand too near another that could move alone to a free place, in words."""
    for told in ties.breaks:
        if told.kind == "anchor-spacing":
            for number in told.lines:
                for end in (0, 1):
                    line = ties.lines[number - 1]
                    if line.sides[end] in told.sides:
                        yield from _free_place(deck, ties, line, end)


def _free_place(deck: Deck, ties: Ties, line: Line, end: int) -> Iterator[str]:
    """The nearest place within 80 mm where the tack breaks no rule."""
    before = _broken_by(deck, ties, line.number)
    along, side = line.along[end], line.sides[end]
    assert along is not None
    assert side is not None
    for off in sorted(range(-REACH, REACH + 1, STEP), key=abs):
        if _is_free(deck, ties, line, side, along + off):
            moved = _moved(deck, line, end, along + off)
            lines = tuple(moved if ln.number == line.number else ln for ln in ties.lines)
            after = _broken_by(deck, replace(ties, lines=lines), line.number)
            if after < before and not after & {5}:
                yield f"line {line.number} could be fixed {off:+d} mm from {along:.1f} on {side}"
                return


def _is_free(deck: Deck, ties: Ties, line: Line, side: int, along: float) -> bool:
    """Whether no other line's tack on that side is too near."""
    outside = deck.frame.nail_line_of(side)
    return 0 <= along <= side_length(deck.frame, side) and all(
        tacks_apart(deck.frame, side, along, other.along[end], outside) >= ANCHORS_APART
        for other in ties.lines
        for end in (0, 1)
        if other.number != line.number and other.sides[end] == side
    )


def _moved(deck: Deck, line: Line, end: int, along: float) -> Line:
    side = line.sides[end]
    assert side is not None
    x, y = side_places(deck.frame, side, np.array(along), deck.frame.nail_line_of(side))
    alongs, anchors = list(line.along), list(line.anchors)
    alongs[end], anchors[end] = along, (float(x), float(y))
    return replace(line, along=tuple(alongs), anchors=tuple(anchors))


def _broken_by(deck: Deck, ties: Ties, number: int) -> set[int]:
    """The rules about its twine that line ``number`` breaks."""
    return {broken.rule for broken in broken_twine(deck, ties) if number in broken.lines}
