"""The referee's own reading of rule 11: the order in which the lines are tied."""

from collections.abc import Iterator
from itertools import pairwise

from spring_layout.deck.model import Deck, Run
from spring_layout.planning.parts import Line, Ties


def broken_order(deck: Deck, ties: Ties) -> Iterator[str]:
    """What is wrong with the order of ``ties.lines``, in words."""
    straight = [line for line in ties.lines if not line.run.startswith("diagonal")]
    diagonals = [line for line in ties.lines if line.run.startswith("diagonal")]
    if list(ties.lines) != straight + diagonals:
        yield "a diagonal is tied before a straight line"
    rows = _outward(straight, "side-to-side", 1)
    columns = _outward(straight, "front-to-back", 0)
    wanted = by_turns(columns, rows) if deck.tying.order == "balanced" else columns + rows
    if [_where(line) for line in straight] != [_where(line) for line in wanted]:
        wish = [line.number for line in wanted]
        yield f"straight lines are not tied {deck.tying.order}: wanted {wish}"
    ranks = _diagonal_ranks(diagonals)
    if ranks != sorted(ranks):
        yield f"diagonals are not tied longest first, then from the middle outward: {ranks}"


def _diagonal_ranks(diagonals: list[Line]) -> list[tuple[int, float, int]]:
    """Each diagonal's springs (negative), lines from the middle of its run, rising before falling.

    Rising lines stand in a row from the back left to the front right, falling ones from the front
    left to the back right; where several stand at one place, no distance is told.
    """
    ranks: dict[int, tuple[int, float, int]] = {}
    for number, (run, sign) in enumerate((("diagonal-rising", 1), ("diagonal-falling", -1))):
        row = sorted((ln for ln in diagonals if ln.run == run), key=lambda ln: _across(ln, sign))
        for i, line in enumerate(row):
            ranks[line.number] = (-len(line.springs), abs(i - (len(row) - 1) / 2), number)
        if any(_across(b, sign) - _across(a, sign) < 1e-6 for a, b in pairwise(row)):
            return [(-len(line.springs), 0.0, 0) for line in diagonals]
    return [ranks[line.number] for line in diagonals]


def _across(line: Line, sign: int) -> float:
    return _mean(line, 0) + sign * _mean(line, 1)


def _outward(lines: list[Line], run: Run, axis: int) -> list[Line]:
    """The lines of ``run`` from the middle outward, the lower first where two stand level."""
    row = sorted((line for line in lines if line.run == run), key=lambda ln: _mean(ln, axis))
    middle = (len(row) - 1) / 2
    order = sorted(range(len(row)), key=lambda i: (abs(i - middle), i))
    return [row[i] for i in order]


def _where(line: Line) -> tuple[Run, float]:
    """The run of a line and how far right or to the front it stands; equals may change places."""
    return line.run, round(_mean(line, 0 if line.run == "front-to-back" else 1), 3)


def _mean(line: Line, axis: int) -> float:
    return sum(centre[axis] for centre in line.centres) / len(line.centres)


def by_turns(columns: list[Line], rows: list[Line]) -> list[Line]:
    """The middle line(s) each way, then pair after pair outward, columns before rows."""
    turns: list[Line] = []
    groups = [_groups(columns), _groups(rows)]
    for i in range(max(len(group) for group in groups)):
        for group in groups:
            turns += group[i] if i < len(group) else []
    return turns


def _groups(outward: list[Line]) -> list[list[Line]]:
    first = 2 - len(outward) % 2
    return [outward[:first], *(outward[i : i + 2] for i in range(first, len(outward), 2))]
