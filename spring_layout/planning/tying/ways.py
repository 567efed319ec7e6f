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
from dataclasses import dataclass, fields

import numpy as np
import shapely

from spring_layout.deck.model import End, Run
from spring_layout.planning.parts import Array, Standing
from spring_layout.planning.tying.course import DENSE, Courses
from spring_layout.planning.tying.nail_line import NailLine
from spring_layout.planning.tying.touch import Flags, Rows, distances, pieces_of, turn_between
from spring_layout.tolerances import SAME_PLACE

MOST_BEND = math.radians(25.0)
"""A line bends by no more than this at a spring."""
WAY_STEP = math.radians(3.0)
"""Ways out are tried at steps of this from the course."""
WAY_MOST = math.radians(36.0)
"""Ways out depart from the course by this at most."""
ENDS: tuple[End, End] = ("start", "finish")


@dataclass(frozen=True, eq=False)
class Fan:
    """All ways out from some springs at one end of a run; s springs, w ways each.

    ``spring``: (s,) rows; ``course``: (s,) direction outward, radians; ``offset``: (s, w) from
    the course; ``angle``: (s, w); ``side`` (-1: none), ``along``, ``anchor``: the tack;
    ``stretch``, ``at``: where that is on the nail line; ``clear``: (s, w); ``over``: (s, w) how many other springs it passes over; ``is_open``: (s,)
    whether the course leaves over a side without a rail.
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

    def only(self, rows: Rows) -> "Fan":
        """The ways of some of the springs."""
        return Fan(*(getattr(self, field.name)[rows] for field in fields(self)))

    def pieces(self, centres: Array) -> Array:
        """(s, w, 4) the ways as pieces of twine, from the spring outward."""
        starts = np.broadcast_to(centres[self.spring][:, None], self.anchor.shape)
        return pieces_of(starts, self.anchor)


def fan_of(courses: Courses, nails: NailLine, run: Run, end: End, springs: Rows) -> Fan:
    """Every way out from ``springs`` (rows) at the ``end`` of lines of ``run``."""
    standing = courses.standing
    outward = courses.springs[run][springs] + (math.pi if end == "start" else 0.0)
    places = standing.centres[springs]
    offset, allowed = _offsets(nails, places, outward)
    angle = outward[:, None] + offset
    shape = offset.shape
    starts = np.broadcast_to(places[:, None], (*shape, 2)).reshape(-1, 2)
    rays = nails.rays(starts, angle.reshape(-1))
    met = rays.side >= 0
    over = np.zeros(len(starts), np.intp)
    whose = np.repeat(springs, shape[1])
    wanted = np.flatnonzero(met & allowed.reshape(-1))
    over[wanted] = springs_passed(
        standing, pieces_of(starts[wanted], rays.anchor[wanted]), whose[wanted]
    )
    clear = met & ~rays.in_corner & (over == 0) & allowed.reshape(-1)
    leaves = rays.leaves.reshape(shape)
    side = np.where(allowed, rays.side.reshape(shape), -1)
    straight = np.abs(offset).argmin(axis=1)
    return Fan(
        spring=springs,
        course=outward,
        offset=offset,
        angle=angle,
        side=side,
        along=rays.along.reshape(shape),
        anchor=rays.anchor.reshape(*shape, 2),
        stretch=np.where(side >= 0, nails.stretch_of[side], -1),
        at=nails.at(side, rays.along.reshape(shape)),
        clear=clear.reshape(shape),
        over=over.reshape(shape),
        in_corner=rays.in_corner.reshape(shape),
        is_open=~nails.has_rail[leaves[np.arange(len(springs)), straight]],
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


def springs_passed(standing: Standing, pieces: Array, own: Rows) -> Rows:
    """(k,) how many springs each piece passes over, its ``own`` one aside."""
    centres, radii = standing.centres, standing.radii
    count = np.zeros(len(pieces), np.intp)
    if not len(pieces):
        return count
    if len(centres) <= DENSE:
        over = distances(pieces, centres) < radii - SAME_PLACE / 2
        over[np.arange(len(pieces)), own] = False
        return np.asarray(over.sum(axis=1))
    lines = shapely.linestrings(pieces.reshape(-1, 2, 2))
    points = shapely.points(centres)
    tree = shapely.STRtree(points)
    piece, spring = tree.query(lines, predicate="dwithin", distance=float(radii.max()))
    far = shapely.distance(lines[piece], points[spring])
    bad = (spring != own[piece]) & (far < radii[spring] - SAME_PLACE / 2)
    np.add.at(count, piece[bad], 1)
    return count


def end_distances(courses: Courses, nails: NailLine, run: Run) -> Array:
    """(n, 2) from each spring along the course to the inside edge, start and finish, mm.

    A spring whose course meets no edge (it stands outside) counts as one pitch away.
    """
    centres, course = courses.standing.centres, courses.springs[run]
    far = np.stack(
        [nails.edge_distance(centres, course + math.pi), nails.edge_distance(centres, course)],
        axis=-1,
    )
    return np.where(np.isfinite(far), far, courses.pitch)
