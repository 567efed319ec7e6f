"""Suggest layouts: how many springs of one kind, in what pattern, and exactly where.

First places come from ``rows`` and ``rings``; each is spaced evenly, judged by how near its gaps
and clearances come to the wishes and how even they are, and the best few that really differ are
offered. No layout is offered whose rings touch, or pass the edge.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import msgspec
import numpy as np
import shapely

from spring_layout.deck.model import Coil, Deck, Spring, snapped
from spring_layout.geometry.outline import Outline
from spring_layout.geometry.spacing import facing_sides
from spring_layout.planning.parts import Array, Spaces, Standing
from spring_layout.planning.placing.even import even_out
from spring_layout.planning.placing.keep import Constraints
from spring_layout.planning.placing.layouts import Layout, Pattern, Sketch
from spring_layout.planning.placing.measure import Wish
from spring_layout.planning.placing.rings import ring_sketches
from spring_layout.planning.placing.rows import field_of, row_sketches
from spring_layout.planning.placing.symmetry import frame_motions, nearly_symmetric
from spring_layout.planning.placing.wording import title_of, why_of
from spring_layout.planning.spacing import Evenness, evenness_of, spaces_of
from spring_layout.planning.standing import outline_of, standing_of
from spring_layout.units import format_length

EVENED_MOST = 150
"""springs. Larger layouts are offered as first laid out, in even rows, to be quick."""

EVENED_SKETCHES = 8
"""layouts that are worth evening out: those that come nearest to the wishes as first laid out."""

ALMOST_TOUCHING = 3.0
"""mm between top coils where no gap is wished: the closest school sets them almost touching."""

SPRINGS_MOST = 2000
"""springs that a deck file takes."""

PATTERN_COST: dict[Pattern, float] = {"square": 0.0, "ring": 0.0, "staggered": 0.1, "fitted": 0.1}
"""Square rows are the plainest to tie, rings suit a round frame; the others must be better."""

ODD_RING_COST = 0.5
"""A ring of an odd number has springs with none opposite: ties bend, and cross one another."""

RING_COST = 0.15
"""Each ring beyond the first: rows of as many springs take fewer ties and far fewer knots."""

WORST_COST = 0.25
"""What the distance that misses its wish by most costs, against 1 for the mean of all."""

HOLE_COST = 1.0
"""What a place without springs costs, as far as it is larger than even spacing leaves."""

HOLE_GRID = 25
"""places each way at which it is looked for."""

SHARE_LEAST = 0.05
"""Shares below this, rings nearly touching, cost the same: all are too tight."""


class NoRoomError(ValueError):
    """Not one spring of this size fits the opening; the message says so in one sentence."""


@dataclass(frozen=True, eq=False)
class Judged:
    """A sketch, spaced evenly or not yet, and judged: the lower the ``cost`` the better.

    ``usual``: the usual share of the wishes that its gaps and clearances come to.
    """

    sketch: Sketch
    evenness: Evenness
    cost: float
    usual: float

    @property
    def fits(self) -> bool:
        """Whether no rings touch and none passes the edge."""
        even = self.evenness
        return (even.gap_least is None or even.gap_least > 0) and (even.rim_least or 0.0) >= 0


@dataclass(frozen=True, eq=False)
class Task:
    """What is laid out where: the deck, the spring size, the opening, the wishes.

    ``aim``: what is laid out for, which is the wish but for a gap of 0: rings then stand almost
    touching, and never touch.
    """

    deck: Deck
    coil: Coil
    outline: Outline
    wish: Wish

    @property
    def aim(self) -> Wish:
        """The distances to lay out for, mm."""
        nothing = not self.wish.gap and not self.wish.clearance
        clearance = ALMOST_TOUCHING if nothing else self.wish.clearance
        return Wish(self.wish.gap or ALMOST_TOUCHING, clearance)

    def standing(self, places: Array) -> Standing:
        """Springs of this size at ``places`` (n, 2), mm."""
        springs = tuple(
            Spring(id=f"s{i + 1}", coil=self.coil.id, x=float(x), y=float(y), held=False)
            for i, (x, y) in enumerate(places)
        )
        return standing_of(msgspec.structs.replace(self.deck, springs=springs))


def propose(
    deck: Deck,
    coil_id: str,
    gap: float | None = None,
    clearance: float | None = None,
    most: int = 4,
    go_on: Callable[[int, int], bool] = lambda done, of: True,
) -> tuple[Layout, ...]:
    """Up to ``most`` layouts of springs of size ``coil_id`` for ``deck``, the best first.

    ``gap`` and ``clearance``: the wished distances between top coils and from the rail, mm (None:
    the deck's); 0 leaves one out. The springs that the deck has now do not count. ``go_on`` is
    asked before each of the layouts that are tried, how many are done and how many there are;
    False stops with what there is. Raises ValueError for an unknown size or a wish that is no
    distance, NoRoomError where not one spring fits.
    """
    coil, outline = _coil(deck, coil_id), outline_of(deck.frame)
    wish = Wish(
        deck.spacing.gap if gap is None else gap,
        deck.spacing.clearance if clearance is None else clearance,
    )
    _check_room(deck, coil, outline)
    task = Task(deck, coil, outline, wish)
    sketches = _worth_a_look(task)
    found = []
    for done, sketch in enumerate(sketches):
        if not go_on(done, len(sketches)):
            break
        found.append(_better(task, sketch))
    fitting = sorted((one for one in found if one.fits), key=_rank)
    return tuple(_layout(task, one) for one in _different(fitting, most))


def _rank(one: Judged) -> tuple[float, int]:
    return round(one.cost, 6), len(one.sketch.places)


def _coil(deck: Deck, coil_id: str) -> Coil:
    for coil in deck.coils:
        if coil.id == coil_id:
            return coil
    raise ValueError(f"No spring size is called {coil_id!r}: choose one of this deck's.")


def _check_room(deck: Deck, coil: Coil, outline: Outline) -> None:
    widest = 2 * float(shapely.maximum_inscribed_circle(outline.polygon).length)
    if widest < coil.top_diameter:
        raise NoRoomError(
            f"No spring of this size fits: its top coil is"
            f" {format_length(coil.top_diameter, deck.units)} across, and the widest ring that"
            f" the opening takes is {format_length(widest, deck.units)}; choose a smaller spring."
        )


def _worth_a_look(task: Task) -> list[Sketch]:
    """The sketches that come nearest to the wishes as first laid out."""
    outline, radius = task.outline, task.coil.top_radius
    field = field_of(task.deck.frame, outline, radius)
    rows = row_sketches(field, task.aim, even_rows=not _back_like_front(outline))
    rings = ring_sketches(outline, radius, task.aim)
    found = [
        _judge(task, sketch) for sketch in (*rings, *rows) if len(sketch.places) <= SPRINGS_MOST
    ]
    return [one.sketch for one in sorted(found, key=_rank)[:EVENED_SKETCHES]]


def _back_like_front(outline: Outline) -> bool:
    """Whether the opening is its own mirror image from back to front."""
    mirror, nothing = np.diag([1.0, -1.0]), np.empty((0, 2))
    return any(np.allclose(matrix, mirror) for matrix, _ in frame_motions(outline, nothing))


def _better(task: Task, sketch: Sketch) -> Judged:
    """The sketch as first laid out, or spaced evenly, whichever comes nearer to the wishes.

    Where a frame narrows, even spacing draws the rows away from the narrow end to gain a little
    for the closest; rows that share the depth are often the better seat.
    """
    laid = replace(sketch, places=_symmetric(task, sketch))
    plain = _judge(task, laid)
    if len(sketch.places) > EVENED_MOST:
        return plain
    evened = _judge(task, _evened(task, laid))
    return plain if plain.fits and _rank(plain) < _rank(evened) else evened


def _symmetric(task: Task, sketch: Sketch) -> Array:
    """The sketch's places made exactly symmetric, if they nearly are."""
    standing = task.standing(sketch.places)
    free = np.zeros(len(standing.ids), bool)
    within = min(1.0, task.coil.top_radius / 10)
    return nearly_symmetric(task.outline, standing.centres, standing.radii, free, within)


def _evened(task: Task, sketch: Sketch) -> Sketch:
    """The sketch spaced evenly."""
    keep, aim = Constraints(rows=sketch.lines, order=True), task.aim
    places = even_out(task.standing(sketch.places), (), aim.gap, aim.clearance, keep)
    return replace(sketch, places=places)


def _judge(task: Task, sketch: Sketch) -> Judged:
    standing = task.standing(sketch.places)
    spaces = spaces_of(standing)
    missed = np.log(np.maximum(_shares(task, standing, spaces), SHARE_LEAST))
    usual = float(np.exp(missed.mean()))
    hole = _hole(task, standing.centres) / _usual_hole(task, usual)
    cost = float(np.abs(missed).mean() + WORST_COST * np.abs(missed).max())
    cost += HOLE_COST * max(0.0, math.log(hole))
    cost += PATTERN_COST[sketch.pattern] + _rings_cost(sketch)
    return Judged(sketch, evenness_of(standing, spaces), cost, usual)


def _rings_cost(sketch: Sketch) -> float:
    """What rings cost because they tie less simply than rows."""
    rings = [len(ring) for ring in sketch.rows if len(ring) > 1]
    if sketch.pattern != "ring" or not rings:
        return 0.0
    return ODD_RING_COST * any(count % 2 for count in rings) + RING_COST * (len(rings) - 1)


def _shares(task: Task, standing: Standing, spaces: Spaces) -> Array:
    """The gaps between neighbours and the distances along the rim as shares of the wishes."""
    wish = task.wish if task.wish.gap or task.wish.clearance else task.aim
    found = []
    if wish.gap:
        found.append(spaces.neighbour_gaps / wish.gap)
    if wish.clearance:
        rim = facing_sides(task.outline, standing.centres)
        found.append(spaces.side_clearances[rim[:, 0], rim[:, 1]] / wish.clearance)
    shares = np.concatenate(found)
    return shares if len(shares) else np.ones(1)


def _hole(task: Task, centres: Array) -> float:
    """The greatest distance of a place in the opening from the nearest top coil, mm."""
    x0, y0, x1, y1 = task.outline.bounds
    x, y = np.meshgrid(np.linspace(x0, x1, HOLE_GRID), np.linspace(y0, y1, HOLE_GRID))
    grid = np.stack([x.ravel(), y.ravel()], axis=1)
    grid = grid[task.outline.holds(grid)]
    tree = shapely.STRtree(shapely.points(centres))
    nearest = centres[tree.nearest(shapely.points(grid))]
    return float(np.hypot(*(grid - nearest).T).max()) - task.coil.top_radius


def _usual_hole(task: Task, usual: float) -> float:
    """The same where all is ``usual`` times as wished: in a corner, or amid four springs, mm."""
    radius = task.coil.top_radius
    reach = max(task.aim.clearance, task.aim.gap / 2) * usual
    return math.sqrt(2) * (radius + reach) - radius


def _different(judged: list[Judged], most: int) -> list[Judged]:
    """The best that really differ: no two of one pattern and number, nor with the same places.

    Beyond the second, none that is far from what was asked.
    """
    chosen: list[Judged] = []
    for one in judged:
        far = not 1 / FAR <= one.usual <= FAR
        if all(_differs(one, other) for other in chosen) and not (far and len(chosen) >= 2):
            chosen.append(one)
    return chosen[:most]


FAR = 2.0
"""A layout whose usual distances are this many times the wish, or fewer by as much, is far off."""


def _differs(one: Judged, other: Judged) -> bool:
    if len(one.sketch.places) != len(other.sketch.places):
        return True
    if one.sketch.pattern == other.sketch.pattern:
        return False
    apart = np.hypot(*(one.sketch.places[:, None] - other.sketch.places[None]).transpose(2, 0, 1))
    return bool(apart.min(axis=1).max() > SAME_LAYOUT)


SAME_LAYOUT = 20.0
"""mm. Two layouts of the same number whose springs all stand nearer than this are one choice."""


def _layout(task: Task, one: Judged) -> Layout:
    sketch, even = one.sketch, one.evenness
    counts = tuple(len(row) for row in sketch.rows)
    area = float(task.outline.polygon.area) / len(sketch.places)
    return Layout(
        pattern=sketch.pattern,
        counts=counts,
        places=tuple((snapped(float(x)), snapped(float(y))) for x, y in sketch.places),
        rows=sketch.rows,
        lines=sketch.lines,
        gap_least=even.gap_least,
        gap_most=even.gap_most,
        clearance_least=even.rim_least or 0.0,
        clearance_most=even.rim_most or 0.0,
        area_per_spring=area,
        title=title_of(sketch.pattern, counts),
        why=why_of(sketch.pattern, counts, even, task.wish, task.deck.units),
    )
