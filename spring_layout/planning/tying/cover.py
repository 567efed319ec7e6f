"""The cheapest lines over all springs, without the rules that join two links.

Without those rules the lines are a minimum-cost path cover of the forward links, which is an
assignment problem: every spring is assigned the one that follows it, or none. Its cost is the
bound that no set of lines can be under.
"""

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

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


@dataclass(frozen=True, eq=False)
class Cover:
    """The lines that the links ``chosen`` (k,) make; m lines, each from its first spring."""

    task: Task
    chains: list[Chain]
    chosen: Rows

    @cached_property
    def springs(self) -> Rows:
        """(m, 2) the first and the last spring of each line."""
        return np.array([(c[0], c[-1]) for c in self.chains], np.intp).reshape(-1, 2)

    @cached_property
    def singles(self) -> Rows:
        """The lines over one spring."""
        return np.flatnonzero(self.springs[:, 0] == self.springs[:, 1])

    @cached_property
    def outward(self) -> Array:
        """(m, 2) each line's own direction at its ends, outward; nan over one spring."""
        links, angles = self.task.links, np.full((self.task.count, 2), np.nan)
        angles[links.first[self.chosen], 0] = links.angle[self.chosen] + np.pi
        angles[links.second[self.chosen], 1] = links.angle[self.chosen]
        return angles[self.springs, (0, 1)]

    @cached_property
    def cost(self) -> int:
        """What the lines cost, micro-pitches."""
        task, ends = self.task, self.task.end_costs
        begun = len(self.chains) * task.price
        links = int(task.links.cost[self.chosen].sum())
        return begun + links + int(ends[self.springs, (0, 1)].sum())

    @cached_property
    def link_pieces(self) -> tuple[Array, Rows]:
        """(k, 4) the lines' links as pieces, and (k,) whose line each is."""
        line = np.zeros(self.task.count, np.intp)
        for number, chain in enumerate(self.chains):
            line[list(chain)] = number
        return self.task.pieces[self.chosen], line[self.task.links.first[self.chosen]]

    @cached_property
    def is_sound(self) -> bool:
        """Whether no line bends too much, and none crosses or touches another."""
        return not (
            len(sharp_bends(self.task, self.chosen)) or len(clashes(self.task, self.chosen))
        )

    def only(self, rows: Rows) -> "Cover":
        """Some of the lines."""
        chains = [self.chains[i] for i in rows.tolist()]
        return cover_of(self.task, chains)


def cover_of(task: Task, chains: list[Chain]) -> Cover:
    """The cover whose lines are ``chains``."""
    steps = [task.link_at[step] for chain in chains for step in pairwise(chain)]
    return Cover(task, chains, np.array(steps, np.intp))


def cheapest(task: Task) -> Cover:
    """The cheapest lines over all springs."""
    chosen = cheapest_links(task)
    return Cover(task, chains_of(task, chosen), chosen)


def cheapest_links(task: Task) -> Rows:
    """The numbers of the links of the cheapest cover; forced links are always among them."""
    if not len(task.links):
        return np.zeros(0, np.intp)
    worth = _worth(task)
    chosen = _each_cheapest(task, worth)
    return _assigned(task, worth) if chosen is None else chosen


def _worth(task: Task) -> Array:
    """(k,) what each link costs more than the two ends it saves, in steps of the tie-breaker."""
    links, ends = task.links, task.end_costs
    saving = links.cost - ends[links.first, 1] - ends[links.second, 0] - task.price
    if task.forced:
        forced = np.array([pair in task.forced for pair in task.link_at], bool)
        saving = np.where(forced, np.minimum(saving, -1), saving)
    odds = np.floor(task.odds * (ODDS_STEPS / (2 * task.count + 2)))
    return np.asarray(np.minimum(saving * float(ODDS_STEPS) + odds, 0.0))


def _each_cheapest(task: Task, worth: Array) -> Rows | None:
    """Every spring's cheapest link onward, if they all lead to different springs; else None."""
    links, least = task.links, np.zeros(task.count)
    np.minimum.at(least, links.first, worth)
    chosen = np.flatnonzero((worth < 0) & (worth == least[links.first]))
    for springs in (links.first, links.second):
        if len(chosen) and np.bincount(springs[chosen]).max() > 1:
            return None
    return chosen


def _assigned(task: Task, worth: Array) -> Rows:
    """The links of the cheapest assignment."""
    from scipy.optimize import linear_sum_assignment

    links, table = task.links, np.zeros((task.count, task.count))
    table[links.first, links.second] = worth
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
