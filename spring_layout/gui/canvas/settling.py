"""Where a spring in the hand settles: in line, on the middle, mirrored, between equal gaps.

Pure geometry on places and radii (mm); each way of settling says why, in the trade's words.
Only one coordinate at a time is pulled, so that a spring can line up with a row and stand
between equal gaps at once.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from spring_layout.gui.canvas.rail_settling import even_with_rail
from spring_layout.tolerances import SAME_PLACE

Array = NDArray[np.float64]
Place = tuple[float, float]
IN_ROW = 1.0
"""mm out of line at which springs still stand in one row: it changes no gap by 0.01 mm."""
ROUNDS = 3
"""How often both coordinates are looked at: where one settles can make or unmake a row."""
STRIP = "over a strip of webbing"


@dataclass(frozen=True)
class Others:
    """The springs that stay: their labels, (n, 2) centres and (n,) radii; the deck's middle x.

    ``strips`` are the middles of webbing strips: (0 for x or 1 for y, mm). ``edge`` is the
    inside edge of the rails, or None where it is not to pull.
    """

    labels: tuple[str, ...]
    centres: Array
    radii: Array
    middle: float
    strips: tuple[tuple[int, float], ...] = ()
    edge: shapely.LinearRing | None = None


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
    at, found = place, dict[int, Pull]()
    for _ in range(ROUNDS):
        before = at
        for axis in (1, 0):
            best = _best(list(_pulls(axis, at, radius, others)), place[axis], reach)
            found.pop(axis, None)
            if best is not None:
                found[axis] = best
            value = place[axis] if best is None else best.value
            at = (value, at[1]) if axis == 0 else (at[0], value)
        if at == before:
            break
    pulls = list(found.values())
    lines = [
        (at, (float(others.centres[i][0]), float(others.centres[i][1])))
        for pull in pulls
        for i in pull.guides
    ]
    return Settled(at, _reasons(at, pulls, others), tuple(lines))


def _reasons(at: Place, pulls: list[Pull], others: Others) -> tuple[str, ...]:
    """Why, once each; a crossing of webbing that it came to stand over is told as well."""
    over = {axis for axis, value in others.strips if abs(value - at[axis]) < SAME_PLACE}
    told = list(dict.fromkeys(pull.why for pull in pulls))
    if len(over) == 2 and len(pulls) == 2:
        told = [why for why in told if why != STRIP] + ["over a crossing of webbing"]
    return tuple(told)


def _best(pulls: list[Pull], value: float, reach: float) -> Pull | None:
    near = [pull for pull in pulls if abs(pull.value - value) <= reach]
    return min(near, key=lambda pull: (pull.rank, abs(pull.value - value)), default=None)


def _pulls(axis: int, place: Place, radius: float, others: Others) -> Iterator[Pull]:
    if axis == 0:
        yield Pull(0, others.middle, "on the middle line", rank=1)
        yield from _mirrored(place, others)
    if len(others.labels):
        yield from _by_gaps(axis, place, radius, others)
        yield from _in_line(axis, place, others)
    for along, value in others.strips:
        if along == axis:
            yield Pull(axis, value, STRIP, rank=2)


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


def _by_gaps(axis: int, place: Place, radius: float, others: Others) -> Iterator[Pull]:
    """Between two springs of its row (or column), or at the row's end, with equal gaps."""
    low = _neighbour(axis, place, radius, others, -1)
    high = _neighbour(axis, place, radius, others, +1)
    if low is not None and high is not None:
        yield from _between(axis, place, others, low, high)
    for near, far, way in ((low, high, +1), (high, low, -1)):
        if near is not None and _is_in_row(axis, place, others, near):
            yield from _next(axis, radius, others, near, way)
            if far is None:
                yield from _before_rail(axis, place, radius, others, near, way)


def _between(axis: int, place: Place, others: Others, low: int, high: int) -> Iterator[Pull]:
    if all(_is_in_row(axis, place, others, i) for i in (low, high)):
        a = others.centres[low][axis] + others.radii[low]
        b = others.centres[high][axis] - others.radii[high]
        why = f"equal gaps to {others.labels[low]} and {others.labels[high]}"
        yield Pull(axis, float((a + b) / 2), why, (low, high), rank=0)


def _next(axis: int, radius: float, others: Others, near: int, way: int) -> Iterator[Pull]:
    """As far from its neighbour as that one from the next spring behind it."""
    at = others.centres[near]
    behind = _neighbour(axis, (at[0], at[1]), others.radii[near], others, -way)
    if behind is None or not _is_in_row(axis, (at[0], at[1]), others, behind):
        return
    apart = abs(at[axis] - others.centres[behind][axis])
    # edge to edge the two gaps are alike where the radii of the outer two make up the difference
    value = at[axis] + way * (apart - others.radii[behind] + radius)
    why = f"the same gap as {others.labels[behind]} to {others.labels[near]}"
    yield Pull(axis, float(value), why, (near, behind), rank=1)


def _before_rail(
    axis: int, place: Place, radius: float, others: Others, near: int, way: int
) -> Iterator[Pull]:
    """As far from the rail as from its only neighbour."""
    if others.edge is None:
        return
    ring = float(others.centres[near][axis] + way * others.radii[near])
    value = even_with_rail(others.edge, axis, place, radius, ring, way)
    if value is not None:
        why = f"as far from the rail as from {others.labels[near]}"
        yield Pull(axis, value, why, (near,), rank=2)


def _is_in_row(axis: int, place: Place, others: Others, spring: int) -> bool:
    return bool(abs(others.centres[spring][1 - axis] - place[1 - axis]) <= IN_ROW)


def _neighbour(axis: int, place: Place, radius: float, others: Others, way: int) -> int | None:
    """The nearest spring that way along ``axis`` whose ring stands in this spring's row."""
    ahead = (others.centres[:, axis] - place[axis]) * way
    aside = np.abs(others.centres[:, 1 - axis] - place[1 - axis])
    rows = np.flatnonzero((ahead > 0) & (aside < (others.radii + radius) / 2))
    return int(rows[ahead[rows].argmin()]) if len(rows) else None
