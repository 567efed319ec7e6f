"""Grids of springs tied by hand: the lines written down, not worked out by the program."""

from collections.abc import Sequence

import numpy as np

from spring_layout.deck.model import Deck, Point, Run
from spring_layout.planning.parts import Crossing, Heights, Line, Standing, Ties

RailEnds = tuple[int | None, int | None]


def line_of(
    deck: Deck,
    number: int,
    run: Run,
    springs: Sequence[str],
    anchors: tuple[Point | None, Point | None],
    sides: RailEnds,
) -> Line:
    """A line over ``springs`` between two tack points."""
    centres = tuple((deck.spring(name).x, deck.spring(name).y) for name in springs)
    return Line(number, run, tuple(springs), centres, sides, (None, None), anchors)


def rows_and_columns(deck: Deck, rows: int, columns: int) -> Ties:
    """A ``grid_deck`` tied front to back and side to side, tack points half a rail outside."""
    width, depth = deck.frame.corners[2]
    off = deck.frame.rail_width / 2
    lines = []
    for column in range(columns):
        names = [f"s{row * columns + column + 1}" for row in reversed(range(rows))]
        x = deck.spring(names[0]).x
        ends = ((x, depth + off), (x, -off))
        lines.append(line_of(deck, len(lines) + 1, "front-to-back", names, ends, (2, 0)))
    for row in range(rows):
        names = [f"s{row * columns + column + 1}" for column in range(columns)]
        y = deck.spring(names[0]).y
        ends = ((-off, y), (width + off, y))
        lines.append(line_of(deck, len(lines) + 1, "side-to-side", names, ends, (3, 1)))
    return Ties(tuple(lines), _grid_knots(deck, lines, columns))


def _grid_knots(deck: Deck, lines: Sequence[Line], columns: int) -> tuple[Crossing, ...]:
    return tuple(
        Crossing((s.x, s.y), (i % columns + 1, columns + i // columns + 1), s.id, line.number)
        for i, s in enumerate(deck.springs)
        for line in [lines[columns + i // columns]]
    )


def eight_way(deck: Deck) -> Ties:
    """A square 3 x 3 ``grid_deck`` in its twelve pieces (common practice, no source)."""
    width, depth = deck.frame.corners[2]
    half = deck.frame.rail_width / 2
    straight = rows_and_columns(deck, 3, 3)
    rising = [("s4", "s2"), ("s7", "s5", "s3"), ("s8", "s6")]
    falling = [("s2", "s6"), ("s1", "s5", "s9"), ("s4", "s8")]
    lines = list(straight.lines)
    for run, sets, up in (("diagonal-rising", rising, -1), ("diagonal-falling", falling, 1)):
        for names in sets:
            first, last = deck.spring(names[0]), deck.spring(names[-1])
            start = _out(first.x, first.y, -1, -up, width, depth, half)
            finish = _out(last.x, last.y, 1, up, width, depth, half)
            ends, sides = (start[0], finish[0]), (start[1], finish[1])
            lines.append(line_of(deck, len(lines) + 1, run, names, ends, sides))
    return Ties(tuple(lines), straight.crossings)


def _out(
    x: float, y: float, dx: int, dy: int, width: float, depth: float, half: float
) -> tuple[Point, int]:
    """Where the way out at 45 degrees meets the nail line, and the number of that side."""
    to_x = (width + half - x) if dx > 0 else x + half
    to_y = (depth + half - y) if dy > 0 else y + half
    reach = min(to_x, to_y)
    across = (1 if dx > 0 else 3) if to_x <= to_y else (2 if dy > 0 else 0)
    return (x + dx * reach, y + dy * reach), across


def level(deck: Deck, standing: Standing, tied: Sequence[float] | float | None = None) -> Heights:
    """Heights written down: every spring at ``tied`` (None: the deck's tied height)."""
    own = deck.tying.tied_height
    heights = np.broadcast_to(
        np.asarray(own if tied is None else tied, float), (len(standing.ids),)
    )
    return Heights(heights.copy(), 1 - heights / 152, own, 152, 1 - own / 152, None)
