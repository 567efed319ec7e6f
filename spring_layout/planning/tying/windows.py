"""How far each tack may be moved: the window of every end of a run's lines.

An end has a window: the tacks that it can reach by neighbouring clear ways round the one chosen
in ``ends``. It would best stand where its aim meets the nail line; or, where its best way had to
give way to other lines of the run, where the way chosen does. The ways of a line over one spring
share between them what it may bend.
"""

from dataclasses import dataclass

import numpy as np

from spring_layout.planning.parts import Array
from spring_layout.planning.tying.ends import Ends
from spring_layout.planning.tying.nail_line import NailLine
from spring_layout.planning.tying.touch import Flags, Rows, turn_between
from spring_layout.planning.tying.ways import MOST_BEND, WAY_STEP


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


def windows_of(nails: NailLine, ends: Ends) -> Windows:
    """The windows of all ends of a run."""
    way = np.maximum(ends.chosen, 0)[..., None]
    stretch_all, at_all, offset = (
        np.stack([getattr(fan, name) for fan in ends.fans], axis=1)
        for name in ("stretch", "at", "offset")
    )
    stretch = np.take_along_axis(stretch_all, way, axis=2)
    at = _unrolled(nails, stretch, at_all, np.take_along_axis(at_all, way, axis=2))
    turned = np.abs(offset - np.take_along_axis(offset, way, axis=2))
    good = ends.allowed & (stretch_all == stretch) & (turned <= _freedom(ends)[:, None, None])
    inside = _unbroken(good, way)
    low, high = _range(at, inside)
    chosen = np.take_along_axis(at, way, axis=2)[..., 0]
    wished = _wished(nails, ends, stretch[..., 0], chosen, _range(offset, inside))
    return Windows(stretch[..., 0], chosen, low, high, np.clip(wished, low, high))


def _unrolled(nails: NailLine, stretch: Rows, at: Array, middle: Array) -> Array:
    """``at`` on closed stretches counted on past the end, so that all lie about ``middle``."""
    for number in range(len(nails.stretches)):
        if nails.is_closed(number):
            long = nails.length(number)
            around = middle + (at - middle + long / 2) % long - long / 2
            at = np.where(stretch == number, around, at)
    return at


def _freedom(ends: Ends) -> Array:
    """(m,) how far each way may turn from the one chosen, radians."""
    start, finish = (
        np.take_along_axis(fan.angle, np.maximum(ends.chosen[:, i], 0)[:, None], axis=1)[:, 0]
        for i, fan in enumerate(ends.fans)
    )
    bend = np.abs(turn_between(start + np.pi, finish))
    alone = np.array([len(chain) == 1 for chain in ends.chains], bool)
    shared = alone & (ends.chosen >= 0).all(axis=1)
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
    nails: NailLine, ends: Ends, stretch: Rows, chosen: Array, turns: tuple[Array, Array]
) -> Array:
    """(m, 2) where each aim, held within ``turns`` of the course, meets the nail line."""
    course = np.stack([fan.course for fan in ends.fans], axis=1)
    turn = np.clip(turn_between(course, ends.aims), *turns)
    places = ends.task.standing.centres[np.stack([fan.spring for fan in ends.fans], axis=1)]
    rays = nails.rays(places.reshape(-1, 2), (course + turn).reshape(-1))
    met = (rays.side >= 0).reshape(stretch.shape)
    met &= nails.stretch_of[rays.side].reshape(stretch.shape) == stretch
    at = nails.at(rays.side, rays.along).reshape(*stretch.shape, 1)
    unrolled = _unrolled(nails, stretch[..., None], at, chosen[..., None])[..., 0]
    return np.where(met & ~_gave_way(ends), unrolled, chosen)


def _gave_way(ends: Ends) -> Flags:
    """(m, 2) whether an end has not taken the allowed way that is nearest to its aim."""
    angle = np.stack([fan.angle for fan in ends.fans], axis=1)
    off = np.abs(turn_between(ends.aims[..., None], angle))
    best = np.where(ends.allowed, off, np.inf).min(axis=2)
    own = np.take_along_axis(off, np.maximum(ends.chosen, 0)[..., None], axis=2)[..., 0]
    return np.asarray(own > best + WAY_STEP / 2)
