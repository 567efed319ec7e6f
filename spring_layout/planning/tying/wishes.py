"""Rule 9: where what the user asked for breaks another rule."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from spring_layout.deck.model import Deck, MovedAnchor, Run
from spring_layout.planning.parts import Break, Line
from spring_layout.tolerances import SAME_PLACE


def wish_breaks(deck: Deck, lines: Sequence[Line], breaks: Sequence[Break]) -> Iterator[Break]:
    """The user's tacks, joins and parts beside which one of ``breaks`` stands."""
    yield from _moved_anchors(deck, lines, breaks)
    yield from _joins(deck, lines, breaks)
    yield from _parts(deck, lines, breaks)


def _moved_anchors(deck: Deck, lines: Sequence[Line], breaks: Sequence[Break]) -> Iterator[Break]:
    for wish in deck.tying.anchors:
        for line in _lines_with(lines, wish.run, wish.spring):
            if not is_obeyed(line, wish) or _is_touched(breaks, line.number, wish.side):
                yield Break(9, "moved-anchor", (wish.spring,), (line.number,), (wish.side,))


def anchors_on_rails(deck: Deck) -> list[MovedAnchor]:
    """The tack points moved by hand onto sides that take tacks."""
    sides = deck.frame.sides
    return [wish for wish in deck.tying.anchors if sides[wish.side].rail != "none"]


def is_obeyed(line: Line, wish: MovedAnchor) -> bool:
    """Whether the tack is where it was moved to: another wish for the same end may have won."""
    end = 0 if wish.end == "start" else 1
    along = line.along[end]
    return (
        line.sides[end] == wish.side
        and along is not None
        and (abs(along - wish.along) <= SAME_PLACE)
    )


def _joins(deck: Deck, lines: Sequence[Line], breaks: Sequence[Break]) -> Iterator[Break]:
    for pair in deck.tying.joins:
        for line in _lines_with(lines, pair.run, pair.springs[0]):
            joined = any(set(step) == set(pair.springs) for step in pairwise(line.springs))
            if joined and any(b.rule in (3, 4) and line.number in b.lines for b in breaks):
                yield Break(9, "join", pair.springs, (line.number,))


def _parts(deck: Deck, lines: Sequence[Line], breaks: Sequence[Break]) -> Iterator[Break]:
    for pair in deck.tying.parts:
        for spring in pair.springs:
            for line in _lines_with(lines, pair.run, spring):
                if spring in (line.springs[0], line.springs[-1]) and _is_at(breaks, line, spring):
                    yield Break(9, "part", pair.springs, (line.number,))


def _is_at(breaks: Sequence[Break], line: Line, spring: str) -> bool:
    """Whether a rule breaks on a line, and not at another of its springs."""
    return any(
        b.rule in (3, 4, 5)
        and line.number in b.lines
        and not set(line.springs) & {*b.springs} - {spring}
        for b in breaks
    )


def _lines_with(lines: Sequence[Line], run: Run, spring: str) -> list[Line]:
    return [line for line in lines if line.run == run and spring in line.springs]


def _is_touched(breaks: Sequence[Break], number: int, side: int) -> bool:
    return any(
        number in b.lines and (not b.sides or side in b.sides)
        for b in breaks
        if b.rule in (3, 4, 5)
    )
