"""The cheapest lines over all springs, without the rules that join two links.

Without those rules the lines are a minimum-cost path cover of the forward links, which is an
assignment problem: every spring is assigned the one that follows it, or none. Its cost is the
bound that no set of lines can be under.
"""

import numpy as np
import shapely

from spring_layout.planning.parts import Array
from spring_layout.planning.tying.course import DENSE
from spring_layout.planning.tying.links import Links
from spring_layout.planning.tying.task import Chain, Task
from spring_layout.planning.tying.touch import Rows, cross_or_touch, turn_between
from spring_layout.planning.tying.ways import MOST_BEND
from spring_layout.tolerances import SAME_PLACE

ODDS_STEPS = 1 << 18
"""Steps of the tie-breaker to one of cost; sums stay exact in the 53 bits of a float."""


def cheapest_links(task: Task) -> Rows:
    """The numbers of the links of the cheapest cover; forced links are always among them."""
    if not len(task.links):
        return np.zeros(0, np.intp)
    from scipy.optimize import linear_sum_assignment

    links, ends = task.links, task.end_costs
    saving = links.cost - ends[links.first, 1] - ends[links.second, 0] - task.price
    odds = np.floor(task.odds * (ODDS_STEPS / (2 * task.count + 2)))
    table = np.zeros((task.count, task.count))
    forced = np.array([pair in task.forced for pair in task.link_at], bool)
    worth = np.where(forced, np.minimum(saving, -1), saving) * float(ODDS_STEPS) + odds
    table[links.first, links.second] = np.minimum(worth, 0.0)
    first, second = linear_sum_assignment(table)
    follows = np.full(task.count, -1)
    follows[first] = np.where(table[first, second] < 0, second, -1)
    return np.flatnonzero(follows[links.first] == links.second)


def chains_of(task: Task, chosen: Rows) -> list[Chain]:
    """The lines that the ``chosen`` links make, each from its first spring."""
    follows = dict(
        zip(task.links.first[chosen].tolist(), task.links.second[chosen].tolist(), strict=True)
    )
    later = set(follows.values())
    chains = []
    for spring in range(task.count):
        if spring not in later:
            chain = [spring]
            while chain[-1] in follows:
                chain.append(follows[chain[-1]])
            chains.append(tuple(chain))
    return chains


def bends_of(task: Task, chosen: Rows) -> tuple[Rows, Array]:
    """(k, 2) pairs of ``chosen`` links that follow each other, and the (k,) bend between them."""
    links: Links = task.links
    by_second = np.full(task.count, -1, np.intp)
    by_second[links.second[chosen]] = chosen
    before = by_second[links.first[chosen]]
    both = before >= 0
    pairs = np.stack([before[both], chosen[both]], axis=-1)
    return pairs, np.abs(turn_between(links.angle[pairs[:, 0]], links.angle[pairs[:, 1]]))


def sharp_bends(task: Task, chosen: Rows) -> Rows:
    """(k, 2) pairs of ``chosen`` links between which a line bends too much."""
    pairs, bends = bends_of(task, chosen)
    return np.asarray(pairs[bends > MOST_BEND + 1e-9])


def clashes(task: Task, chosen: Rows) -> Rows:
    """(k, 2) pairs of ``chosen`` links that cross or touch without sharing a spring."""
    links, pieces = task.links, task.pieces[chosen]
    if len(chosen) <= DENSE:
        a, b = np.triu_indices(len(chosen), 1)
    else:
        lines = shapely.linestrings(pieces.reshape(-1, 2, 2))
        a, b = shapely.STRtree(lines).query(lines, predicate="dwithin", distance=SAME_PLACE)
        a, b = a[a < b], b[a < b]
    first, second = links.first[chosen], links.second[chosen]
    shared = (first[a] == second[b]) | (second[a] == first[b])
    shared |= (first[a] == first[b]) | (second[a] == second[b])
    bad = ~shared
    bad[bad] = cross_or_touch(pieces[a[bad]], pieces[b[bad]])
    return np.stack([chosen[a[bad]], chosen[b[bad]]], axis=-1)
