"""Where a spring in the hand settles: in line, on the middle, mirrored, between equal gaps.

Pure geometry on places and radii (mm); each way of settling says why, in the trade's words.
Only one coordinate at a time is pulled, so that a spring can line up with a row and stand
between equal gaps at once.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spring_layout.tolerances import SAME_PLACE

Array = NDArray[np.float64]
Place = tuple[float, float]


@dataclass(frozen=True)
class Others:
    """The springs that stay: their labels, (n, 2) centres and (n,) radii; the deck's middle x.

    ``strips`` are the middles of webbing strips that the user has laid by hand: (0 for x or 1
    for y, mm).
    """

    labels: tuple[str, ...]
    centres: Array
    radii: Array
    middle: float
    strips: tuple[tuple[int, float], ...] = ()


@dataclass(frozen=True)
class Pull:
    """One coordinate ("x" or "y") that a spring may settle at, and why; ``guides`` are springs."""

    axis: int
    value: float
    why: str
    guides: tuple[int, ...] = ()
    rank: int = 0


@dataclass(frozen=True)
class Settled:
    """Where the spring settles, the reasons, and the lines from it to the springs that say so."""

    place: Place
    reasons: tuple[str, ...] = ()
    guides: tuple[tuple[Place, Place], ...] = ()


def settle(place: Place, radius: float, others: Others, reach: float) -> Settled:
    """``place`` drawn to the best pull within ``reach`` mm on each axis."""
    at, pulls = list(place), []
    for axis in (1, 0):
        best = _best(list(_pulls(axis, (at[0], at[1]), radius, others)), at[axis], reach)
        if best is not None:
            at[axis] = best.value
            pulls.append(best)
    settled = (at[0], at[1])
    lines = [
        (settled, (float(others.centres[i][0]), float(others.centres[i][1])))
        for pull in pulls
        for i in pull.guides
    ]
    return Settled(settled, tuple(pull.why for pull in pulls), tuple(lines))


def _best(pulls: list[Pull], value: float, reach: float) -> Pull | None:
    near = [pull for pull in pulls if abs(pull.value - value) <= reach]
    return min(near, key=lambda pull: (pull.rank, abs(pull.value - value)), default=None)


def _pulls(axis: int, place: Place, radius: float, others: Others) -> Iterator[Pull]:
    if axis == 0:
        yield Pull(0, others.middle, "on the middle line", rank=1)
        yield from _mirrored(place, others)
    for along, value in others.strips:
        if along == axis:
            yield Pull(axis, value, "over a strip of webbing", rank=2)
    if len(others.labels):
        yield from _between(axis, place, radius, others)
        yield from _in_line(axis, place, others)


def _in_line(axis: int, place: Place, others: Others) -> Iterator[Pull]:
    """In line with the nearest spring of each row or column."""
    away = np.hypot(*(others.centres - place).T)
    for i in np.argsort(away, kind="stable")[:8]:
        value = float(others.centres[i][axis])
        yield Pull(axis, value, f"in line with {others.labels[i]}", (int(i),), rank=2)


def _mirrored(place: Place, others: Others) -> Iterator[Pull]:
    """As far from the middle line as a spring of the same row on the other side."""
    for i, (x, y) in enumerate(others.centres):
        opposite = (x - others.middle) * (place[0] - others.middle) < 0
        if opposite and abs(y - place[1]) < SAME_PLACE:
            yield Pull(0, float(2 * others.middle - x), f"mirrors {others.labels[i]}", (i,), 1)


def _between(axis: int, place: Place, radius: float, others: Others) -> Iterator[Pull]:
    """Between two springs of its row (or column) with equal gaps."""
    low = _neighbour(axis, place, radius, others, -1)
    high = _neighbour(axis, place, radius, others, +1)
    if low is None or high is None:
        return
    a, b = others.centres[low], others.centres[high]
    across = 1 - axis
    in_row = abs(a[across] - place[across]) < SAME_PLACE and abs(b[across] - place[across]) < (
        SAME_PLACE
    )
    if in_row:
        value = (a[axis] + others.radii[low] + b[axis] - others.radii[high]) / 2
        why = f"equal gaps to {others.labels[low]} and {others.labels[high]}"
        yield Pull(axis, float(value), why, (low, high), rank=0)


def _neighbour(axis: int, place: Place, radius: float, others: Others, way: int) -> int | None:
    """The nearest spring that way along ``axis`` whose ring stands in this spring's row."""
    ahead = (others.centres[:, axis] - place[axis]) * way
    aside = np.abs(others.centres[:, 1 - axis] - place[1 - axis])
    rows = np.flatnonzero((ahead > 0) & (aside < (others.radii + radius) / 2))
    return int(rows[ahead[rows].argmin()]) if len(rows) else None
