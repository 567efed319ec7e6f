"""The least bad ways out of ends that have none which keeps the rules.

Each spring passed over, each line of the run crossed, a tack in a corner and a turn that is too
sharp count one break each; the fewest breaks win, then the way nearest to the aim.
"""

import numpy as np

from spring_layout.planning.parts import Array
from spring_layout.planning.tying.ends import NO_WAY, Ends, Ways
from spring_layout.planning.tying.touch import Rows, meet_each_other, turn_between
from spring_layout.planning.tying.ways import MOST_BEND

A_BREAK = 10.0
"""radians. A break outweighs any departure from the aim."""


def poor_ways(ends: Ends) -> Ways:
    """(m, 2) the ways of the ends that have ``NO_WAY``; ``NO_WAY`` where no rail is met at all.

    Other ends keep theirs. The ends are taken one after another, each minding those before.
    """
    ways = ends.chosen.copy()
    lines, which = np.nonzero(ways == NO_WAY)
    if not len(lines):
        return ways
    springs = np.array([ends.chains[i][-k] for i, k in zip(lines, which, strict=True)], np.intp)
    odds = ends.task.ground.odds.at(ends.task.standing.centres[springs])
    for i in np.argsort(odds, kind="stable"):
        end = int(lines[i]), int(which[i])
        badness = _badness(ends, ways, *end)
        if np.isfinite(badness).any():
            ways[end] = badness.argmin()
    return ways


def _badness(ends: Ends, ways: Ways, line: int, end: int) -> Array:
    """(w,) how bad each way of an end is; infinite where it meets no rail."""
    fan, outward = ends.fan, ends.outward[line, end]
    breaks = fan.over[line, end] + fan.in_corner[line, end] + _crossed(ends, ways, line, end)
    breaks = breaks + (np.abs(turn_between(outward, fan.angle[line, end])) > MOST_BEND + 1e-9)
    off = np.abs(turn_between(ends.aims[line, end], fan.angle[line, end]))
    return np.asarray(np.where(fan.side[line, end] >= 0, A_BREAK * breaks + off, np.inf))


def _crossed(ends: Ends, ways: Ways, line: int, end: int) -> Rows:
    """(w,) how many pieces of the run's other lines each way of an end crosses."""
    lines, which = np.nonzero(ways >= 0)
    taken = ends.way_pieces[lines, which, ways[lines, which]]
    links, owner = ends.cover.link_pieces
    others = np.concatenate([links[owner != line], taken[lines != line]])
    return np.asarray(meet_each_other(ends.way_pieces[line, end], others).sum(axis=1))
