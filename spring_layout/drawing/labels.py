"""Places for labels: of the ways to write each one, those that together cost least.

A label comes with candidates, each a box on the paper with a cost and perhaps a leader. Of two
labels' candidates that touch each other only one can be used. To leave a label out costs more
than any place. Every label takes its cheapest free candidate, those with the fewest candidates
first; then each in turn changes to a cheaper one that is free, or that one other label stands in
the way of, if that one can go elsewhere and both together come cheaper; until nothing changes.
That is not always the least of all sums, but near it. The same labels give the same choice.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spring_layout.drawing.obstacles import Boxes
from spring_layout.drawing.primitives import Place
from spring_layout.drawing.view import Array

_MOST_ROUNDS = 6
_LEFT_OUT = 1000.0
"""The cost of a label left out."""
_GAIN = 1e-9


@dataclass(frozen=True)
class Ways:
    """The ways to write every label: arrays with a row a candidate, m in all.

    ``label``: (m,) which label it is for, ascending; ``middles``: (m, 2) the box's middle, mm;
    ``cost``: (m,). ``sizes``: (labels, 2) width and height, mm. ``leaders``: for each candidate
    the two ends of its leader, (m, 2, 2), nan where it has none. ``slot``: (m,) a number that is
    the same for the same place about its own thing.
    """

    label: NDArray[np.intp]
    middles: Array
    cost: Array
    sizes: Array
    leaders: Array
    slot: NDArray[np.intp]

    def boxes(self, wider: float = 0.0) -> Boxes:
        """The candidates' boxes, each edge ``wider`` mm further out."""
        half = self.sizes[self.label] / 2 + wider
        return Boxes(self.middles - half, self.middles + half)

    def only(self, keep: NDArray[np.bool_]) -> "Ways":
        """The candidates that ``keep`` marks."""
        return Ways(
            self.label[keep],
            self.middles[keep],
            self.cost[keep],
            self.sizes,
            self.leaders[keep],
            self.slot[keep],
        )

    def and_also(self, more: "Ways") -> "Ways":
        """The candidates of both, of labels with the same sizes."""
        label = np.concatenate([self.label, more.label])
        order = np.argsort(label, kind="stable")
        return Ways(
            label[order],
            np.concatenate([self.middles, more.middles])[order],
            np.concatenate([self.cost, more.cost])[order],
            self.sizes,
            np.concatenate([self.leaders, more.leaders])[order],
            np.concatenate([self.slot, more.slot])[order],
        )


@dataclass(frozen=True, slots=True)
class Chosen:
    """Where a label goes: the box's middle, and its leader's two ends if it has one, mm."""

    middle: Place
    leader: tuple[Place, Place] | None


def choose(ways: Ways, count: int, apart: float) -> list[Chosen | None]:
    """A place for each of ``count`` labels, boxes ``apart`` mm from each other; None: no room."""
    choice = _Choice(ways, count, apart)
    choice.fill()
    for _ in range(_MOST_ROUNDS):
        if not choice.improve():
            break
    return [None if i is None else _chosen(ways, i) for i in choice.taken]


def _chosen(ways: Ways, i: int) -> Chosen:
    x, y = ways.middles[i]
    ends = ways.leaders[i]
    leader = None
    if not np.isnan(ends).any():
        (ax, ay), (bx, by) = ends
        leader = ((float(ax), float(ay)), (float(bx), float(by)))
    return Chosen((float(x), float(y)), leader)


class _Choice:
    """The candidates taken so far: ``taken[label]`` is a candidate or None."""

    def __init__(self, ways: Ways, count: int, apart: float) -> None:
        self.cost = ways.cost
        order = np.lexsort((np.arange(len(ways.cost)), ways.cost, ways.label))
        self.ways: list[list[int]] = [[] for _ in range(count)]
        for i in order:
            self.ways[int(ways.label[i])].append(int(i))
        self.label = ways.label
        self.clashes = _clashes(ways, apart)
        self.taken: list[int | None] = [None] * count

    def blockers(self, candidate: int) -> set[int]:
        """The labels whose taken candidates touch this one."""
        found = set()
        for other in self.clashes[candidate]:
            label = int(self.label[other])
            if self.taken[label] == other:
                found.add(label)
        return found

    def fill(self) -> None:
        """Give every label its cheapest free candidate, the most pinched labels first."""
        for label in sorted(range(len(self.ways)), key=lambda at: (len(self.ways[at]), at)):
            self.taken[label] = self._best(label)

    def _best(self, label: int) -> int | None:
        return next((i for i in self.ways[label] if not self.blockers(i)), None)

    def improve(self) -> bool:
        """One round over all labels; whether anything changed."""
        changed = [self._improve(label) for label in range(len(self.ways))]
        return any(changed)

    def _improve(self, label: int) -> bool:
        """Change to the first cheaper candidate that makes the whole cheaper."""
        now = self._cost_of(self.taken[label])
        for candidate in self.ways[label]:
            if self.cost[candidate] >= now - _GAIN:
                return False
            blockers = self.blockers(candidate)
            if not blockers:
                self.taken[label] = candidate
                return True
            if len(blockers) == 1 and self._push_aside(label, candidate, *blockers):
                return True
        return False

    def _push_aside(self, label: int, candidate: int, other: int) -> bool:
        """Take the candidate and send the other label elsewhere, if that comes cheaper."""
        before = self.taken[label], self.taken[other]
        self.taken[label], self.taken[other] = candidate, None
        self.taken[other] = self._best(other)
        after = candidate, self.taken[other]
        if sum(map(self._cost_of, after)) < sum(map(self._cost_of, before)) - _GAIN:
            return True
        self.taken[label], self.taken[other] = before
        return False

    def _cost_of(self, candidate: int | None) -> float:
        return _LEFT_OUT if candidate is None else float(self.cost[candidate])


def _clashes(ways: Ways, apart: float) -> list[list[int]]:
    """For each candidate those of other labels that it touches."""
    found: list[list[int]] = [[] for _ in ways.cost]
    if not len(ways.cost):
        return found
    wide = ways.boxes(wider=apart)
    first, second = ways.boxes().near(wide.low, wide.high)
    other = ways.label[first] != ways.label[second]
    for a, b in zip(first[other].tolist(), second[other].tolist(), strict=True):
        found[a].append(b)
    return found
