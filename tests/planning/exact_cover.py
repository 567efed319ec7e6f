"""The best lines of one run by an independent formulation: a mixed-integer programme.

Same cost and hard rules as those stated in ``planning.tying``, but chosen all at once by
``scipy.optimize.milp``: a yes or no for every link and for every way out of every spring.

* Every spring has one link or way out behind it, and one ahead of it.
* Two neighbours on a line (link or way out) bend by no more than 25 degrees.
* No two links or ways out of different lines cross or touch; no two tacks of the run stand
  nearer than the least spacing.

Cost: each link's own; at each end of a line half the price of a line and the distance to the
inside edge along the course. Where no set keeps all the rules, an end without a clear way, or a
spring where two links bend too much, costs the stated penalty. The last rule is added as it is
needed, a block of pairs at a time.
"""

import math
from dataclasses import dataclass, field
from itertools import combinations

import numpy as np
import shapely
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_matrix

from spring_layout.deck.model import RUNS, Deck, Run
from tests.frame_shapes import opening
from tests.planning.plain_course import AXIS, PlainCourse, turned
from tests.planning.plain_ways import MOST_BEND, PlainWays, Way, distances_from

LINK_ANGLE = math.radians(30)
REACH = 4.5
COURSE_WEIGHT = 1.0
LINE_PRICE = 1.0
MICRO = 1_000_000
BREAK_PRICE = 100.0
TOUCH = 0.01
Fan = tuple[int | None, int | None]


def steps(pitches: float) -> int:
    """``pitches`` in millionths, halves and a shade less rounded up."""
    return math.floor(pitches * MICRO + 0.5 + 0.0027)


@dataclass(frozen=True)
class Piece:
    """A link or way out: its springs (None: the rail), direction, ends (mm), cost in millionths.

    One end: a line that stops at its spring. No ends: no way out, or a bend that is too sharp,
    which ``breaks`` a rule. ``nail``: the side and the place along it of a way's tack.
    """

    behind: int | None
    ahead: int | None
    angle: float
    ends: tuple[tuple[float, float], ...]
    cost: int
    breaks: int = 0
    nail: tuple[int, float] | None = None

    @property
    def weight(self) -> float:
        """What the programme counts, pitches: a broken rule is dearer than any detour."""
        return self.cost / MICRO + self.breaks * BREAK_PRICE

    @property
    def is_link(self) -> bool:
        return self.behind is not None and self.ahead is not None

    @property
    def fan(self) -> Fan:
        return (self.behind, self.ahead)


@dataclass
class Programme:
    """Rows of the programme: sums of pieces that must be exactly one, or at most one.

    ``pardoned``: at most one, or two where another piece is taken that pays for it.
    """

    pieces: list[Piece]
    exactly: list[list[int]] = field(default_factory=list)
    at_most: list[list[int]] = field(default_factory=list)
    pardoned: list[tuple[list[int], int]] = field(default_factory=list)

    def best(self) -> list[Piece]:
        """The pieces of the least weight."""
        rows = [[(column, 1.0) for column in row] for row in self.exactly + self.at_most]
        rows += [[*((c, 1.0) for c in row), (pays, -1.0)] for row, pays in self.pardoned]
        cells = [(row, *cell) for row, columns in enumerate(rows) for cell in columns]
        row, column, share = np.array(cells).T
        shape = (len(rows), len(self.pieces))
        matrix = coo_matrix((share, (row.astype(int), column.astype(int))), shape=shape).tocsr()
        least = np.full(len(rows), -np.inf)
        least[: len(self.exactly)] = 1.0
        found = milp(
            np.array([piece.weight for piece in self.pieces]),
            constraints=LinearConstraint(matrix, least, 1.0),
            integrality=np.ones(len(self.pieces)),
            bounds=Bounds(0, 1),
            options={"mip_rel_gap": 0.0},
        )
        assert found.status == 0, found.message
        return [piece for piece, share in zip(self.pieces, found.x, strict=True) if share > 0.5]


@dataclass(frozen=True)
class Best:
    """The best lines of a run: what they cost, millionths of a pitch, and the rules broken."""

    cost: int
    breaks: int


class PlainTask:
    """The pieces of every run of a small deck."""

    def __init__(self, deck: Deck) -> None:
        self.deck = deck
        self.course = PlainCourse(deck)
        self.ways = PlainWays(deck, self.course)
        self.places = self.course.places
        self.radii = self.ways.radii
        self.inside = opening(deck.frame).buffer(1e-3)
        self.links = self._links()

    def _links(self) -> dict[Run, list[Piece]]:
        links: dict[Run, list[Piece]] = {run: [] for run in RUNS}
        for i, k in combinations(range(len(self.places)), 2):
            owner = self._owner(i, k)
            if owner:
                run, a, b, off = owner
                far = math.dist(self.places[a], self.places[b])
                pitches = far / self.course.pitch + COURSE_WEIGHT * (off / LINK_ANGLE) ** 2
                links[run].append(self._piece(a, b, steps(pitches)))
        return links

    def _piece(self, a: int, b: int, cost: int) -> Piece:
        start, end = self.places[a], self.places[b]
        angle = math.atan2(*(end - start)[::-1])
        return Piece(a, b, angle, (tuple(start), tuple(end)), cost)

    def _owner(self, i: int, k: int) -> tuple[Run, int, int, float] | None:
        """The run that may join springs ``i`` and ``k``: its name, their order, the departure."""
        step = self.places[k] - self.places[i]
        angle, far = math.atan2(step[1], step[0]), math.hypot(*step)
        off = {run: turned(angle - self.course.at(run, i, k)) for run in RUNS}
        line_off = {run: min(abs(o), math.pi - abs(o)) for run, o in off.items()}
        run = next(r for r in RUNS if line_off[r] <= min(line_off.values()) + 1e-9)
        is_ahead = abs(off[run]) <= math.pi / 2
        a, b = (i, k) if is_ahead else (k, i)
        ahead = (self.places[b] - self.places[a]) @ (math.cos(AXIS[run]), math.sin(AXIS[run]))
        if line_off[run] > LINK_ANGLE + 1e-9 or ahead <= 0:
            return None
        if far > REACH * self.course.run_pitch[run] + 1e-6 or not self._is_clear(a, b):
            return None
        return run, a, b, line_off[run]

    def _is_clear(self, a: int, b: int) -> bool:
        off = distances_from(self.places[a], self.places[b], np.array(self.places))
        off[[a, b]] = math.inf
        if (off < self.radii - TOUCH).any():
            return False
        return bool(self.inside.covers(shapely.LineString([self.places[a], self.places[b]])))

    def pieces(self, run: Run) -> list[Piece]:
        """Every link and every clear way out of a run."""
        pieces = list(self.links[run])
        for spring in range(len(self.places)):
            for end in (0, 1):
                far = self.ways.edge_distance(run, spring, end) / self.course.pitch
                # Half the price at each end, so that a line pays it once.
                cost = steps(far) + steps(LINE_PRICE) // 2
                for way in self.ways.clear_ways(run, spring, end):
                    pieces.append(self._way_out(spring, end, way, cost))
                ends = (None, spring) if end == 0 else (spring, None)
                pieces.append(Piece(*ends, 0.0, (), cost, breaks=1))
        return pieces

    def _way_out(self, spring: int, end: int, way: Way, cost: int) -> Piece:
        ends = (tuple(self.places[spring]), *((way.tack,) if way.tack else ()))
        if end == 0:
            return Piece(None, spring, turned(way.angle + math.pi), ends, cost, nail=way.nail)
        return Piece(spring, None, way.angle, ends, cost, nail=way.nail)

    def best(self, run: Run) -> Best:
        """The best lines of a run, their tacks apart unless fewer breaks come of it otherwise."""
        spaced = self._best(run, self.deck.spacing.limits.anchor_spacing)
        if not spaced.breaks:
            return spaced
        crowded = self._best(run, 0.0)
        return crowded if crowded.breaks < spaced.breaks else spaced

    def _best(self, run: Run, apart: float) -> Best:
        programme = self.programme(run)
        meet = Meetings(self.ways, apart)
        seen: set[object] = set()
        while True:
            chosen = programme.best()
            pairs = [(a, b) for a, b in combinations(chosen, 2) if meet.clash(a, b)]
            new = {frozenset((a.fan, b.fan)) for a, b in pairs} - seen
            if not new:
                assert not pairs
                return Best(sum(p.cost for p in chosen), sum(p.breaks for p in chosen))
            seen |= new
            for fans in new:
                programme.at_most += meet.rows(programme.pieces, *fans)

    def programme(self, run: Run) -> Programme:
        """The programme of a run, without the clashes."""
        pieces = self.pieces(run)
        behind = [[n for n, p in enumerate(pieces) if p.ahead == s] for s in self._springs()]
        ahead = [[n for n, p in enumerate(pieces) if p.behind == s] for s in self._springs()]
        programme = Programme(pieces, exactly=behind + ahead)
        for before, after in zip(behind, ahead, strict=True):
            programme.pieces.append(Piece(None, None, 0.0, (), 0, breaks=1))
            for n in before:
                sharp = [k for k in after if bend_between(pieces[n], pieces[k]) > MOST_BEND + 1e-9]
                self._forbid(programme, n, sharp)
        return programme

    def _forbid(self, programme: Programme, n: int, sharp: list[int]) -> None:
        """Not ``n`` with any of ``sharp``; two links may, where the last piece pays for it."""
        pieces, pays = programme.pieces, len(programme.pieces) - 1
        links = [k for k in sharp if pieces[n].is_link and pieces[k].is_link]
        programme.pardoned += [([n, k], pays) for k in links]
        rest = [k for k in sharp if k not in links]
        programme.at_most += [[n, *rest]] if rest else []

    def _springs(self) -> range:
        return range(len(self.places))


def bend_between(before: Piece, after: Piece) -> float:
    """The bend between neighbours; none where the line ends at its spring without a tack."""
    if len(before.ends) < 2 or len(after.ends) < 2:
        return 0.0
    return abs(turned(after.angle - before.angle))


def _shape(piece: Piece) -> shapely.Geometry:
    if not piece.ends:
        return shapely.Point()
    if len(piece.ends) < 2:
        return shapely.Point(piece.ends[0])
    return shapely.LineString(piece.ends)


@dataclass(frozen=True)
class Meetings:
    """Which pieces may not go together: those that meet, and tacks nearer than ``least`` mm."""

    ways: PlainWays
    least: float

    def clash(self, a: Piece, b: Piece) -> bool:
        """Whether two pieces that share no spring may not go together."""
        springs = [s for piece in (a, b) for s in piece.fan if s is not None]
        if len(set(springs)) < len(springs):
            return False
        return bool(_shape(a).distance(_shape(b)) < TOUCH) or self._too_near(a, b)

    def _too_near(self, a: Piece, b: Piece) -> bool:
        if not (a.nail and b.nail):
            return False
        return self.ways.apart(a.nail, b.nail) < self.least - 1e-6

    def rows(self, pieces: list[Piece], one: Fan, two: Fan) -> list[list[int]]:
        """At most one of a piece of the first fan and all those of the second it clashes with."""
        first, second = ([n for n, p in enumerate(pieces) if p.fan == fan] for fan in (one, two))
        shapes = np.array([_shape(pieces[n]) for n in second], dtype=object)
        rows = []
        for n in first:
            # An empty shape is near nothing: its distance is not a number.
            met = shapely.distance(_shape(pieces[n]), shapes) < TOUCH
            met |= np.array([self._too_near(pieces[n], pieces[k]) for k in second], bool)
            rows += [[n, *(second[k] for k in np.flatnonzero(met))]] if met.any() else []
        return rows
