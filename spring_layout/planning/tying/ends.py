"""Which way out each end of each line takes.

An end takes the way that is nearest to its aim (``exits``). Where two lines of the run would meet,
the ways that least depart from their aims together are sought among all.
"""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from spring_layout.planning.parts import Array
from spring_layout.planning.tying.cover import Cover
from spring_layout.planning.tying.exits import Exits
from spring_layout.planning.tying.task import Chain, Task
from spring_layout.planning.tying.touch import Flags, Rows, meet_each_other, turn_between
from spring_layout.planning.tying.ways import MOST_BEND, Fan

AT_SPRING = -1
"""The way of a line that ends at its spring, its course leaving over a side without a rail."""
NO_WAY = -2
"""An end for which no way out keeps the rules."""
SEARCHES = 4000
"""How many partial choices are looked at where ways clash, before giving up."""
ROUNDS = 4
"""How often ends that clash are settled again, after others have moved into their way."""

Ways = NDArray[np.intp]
LineEnd = tuple[int, int]
"""A line by its row, and 0 for its start, 1 for its finish."""
Picked = tuple[Rows | int, Rows | int, Rows]
"""Ways picked out of all: their lines, ends and numbers."""


@dataclass(frozen=True, eq=False)
class Ends:
    """The ends of the lines of one run; m lines, w ways.

    ``fan``: (m, 2) the starts and finishes; ``chosen``: (m, 2) the way that each end takes, or
    ``AT_SPRING``, or ``NO_WAY``; ``allowed``: (m, 2, w) the ways that keep the rules by
    themselves; ``outward``: (m, 2) the lines' own directions at their ends, outward, nan over one
    spring; ``aims``: (m, 2) where each end would best go; radians.
    """

    cover: Cover
    fan: Fan
    chosen: Ways
    allowed: Flags
    outward: Array
    aims: Array

    @property
    def task(self) -> Task:
        """The run that is tied."""
        return self.cover.task

    @property
    def chains(self) -> list[Chain]:
        """The lines."""
        return self.cover.chains

    @cached_property
    def way_pieces(self) -> Array:
        """(m, 2, w, 4) every way as a piece of twine."""
        return self.fan.pieces(self.task.standing.centres)

    def only(self, rows: Rows) -> "Ends":
        """Some of the lines."""
        return Ends(
            self.cover.only(rows),
            self.fan.only(rows),
            self.chosen[rows],
            self.allowed[rows],
            self.outward[rows],
            self.aims[rows],
        )


class Choice:
    """The choice of ways out for one set of lines; an end is (line, 0 or 1).

    ``spaced``: whether the tacks of the lines are to stand apart by the least spacing. The
    ``allowed`` ways of the ``exits`` are narrowed as clashes are found.
    """

    def __init__(self, cover: Cover, exits: Exits, spaced: bool) -> None:
        self.cover, self.exits, self.spaced = cover, exits, spaced
        self.task, self.chains = cover.task, cover.chains
        self.fan, self.scores, self.allowed = exits.fan, exits.scores, exits.allowed
        self.pieces = exits.pieces
        self.ways = exits.scores.shape[2]

    def made(self) -> Ways:
        """(m, 2) the ways chosen; ``NO_WAY`` where ends that clash cannot be settled.

        Ends that clash are settled together, all groups of them at once beside the ends that
        clash with none; where groups then clash, they are one group, and all is settled anew. So
        the order in which lines are listed changes nothing.
        """
        best = self.each_best()
        clashes = self.clashing(self.cleared(best))
        if not clashes:
            return best
        groups, chosen = grouped([], clashes), best
        for _ in range(ROUNDS):
            chosen = best.copy()
            groups = [self._with_partners(group) for group in groups]
            freed = {end for group in groups for end in group}
            for group in groups:
                self._settle(chosen, group, freed)
            clashes = self.clashing(chosen)
            if not clashes:
                return chosen
            groups = grouped(groups, clashes)
        for line, end in {end for group in groups for end in group}:
            chosen[line, end] = NO_WAY
        return chosen

    def ends(self, chosen: Ways) -> Ends:
        """The lines' ends with the ways ``chosen``."""
        exits = self.exits
        return Ends(self.cover, self.fan, chosen, self.allowed, exits.outward, exits.aims)

    def each_best(self) -> Ways:
        """The best way of each end by itself; over one spring, the best two together."""
        best = np.where(self.allowed, self.scores, np.inf).argmin(axis=2)
        without = np.where(self.fan.is_open, AT_SPRING, NO_WAY)
        chosen = np.where(self.allowed.any(axis=2), best, without)
        for line in self.cover.singles.tolist():
            chosen[line] = self._best_pair(line)
        return chosen

    def _best(self, end: LineEnd, allowed: Flags) -> int:
        if not allowed.any():
            return AT_SPRING if self.fan.is_open[end] else NO_WAY
        return int(np.where(allowed, self.scores[end], np.inf).argmin())

    def _best_pair(self, line: int) -> tuple[int, int]:
        start, finish = self.allowed[line]
        if not (start.any() and finish.any()):
            return self._best((line, 0), start), self._best((line, 1), finish)
        score = self.scores[line, 0][:, None] + self.scores[line, 1]
        good = start[:, None] & finish & self.straight_on(line)
        if not good.any():
            return NO_WAY, NO_WAY
        best = int(np.where(good, score, np.inf).argmin())
        return best // self.ways, best % self.ways

    def straight_on(self, line: int) -> Flags:
        """(w, w) whether a line over one spring bends little enough by each two ways."""
        start, finish = self.fan.angle[line]
        bend = np.abs(turn_between(start[:, None] + math.pi, finish))
        return np.asarray(bend <= MOST_BEND + 1e-9)

    def cleared(self, chosen: Ways) -> Ways:
        """Takes other ways where those chosen meet the links of other lines."""
        pieces, owner = self.cover.link_pieces
        for _ in range(2):
            meeting = self._meeting_links(chosen, pieces, owner)
            if not meeting:
                break
            for end in meeting:
                others = pieces[owner != end[0]]
                rows = np.flatnonzero(self.allowed[end])
                met = meet_each_other(self.pieces[end][rows], others).any(axis=1)
                self.allowed[end][rows[met]] = False
                if len(self.chains[end[0]]) == 1:
                    chosen[end[0]] = self._best_pair(end[0])
                else:
                    chosen[end[0], end[1]] = self._best(end, self.allowed[end])
        return chosen

    def _meeting_links(self, chosen: Ways, pieces: Array, owner: Rows) -> list[LineEnd]:
        lines, ends = np.nonzero(chosen >= 0)
        own = self.pieces[lines, ends, chosen[lines, ends]]
        met = meet_each_other(own, pieces) & (lines[:, None] != owner)
        return [(int(lines[i]), int(ends[i])) for i in np.flatnonzero(met.any(axis=1))]

    def clashing(self, chosen: Ways) -> list[tuple[LineEnd, LineEnd]]:
        """Pairs of ends whose ways meet one another."""
        lines, ends = np.nonzero(chosen >= 0)
        ways = (lines, ends, chosen[lines, ends])
        met = self.meet(ways, ways) & (lines[:, None] != lines)
        rows = list(zip(lines.tolist(), ends.tolist(), strict=True))
        return [(rows[i], rows[k]) for i, k in np.argwhere(np.triu(met)).tolist()]

    def meet(self, ways: Picked, others: Picked) -> Flags:
        """(k, l) whether ways of different lines cross, touch, or have their tacks too near."""
        met = meet_each_other(self.pieces[ways], self.pieces[others])
        if self.spaced:
            stretch, at = self.fan.stretch, self.fan.at
            own, theirs = (stretch[ways][:, None], at[ways][:, None]), (stretch[others], at[others])
            met |= self.task.nails.too_near(*own, *theirs)
        return met

    def _settle(self, chosen: Ways, group: list[LineEnd], freed: set[LineEnd]) -> None:
        """The best ways of a ``group`` together, clear of the ends that are not ``freed``."""
        inside = np.zeros(chosen.shape, bool)
        for end in freed:
            inside[end] = True
        lines, ends = np.nonzero((chosen >= 0) & ~inside)
        rest = (lines, ends, chosen[lines, ends])
        links, owner = self.cover.link_pieces
        domains = []
        for end in group:
            rows = np.flatnonzero(self.allowed[end])
            met = (self.meet((*end, rows), rest) & (lines != end[0])).any(axis=1)
            crossed = meet_each_other(self.pieces[end][rows], links)
            met |= (crossed & (owner != end[0])).any(axis=1)
            rows = rows[~met]
            domains.append(rows[np.argsort(self.scores[end][rows], kind="stable")])
        for end, way in zip(group, _Together(self, group, domains).best(), strict=True):
            chosen[end] = way

    def _with_partners(self, group: list[LineEnd]) -> list[LineEnd]:
        """The group, with both ends of its lines over one spring."""
        lines = {line for line, _ in group if len(self.chains[line]) == 1}
        return sorted({*group, *((line, end) for line in lines for end in (0, 1))})


class _Together:
    """The best choice for a few ends at once, depth first, the cheapest first."""

    def __init__(self, choice: Choice, group: list[LineEnd], domains: list[Rows]) -> None:
        self.choice, self.group, self.domains = choice, group, domains
        self.found: list[int] = [NO_WAY] * len(group)
        self.least = math.inf
        self.looks = 0
        self.fits: dict[tuple[int, int], Flags] = {}

    def best(self) -> list[int]:
        """A way for each end; ``NO_WAY`` for all where none fit together."""
        for i, end in enumerate(self.group):
            if not len(self.domains[i]) and self.choice.fan.is_open[end]:
                self.domains[i] = np.array([AT_SPRING])
        self._deepen([], 0.0)
        # A search cut short found whatever it came upon first: that would not go with a mirror.
        return self.found if self.looks <= SEARCHES else [NO_WAY] * len(self.group)

    def _deepen(self, taken: list[int], score: float) -> None:
        if len(taken) == len(self.group):
            self.least = score
            self.found = [int(self.domains[i][k]) for i, k in enumerate(taken)]
            return
        here = len(taken)
        fit = np.ones(len(self.domains[here]), bool)
        for earlier, k in enumerate(taken):
            fit &= self._fit(earlier, here)[k]
        end = self.group[here]
        for k in np.flatnonzero(fit).tolist():
            way = int(self.domains[here][k])
            own = float(self.choice.scores[end][way]) ** 2 if way >= 0 else 0.0
            self.looks += 1
            if score + own >= self.least or self.looks > SEARCHES:
                return
            self._deepen([*taken, k], score + own)

    def _fit(self, a: int, b: int) -> Flags:
        """(ways of a, ways of b) which go together."""
        if (a, b) not in self.fits:
            self.fits[a, b] = self._fitting(a, b)
        return self.fits[a, b]

    def _fitting(self, a: int, b: int) -> Flags:
        one, two = self.domains[a], self.domains[b]
        first, second = self.group[a], self.group[b]
        if AT_SPRING in one or AT_SPRING in two:
            return np.ones((len(one), len(two)), bool)
        if first[0] == second[0]:
            if len(self.choice.chains[first[0]]) > 1:
                return np.ones((len(one), len(two)), bool)
            return self.choice.straight_on(first[0])[np.ix_(one, two)]
        return ~self.choice.meet((*first, one), (*second, two))


def grouped(
    groups: list[list[LineEnd]], pairs: list[tuple[LineEnd, LineEnd]]
) -> list[list[LineEnd]]:
    """The groups, joined by pairs of ends that clash; ends in no group make one."""
    sets = [set(group) for group in groups]
    for pair in pairs:
        joined = [own for own in sets if own & set(pair)]
        sets = [own for own in sets if own not in joined]
        sets.append(set(pair).union(*joined))
    return [sorted(own) for own in sets]
