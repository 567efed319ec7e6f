"""Spring labels: rows lettered from the back, springs numbered from the left: A1, A2, B1 ...

A row is a side-to-side line, worked out even when that run is off.
"""

from collections.abc import Mapping, Sequence

from spring_layout.planning.parts import Standing
from spring_layout.planning.tying import solve_run


def rows_of(standing: Standing) -> tuple[tuple[str, ...], ...]:
    """The springs in rows, from the back; each row from the left."""
    if not standing.ids:
        return ()
    solved = solve_run(standing, "side-to-side")
    centres, ids = solved.task.standing.centres, solved.task.standing.ids
    chains = sorted(
        solved.ends.chains,
        key=lambda chain: (float(centres[list(chain), 1].mean()), float(centres[chain[0], 0])),
    )
    return tuple(tuple(ids[i] for i in chain) for chain in chains)


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
