"""How far each tack may be moved: the window of every end of the lines of all runs.

An end has a window: the tacks that it can reach by neighbouring clear ways round the one chosen
in ``ends``, to within a way's step; where room is short, to the last hair (``refined``). It would
best stand where its aim meets the nail line; or, where its best way had to give way to other lines
of the run, where the way chosen does. The ways of a line over one spring share between them what
it may bend.
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
from spring_layout.planning.tying.passing import springs_passed
from spring_layout.planning.tying.touch import Flags, Rows, pieces_of, turn_between
from spring_layout.planning.tying.ways import MOST_BEND, WAY_MOST, WAY_STEP
from spring_layout.tolerances import SAME_PLACE

HALVINGS = 20
"""How often a window's end is halved: from a way's step, 3 degrees, to far below a hair's."""

Number = TypeVar("Number", np.float64, np.intp)


@dataclass(frozen=True, eq=False)
class Windows:
    """The windows of m lines' ends, on the nail line, mm; rows of ends without a way are idle.

    ``stretch``: (m, 2); ``chosen``: where the way chosen ends; ``low``, ``high``: the window;
    ``wished``: the best place within it. An end is numbered by its line's row, twice, and 0 or 1.
    """

    ground: Ground
    ways: "_Ways"
    inside: Flags
    at: Array
    stretch: Rows
    chosen: Array
    low: Array
    high: Array
    wished: Array

    def widest(self, ends: Rows) -> tuple[Array, Array]:
        """(k,) the least and most places that some ends reach without passing over a spring.

        The way there may turn more than it should.
        """
        ways = self.ways
        good = ways.clear & (ways.stretch == self.stretch[..., None])
        low, high = _range(self.at, _unbroken(good, ways.chosen[..., None]))
        return low.reshape(-1)[ends], high.reshape(-1)[ends]

    def refined(self, ends: Rows) -> tuple[Array, Array]:
        """(k,) ``low`` and ``high`` of some ends, to where a way just keeps the rules.

        Sought by halving between the last way in the window and the first beyond.
        """
        count = self.ways.offset.shape[2]
        inside = self.inside.reshape(-1, count)[ends]
        first, last = inside.argmax(axis=1), count - 1 - inside[:, ::-1].argmax(axis=1)
        low, high = self._halved(ends, first, -1), self._halved(ends, last, 1)
        lows, highs = self.low.reshape(-1)[ends], self.high.reshape(-1)[ends]
        return np.minimum(low, lows), np.maximum(high, highs)

    def _halved(self, ends: Rows, way: Rows, step: int) -> Array:
        """(k,) the place of the farthest good way between ``way`` and the next one."""
        ways, count = self.ways, self.ways.offset.shape[2]
        offset = ways.offset.reshape(-1, count)[ends]
        beyond, rows = np.clip(way + step, 0, count - 1), np.arange(len(ends))
        good, bad = offset[rows, way], offset[rows, beyond]
        # Of ways that others of the run have ruled out the last hair is not worth a clash.
        ruled_out = ways.clear & ~ways.allowed & ~(ways.bend > MOST_BEND + 1e-9)
        bad = np.where(ruled_out.reshape(-1, count)[ends, beyond], good, bad)
        for _ in range(HALVINGS):
            middle = (good + bad) / 2
            keeps = self._keeps(ends, middle)[0]
            good, bad = np.where(keeps, middle, good), np.where(keeps, bad, middle)
        at = self._keeps(ends, good)[1]
        long = self._around(ends)
        chosen = self.chosen.reshape(-1)[ends]
        return np.asarray(at + np.rint((chosen - at) / np.where(long > 0, long, 1.0)) * long)

    def _around(self, ends: Rows) -> Array:
        """(k,) how long the nail line is, all round, where it is closed; else 0."""
        nails = self.ground.nails
        every = range(len(nails.stretches))
        long = [nails.length(i) if nails.is_closed(i) else 0.0 for i in every]
        return np.array([*long, 0.0])[self.stretch.reshape(-1)[ends]]

    def _keeps(self, ends: Rows, offset: Array) -> tuple[Flags, Array]:
        """(k,) whether ways at an ``offset`` from the course keep the rules, and where they end."""
        ground, ways = self.ground, self.ways
        spring, angle = ways.spring.reshape(-1)[ends], ways.course.reshape(-1)[ends] + offset
        rays = ground.nails.rays(ground.standing.centres[spring], angle)
        met = np.flatnonzero(rays.side >= 0)
        pieces = pieces_of(ground.standing.centres[spring[met]], rays.anchor[met])
        over = np.ones(len(ends), np.intp)
        over[met] = springs_passed(ground.standing, pieces, spring[met, None], SAME_PLACE / 2)
        keeps = (over == 0) & ~rays.in_corner & (np.abs(offset) <= WAY_MOST + 1e-9)
        keeps &= ground.nails.stretch_of[rays.side] == self.stretch.reshape(-1)[ends]
        bend = np.abs(turn_between(ways.outward.reshape(-1)[ends], angle))
        keeps &= ~(bend > MOST_BEND + 1e-9)
        turned = np.abs(offset - ways.taken(ways.offset).reshape(-1)[ends])
        keeps &= turned <= np.repeat(_freedom(ways), 2)[ends]
        return keeps, ground.nails.at(rays.side, rays.along)


@dataclass(frozen=True, eq=False)
class _Ways:
    """The ends of the lines of all runs: (m, 2) ends, (m, 2, w) ways.

    ``spring``, ``course``, ``outward``, ``aims``, ``chosen`` (0 without a way), ``has_way``:
    (m, 2); ``offset``, ``angle``, ``stretch``, ``at``, ``clear``, ``allowed``: (m, 2, w).
    """

    spring: Rows
    course: Array
    outward: Array
    aims: Array
    chosen: Rows
    has_way: Flags
    offset: Array
    angle: Array
    stretch: Rows
    at: Array
    clear: Flags
    allowed: Flags

    @property
    def bend(self) -> Array:
        """(m, 2, w) how far each way turns from its line; nan over one spring."""
        return np.asarray(np.abs(turn_between(self.outward[..., None], self.angle)))

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
        outward=np.concatenate([ends.outward for ends in runs]),
        aims=np.concatenate([ends.aims for ends in runs]),
        chosen=np.maximum(chosen, 0),
        has_way=chosen >= 0,
        offset=together("offset"),
        angle=together("angle"),
        stretch=together("stretch"),
        at=together("at"),
        clear=together("clear"),
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
    places = (stretch[..., 0], chosen, low, high, np.clip(wished, low, high))
    return Windows(ground, ways, inside, at, *places)


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
