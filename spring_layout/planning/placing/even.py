"""Space evenly: move the springs that are not held until the spacing is as even as it can be.

The measure is that of ``measure``, the way up is that of ``climb``. Where rows are to be kept and
start out crooked, they are straightened first; where a deck is meant to be symmetric and nearly
is, it is made so first. If that costs evenness, so that the result would be worse than the start,
the springs climb from where they stand instead. Springs without rows to keep are shaken when they
are stuck.
"""

from collections.abc import Collection, Iterator
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from spring_layout.planning.parts import Array, Standing
from spring_layout.planning.placing.canonical import look_at
from spring_layout.planning.placing.climb import Climb, Task
from spring_layout.planning.placing.keep import Constraints, keeper_of
from spring_layout.planning.placing.measure import Wish, compare
from spring_layout.planning.placing.step import Lines, best_move, rule_lines
from spring_layout.planning.placing.symmetry import even_moves, nearly_symmetric, symmetries
from spring_layout.tolerances import EVEN_TOLERANCE

NOTHING_KEPT = Constraints()

ROW_WORTH = 0.02
"""mm a mm. Rows are not moved for less: tilting one by a degree lengthens it by a hair, which
would raise its gaps a little and spoil all the others."""

WORTH = 1e-3
"""mm a mm. The same without rows: a spring that slides along an edge for less has arrived."""

ROW_EASE = 1e-3
"""share. Between rows, heights that differ by less are the same: 0.05 mm of a 50 mm gap."""

SHAKE = 0.03
"""pitches, a few mm: how far a shake moves springs that are stuck, about."""

SHAKES_IN_VAIN = 2
"""shakes in a row that bring nothing better end the search."""

SHAKES_MOST = 8
"""shakes in all: equal within a tolerance is not equal for good, so that better and better could
lead round in a ring."""

SHAKE_SEED = 1
"""Shakes are the same every time, so that the result is."""

STRAIGHTEN_ROUNDS = 60
"""steps. Straightening a row takes a handful; one that is not straight after these stays so."""

STRAIGHT_ENOUGH = 1e-4
"""sine. A bend over its limit by less is no crooked row."""


def even_out(
    standing: Standing,
    held: Collection[str] | None = None,
    gap: float | None = None,
    clearance: float | None = None,
    constraints: Constraints = NOTHING_KEPT,
) -> Array:
    """(n, 2) the places of the springs of ``standing``, spaced as evenly as they can be, mm.

    ``held``: ids of springs that stay (None: those that the deck holds). ``gap`` and
    ``clearance``: the wished distances, mm (None: the deck's); 0 leaves one out, except that no
    ring may pass the edge and rings may not come to overlap. The result is never worse than the
    start by the measure, and is the start itself where nothing better is found; a symmetric deck
    stays so. Raises ValueError, with one sentence, for a wish that is no distance, an unknown
    id, or a row that names no spring.
    """
    places = standing.centres
    for places in even_out_steps(standing, held, gap, clearance, constraints):  # noqa: B007 - the last one counts
        pass
    return places


def even_out_steps(
    standing: Standing,
    held: Collection[str] | None = None,
    gap: float | None = None,
    clearance: float | None = None,
    constraints: Constraints = NOTHING_KEPT,
    levels: int | None = None,
) -> Iterator[Array]:
    """The places on the way to ``even_out``'s, each better than the start; the last is its result.

    Nothing comes where nothing better is found. Stop whenever you like: every value is usable.
    ``levels`` stops after so many heights (1: only the smallest share is raised). Arguments and
    errors as for ``even_out``, raised at once.
    """
    spacing = standing.deck.spacing
    wish = Wish(
        spacing.gap if gap is None else gap,
        spacing.clearance if clearance is None else clearance,
    )
    fast = _held_rows(standing, held)
    _check_rows(constraints, len(fast))
    if fast.all():
        return iter(())
    return _seen(standing, fast, wish, constraints, levels)


def _held_rows(standing: Standing, held: Collection[str] | None) -> NDArray[np.bool_]:
    if held is None:
        held = {spring.id for spring in standing.deck.springs if spring.held}
    for name in held:
        if name not in standing.index:
            raise ValueError(f"No spring is called {name!r}: name springs of this deck to hold.")
    return np.array([name in held for name in standing.ids], bool)


def _check_rows(constraints: Constraints, count: int) -> None:
    for row in constraints.rows:
        if any(not 0 <= spring < count for spring in row) or len(set(row)) != len(row):
            raise ValueError(
                f"The row {row} does not fit the deck: it must name each of its springs once,"
                f" by numbers from 0 to {count - 1}."
            )


def _seen(
    standing: Standing,
    fast: NDArray[np.bool_],
    wish: Wish,
    constraints: Constraints,
    levels: int | None,
) -> Iterator[Array]:
    """``_attempts`` looked at in the one way that is the same for like decks."""
    look = look_at(standing, fast)
    seen = replace(
        standing, centres=look.places(standing.centres), radii=standing.radii[look.order]
    )
    for places in _attempts(seen, fast[look.order], wish, look.rows(constraints), levels):
        found = look.back(places)
        found[fast] = standing.centres[fast]
        yield found


def _attempts(
    standing: Standing,
    fast: NDArray[np.bool_],
    wish: Wish,
    constraints: Constraints,
    levels: int | None,
) -> Iterator[Array]:
    """Climb from the mended start, or, where that comes out worse than the start, from there."""
    first = task_of(standing, fast, wish, constraints)
    before = first.measure(standing.centres)
    for task, start, least in _starts(first, standing, fast, wish, constraints):
        best = None
        for places in _climbed(task, start, levels):
            if compare(task.measure(places), before, max(EVEN_TOLERANCE, task.ease)) >= least:
                best = places
                yield places
        if best is not None:
            return


def _climbed(task: Task, start: Array, levels: int | None) -> Iterator[Array]:
    places = start
    yield places
    for places in Climb(task, start).steps(levels):
        yield places
    if levels is None and len(task.keeper.triples) == 0:
        yield from _shaken(task, places)


def _shaken(task: Task, places: Array) -> Iterator[Array]:
    """Shake the springs a little and climb again, as long as that brings something better.

    Springs jammed in a straight line from side to side are stuck for any small move, though they
    would have more room zigzag. Where rows are kept, that line is wanted.
    """
    chance, tries = np.random.default_rng(SHAKE_SEED), 0
    best = task.measure(places)
    for _ in range(SHAKES_MOST):
        way = task.moves @ chance.normal(scale=SHAKE * task.pitch, size=task.moves.shape[1])
        climb = Climb(task, places + way.reshape(-1, 2))
        for _step in climb.steps(None):
            yield places
        found = task.measure(climb.places)
        tries += 1
        if compare(found, best) == 1:
            places, best, tries = climb.places, found, 0
            yield places
        if tries == SHAKES_IN_VAIN:
            return


def _starts(
    first: Task,
    standing: Standing,
    fast: NDArray[np.bool_],
    wish: Wish,
    constraints: Constraints,
) -> Iterator[tuple[Task, Array, int]]:
    """The places to climb from, in the order to try them, with how they must compare to count."""
    task, start = first, standing.centres
    if constraints.symmetry > 0:
        start = nearly_symmetric(
            standing.outline, start, standing.radii, fast, constraints.symmetry
        )
        if start is not standing.centres:
            task = task_of(replace(standing, centres=start), fast, wish, constraints)
    straight = straightened(task, start)
    if straight is not standing.centres:
        yield replace(task, start=straight), straight, 0
    yield first, standing.centres, 1


def task_of(
    standing: Standing, fast: NDArray[np.bool_], wish: Wish, constraints: Constraints
) -> Task:
    """What to know for evening out ``standing`` with the springs ``fast`` (n,) held."""
    outline, centres, radii = standing.outline, standing.centres, standing.radii
    motions = symmetries(outline, centres, radii, fast)
    return Task(
        outline=outline,
        radii=radii,
        wish=wish,
        keeper=keeper_of(outline, centres, constraints),
        moves=_sparse_moves(even_moves(motions, np.flatnonzero(~fast)), len(fast)),
        pitch=float(np.sqrt(outline.polygon.area / len(fast))),
        start=centres,
        worth=ROW_WORTH if constraints.rows else WORTH,
        ease=ROW_EASE if constraints.rows else 0.0,
    )


def _sparse_moves(entries: tuple[NDArray[np.intp], NDArray[np.intp], Array], count: int) -> Any:
    from scipy.sparse import coo_array

    rows, columns, values = entries
    width = int(columns.max(initial=-1)) + 1
    return coo_array((values, (rows, columns)), shape=(2 * count, width)).tocsr()


def straightened(task: Task, places: Array) -> Array:
    """``places``, mm, with crooked rows straightened as far as can be; the same where none is."""
    reach = task.pitch / 8
    for _ in range(STRAIGHTEN_ROUNDS):
        bend = task.keeper.bend_rules(places)
        worst = float(bend.value.min(initial=0.0))
        if worst >= -STRAIGHT_ENOUGH or reach < task.pitch / 1000:
            break
        order = rule_lines(task.keeper.order_rules(places), task.moves)
        lines = rule_lines(bend, task.moves)
        lines = Lines(np.minimum(lines.value, 0.0), lines.changes)
        move = best_move(lines, order, task.moves, reach, task.pitch, -worst)
        if move.gain < STRAIGHT_ENOUGH:
            break
        after = float(task.keeper.bend_rules(places + move.by).value.min())
        if after - worst < 0.25 * move.gain:
            reach /= 3
            continue
        places = places + move.by
    return places
