"""The climb to even spacing: raise the smallest share, keep what is stuck, raise the next.

Each round takes the best small move (``step``); one that does not keep what it promised is
shortened. When the smallest share cannot rise any more, those that are stuck at that height are
kept there and the next smallest is raised, until nothing can move. Kept shares and rules may slip
a hair in a step, as they are not quite linear; the next step brings them back.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from spring_layout.geometry.outline import Outline
from spring_layout.planning.parts import Array
from spring_layout.planning.placing.keep import Keeper
from spring_layout.planning.placing.measure import Shares, Wish, shares_of, with_tangents
from spring_layout.planning.placing.step import (
    Lines,
    best_move,
    rule_lines,
    share_lines,
    stuck,
    together,
)
from spring_layout.tolerances import EVEN_TOLERANCE, SAME_PLACE

Index = NDArray[np.intp]

GAIN_LEAST = EVEN_TOLERANCE / 20
"""share. A smallest share that can rise by less has reached its height."""

SLIP = EVEN_TOLERANCE * 5
"""share. How far a kept share may sink in one step: the next one brings it back."""

RULE_SLIP = 0.004
"""mm or sine, a quarter of a degree. How far a rule may slip in one step, likewise."""

REACH_FIRST, REACH_LEVEL, REACH_MOST, REACH_LEAST = 1 / 8, 1 / 40, 1 / 4, 1e-6
"""pitches. The longest move of one step: at first, after a height is reached, ever, and at all."""

ROUNDS_MOST = 80
"""rounds for one height. Most take under ten; a slide along an edge that brings ever less ends."""

CLOSE_LEAST = 1e-3
"""pitches. Nearer than this, a fraction of a millimetre, no step is worth looking closer."""

MOVES_LEAST = 1e-6
"""mm a mm. A distance that changes by less with every move cannot be moved."""


@dataclass(frozen=True, eq=False)
class Task:
    """What does not change while springs move.

    ``moves``: sparse (2 n, r), the independent moves that leave held springs and symmetry alone;
    ``pitch``: the usual distance between centres, mm; ``start``: (n, 2) the places that the rules
    were made for: one that they break already may be broken so far, and no further. ``worth``: the
    share of a move's length that it must bring; ``ease``: the share by which a kept height may
    be undercut for the sake of the next.
    """

    outline: Outline
    radii: Array
    wish: Wish
    keeper: Keeper
    moves: Any
    pitch: float
    start: Array
    worth: float = 0.0
    ease: float = 0.0

    @property
    def scale(self) -> float:
        """Mm a share, about."""
        return max(self.wish.gap, self.wish.clearance, 1.0)

    def shares(self, places: Array) -> Shares:
        """The shares at ``places``."""
        return shares_of(self.outline, places, self.radii, self.wish)

    def measure(self, places: Array) -> Array:
        """The sorted shares at ``places``, as the measure counts them."""
        return np.sort(self.shares(places).counted())

    def keys(self, shares: Shares) -> Index:
        """A number for each share that stays with it while springs move."""
        count = len(self.radii)
        by_side = count * count + shares.first * len(self.outline.sides) + shares.side
        return np.where(shares.second >= 0, shares.first * count + shares.second, by_side)

    def rules(self, places: Array) -> Lines:
        """How far each rule is from being broken, or from what it was at the start."""
        order, bend = self.keeper.order_rules(places), self.keeper.bend_rules(places)
        lines = together(rule_lines(order, self.moves), rule_lines(bend, self.moves))
        return Lines(lines.value - self._least, lines.changes)

    @cached_property
    def _least(self) -> Array:
        return np.minimum(self._rule_values(self.start), 0.0)

    def _rule_values(self, places: Array) -> Array:
        both = self.keeper.order_rules(places), self.keeper.bend_rules(places)
        return np.concatenate([rules.value for rules in both])

    def breaks(self, places: Array) -> bool:
        """Whether a rule slips more than it may for a step."""
        return bool((self._rule_values(places) < self._least - RULE_SLIP).any())


class Heights:
    """The heights at which shares are kept, by their keys."""

    def __init__(self) -> None:
        self.keys = np.empty(0, np.intp)
        self.values = np.empty(0)

    def keep(self, keys: Index, values: Array) -> None:
        """Keep more shares, at ``values``."""
        keys, values = np.concatenate([self.keys, keys]), np.concatenate([self.values, values])
        order = np.argsort(keys)
        self.keys, self.values = keys[order], values[order]

    def of(self, keys: Index) -> Array:
        """(k,) the height of each share, nan where it is not kept."""
        found = np.full(len(keys), np.nan)
        at = np.searchsorted(self.keys, keys)
        known = np.isin(keys, self.keys)
        found[known] = self.values[at[known]]
        return found


@dataclass(frozen=True, eq=False)
class View:
    """What there is to raise and to keep at some places.

    ``keys`` and ``value``: (k,) of every share; ``height``: (k,) at which it is kept, or nan;
    ``lines``: the shares near here; ``active``: (k,) which are being raised; ``own``: (k,) which
    are shares themselves and not tangents of one.
    """

    keys: Index
    value: Array
    height: Array
    lines: Lines
    active: NDArray[np.bool_]
    own: NDArray[np.bool_]

    @property
    def raised(self) -> Lines:
        """The shares that are being raised."""
        return self.lines.some(self.active)

    @property
    def kept(self) -> Lines:
        """The shares that are kept, above their heights."""
        rows = ~np.isnan(self.height)
        lines = self.lines.some(rows)
        return Lines(lines.value - self.height[rows], lines.changes)


class Climb:
    """One way up: the places now, the heights that are kept, the length of the next step."""

    def __init__(self, task: Task, places: Array) -> None:
        self.task = task
        self.places = places
        self.heights = Heights()
        self.reach = task.pitch * REACH_FIRST
        self.levels = 0
        self.rounds = 0

    def steps(self, levels: int | None) -> Iterator[Array]:
        """Better and better places, until nothing can be raised or ``levels`` heights are kept."""
        while levels is None or self.levels < levels:
            view = self._view(self.places)
            if not view.active.any() or self._pinned(view):
                return
            kept = together(view.kept, self.task.rules(self.places))
            if self._step(view, kept):
                yield self.places

    def _view(self, places: Array) -> View:
        task = self.task
        own = task.shares(places)
        shares = with_tangents(own, task.outline, places, task.radii, self.reach)
        keys = task.keys(shares)
        lines = share_lines(shares, task.moves)
        height = self.heights.of(keys)
        height[np.isnan(height) & ~shares.wished & (shares.value >= -SAME_PLACE)] = 0.0
        active = np.isnan(height) & (lines.most() * task.scale > MOVES_LEAST)
        itself = np.arange(len(keys)) < len(own.value)
        return View(keys, shares.value, height, lines, active, itself)

    def _pinned(self, view: View) -> bool:
        """Whether the kept shares leave no move at all."""
        kept = view.lines.changes[view.own & np.isin(view.keys, self.heights.keys)]
        if kept.shape[0] < kept.shape[1]:
            return False
        rank = np.linalg.matrix_rank(kept.toarray() * self.task.scale, tol=MOVES_LEAST)
        return bool(rank == kept.shape[1])

    def _step(self, view: View, kept: Lines) -> bool:
        """Make one move; or, where none helps, shorten the next or keep what is stuck."""
        move = best_move(view.raised, kept, self.task.moves, self.reach, self.task.scale)
        worth = self.task.worth * self.reach / self.task.scale
        self.rounds += 1
        if move.gain <= max(GAIN_LEAST, worth) or self.rounds > ROUNDS_MOST:
            self._look_closer(view, kept, move.gain)
            return False
        share = self._kept_promise(view, self.places + move.by, move.gain)
        if share < 0.25:
            self.reach /= 3
            if self.reach < REACH_LEAST * self.task.pitch:
                self._keep(view, view.value <= view.raised.value.min() + GAIN_LEAST)
            return False
        self.places = self.places + move.by
        if share > 0.75:
            self.reach = min(self.reach * 2, self.task.pitch * REACH_MOST)
        return True

    def _look_closer(self, view: View, kept: Lines, gain: float) -> None:
        """Try a shorter step where that may be worth more of its length, else keep what is stuck.

        A step that aims at a place nearby brings little for its length; the way to that place
        may be worth it all the same, and is no longer than this.
        """
        aim = gain * self.task.scale / self.task.worth / 2 if self.task.worth else 0.0
        if self.rounds <= ROUNDS_MOST and gain > GAIN_LEAST and aim > CLOSE_LEAST * self.task.pitch:
            self.reach = aim
        else:
            self._keep_stuck(view, kept)

    def _kept_promise(self, view: View, places: Array, gain: float) -> float:
        """The share of the promised ``gain`` that a move brings; 0 where something kept sinks."""
        shares = self.task.shares(places)
        keys = self.task.keys(shares)
        height = self.heights.of(keys)
        slip = np.where(shares.wished, SLIP, SAME_PLACE)
        amiss = ~shares.wished & (shares.value < -slip) & ~np.isin(keys, view.keys[view.active])
        unmoved = view.keys[~view.active]
        if (shares.value < height - slip).any() or (amiss & np.isnan(height)).any():
            return 0.0
        if self.task.breaks(places):
            return 0.0
        raised = np.isnan(height) & ~np.isin(keys, unmoved)
        lowest = shares.counted()[raised].min(initial=np.inf)
        return float((lowest - view.raised.value.min()) / gain)

    def _keep_stuck(self, view: View, kept: Lines) -> None:
        """Of the lowest shares keep those that no move can raise; one at least."""
        rows = np.flatnonzero(view.active)
        low = view.value[rows] <= view.value[rows].min() + 3 * GAIN_LEAST
        lowest, others = view.lines.some(rows[low]), view.lines.some(rows[~low])
        held = stuck(lowest, others, kept, self.reach, self.task.scale)
        names = view.keys[rows[low][held] if len(held) else rows[low]]
        self._keep(view, np.isin(view.keys, names))

    def _keep(self, view: View, rows: NDArray[np.bool_]) -> None:
        """Keep the shares of ``rows`` at their height; a tangent keeps the share that it is of."""
        rows = rows & view.active & view.own
        self.heights.keep(view.keys[rows], view.value[rows] - self.task.ease)
        self.levels += 1
        self.rounds = 0
        self.reach = self.task.pitch * REACH_LEVEL
