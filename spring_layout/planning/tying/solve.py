"""One run tied: the cheapest lines where they keep the rules, else the best that do."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from spring_layout.planning.tying.branching import Branching
from spring_layout.planning.tying.cover import Cover, cheapest, cover_of
from spring_layout.planning.tying.ends import NO_WAY, Choice, Ends
from spring_layout.planning.tying.exits import Exits, exits_of
from spring_layout.planning.tying.search import Found, Search
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


def solve(tasks: Sequence[Task]) -> list[Solved]:
    """The lines of some runs of one deck."""
    covers = [cheapest(task) for task in tasks]
    taken = [cover for cover in covers if cover.task.ground.is_heap or cover.is_sound]
    exits = dict(zip(map(id, taken), exits_of(taken), strict=True))
    return [_solved(cover, exits.get(id(cover))) for cover in covers]


def _solved(cover: Cover, exits: Exits | None) -> Solved:
    task, cost = cover.task, cover.cost * COST_STEP
    if exits and task.ground.is_heap:
        choice = Choice(cover, exits, spaced=False)
        return Solved(task, choice.ends(choice.each_best()), cost, cost, proved=False)
    if exits:
        choice = Choice(cover, exits, spaced=True)
        ways = choice.made()
        if (ways != NO_WAY).all():
            return Solved(task, choice.ends(ways), cost, cost, proved=True)
    return _searched(task, cost)


def _searched(task: Task, bound: float) -> Solved:
    """The best lines whose tacks stand apart; or with tacks nearer, if that breaks fewer rules."""
    found, spaced = _branched(task) or _counted(task)
    cover = cover_of(task, found.chains)
    choice = Choice(cover, exits_of([cover])[0], spaced)
    ways = choice.made()
    if (ways == NO_WAY).sum() > found.unled:
        ways = Search(task, spaced).ways_for(found.chains, choice.scores)
    cost = cover.cost * COST_STEP
    return Solved(task, choice.ends(ways), cost, max(bound, min(found.bound, cost)), found.proved)


def _branched(task: Task) -> tuple[Found, bool] | None:
    """The best lines, and whether their tacks stand apart; None where that takes too long."""
    branching = Branching(task)
    found = branching.run()
    if found is None or not (found.breaks and branching.minds_spacing):
        return None if found is None else (found, True)
    crowded = Branching(task, spaced=False).run() or Search(task, spaced=False).run()
    return (crowded, False) if crowded.breaks < found.breaks else (found, True)


def _counted(task: Task) -> tuple[Found, bool]:
    """The same by the search over the whole."""
    search = Search(task)
    found = search.run()
    if found.breaks and search.minds_spacing:
        crowded = Search(task, spaced=False).run()
        if crowded.breaks < found.breaks:
            return crowded, False
    return found, True


def without_singles(ends: Ends) -> Ends:
    """The same lines without those over a single spring ("short corner ties off")."""
    kept = np.array([i for i, chain in enumerate(ends.chains) if len(chain) > 1], np.intp)
    return ends.only(kept)
