"""The task of tying one run: its links, what ends cost, and the user's joins and parts."""

from dataclasses import dataclass
from functools import cached_property
from typing import Self

import numpy as np

from spring_layout.deck.model import Pairing, Run
from spring_layout.planning.parts import Array, Break, Standing
from spring_layout.planning.tying.course import AXES, Courses
from spring_layout.planning.tying.ground import Ground
from spring_layout.planning.tying.links import LINE_PRICE, Links, Whole, make_links, steps_of
from spring_layout.planning.tying.nail_line import NailLine
from spring_layout.planning.tying.touch import pieces_of
from spring_layout.planning.tying.ways import Fan, fan_of

Chain = tuple[int, ...]
"""The springs of one line, by row, in the run's direction."""


@dataclass(frozen=True, eq=False)
class Task:
    """One run of one deck. ``forced``: (k,) which links the user has joined by hand."""

    ground: Ground
    run: Run
    links: Links
    forced: frozenset[tuple[int, int]] = frozenset()
    breaks: tuple[Break, ...] = ()

    @property
    def standing(self) -> Standing:
        """The deck's springs."""
        return self.ground.standing

    @property
    def nails(self) -> NailLine:
        """Where tacks may go."""
        return self.ground.nails

    @property
    def count(self) -> int:
        """How many springs there are."""
        return len(self.standing.ids)

    @cached_property
    def end_costs(self) -> Whole:
        """(n, 2) what a line costs at each spring if it starts or finishes there, with no price."""
        return self.ground.end_costs[self.run]

    @cached_property
    def price(self) -> int:
        """The price of a line begun, micro-pitches."""
        return int(steps_of(np.array(LINE_PRICE)))

    @cached_property
    def odds(self) -> Array:
        """(k,) the tie-breaker of each link, 0 to 1."""
        if self.links is self.ground.links[self.run]:
            return self.ground.link_odds[self.run]
        return self.ground.odds.at(self.links.place)

    @cached_property
    def pieces(self) -> Array:
        """(k, 4) the links as pieces of twine."""
        centres = self.standing.centres
        return pieces_of(centres[self.links.first], centres[self.links.second])

    @cached_property
    def link_at(self) -> dict[tuple[int, int], int]:
        """The number of the link between two springs."""
        pairs = zip(self.links.first.tolist(), self.links.second.tolist(), strict=True)
        return {pair: number for number, pair in enumerate(pairs)}

    @cached_property
    def fan(self) -> Fan:
        """(n, 2) every spring's ways out at the start and at the finish."""
        every = np.repeat(np.arange(self.count), 2).reshape(-1, 2)
        return fan_of(self.ground.courses, self.nails, [(self.run, every)])


def task_of(
    ground: Ground, run: Run, joins: tuple[Pairing, ...] = (), parts: tuple[Pairing, ...] = ()
) -> Task:
    """The task of ``run`` with its forward links and the user's wishes.

    A join stands in the run's direction, whichever way round it is listed. One that contradicts
    an earlier join, or is parted too, or joins a spring to itself, is left out, with a Break.
    Springs joined on another run are not joined on this one by themselves.
    """
    standing, links = ground.standing, ground.links[run]
    wishes = _Wishes.of(standing, run, joins, parts)
    others = {wish.run for wish in joins} - {run}
    shut = {frozenset(standing.index[name] for name in p.springs) for p in parts if p.run == run}
    for other in others:
        shut.update(map(frozenset, _Wishes.of(standing, other, joins, parts).kept))
    if not wishes.kept and not shut:
        return Task(ground, run, links, breaks=tuple(wishes.breaks))
    links = _with_joins(ground.courses, run, links, wishes.kept, shut)
    return Task(ground, run, links, frozenset(wishes.kept), tuple(wishes.breaks))


class _Wishes:
    """The joins of one run that can be obeyed together."""

    def __init__(self, standing: Standing, run: Run) -> None:
        self.standing, self.run = standing, run
        self.kept: list[tuple[int, int]] = []
        self.breaks: list[Break] = []

    @classmethod
    def of(
        cls,
        standing: Standing,
        run: Run,
        joins: tuple[Pairing, ...],
        parts: tuple[Pairing, ...],
    ) -> Self:
        """Those of ``joins`` that are of ``run`` and not among its ``parts``."""
        wishes = cls(standing, run)
        parted = {frozenset(p.springs) for p in parts if p.run == run}
        for wish in joins:
            if wish.run == run:
                wishes.add(wish, parted)
        return wishes

    def add(self, wish: Pairing, parted: set[frozenset[str]]) -> None:
        """Takes the wish, or says why not by a Break."""
        pair = self._ahead(wish)
        if pair in self.kept and self._listed(wish) == pair:
            return
        taken = any(pair[0] == a or pair[1] == b for a, b in self.kept)
        if pair[0] == pair[1] or taken or frozenset(wish.springs) in parted:
            self.breaks.append(Break(rule=9, kind="join", springs=wish.springs))
            return
        self.kept.append(pair)

    def _listed(self, wish: Pairing) -> tuple[int, int]:
        first, second = (self.standing.index[name] for name in wish.springs)
        return first, second

    def _ahead(self, wish: Pairing) -> tuple[int, int]:
        """The rows of the two springs, in the run's direction."""
        first, second = self._listed(wish)
        (ax, ay), (bx, by) = self.standing.centres[[first, second]]
        axis = AXES[self.run]
        ahead = (bx - ax) * np.cos(axis) + (by - ay) * np.sin(axis)
        return (first, second) if ahead >= 0 else (second, first)


def _with_joins(
    courses: Courses,
    run: Run,
    links: Links,
    joins: list[tuple[int, int]],
    shut: set[frozenset[int]],
) -> Links:
    """The links without those ``shut`` or contradicting a join, and with those joined."""
    firsts, seconds = {a for a, _ in joins}, {b for _, b in joins}
    pairs = list(zip(links.first.tolist(), links.second.tolist(), strict=True))
    kept = np.array(
        [a not in firsts and b not in seconds and frozenset((a, b)) not in shut for a, b in pairs],
        bool,
    )
    rows = np.array(joins, np.intp).reshape(-1, 2)
    added = make_links(courses, run, rows[:, 0], rows[:, 1])
    rest = links.where(kept)
    return Links(
        np.concatenate([rest.first, added.first]),
        np.concatenate([rest.second, added.second]),
        np.concatenate([rest.angle, added.angle]),
        np.concatenate([rest.cost, added.cost]),
        np.concatenate([rest.place, added.place]),
    )
