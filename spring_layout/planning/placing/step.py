"""One step of spacing evenly: the best small move, from how everything changes around here.

Distances and rules are taken as linear forms of the springs' moves, which they are for small
ones; what remains is a linear programme (``scipy.optimize.linprog``). Moves are counted in steps
of ``reach`` mm, and shares in the mm of the larger wish, so that all numbers are near 1.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from spring_layout.planning.parts import Array
from spring_layout.planning.placing.keep import Rules
from spring_layout.planning.placing.measure import Shares

Index = NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class Lines:
    """Linear forms: ``value + changes @ y``; ``changes`` sparse (k, r), per mm of each move."""

    value: Array
    changes: Any

    def some(self, rows: NDArray[Any]) -> "Lines":
        """The forms of ``rows``, a mask or indices."""
        return Lines(self.value[rows], self.changes[rows])

    def steps(self, reach: float, scale: float) -> "Lines":
        """The same counted in steps of ``reach`` mm, at ``scale`` mm a unit of value."""
        return Lines(self.value * scale / reach, self.changes * scale)

    def above_ground(self) -> "Lines":
        """The same, those below 0 taken to be at 0."""
        return Lines(np.maximum(self.value, 0.0), self.changes)

    def most(self) -> Array:
        """(k,) how far each form can change in one step."""
        return np.asarray(abs(self.changes).sum(axis=1)).ravel()


def together(*lines: Lines) -> Lines:
    """Several sets of forms as one."""
    from scipy.sparse import vstack

    changes = vstack([one.changes for one in lines]).tocsr()
    return Lines(np.concatenate([one.value for one in lines]), changes)


@dataclass(frozen=True, eq=False)
class Move:
    """``by``: (n, 2) the move, mm; ``gain``: how far the smallest raised form should rise."""

    by: Array
    gain: float


def share_lines(shares: Shares, moves: Any) -> Lines:
    """The shares as linear forms of the independent moves ``moves``, sparse (2 n, r)."""
    rows = np.arange(len(shares.value))
    pair = shares.second >= 0
    entries = [
        (rows, 2 * shares.first, shares.gradient[:, 0]),
        (rows, 2 * shares.first + 1, shares.gradient[:, 1]),
        (rows[pair], 2 * shares.second[pair], -shares.gradient[pair, 0]),
        (rows[pair], 2 * shares.second[pair] + 1, -shares.gradient[pair, 1]),
    ]
    return Lines(shares.value, _sparse(entries, len(rows), moves))


def rule_lines(rules: Rules, moves: Any) -> Lines:
    """The rules as linear forms of the independent moves."""
    rows = np.arange(len(rules.value))
    entries = [
        (rows, 2 * rules.springs[:, who] + axis, rules.gradient[:, who, axis])
        for who in range(3)
        for axis in range(2)
    ]
    return Lines(rules.value, _sparse(entries, len(rows), moves))


def _sparse(entries: list[tuple[Index, Index, Array]], count: int, moves: Any) -> Any:
    from scipy.sparse import coo_array

    rows, columns, values = (np.concatenate(part) for part in zip(*entries, strict=True))
    made = coo_array((values, (rows, columns)), shape=(count, moves.shape[0])).tocsr()
    return (made @ moves).tocsr()


def best_move(
    raised: Lines,
    kept: Lines,
    moves: Any,
    reach: float,
    scale: float,
    enough: float | None = None,
) -> Move:
    """The move of at most ``reach`` mm that lifts the smallest of ``raised`` the most.

    No more than by ``enough``, where that is given.
    ``kept`` are forms that may not sink below 0; those that have are brought back, half a step's
    worth at once, or where that cannot be done at least kept from sinking further. ``moves``:
    sparse (2 n, r). The move is none where the linear programme cannot be solved.
    """
    base = float(raised.value.min())
    up = Lines(raised.value - base, raised.changes).steps(reach, scale)
    most = up.most()
    up = up.some(up.value - most <= (up.value + most).min() + 1e-9)
    guard = _near(kept, reach, scale)
    height = np.ones((len(up.value), 1))
    limits: list[tuple[float, float | None]] = [
        (0.0, None if enough is None else enough * scale / reach)
    ]
    answer = _solve(up, height, limits, guard)
    if answer is None and (guard.value < 0).any():
        answer = _solve(up, height, limits, guard.above_ground())
    if answer is None:
        return Move(np.zeros((moves.shape[0] // 2, 2)), 0.0)
    by = (moves @ (answer[:-1] * reach)).reshape(-1, 2)
    return Move(by, float(answer[-1]) * reach / scale)


def stuck(lowest: Lines, others: Lines, kept: Lines, reach: float, scale: float) -> Index:
    """Which of ``lowest``, forms that stand at the same height, no small move can raise.

    A move may raise any of them; none of them nor of ``others`` may sink below that height, none
    of ``kept`` below 0. Each is asked to rise by a hair; those that can, can all at once, as the
    mean of moves that raise one each raises all.
    """
    base = float(lowest.value.min())
    here = Lines(np.zeros(len(lowest.value)), lowest.changes).steps(reach, scale)
    floor = Lines(others.value - base, others.changes)
    guard = together(_near(floor, reach, scale), _near(kept, reach, scale)).above_ground()
    from scipy.sparse import eye_array

    count = len(lowest.value)
    answer = _solve(here, HAIR * eye_array(count), [(0.0, 1.0)] * count, guard)
    if answer is None:
        return np.arange(count)
    return np.flatnonzero(answer[-count:] < 0.5)


HAIR = 1e-3
"""steps. How far a share must be able to rise to count as free."""


def _near(kept: Lines, reach: float, scale: float) -> Lines:
    """Those of the forms that one step could bring below 0, in steps; those below come back."""
    steps = kept.steps(reach, scale)
    most = steps.most()
    steps = Lines(np.maximum(steps.value, -most / 2), steps.changes)
    return steps.some(steps.value <= most)


def _solve(
    up: Lines, heights: Any, limits: list[tuple[float, float | None]], guard: Lines
) -> Array | None:
    """Moves in [-1, 1] and heights h within ``limits``, with the largest sum of heights.

    Each form of ``up`` comes to its row of ``heights @ h`` at least, each of ``guard`` to 0.
    """
    from scipy.optimize import linprog
    from scipy.sparse import csr_array, hstack, vstack

    width, extra = up.changes.shape[1], len(limits)
    both = vstack([-up.changes, -guard.changes])
    added = vstack([csr_array(heights), csr_array((len(guard.value), extra))])
    bounds: Any = [(0.0, 1.0)] * (2 * width) + limits
    answer = linprog(
        np.concatenate([np.full(2 * width, REST / width), np.full(extra, -1.0)]),
        A_ub=hstack([both, -both, added]).tocsr(),
        b_ub=np.concatenate([up.value, guard.value]),
        bounds=bounds,
        method="highs-ds",
    )
    if answer.x is None:
        return None
    there, back, height = np.split(answer.x, [width, 2 * width])
    return np.concatenate([there - back, height])


REST = 1e-4
"""steps. What the whole of a move costs against the height it brings, so that springs which need
not move stay where they are."""
