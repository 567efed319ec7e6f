"""One run tied: the cheapest lines where they keep the rules, else the best that do."""

from dataclasses import dataclass

import numpy as np

from spring_layout.planning.tying.cover import chains_of, cheapest_links, clashes, sharp_bends
from spring_layout.planning.tying.ends import Ends, choose_ends
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
        return Solved(task, choose_ends(task, chains, settled=False), cost, cost, proved=False)
    if not len(sharp_bends(task, chosen)) and not len(clashes(task, chosen)):
        ends = choose_ends(task, chains)
        if ends.is_clear:
            return Solved(task, ends, cost, cost, proved=True)
    return _searched(task, cost)


def _searched(task: Task, bound: float) -> Solved:
    """The best lines whose tacks stand apart; or with tacks nearer, if that breaks fewer rules."""
    found, spaced = Search(task).run(), True
    if found.breaks:
        crowded = Search(task, spaced=False).run()
        if crowded.breaks < found.breaks:
            found, spaced = crowded, False
    ends = choose_ends(task, found.chains, found.ways, spaced)
    cost = task.cost(found.chains) * COST_STEP
    return Solved(task, ends, cost, max(bound, min(found.bound, cost)), found.proved)


def without_singles(ends: Ends) -> Ends:
    """The same lines without those over a single spring ("short corner ties off")."""
    kept = np.array([i for i, chain in enumerate(ends.chains) if len(chain) > 1], np.intp)
    return ends.only(kept)
