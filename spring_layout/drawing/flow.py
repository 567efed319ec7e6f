"""Blocks set one under another over as many pages as they take, none of them left alone.

A block knows its height before it is drawn. Of all ways to break the blocks over pages the one is
taken with the fewest pages, then with the fewest things left alone (the last of a list at the head
of a page, a heading with only its first thing at the foot of one, a last page with next to
nothing on it), then with the pages before the last filled most evenly, a part that would have had
room on one page left whole where that costs little.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from spring_layout.drawing.primitives import Item, Place

_LITTLE = 45.0
"""mm; what is lower than this looks lost by itself at the head or foot of a page."""


@dataclass(frozen=True)
class Flow:
    """Something ``height`` mm high; ``draw`` gives its items for an upper left corner.

    ``leads``: it stays on one page with the block after it. ``opens``: a part of the sheet begins
    with it. ``after``: how much of its height is white below it, which no page's foot needs.
    """

    height: float
    draw: Callable[[Place], list[Item]]
    leads: bool = False
    opens: bool = False
    after: float = 0.0


def white(height: float) -> Flow:
    """White before the next block, ``height`` mm of it."""
    return Flow(height, lambda place: [], leads=True)


def flowed(blocks: Sequence[Flow], room: float) -> list[list[tuple[float, Flow]]]:
    """The blocks over pages that are ``room`` mm high: for each page (from its top, block)."""
    return [list(_stacked(page)) for page in _Pages(_units(blocks), room).broken()] or [[]]


def _stacked(blocks: Sequence[Flow]) -> Iterator[tuple[float, Flow]]:
    down = 0.0
    for flow in blocks:
        yield down, flow
        down += flow.height


def _units(blocks: Sequence[Flow]) -> list[list[Flow]]:
    """The blocks with those that they lead."""
    units: list[list[Flow]] = []
    leads = False
    for flow in blocks:
        if leads:
            units[-1].append(flow)
        else:
            units.append([flow])
        leads = flow.leads
    return units


_DIVIDED = 80.0
"""mm of blank that weigh as much as to divide a part."""
Cost = tuple[int, int, float]
"""Pages, things left alone, unevenness: how much blank a page has at its foot, mm squared."""


@dataclass(frozen=True)
class _Pages:
    """The ways to break ``units`` over pages ``room`` mm high; a unit is named by its number."""

    units: list[list[Flow]]
    room: float

    def broken(self) -> list[list[Flow]]:
        """The blocks of each page, the units' best way."""
        count = len(self.units)
        costs: list[Cost] = [(0, 0, 0.0)] * (count + 1)
        ends = [count] * count
        for begin in reversed(range(count)):
            ways = ((self._with(begin, end, costs[end]), end) for end in self._ends(begin))
            costs[begin], ends[begin] = min(ways)
        pages, begin = [], 0
        while begin < count:
            page = self.units[begin : ends[begin]]
            pages.append([flow for unit in page for flow in unit])
            begin = ends[begin]
        return pages

    def _ends(self, begin: int) -> Iterator[int]:
        """Where a page that begins with that unit may end; one unit goes on it in any case."""
        yield begin + 1
        for end in range(begin + 2, len(self.units) + 1):
            if self._used(begin, end) > self.room:
                return
            yield end

    def _with(self, begin: int, end: int, rest: Cost) -> Cost:
        """The cost of a page with these units, and of all that comes after it."""
        last = end == len(self.units)
        uneven = 0.0 if last else max(0.0, self.room - self._used(begin, end)) ** 2
        if self._divides(end):
            uneven += _DIVIDED**2
        return rest[0] + 1, rest[1] + self._alone(begin, end), rest[2] + round(uneven, 6)

    def _divides(self, end: int) -> bool:
        """Whether a page that ends there divides a part that has room on one page."""
        if self._opens(end):
            return False
        first = max(i for i in range(end) if i == 0 or self._opens(i))
        after = next(i for i in range(end + 1, len(self.units) + 1) if self._opens(i))
        return self._used(first, after) <= self.room

    def _alone(self, begin: int, end: int) -> int:
        """How many things this page leaves alone."""
        last = end == len(self.units)
        head = begin > 0 and not self._opens(begin) and self._opens(begin + 1)
        foot = not last and self._opens(end - 1) and not self._opens(end)
        lost = last and begin > 0 and self._used(begin, end) < _LITTLE
        return sum(
            (
                head and self._used(begin, begin + 1) < _LITTLE,
                foot and self._used(end - 1, end) < _LITTLE,
                lost,
            )
        )

    def _opens(self, unit: int) -> bool:
        """Whether a part of the sheet begins there; so it does where all ends."""
        return unit >= len(self.units) or self.units[unit][0].opens

    def _used(self, begin: int, end: int) -> float:
        return self._heights[end] - self._heights[begin] - self.units[end - 1][-1].after

    @cached_property
    def _heights(self) -> list[float]:
        """The height of all units before each."""
        heights = [0.0]
        for unit in self.units:
            heights.append(heights[-1] + sum(flow.height for flow in unit))
        return heights
