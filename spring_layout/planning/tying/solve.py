"""One run tied: the cheapest lines where they keep the rules, else the best that do."""

from dataclasses import dataclass

import numpy as np

from spring_layout.planning.tying.cover import chains_of, cheapest_links, clashes, sharp_bends
from spring_layout.planning.tying.ends import NO_WAY, Choice, Ends
from spring_layout.planning.tying.search import Search
from spring_layout.planning.tying.task import Task
from spring_layout.tolerances import COST_STEP


@dataclass(frozen=True, eq=False)
class Solved:
    """The lines of one run and their ways out; cost and bound in pitches."""

    task: Task
    ends: Ends
    cost: float
    bound: float
    proved: bool


def solve(task: Task) -> Solved:
    """The lines of ``task``."""
    chosen = cheapest_links(task)
    chains = chains_of(task, chosen)
    cost = task.cost(chains) * COST_STEP
    if task.ground.is_heap:
        choice = Choice(task, chains, spaced=False)
        return Solved(task, choice.ends(choice.each_best()), cost, cost, proved=False)
    if not len(sharp_bends(task, chosen)) and not len(clashes(task, chosen)):
        choice = Choice(task, chains, spaced=True)
        ways = choice.made()
        if (ways != NO_WAY).all():
            return Solved(task, choice.ends(ways), cost, cost, proved=True)
    return _searched(task, cost)


def _searched(task: Task, bound: float) -> Solved:
    """The best lines whose tacks stand apart; or with tacks nearer, if that breaks fewer rules."""
    search, spaced = Search(task), True
    found = search.run()
    if found.breaks:
        crowded = Search(task, spaced=False)
        other = crowded.run()
        if other.breaks < found.breaks:
            search, found, spaced = crowded, other, False
    choice = Choice(task, found.chains, spaced)
    ways = choice.made()
    if (ways == NO_WAY).sum() > (found.ways == NO_WAY).sum():
        ways = search.ways_for(found.chains, choice.scores)
    cost = task.cost(found.chains) * COST_STEP
    return Solved(task, choice.ends(ways), cost, max(bound, min(found.bound, cost)), found.proved)


def without_singles(ends: Ends) -> Ends:
    """The same lines without those over a single spring ("short corner ties off")."""
    kept = np.array([i for i, chain in enumerate(ends.chains) if len(chain) > 1], np.intp)
    return ends.only(kept)
