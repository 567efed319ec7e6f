"""The best lines by branching on what breaks a rule, each time from the cheapest assignment.

The assignment of ``cover`` is the bound. Where its lines break a rule, one thing at least of what
breaks it must go: the first link or the second of a bend that is too sharp, or of two that clash;
of an end without a way out its link, its being an end, or the links in its way. Each is a branch,
with an assignment of its own, no cheaper; taking the break, where the rules let it be priced, is
one more. The cheapest branch is always looked at next, so the first whose lines keep the rules
has the best. That is exact, and quick where little is broken: one spring set aside in even rows.
After ``LOOKS`` branches it gives up, and ``search`` takes over, which counts on the whole.

An end at a spring without any clear way is priced in the assignment from the start.
"""

import heapq
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from spring_layout.planning.tying.cover import ODDS_STEPS, Cover, chains_of, clashes, sharp_bends
from spring_layout.planning.tying.ends import (
    AT_SPRING,
    NO_WAY,
    Choice,
    LineEnd,
    Ways,
    grouped,
)
from spring_layout.planning.tying.exits import exits_from
from spring_layout.planning.tying.search import BREAK_PRICE, Found
from spring_layout.planning.tying.task import Task
from spring_layout.planning.tying.touch import Flags, Rows, meet_each_other
from spring_layout.tolerances import COST_STEP

LOOKS = 150
"""How many branches are looked at before giving up."""
GROUP = 16
"""ends. More that are in each other's way at once are left to ``search``."""
TRIES = 500
"""How many partial choices of ways for such a group are looked at."""
BREAK_STEPS = round(BREAK_PRICE / COST_STEP)
"""micro-pitches. The price of a broken rule."""

SpringEnd = tuple[int, int]
"""A spring, and 0 where a line starts there, 1 where one finishes."""


class _TooMuchError(Exception):
    """Too much is broken for this way of looking."""


@dataclass(frozen=True)
class _Branch:
    """What has been given up: links, ends; and what is taken though it breaks a rule.

    ``without``: links not taken; ``inner``: springs where no line starts (0) or finishes (1);
    ``sharp``: springs at which a line may bend too much; ``unled``: ends without a way out.
    """

    without: frozenset[int] = frozenset()
    inner: frozenset[SpringEnd] = frozenset()
    sharp: frozenset[int] = frozenset()
    unled: frozenset[SpringEnd] = frozenset()

    @property
    def breaks(self) -> int:
        """How many broken rules are taken."""
        return len(self.sharp) + len(self.unled)

    def but(self, **one: int | SpringEnd) -> "_Branch":
        """The same with one thing more."""
        ((name, thing),) = one.items()
        return replace(self, **{name: getattr(self, name) | {thing}})


class Branching:
    """One run's best lines. ``spaced``: whether tacks of the run are to stand apart."""

    def __init__(self, task: Task, spaced: bool = True) -> None:
        self.task, self.spaced = task, spaced
        self.minds_spacing = False
        """Whether the tacks' standing apart has ruled anything out so far."""
        self.dead = ~task.fan.clear.any(axis=2) & ~task.fan.is_open
        links, ends = task.links, task.end_costs + self.dead * BREAK_STEPS
        saving = links.cost - ends[links.first, 1] - ends[links.second, 0] - task.price
        odds = np.floor(task.odds * (ODDS_STEPS / (2 * task.count + 2)))
        self.worth = saving * float(ODDS_STEPS) + odds
        self.table = np.zeros((task.count, task.count))
        self.table[links.first, links.second] = np.minimum(self.worth, 0.0)

    def run(self) -> Found | None:
        """The best lines; None where that takes too many looks."""
        if self.task.forced:
            return None
        try:
            return self._run()
        except _TooMuchError:
            return None

    def _run(self) -> Found | None:
        queue: list[tuple[float, int, _Branch, Rows]] = []
        seen: set[_Branch] = set()
        branches = [_Branch()]
        for _ in range(LOOKS):
            for branch in branches:
                if branch not in seen:
                    seen.add(branch)
                    assigned = self._assigned(branch)
                    if assigned:
                        heapq.heappush(queue, (assigned[0], len(seen), branch, assigned[1]))
            if not queue:
                return None
            _, _, branch, chosen = heapq.heappop(queue)
            cover = Cover(self.task, chains_of(self.task, chosen), chosen)
            branches = list(self._branches(branch, cover))
            if not branches:
                return self._found(branch, cover)
        return None

    def _found(self, branch: _Branch, cover: Cover) -> Found:
        dead = int(self.dead[cover.springs, (0, 1)].sum())
        breaks, unled = branch.breaks + dead, len(branch.unled) + dead
        bound = cover.cost * COST_STEP + breaks * BREAK_PRICE
        return Found(cover.chains, unled, breaks, bound, proved=True)

    def _assigned(self, branch: _Branch) -> tuple[float, Rows] | None:
        """What the cheapest lines of a branch cost, and their links; None if there are none."""
        from scipy.optimize import linear_sum_assignment

        links, table = self.task.links, self.table.copy()
        worth, counts = self.worth.copy(), self.worth < 0
        gone = list(branch.without)
        worth[gone], counts[gone] = np.inf, False
        table[links.first[gone], links.second[gone]] = 0.0
        for spring, end in branch.inner:
            if end:
                own = links.first == spring
                table[spring] = np.inf
            else:
                own = links.second == spring
                table[:, spring] = np.inf
            counts |= own & np.isfinite(worth)
        table[links.first[counts], links.second[counts]] = worth[counts]
        try:
            first, second = linear_sum_assignment(table)
        except ValueError:  # no lines without what the branch goes without
            return None
        follows = np.full(self.task.count, -1)
        follows[first] = second
        chosen = np.flatnonzero((follows[links.first] == links.second) & counts)
        priced = branch.breaks * BREAK_STEPS * float(ODDS_STEPS)
        return float(table[first, second].sum()) + priced, chosen

    def _branches(self, branch: _Branch, cover: Cover) -> Iterator[_Branch]:
        """The branches on the first rule found broken; none where the lines keep all."""
        links = self.task.links
        for a, b in sharp_bends(self.task, cover.chosen).tolist():
            spring = int(links.second[a])
            if spring not in branch.sharp:
                yield branch.but(without=a)
                yield branch.but(without=b)
                yield branch.but(sharp=spring)
                return
        for a, b in clashes(self.task, cover.chosen).tolist():
            yield branch.but(without=a)
            yield branch.but(without=b)
            return
        yield from _Outlets(self, branch, cover).branches()


class _Outlets:
    """The ways out of the lines of one branch."""

    def __init__(self, branching: Branching, branch: _Branch, cover: Cover) -> None:
        task = branching.task
        self.branching, self.branch, self.cover = branching, branch, cover
        fan = task.fan.only((cover.springs, np.array([0, 1])))
        exits = exits_from(task.ground, fan, cover.outward)
        self.allowed = exits.allowed.copy()
        self.choice = Choice(cover, exits, branching.spaced)
        self.priced = branching.dead[cover.springs, (0, 1)]
        for line, pair in enumerate(cover.springs.tolist()):
            for end, spring in enumerate(pair):
                self.priced[line, end] |= (spring, end) in branch.unled
        self.domains: dict[LineEnd, list[int]] = {}
        self.blockers: dict[LineEnd, list[int]] = {}
        self.near: set[frozenset[LineEnd]] = set()
        """Pairs of ends of which some ways go not together only as their tacks are too near."""

    def branches(self) -> Iterator[_Branch]:
        """The branches on ends that have no ways together; none where all have."""
        choice = self.choice
        ways = choice.cleared(choice.each_best())
        ways[self.priced] = AT_SPRING
        groups = [[(line, end)] for line, end in np.argwhere(ways == NO_WAY).tolist()]
        clashes = choice.clashing(ways)
        # A group settled has no clash within it, so each clash left makes two of them one.
        while groups or clashes:
            groups = self._joined(groups, clashes)
            for group in groups:
                unfit = self._settled([end for end in group if not self.priced[end]], ways)
                if unfit:
                    yield from self._without(unfit)
                    return
            clashes = choice.clashing(ways)
            if not clashes:
                return

    def _joined(
        self, groups: list[list[LineEnd]], clashes: list[tuple[LineEnd, LineEnd]]
    ) -> list[list[LineEnd]]:
        """The groups joined by clashes, and by lines over one spring, both whose ends count."""
        singles = set(self.cover.singles.tolist())
        ends = [end for own in (*groups, *clashes) for end in own]
        partners = [((line, 0), (line, 1)) for line in {line for line, _ in ends} & singles]
        return grouped(groups, [*clashes, *partners])

    def _settled(self, group: list[LineEnd], ways: Ways) -> list[LineEnd]:
        """Puts ways that go together into ``ways``; or ends of the group for which none do."""
        for end in group:
            if not self._domain(end):
                return [end]
        if len(group) > GROUP:
            raise _TooMuchError
        fits = _Fits({pair: self._fit(*pair) for pair in combinations(group, 2)})
        for pair, fit in fits.of.items():
            if not fit.any():
                return list(pair)
        counts = {end: len(self._domain(end)) for end in group}
        taken = fits.together(counts)
        if not taken:
            return fits.unfit(counts)
        for end, number in taken.items():
            ways[end] = self._domain(end)[number]
        return []

    def _domain(self, end: LineEnd) -> list[int]:
        """The ways of an end that are clear of the links of other lines."""
        if end not in self.domains:
            rows = np.flatnonzero(self.allowed[end])
            pieces, owner = self.cover.link_pieces
            met = meet_each_other(self.choice.pieces[end][rows], pieces) & (owner != end[0])
            self.domains[end] = rows[~met.any(axis=1)].tolist()
            if self.choice.fan.is_open[end]:
                self.domains[end].append(AT_SPRING)
            self.blockers[end] = _fewest(met)
        return self.domains[end]

    def _fit(self, one: LineEnd, two: LineEnd) -> Flags:
        """(ways of one, ways of two) which go together."""
        first, second = np.array(self._domain(one)), np.array(self._domain(two))
        a, b = first[first != AT_SPRING], second[second != AT_SPRING]
        fit = np.ones((len(first), len(second)), bool)
        if one[0] != two[0]:
            met = self.choice.meet((*one, a), (*two, b))
            fit[: len(a), : len(b)] = ~met
            crossed = meet_each_other(self.choice.pieces[one][a], self.choice.pieces[two][b])
            if (met != crossed).any():
                self.near.add(frozenset((one, two)))
        elif one[0] in self.cover.singles:
            fit[: len(a), : len(b)] = self.choice.straight_on(one[0])[np.ix_(a, b)]
        return fit

    def _without(self, ends: list[LineEnd]) -> Iterator[_Branch]:
        """A branch for each thing without which these ends may have ways."""
        branch, links = self.branch, set()
        if any(pair <= {*ends} for pair in self.near):
            self.branching.minds_spacing = True
        for line, end in ends:
            spring = int(self.cover.springs[line, end])
            yield branch.but(inner=(spring, end))
            yield branch.but(unled=(spring, end))
            links |= {int(self.cover.chosen[i]) for i in self.blockers[line, end]}
            links |= set(self._last_link(line, end, spring))
        for link in sorted(links):
            yield branch.but(without=link)

    def _last_link(self, line: int, end: int, spring: int) -> list[int]:
        """The link by which a line comes to its end, where another might have had a way."""
        chosen, links = self.cover.chosen, self.branching.task.links
        side = links.second if end else links.first
        return [int(link) for link in chosen[side[chosen] == spring]]


def _fewest(met: Flags) -> list[int]:
    """A few columns that together meet every row that any column meets."""
    left, columns = met[met.any(axis=1)], []
    while len(left):
        column = int(left.sum(axis=0).argmax())
        columns.append(column)
        left = left[~left[:, column]]
    return columns


class _Fits:
    """Which ways of some ends go together. ``of``: (a, b) -> (ways of a, ways of b) flags."""

    def __init__(self, of: dict[tuple[LineEnd, LineEnd], Flags]) -> None:
        self.of = of
        self.both_ways = of | {(b, a): fit.T for (a, b), fit in of.items()}
        self.tries = 0

    def together(self, counts: dict[LineEnd, int]) -> dict[LineEnd, int]:
        """A way for each end, of so many, that goes with those of the others; none if none do."""
        return self._deepened({end: np.ones(count, bool) for end, count in counts.items()}, {})

    def _deepened(
        self, left: dict[LineEnd, Flags], taken: dict[LineEnd, int]
    ) -> dict[LineEnd, int]:
        """The choice ``taken`` so far, and one for each end that has ways ``left``."""
        if not left:
            return taken
        here = min(left, key=lambda end: (int(left[end].sum()), end))
        for way in np.flatnonzero(left[here]).tolist():
            self.tries += 1
            if self.tries > TRIES:
                raise _TooMuchError
            rest = {
                end: flags & self.both_ways[here, end][way]
                for end, flags in left.items()
                if end != here
            }
            if all(flags.any() for flags in rest.values()):
                found = self._deepened(rest, {**taken, here: way})
                if found:
                    return found
        return {}

    def unfit(self, counts: dict[LineEnd, int]) -> list[LineEnd]:
        """The ends without any that could be left out, and still no ways go together."""
        kept = dict(counts)
        for end in counts:
            fewer = {other: count for other, count in kept.items() if other != end}
            if not self.together(fewer):
                kept = fewer
        return list(kept)
