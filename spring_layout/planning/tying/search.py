"""The best lines with the rules that join two links or a link and a way out.

The assignment of ``cover`` is the bound; where its lines break so many rules that ``branching``
gives up, the same costs are put to branch and bound (``scipy.optimize.milp``) with a yes or no
for every link and every way out of every spring:

* every spring has one that goes before it (a link or a way out) and one that follows it;
* of a spring's ways in and ways out, those that bend by more than ``MOST_BEND`` go not together;
* pieces of different lines that cross or touch, and ways out whose tacks stand nearer than the
  least spacing, go not together (added as they are found broken).

A link may be taken though it bends too much, and an end may be left without a clear way, at
``BREAK_PRICE`` each: dearer than any detour, so that this happens only where nothing else will
do, and then as seldom as can be.
"""

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from spring_layout.planning.parts import Array
from spring_layout.planning.tying.cover import chains_of
from spring_layout.planning.tying.ends import AT_SPRING, NO_WAY, Ways
from spring_layout.planning.tying.links import EXACT
from spring_layout.planning.tying.task import Chain, Task
from spring_layout.planning.tying.touch import Flags, Rows, meet_each_other, pieces_of, turn_between
from spring_layout.planning.tying.ways import MOST_BEND
from spring_layout.tolerances import COST_STEP

BREAK_PRICE = 100.0
"""pitches. What a bend that is too sharp, or an end without a clear way out, costs."""
BRANCHES = 2000
"""Branches looked at in one search of more than ``EXACT`` springs; beyond, not proved the best."""
ROUNDS = 100
"""How often clashes found are forbidden and the search repeated. Seen: up to 9, for 60 springs."""
AIM_UNIT = 1e4
"""per radian squared. The search for ways counts in this, far above its own tolerances."""
UNIT = 1e-3
"""pitches. The search counts in this unit, so that its own tolerances are far below a step."""


Rule = tuple[Rows, NDArray[np.float64]]
"""Items and their shares, which together come to 1 at most."""


@dataclass(frozen=True, eq=False)
class Found:
    """What a search found: the lines, and no less a cost than ``bound``.

    ``bound`` is in pitches, ``breaks`` (priced in it) how many rules are broken, ``unled`` how
    many ends have no way out.
    """

    chains: list[Chain]
    unled: int
    breaks: int
    bound: float
    proved: bool


@dataclass(frozen=True, eq=False)
class _Items:
    """All that may be taken, links first, then ways out, then bends too sharp.

    ``spring``: the spring of a way; ``end``: 0 or 1; ``way``: its number in the fan;
    """

    spring: Rows
    end: Rows
    way: Rows


class Search:
    """One run's search. Items: its links, every way out of every spring, a sharp bend each."""

    def __init__(self, task: Task, spaced: bool = True) -> None:
        self.task, self.spaced = task, spaced
        self.minds_spacing = False
        """Whether the tacks' standing apart has ruled anything out so far."""
        self.links = len(task.links)
        self.fans = [task.fan.only((slice(None), end)) for end in (0, 1)]
        self.items = self._ways()
        self.ways = len(self.items.spring)
        self.size = self.links + self.ways + task.count

    def _ways(self) -> _Items:
        """The clear ways, then AT_SPRING where the course is open, then NO_WAY everywhere."""
        parts = []
        for end, fan in enumerate(self.fans):
            spring, way = np.nonzero(fan.clear)
            parts.append((spring, np.full(len(spring), end), way))
            for rows, kind in (
                (np.flatnonzero(fan.is_open), AT_SPRING),
                (np.arange(self.task.count), NO_WAY),
            ):
                parts.append((rows, np.full(len(rows), end), np.full(len(rows), kind)))
        spring, ends, way = (np.concatenate(column) for column in zip(*parts, strict=True))
        return _Items(spring, ends, way)

    @cached_property
    def costs(self) -> Array:
        """(size,) what each item costs, in units."""
        task, items = self.task, self.items
        links = task.links.cost + 0.4 * task.odds / (task.count + 1)
        ends = task.end_costs[items.spring, items.end] + np.where(items.end == 0, task.price, 0)
        breaks = BREAK_PRICE / COST_STEP
        ends = ends + np.where(items.way == NO_WAY, breaks, 0.0)
        sharp = np.full(task.count, breaks)
        return np.concatenate([links, ends, sharp]) * (COST_STEP / UNIT)

    @cached_property
    def pieces(self) -> Array:
        """(links + ways, 4) the twine of each item; ends without a way have none (nan)."""
        items, centres = self.items, self.task.standing.centres
        anchors = np.full((self.ways, 2), np.nan)
        for end, fan in enumerate(self.fans):
            rows = np.flatnonzero((items.end == end) & (items.way >= 0))
            anchors[rows] = fan.anchor[items.spring[rows], items.way[rows]]
        return np.concatenate([self.task.pieces, pieces_of(centres[items.spring], anchors)])

    @cached_property
    def angles(self) -> Array:
        """(links + ways,) the direction of each item along the run; nan without twine."""
        items = self.items
        angle = np.full(self.ways, np.nan)
        for end, fan in enumerate(self.fans):
            rows = np.flatnonzero((items.end == end) & (items.way >= 0))
            angle[rows] = fan.angle[items.spring[rows], items.way[rows]]
        return np.concatenate([self.task.links.angle, angle + np.where(items.end == 0, np.pi, 0)])

    @cached_property
    def after(self) -> Rows:
        """(links + ways,) the spring that an item leads into, -1 for a finish."""
        own = np.where(self.items.end == 0, self.items.spring, -1)
        return np.concatenate([self.task.links.second, own])

    @cached_property
    def before(self) -> Rows:
        """(links + ways,) the spring that an item comes from, -1 for a start."""
        own = np.where(self.items.end == 1, self.items.spring, -1)
        return np.concatenate([self.task.links.first, own])

    def run(self) -> Found:
        """The best lines, and whether that is proved."""
        taken, bound, proved = self._without_clashes(self.costs, self._least(), np.ones(self.size))
        return self._found(taken, bound, proved)

    def ways_for(self, chains: list[Chain], scores: Array) -> Ways:
        """(m, 2) the ways of ``chains`` that together depart least from the ends' aims.

        ``scores``: (m, 2, w) what each way is off its aim, radians, summed by their squares. As
        few ends as can be are without a way; of all choices of ways there is one best, so that
        it goes along with a mirror or a turn, as the first the search comes upon may not.
        """
        costs = np.zeros(self.size)
        costs[self.links : self.links + self.ways] = self._aim_costs(chains, scores)
        fixed = np.ones(self.size)
        fixed[: self.links] = 0.0
        steps = [self.task.link_at[step] for chain in chains for step in pairwise(chain)]
        fixed[steps] = 1.0
        least = np.where(np.arange(self.size) < self.links, fixed, 0.0)
        return self._ways_taken(chains, self._without_clashes(costs, least, fixed)[0])

    def _aim_costs(self, chains: list[Chain], scores: Array) -> Array:
        """(ways,) what each way costs beside its aim; ways of springs inside lines nothing."""
        items = self.items
        line = np.zeros((self.task.count, 2), np.intp)
        for number, chain in enumerate(chains):
            line[chain[0], 0] = line[chain[-1], 1] = number
        rows = line[items.spring, items.end]
        off = scores[rows, items.end, np.maximum(items.way, 0)]
        costs = np.where(items.way >= 0, AIM_UNIT * off * off, 0.0)
        costs[items.way == AT_SPRING] = AIM_UNIT * np.pi**2
        costs[items.way == NO_WAY] = BREAK_PRICE * AIM_UNIT
        return costs

    def _without_clashes(self, costs: Array, least: Array, most: Array) -> tuple[Rows, float, bool]:
        """The items taken at the least cost, no two of which clash; the bound; if it is proved."""
        for _ in range(ROUNDS):
            taken, bound, proved = self._solved(costs, least, most)
            broken = self._clash_rules(taken)
            if not broken:
                return taken, bound, proved
            self.rules += broken
        return taken, bound, False

    @cached_property
    def rules(self) -> list[Rule]:
        """The rules so far: those of bends, then those of clashes as they are found."""
        return self._bend_rules()

    def _solved(self, costs: Array, least: Array, most: Array) -> tuple[Rows, float, bool]:
        """The items taken at the least cost by the rules so far, the bound, if it is proved."""
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array

        count = self.task.count
        every = [*_grouped(self.after, count), *_grouped(self.before, count), *self.rules]
        starts = np.concatenate([[0], np.cumsum([len(columns) for columns, _ in every])])
        columns, shares = (np.concatenate(part) for part in zip(*every, strict=True))
        table = csr_array((shares, columns, starts), shape=(len(every), self.size))
        low = np.where(np.arange(len(every)) < 2 * count, 1.0, -np.inf)
        result = milp(
            costs,
            constraints=LinearConstraint(table, low, 1.0),
            integrality=np.ones(self.size, np.uint8),
            bounds=Bounds(least, most),
            options=self._options(),  # type: ignore[arg-type]  # the stubs want a class of their own
        )
        if result.x is None:
            return self._every_spring_alone(), 0.0, False
        bound = result.fun if result.mip_dual_bound is None else result.mip_dual_bound
        return np.flatnonzero(result.x > 0.5), float(bound), result.status == 0

    def _options(self) -> dict[str, float]:
        # No presolve: with it, one in 176 searches ended with lines that broke a rule more than
        # need be, called the best there are (seen with scipy 1.17.1; a test keeps that deck).
        options = {"mip_rel_gap": 0.0, "presolve": False}
        return {**options, "node_limit": BRANCHES} if self.task.count > EXACT else options

    def _every_spring_alone(self) -> Rows:
        return self.links + np.flatnonzero(self.items.way == NO_WAY)

    def _least(self) -> Array:
        """(size,) 1 for the links that the user has joined."""
        least = np.zeros(self.size)
        for pair in self.task.forced:
            least[self.task.link_at[pair]] = 1.0
        return least

    def _bend_rules(self) -> list[Rule]:
        """What goes into and out of a spring together bends little enough."""
        rules: list[Rule] = []
        turned = np.nonzero(~np.isnan(self.angles))[0]
        for spring in range(self.task.count):
            into = turned[self.after[turned] == spring]
            out = turned[self.before[turned] == spring]
            sharp = self.links + self.ways + spring
            for sign in (1.0, -1.0):
                rules += self._one_way_rules(into, out, sign, sharp)
        return rules

    def _one_way_rules(self, into: Rows, out: Rows, sign: float, sharp: int) -> list[Rule]:
        """The rules against bends to one side; only two links may be let off."""
        if not (len(into) and len(out)):
            return []
        base = self.angles[into[0]]
        came = sign * turn_between(base, self.angles[into])
        goes = sign * turn_between(base, self.angles[out]) - MOST_BEND - 1e-9
        rules: list[Rule] = []
        for least, most in ((0, 0), (self.links, 0), (0, self.links)):
            i, o = into >= least, out >= most
            for columns in _staircase(into[i], came[i], out[o], goes[o]):
                if least or most:
                    rules.append((columns, np.ones(len(columns))))
                else:
                    shares = np.append(np.ones(len(columns)), -1.0)
                    rules.append((np.append(columns, sharp), shares))
        return rules

    def _clash_rules(self, taken: Rows) -> list[Rule]:
        """Rules against the pieces taken that meet, though they are of different lines."""
        taken = taken[(taken < self.links + self.ways)]
        taken = taken[~np.isnan(self.angles[taken])]
        line = self._line_of(taken)
        met = self._meet(taken, taken)
        met &= line[:, None] != line
        rules: list[Rule] = []
        for i, k in np.argwhere(np.triu(met)).tolist():
            rules += self._apart(int(taken[i]), int(taken[k]))
        return rules

    @cached_property
    def tacks(self) -> tuple[Rows, Array]:
        """(links + ways,) the stretch of nail line that an item ends on, -1; where on it."""
        items = self.items
        stretch, at = np.full(self.ways, -1), np.zeros(self.ways)
        for end, fan in enumerate(self.fans):
            rows = np.flatnonzero((items.end == end) & (items.way >= 0))
            stretch[rows] = fan.stretch[items.spring[rows], items.way[rows]]
            at[rows] = fan.at[items.spring[rows], items.way[rows]]
        return np.append(np.full(self.links, -1), stretch), np.append(np.zeros(self.links), at)

    def _meet(self, items: Rows, others: Rows) -> Flags:
        """(k, l) whether items cross, touch, or have their tacks too near."""
        met = meet_each_other(self.pieces[items], self.pieces[others])
        if self.spaced:
            stretch, at = self.tacks
            near = self.task.nails.too_near(
                stretch[items][:, None], at[items][:, None], stretch[others], at[others]
            )
            self.minds_spacing |= bool((near & ~met).any())
            met |= near
        return met

    def _line_of(self, taken: Rows) -> Rows:
        """(k,) which line each item taken belongs to."""
        line = np.zeros(self.task.count, np.intp)
        for number, chain in enumerate(chains_of(self.task, taken[taken < self.links])):
            line[list(chain)] = number
        return line[np.maximum(self.after[taken], self.before[taken])]

    def _apart(self, first: int, second: int) -> list[Rule]:
        """Two items that meet go not together, nor do any others of the same two ends."""
        if {first, second} <= set(np.flatnonzero(self._least()).tolist()):
            return []
        one, two = self._alike(first), self._alike(second)
        met = self._meet(one, two)
        rules: list[Rule] = []
        for own, others, table in ((one, two, met), (two, one, met.T)):
            for row in np.flatnonzero(table.any(axis=1)):
                columns = np.append(others[table[row]], own[row])
                rules.append((columns, np.ones(len(columns))))
        return rules

    def _alike(self, item: int) -> Rows:
        """All ways of the same end as a way; a link by itself."""
        if item < self.links:
            return np.array([item])
        items, number = self.items, item - self.links
        same = (items.spring == items.spring[number]) & (items.end == items.end[number])
        return np.asarray(self.links + np.flatnonzero(same & (items.way >= 0)))

    def _found(self, taken: Rows, bound: float, proved: bool) -> Found:
        chains = chains_of(self.task, taken[taken < self.links])
        unled = int((self._ways_taken(chains, taken) == NO_WAY).sum())
        breaks = unled + int((taken >= self.links + self.ways).sum())
        return Found(chains, unled, breaks, bound * UNIT, proved)

    def _ways_taken(self, chains: list[Chain], taken: Rows) -> Ways:
        """(m, 2) the ways among the items ``taken``."""
        ways = np.full((len(chains), 2), NO_WAY, np.intp)
        line = {(c[0], 0): i for i, c in enumerate(chains)}
        line |= {(c[-1], 1): i for i, c in enumerate(chains)}
        items = self.items
        for item in taken[(taken >= self.links) & (taken < self.links + self.ways)] - self.links:
            end = int(items.end[item])
            ways[line[int(items.spring[item]), end], end] = items.way[item]
        return ways


def _grouped(springs: Rows, count: int) -> list[Rule]:
    """For each spring, the items whose entry in ``springs`` it is."""
    order = np.argsort(springs, kind="stable")
    cuts = np.searchsorted(springs[order], np.arange(count + 1))
    rows = [order[a:b] for a, b in pairwise(cuts.tolist())]
    return [(columns, np.ones(len(columns))) for columns in rows]


def _staircase(into: Rows, came: Array, out: Rows, goes: Array) -> list[Rows]:
    """Sets of items of which one may be taken: those that ``came`` below, those that go above."""
    if not (len(into) and len(out)):
        return []
    order = np.argsort(came, kind="stable")
    into, came = into[order], came[order]
    above = goes[None] > came[:, None]
    last = np.append((above[1:] != above[:-1]).any(axis=1), True) & above.any(axis=1)
    return [np.concatenate([into[: i + 1], out[above[i]]]) for i in np.flatnonzero(last)]
