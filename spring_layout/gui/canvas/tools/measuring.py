"""Which dimension lines stand round a spring in the hand, from the gaps of the deck on show."""

import numpy as np

from spring_layout.gui.canvas.layers.guides import Dimension
from spring_layout.gui.workbench import Workbench
from spring_layout.planning.parts import Spaces, Standing

MOST_GAPS, MOST_SIDES = 4, 2
"""How many gaps and distances from the rail are shown at most: the nearest ones."""
FAR = 1.5
"""Times the widest gap shown; a side farther away than that has other springs before it."""


def dimensions_of(bench: Workbench, spring: str, among: frozenset[str]) -> list[Dimension]:
    """Gaps to the spring's neighbours and distances from its nearest sides, with numbers.

    Gaps between two springs of ``among`` (all in the hand) are left out: they do not change.
    """
    standing, spaces = bench.planner.standing, bench.planner.spaces
    if standing is None or spaces is None or spring not in standing.index:
        return []
    row = standing.index[spring]
    gaps = _gaps(bench, standing, spaces, row, among)
    return [*gaps, *_clearances(bench, standing, spaces, row)]


def _gaps(
    bench: Workbench, standing: Standing, spaces: Spaces, row: int, among: frozenset[str]
) -> list[Dimension]:
    pairs = [
        (float(gap), int(b if a == row else a))
        for (a, b), gap in zip(spaces.neighbours, spaces.neighbour_gaps, strict=True)
        if row in (a, b)
    ]
    pairs = [pair for pair in sorted(pairs) if standing.ids[pair[1]] not in among]
    found = []
    for gap, other in pairs[:MOST_GAPS]:
        way = standing.centres[other] - standing.centres[row]
        apart = float(np.hypot(*way))
        if apart > 0:
            start = standing.centres[row] + way / apart * standing.radii[row]
            finish = standing.centres[other] - way / apart * standing.radii[other]
            found.append(_dimension(bench, start, finish, gap))
    return found


def _clearances(bench: Workbench, standing: Standing, spaces: Spaces, row: int) -> list[Dimension]:
    to_sides = spaces.side_clearances[row]
    beside = spaces.neighbour_gaps[(spaces.neighbours == row).any(axis=1)]
    widest = float(np.sort(beside)[:MOST_GAPS].max()) if len(beside) else np.inf
    found = []
    for side in np.argsort(to_sides, kind="stable")[:MOST_SIDES]:
        if to_sides[side] > widest * FAR:
            continue
        curve = standing.outline.sides[side]
        edge = curve.point(curve.nearest_along(standing.centres[row]))
        way = edge - standing.centres[row]
        away = float(np.hypot(*way))
        if away > 0:
            start = standing.centres[row] + way / away * standing.radii[row]
            found.append(_dimension(bench, start, edge, float(to_sides[side])))
    return found


def _dimension(bench: Workbench, start: np.ndarray, finish: np.ndarray, mm: float) -> Dimension:
    begin, end = (float(start[0]), float(start[1])), (float(finish[0]), float(finish[1]))
    return Dimension(begin, end, bench.length(mm, unit=False))
