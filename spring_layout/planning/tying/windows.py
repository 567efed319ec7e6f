"""How far each tack may be moved: the window of every end of the lines of all runs.

An end has a window: the tacks that it can reach by neighbouring clear ways round the one chosen
in ``ends``. It would best stand where its aim meets the nail line; or, where its best way had to
give way to other lines of the run, where the way chosen does. The ways of a line over one spring
share between them what it may bend.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from spring_layout.planning.parts import Array
from spring_layout.planning.tying.ends import Ends
from spring_layout.planning.tying.ground import Ground
from spring_layout.planning.tying.nail_line import NailLine
from spring_layout.planning.tying.touch import Flags, Rows, turn_between
from spring_layout.planning.tying.ways import MOST_BEND, WAY_STEP

Number = TypeVar("Number", np.float64, np.intp)


@dataclass(frozen=True, eq=False)
class Windows:
    """The windows of m lines' ends, on the nail line, mm; rows of ends without a way are idle.

    ``stretch``: (m, 2); ``chosen``: where the way chosen ends; ``low``, ``high``: the window;
    ``wished``: the best place within it.
    """

    stretch: Rows
    chosen: Array
    low: Array
    high: Array
    wished: Array


@dataclass(frozen=True, eq=False)
class _Ways:
    """The ends of the lines of all runs: (m, 2) ends, (m, 2, w) ways.

    ``spring``, ``course``, ``aims``, ``chosen`` (0 without a way), ``has_way``: (m, 2);
    ``offset``, ``angle``, ``stretch``, ``at``, ``allowed``: (m, 2, w).
    """

    spring: Rows
    course: Array
    aims: Array
    chosen: Rows
    has_way: Flags
    offset: Array
    angle: Array
    stretch: Rows
    at: Array
    allowed: Flags

    def taken(self, values: NDArray[Number]) -> NDArray[Number]:
        """(m, 2, 1) of ``values`` (m, 2, w) that of each way chosen."""
        rows = np.arange(len(self.chosen))[:, None]
        return values[rows, (0, 1), self.chosen][..., None]


def _ways_of(runs: Sequence[Ends]) -> _Ways:
    def together(name: str) -> NDArray[Any]:
        return np.concatenate([getattr(ends.fan, name) for ends in runs])

    chosen = np.concatenate([ends.chosen for ends in runs])
    return _Ways(
        spring=together("spring"),
        course=together("course"),
        aims=np.concatenate([ends.aims for ends in runs]),
        chosen=np.maximum(chosen, 0),
        has_way=chosen >= 0,
        offset=together("offset"),
        angle=together("angle"),
        stretch=together("stretch"),
        at=together("at"),
        allowed=np.concatenate([ends.allowed for ends in runs]),
    )


def windows_of(ground: Ground, runs: Sequence[Ends]) -> Windows:
    """The windows of all ends of some runs, run after run."""
    nails, ways = ground.nails, _ways_of(runs)
    stretch = ways.taken(ways.stretch)
    at = _unrolled(nails, stretch, ways.at, ways.taken(ways.at))
    turned = np.abs(ways.offset - ways.taken(ways.offset))
    good = ways.allowed & (ways.stretch == stretch) & (turned <= _freedom(ways)[:, None, None])
    inside = _unbroken(good, ways.chosen[..., None])
    low, high = _range(at, inside)
    chosen = ways.taken(at)[..., 0]
    wished = _wished(ground, ways, stretch[..., 0], chosen, _range(ways.offset, inside))
    return Windows(stretch[..., 0], chosen, low, high, np.clip(wished, low, high))


def _unrolled(nails: NailLine, stretch: Rows, at: Array, middle: Array) -> Array:
    """``at`` on closed stretches counted on past the end, so that all lie about ``middle``."""
    for number in range(len(nails.stretches)):
        if nails.is_closed(number):
            long = nails.length(number)
            around = middle + (at - middle + long / 2) % long - long / 2
            at = np.where(stretch == number, around, at)
    return at


def _freedom(ways: _Ways) -> Array:
    """(m,) how far each way may turn from the one chosen, radians."""
    start, finish = ways.taken(ways.angle)[..., 0].T
    bend = np.abs(turn_between(start + np.pi, finish))
    alone = ways.spring[:, 0] == ways.spring[:, 1]
    shared = alone & ways.has_way.all(axis=1)
    return np.where(shared, np.maximum(MOST_BEND - bend, 0.0) / 2, 2 * np.pi) + 1e-9


def _unbroken(good: Flags, way: Rows) -> Flags:
    """The row of ``good`` ways without a break that each ``way`` stands in."""
    numbers = np.arange(good.shape[2])
    before = np.where(~good & (numbers < way), numbers, -1).max(axis=2, keepdims=True)
    after = np.where(~good & (numbers > way), numbers, len(numbers)).min(axis=2, keepdims=True)
    return np.asarray((numbers > before) & (numbers < after))


def _range(values: Array, inside: Flags) -> tuple[Array, Array]:
    """The least and the most of the ``values`` that are ``inside``."""
    low = np.where(inside, values, np.inf).min(axis=2)
    return low, np.where(inside, values, -np.inf).max(axis=2)


def _wished(
    ground: Ground, ways: _Ways, stretch: Rows, chosen: Array, turns: tuple[Array, Array]
) -> Array:
    """(m, 2) where each aim, held within ``turns`` of the course, meets the nail line."""
    nails = ground.nails
    turn = np.clip(turn_between(ways.course, ways.aims), *turns)
    places = ground.standing.centres[ways.spring]
    rays = nails.rays(places.reshape(-1, 2), (ways.course + turn).reshape(-1))
    met = (rays.side >= 0).reshape(stretch.shape)
    met &= nails.stretch_of[rays.side].reshape(stretch.shape) == stretch
    at = nails.at(rays.side, rays.along).reshape(*stretch.shape, 1)
    unrolled = _unrolled(nails, stretch[..., None], at, chosen[..., None])[..., 0]
    return np.where(met & ~_gave_way(ways), unrolled, chosen)


def _gave_way(ways: _Ways) -> Flags:
    """(m, 2) whether an end has not taken the allowed way that is nearest to its aim."""
    off = np.abs(turn_between(ways.aims[..., None], ways.angle))
    best = np.where(ways.allowed, off, np.inf).min(axis=2)
    return np.asarray(ways.taken(off)[..., 0] > best + WAY_STEP / 2)
