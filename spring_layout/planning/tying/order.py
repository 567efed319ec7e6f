"""The order in which the lines are tied.

``balanced`` (the default; common practice is to follow each direction with its opposite): the
middle front-to-back line, the middle side-to-side line, then outward by turns, left before right
and back before front; with two middles, left or back first. Then the diagonals by their number of
springs, most first, then from the middle outward, rising before falling. ``by-direction``: all
front-to-back lines from the middle outward, all side-to-side likewise, then the diagonals.

Published practice disagrees: shops of 1919, of the United States and of France each tie in
another order.
"""

from collections.abc import Callable, Sequence
from typing import TypeVar

from spring_layout.deck.model import Order, Point, Run

T = TypeVar("T")


def tying_order(
    lines: Sequence[T],
    run_of: Callable[[T], Run],
    centres_of: Callable[[T], Sequence[Point]],
    order: Order,
) -> list[T]:
    """``lines`` in the order in which they are tied."""

    def mean(line: T, x: float, y: float) -> float:
        places = centres_of(line)
        return sum(px * x + py * y for px, py in places) / len(places)

    def of_run(run: Run, x: float, y: float) -> list[T]:
        own = [line for line in lines if run_of(line) == run]
        return sorted(own, key=lambda line: (mean(line, x, y), mean(line, y, x)))

    columns = _outward(of_run("front-to-back", 1.0, 0.0))
    rows = _outward(of_run("side-to-side", 0.0, 1.0))
    straight = _by_turns(columns, rows) if order == "balanced" else columns + rows
    diagonals = [
        ((-len(centres_of(line)), out, number), line)
        for number, own in enumerate(
            (of_run("diagonal-rising", 1.0, 1.0), of_run("diagonal-falling", 1.0, -1.0))
        )
        for out, line in _outness(own)
    ]
    return straight + [line for _, line in sorted(diagonals, key=lambda row: row[0])]


def _outness(row: list[T]) -> list[tuple[float, T]]:
    """How far from the middle each line stands, in lines, from the middle outward."""
    middle = (len(row) - 1) / 2
    ranks = sorted(range(len(row)), key=lambda i: (abs(i - middle), i))
    return [(abs(i - middle), row[i]) for i in ranks]


def _outward(row: list[T]) -> list[T]:
    """From the middle outward, the earlier first where two are equally far out."""
    return [line for _, line in _outness(row)]


def _by_turns(columns: list[T], rows: list[T]) -> list[T]:
    """The middles of both, then pair after pair outward, columns before rows."""
    turns: list[T] = []
    left, right = _pairs(columns), _pairs(rows)
    for i in range(max(len(left), len(right))):
        for pairs in (left, right):
            turns += pairs[i] if i < len(pairs) else []
    return turns


def _pairs(outward: list[T]) -> list[list[T]]:
    """The one or two middle lines, then the others two by two."""
    first = 2 - len(outward) % 2
    return [outward[:first], *(outward[i : i + 2] for i in range(first, len(outward), 2))]
