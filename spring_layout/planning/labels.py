"""Spring labels: rows lettered from the back, springs numbered from the left: A1, A2, B1 ...

A row is a side-to-side line, worked out even when that run is off. A join by hand of two springs
that stand more behind each other than beside each other makes a line of that run, but no row:
what the springs are called follows where they stand.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import msgspec

from spring_layout.deck.model import Deck, Pairing, Run
from spring_layout.planning.parts import Standing
from spring_layout.planning.tying import courses_of, solve_run

ROWS: Run = "side-to-side"

MOST_SLANT = 45.0
"""degrees from the side-to-side course. Joined springs that stand further out of it make no row."""


def rows_of(standing: Standing) -> tuple[tuple[str, ...], ...]:
    """The springs in rows, from the back; each row from the left."""
    if not standing.ids:
        return ()
    solved = solve_run(_without_columns(standing), ROWS)
    centres, ids = solved.task.standing.centres, solved.task.standing.ids
    chains = sorted(
        solved.ends.chains,
        key=lambda chain: (float(centres[list(chain), 1].mean()), float(centres[chain[0], 0])),
    )
    return tuple(tuple(ids[i] for i in chain) for chain in chains)


def _without_columns(standing: Standing) -> Standing:
    """The same springs without the joins that make no row."""
    tying = standing.deck.tying
    if all(join.run != ROWS for join in tying.joins):
        return standing
    courses = courses_of(standing).springs[ROWS]
    joins = tuple(
        join
        for join in tying.joins
        if join.run != ROWS or _slant(standing, courses.tolist(), join) <= MOST_SLANT
    )
    return replace(standing, deck=_joined(standing.deck, joins))


def _joined(deck: Deck, joins: tuple[Pairing, ...]) -> Deck:
    return msgspec.structs.replace(deck, tying=msgspec.structs.replace(deck.tying, joins=joins))


def _slant(standing: Standing, courses: Sequence[float], join: Pairing) -> float:
    """How far the way between the joined springs lies out of the course, degrees up to 90."""
    first, second = (standing.index[spring] for spring in join.springs)
    across, along = (standing.centres[second] - standing.centres[first]).tolist()
    course = (courses[first] + courses[second]) / 2
    turn = math.degrees(math.atan2(along, across) - course) % 180.0
    return min(turn, 180.0 - turn)


def labels_of(rows: Sequence[Sequence[str]]) -> Mapping[str, str]:
    """The label of each spring of ``rows``: the row's letters, then its number from 1."""
    return {
        name: f"{row_letters(i)}{k + 1}" for i, row in enumerate(rows) for k, name in enumerate(row)
    }


def row_letters(number: int) -> str:
    """The letters of row ``number`` from 0: A ... Z, AA, AB ... AZ, BA ..."""
    letters = ""
    number += 1
    while number:
        number, last = divmod(number - 1, 26)
        letters = chr(ord("A") + last) + letters
    return letters
