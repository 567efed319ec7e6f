"""The forward links of each run: which springs a line may join directly, and what that costs.

A link joins two springs that lie ahead of each other along a run: within ``LINK_ANGLE`` of the
course midway between them, ahead along the run's axis, and no farther apart than ``REACH``
typical pitches of that run. It belongs to the one run whose course is nearest (of all four,
whether they are tied or not; the straight runs first where two are equally near). A link that
passes over another spring, or leaves the opening, breaks rule 4 by itself and is no candidate.

Cost of a link, in pitches of the deck: its length + ``COURSE_WEIGHT`` x (departure from the
course / ``LINK_ANGLE``)^2. Cost of a line: ``LINE_PRICE`` + its links + at each end the distance
from the end spring along the course to the inside edge. Every cost is rounded to whole steps of
``COST_STEP``, micro-pitches.

* Length, because twine is what a line is made of, and short spans hold a spring best.
* Departure squared, so that two small departures are better than one large: 30 degrees off the
  course is as dear as a pitch of twine.
* One pitch a line begun, so that a line is not broken for a trifle; each break costs the way to
  the rail twice as well.

Equal costs are told apart by ``odds``: a small number from each link's distance to points of the
deck that every mirror or turn carries along, far below one step of cost.
"""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from spring_layout.deck.model import RUNS, Run
from spring_layout.planning.parts import Array, Standing
from spring_layout.planning.tying.course import AXES, Courses, near_pairs
from spring_layout.planning.tying.passing import springs_passed
from spring_layout.planning.tying.touch import Flags, Rows, pieces_of, turn_between
from spring_layout.tolerances import COORDINATE_STEP, COST_STEP, SAME_PLACE

LINK_ANGLE = math.radians(30.0)
"""A link departs from its run's course by this at most."""
REACH = 4.5
"""pitches of the run. A line passes over the places of a few missing springs, not across a hall."""
COURSE_WEIGHT = 1.0
"""pitches. What a departure of ``LINK_ANGLE`` costs."""
LINE_PRICE = 1.0
"""pitches. What beginning a line costs."""

EVEN_HANDED = 0.0027
"""steps. Plain pitches put many costs halfway between two steps, where the last bit would round
them; this much more, and a deck, its mirror image and the deck moved all round alike."""
EXACT = 60
"""springs. Up to here the lines are always the best there are, whatever that takes."""
HEAP_SHARE = 0.2
"""Of more springs than ``EXACT``, if more than this share overlap others, the deck is a heap:
no lines keep the rules, and links may pass over springs, at ``OVER_PRICE``."""
OVER_PRICE = 3.0
"""pitches. What a link that passes over other springs costs besides, in a heap."""

MARK_WEIGHTS = np.array([1.0, 0.83, 0.71, 0.59, 0.47, 0.37])
"""How much the distance from each of the points counts that tell equal costs apart."""

Whole = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Links:
    """Links of one run; k links.

    ``first``, ``second``: (k,) rows of the springs, in the run's direction; ``angle``: (k,) the
    link's direction, radians; ``cost``: (k,) micro-pitches; ``place``: (k, 2) its middle, mm.
    """

    first: Rows
    second: Rows
    angle: Array
    cost: Whole
    place: Array

    def __len__(self) -> int:
        return len(self.first)

    def where(self, kept: Flags | Rows) -> "Links":
        """Only the links that are ``kept``."""
        return Links(
            self.first[kept],
            self.second[kept],
            self.angle[kept],
            self.cost[kept],
            self.place[kept],
        )


def is_heap(standing: Standing) -> bool:
    """Whether so many springs overlap that no lines can keep the rules."""
    centres, radii = standing.centres, standing.radii
    if len(centres) <= EXACT:
        return False
    first, second = near_pairs(centres, 2 * float(radii.max()))
    near = np.hypot(*(centres[second] - centres[first]).T) < radii[first] + radii[second]
    lapped = np.unique(np.concatenate([first[near], second[near]]))
    return len(lapped) > HEAP_SHARE * len(centres)


def steps_of(pitches: Array) -> Whole:
    """``pitches`` as whole steps of cost, rounded to the nearest; ``EVEN_HANDED`` at the half."""
    return np.asarray(np.floor(pitches / COST_STEP + 0.5 + EVEN_HANDED), np.int64)


def exact_offsets(standing: Standing, first: Rows, second: Rows) -> Array:
    """(k, 2) from spring to spring, mm, the same bits wherever the deck stands."""
    grid = np.rint(standing.centres / COORDINATE_STEP)
    return np.asarray((grid[second] - grid[first]) * COORDINATE_STEP)


def forward_links(standing: Standing, courses: Courses | None = None) -> dict[Run, Links]:
    """The forward links of every run of ``standing``: pure geometry, no wishes of the user."""
    courses = courses or Courses(standing)
    reach = REACH * max(courses.run_pitches.values())
    first, second = near_pairs(standing.centres, reach)
    offset = exact_offsets(standing, first, second)
    apart = np.hypot(*offset.T) > 0
    first, second, offset = first[apart], second[apart], offset[apart]
    owner, turned, off = _owners(courses, first, second, offset)
    clear = np.flatnonzero(owner >= 0)
    over = np.zeros(len(first), bool)
    pair = np.stack([first, second], axis=-1)[clear]
    pieces = pieces_of(standing.centres[pair[:, 0]], standing.centres[pair[:, 1]])
    over[clear] = springs_passed(standing, pieces, pair, SAME_PLACE) > 0
    clear = clear if is_heap(standing) else clear[~over[clear]]
    clear = clear[_inside(standing, first[clear], second[clear])]
    first, second = np.where(turned, second, first), np.where(turned, first, second)
    links = {}
    for number, run in enumerate(RUNS):
        own = clear[owner[clear] == number]
        links[run] = _links(courses, first[own], second[own], off[own], over[own])
    return links


def make_links(courses: Courses, run: Run, first: Rows, second: Rows) -> Links:
    """Links of ``run`` from springs ``first`` to ``second``, whatever rule they break."""
    offset = exact_offsets(courses.standing, first, second)
    angle = np.arctan2(offset[:, 1], offset[:, 0])
    off = turn_between(courses.at(first, second)[run], angle)
    return _links(courses, first, second, np.abs(off), np.zeros(len(first), bool))


def _links(courses: Courses, first: Rows, second: Rows, off: Array, over: Flags) -> Links:
    """Links that depart from their course by ``off`` radians, some ``over`` other springs."""
    offset = exact_offsets(courses.standing, first, second)
    share = off / LINK_ANGLE
    pitches = np.hypot(*offset.T) / courses.pitch + COURSE_WEIGHT * share * share
    pitches += OVER_PRICE * over
    centres = courses.standing.centres
    return Links(
        first,
        second,
        np.arctan2(offset[:, 1], offset[:, 0]),
        steps_of(pitches),
        (centres[first] + centres[second]) / 2,
    )


def _owners(
    courses: Courses, first: Rows, second: Rows, offset: Array
) -> tuple[NDArray[np.int_], Flags, Array]:
    """(k,) number of the run that each link may belong to, -1 for none; whether it is turned;
    how far it departs from that run's course, radians.
    """
    angle = np.arctan2(offset[:, 1], offset[:, 0])
    far = np.hypot(*offset.T)
    at = courses.at(first, second)
    turns = np.stack([turn_between(at[run], angle) for run in RUNS])
    off = np.minimum(np.abs(turns), math.pi - np.abs(turns))
    nearest = _first_least(off)
    rows = np.arange(len(first))
    turned = np.abs(turns[nearest, rows]) > math.pi / 2
    axes = np.array([AXES[run] for run in RUNS])[nearest]
    ahead = (offset[:, 0] * np.cos(axes) + offset[:, 1] * np.sin(axes)) * np.where(turned, -1, 1)
    reach = REACH * np.array([courses.run_pitches[run] for run in RUNS])[nearest]
    least = off[nearest, rows]
    allowed = (least <= LINK_ANGLE + 1e-9) & (far <= reach + 1e-6) & (ahead > 0)
    return np.where(allowed, nearest, -1), np.asarray(turned), least


def _first_least(off: Array) -> Rows:
    """The first row that is least in each column, differences under 1e-9 being none."""
    return np.asarray((off <= off.min(axis=0) + 1e-9).argmax(axis=0))


def _inside(standing: Standing, first: Rows, second: Rows) -> Flags:
    """(k,) whether a link stays in the opening."""
    polygon = standing.outline.polygon
    if not len(first) or polygon.area >= polygon.convex_hull.area * (1 - 1e-9):
        return np.ones(len(first), bool)
    pieces = pieces_of(standing.centres[first], standing.centres[second])
    lines = shapely.linestrings(pieces.reshape(-1, 2, 2))
    shapely.prepare(polygon)
    return np.asarray(shapely.covers(polygon, lines))


def _mean(places: Array, weights: Array) -> Array:
    """The mean of ``places`` (n, 2) by their weights; np.average takes long for a few."""
    each = weights[:, None]
    return np.asarray((places * each).sum(axis=0) / each.sum(axis=0))


@dataclass(frozen=True, eq=False)
class Odds:
    """The tie-breaker: numbers that a mirror, a turn or another listing does not change."""

    standing: Standing

    @cached_property
    def marks(self) -> Array:
        """(m, 2) points of the deck that every mirror or turn carries along, mm."""
        springs, radii = self.standing.centres, self.standing.radii
        middle = _mean(springs, radii)
        far = np.hypot(*(springs - middle).T)
        heavy = _mean(springs, radii * (1 + far**2))
        rim = _mean(springs, radii * (1 + far**5))
        return np.stack([middle, heavy, rim, *self._frame_marks()])

    def _frame_marks(self) -> list[Array]:
        frame, outline = self.standing.deck.frame, self.standing.outline
        middles = np.stack([side.point(side.length / 2) for side in outline.sides])
        long = np.array([side.length for side in outline.sides])
        rails = np.array(
            [
                0.0 if side.rail == "none" else 1 + frame.nail_line_of(i) + frame.width_of(i) / 7
                for i, side in enumerate(frame.sides)
            ]
        )
        corners = outline.corners
        far = np.hypot(*(corners - corners.mean(axis=0)).T)
        return [
            _mean(middles, long),
            _mean(middles, long * rails + 1e-6),
            _mean(corners, 1 + far**3),
        ]

    def at(self, places: Array) -> Array:
        """(k,) numbers from 0 to 1 for ``places`` (k, 2); smooth, so that rounding cannot tell."""
        x0, y0, x1, y1 = self.standing.outline.bounds
        away = places[:, None] - self.marks
        far = np.hypot(away[..., 0], away[..., 1]) / math.hypot(x1 - x0, y1 - y0)
        total = ((far + far * far * 0.31) * MARK_WEIGHTS).sum(axis=1)
        return np.asarray(np.clip(total / 8, 0.0, 1.0))
