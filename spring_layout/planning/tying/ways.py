"""The ways out: how a line may leave its last spring for the rail.

A way out is straight, from a spring's centre to a tack on the nail line. They are tried at every
``WAY_STEP`` from the run's course at the spring, to ``WAY_MOST`` either side, and toward the
tacks that stand as near to a corner as may be. A way is *clear* when it leaves the opening once,
over a side with a rail, and passes over no other spring, and its tack keeps clear of corners.
Where the course meets a side without a rail, the line may also end at its spring.

Ways out cost nothing by themselves: the cost of a line's end is its distance along the course.
A line may end at a spring only where a clear way stays within ``MOST_BEND`` of its direction and
meets no other line of its run; a line over one spring needs two such ways, within ``MOST_BEND``
of each other.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np

from spring_layout.deck.model import Run
from spring_layout.planning.parts import Array, Standing
from spring_layout.planning.tying.course import Courses
from spring_layout.planning.tying.nail_line import NailLine
from spring_layout.planning.tying.passing import springs_passed
from spring_layout.planning.tying.touch import Flags, Rows, pieces_of, turn_between
from spring_layout.tolerances import SAME_PLACE

MOST_BEND = math.radians(25.0)
"""A line bends by no more than this at a spring."""
WAY_STEP = math.radians(3.0)
"""Ways out are tried at steps of this from the course."""
WAY_MOST = math.radians(36.0)
"""Ways out depart from the course by this at most."""

Picked = Rows | Flags | slice | tuple[slice | Rows | int, ...]
"""Which ends: whatever picks them out of an array."""
_OUTWARD = np.array([math.pi, 0.0])
"""How the run's course turns outward where a line starts, where it finishes."""


@dataclass(frozen=True, eq=False)
class Fan:
    """All ways out of some ends of a run's lines: ends of any shape (...), w ways each.

    ``spring``: (...) rows; ``course``: (...) direction outward, radians. The rest are (..., w):
    ``offset``: from the course, ascending; ``angle``: the direction; ``side``: of the tack, -1
    where no rail is met or the way is too far off the course; ``along``, ``anchor``: the tack;
    ``stretch``, ``at``: where that is on the nail line; ``clear``; ``over``: how many other
    springs it passes over; ``in_corner``: whether the tack is too near a corner.
    ``is_open``: (...) whether the course leaves over a side without a rail.
    """

    spring: Rows
    course: Array
    offset: Array
    angle: Array
    side: Rows
    along: Array
    anchor: Array
    stretch: Rows
    at: Array
    clear: Flags
    over: Rows
    in_corner: Flags
    is_open: Flags

    def only(self, rows: Picked) -> "Fan":
        """The ways of some of the ends."""
        return Fan(*[getattr(self, name)[rows] for name in _NAMES])

    def shaped(self, *shape: int) -> "Fan":
        """The same ends, which are in one row, in another shape."""
        columns = [getattr(self, name) for name in _NAMES]
        return Fan(*[column.reshape(*shape, *column.shape[1:]) for column in columns])

    def pieces(self, centres: Array) -> Array:
        """(..., w, 4) the ways as pieces of twine, from the spring outward."""
        pieces = np.empty((*self.angle.shape, 4))
        pieces[..., :2] = centres[self.spring][..., None, :]
        pieces[..., 2:] = self.anchor
        return pieces


_NAMES = tuple(field.name for field in fields(Fan))


def fan_of(courses: Courses, nails: NailLine, ends: Sequence[tuple[Run, Rows]]) -> Fan:
    """Every way out of the springs (m, 2) where lines of each run start and finish: (all m, 2)."""
    springs = np.concatenate([rows for _, rows in ends])
    outward = np.concatenate([courses.springs[run][rows] + _OUTWARD for run, rows in ends])
    return _fan(courses.standing, nails, springs.ravel(), outward.ravel()).shaped(-1, 2)


def _fan(standing: Standing, nails: NailLine, springs: Rows, outward: Array) -> Fan:
    places = standing.centres[springs]
    offset, allowed = _offsets(nails, places, outward)
    shape = offset.shape
    angle = outward[:, None] + offset
    wide = np.repeat(places, shape[1], axis=0)
    rays = nails.rays(wide, angle.reshape(-1))
    good = (rays.side >= 0) & allowed.reshape(-1)
    side, stretch, at = rays.side, nails.stretch_of[rays.side], nails.at(rays.side, rays.along)
    wanted = np.flatnonzero(good)
    over = np.zeros(len(wide), np.intp)
    pieces = pieces_of(wide[wanted], rays.anchor[wanted])
    own = np.repeat(springs, shape[1])[wanted, None]
    over[wanted] = springs_passed(standing, pieces, own, SAME_PLACE / 2)
    straight = np.abs(offset).argmin(axis=1)
    leaves = rays.leaves.reshape(shape)[np.arange(len(springs)), straight]
    return Fan(
        spring=springs,
        course=outward,
        offset=offset,
        angle=angle,
        side=np.where(good, side, -1).reshape(shape),
        along=rays.along.reshape(shape),
        anchor=rays.anchor.reshape(*shape, 2),
        stretch=np.where(good, stretch, -1).reshape(shape),
        at=at.reshape(shape),
        clear=(good & ~rays.in_corner & (over == 0)).reshape(shape),
        over=over.reshape(shape),
        in_corner=rays.in_corner.reshape(shape),
        is_open=~nails.has_rail[leaves],
    )


def _offsets(nails: NailLine, places: Array, outward: Array) -> tuple[Array, Flags]:
    """(s, w) offsets from the course, ascending, and whether each is near enough to it."""
    steps = round(WAY_MOST / WAY_STEP)
    even = np.arange(-steps, steps + 1) * WAY_STEP
    offset = np.broadcast_to(even, (len(places), len(even)))
    corners = nails.corner_tacks
    if len(corners):
        to = corners - places[:, None]
        extra = turn_between(outward[:, None], np.arctan2(to[..., 1], to[..., 0]))
        offset = np.concatenate([offset, extra], axis=1)
    offset = np.sort(offset, axis=1)
    return offset, np.abs(offset) <= WAY_MOST + 1e-9
