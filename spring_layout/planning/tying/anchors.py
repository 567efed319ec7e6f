"""Where the tacks go: every end of every line on the nail line, apart from one another.

Every end has a window (``windows``) and a place in it where it would best stand. All tacks of a
stretch of nail line, of all runs, are spread (``spread``), the straight lines staying where they
would best be, the diagonals giving way to them, and those over a single spring to all others.
Tacks moved by the user stay where they were put.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from spring_layout.deck.model import RUNS, MovedAnchor, Point, Run
from spring_layout.planning.parts import Array
from spring_layout.planning.tying.ends import NO_WAY, Ends
from spring_layout.planning.tying.exchange import Row, best_order
from spring_layout.planning.tying.ground import Ground
from spring_layout.planning.tying.nail_line import NailLine
from spring_layout.planning.tying.poor import poor_ways
from spring_layout.planning.tying.spread import fit, spread, widened
from spring_layout.planning.tying.task import Chain
from spring_layout.planning.tying.touch import meet_each_other, pieces_of, turn_between
from spring_layout.planning.tying.windows import Windows, windows_of
from spring_layout.tolerances import SAME_PLACE

WEIGHTS = (1e8, 1e4, 1.0)
"""How firmly tacks stay: of straight lines, of diagonals, of diagonals over one spring."""
LOOSE = 60.0
"""mm. How far the tack of an end without a clear way may be moved to make room."""


@dataclass(frozen=True)
class Place:
    """Where a tack goes: its side, the place along it, and in the plan, mm."""

    side: int
    along: float
    point: Point


@dataclass
class Tack:
    """One end of one line. ``end`` is 0 or 1; places are on the stretch of nail line, mm.

    ``number``: the end's in ``Windows``; ``is_fixed``: put there by the user; ``is_poor``: without
    a way that keeps the rules; ``is_pinned``: kept where it was chosen, as it met another line.
    ``odds`` goes along with a mirror or a turn of the deck: it decides between equal orders.
    """

    run: Run
    line: int
    end: int
    spring: Point
    weight: float
    odds: float
    number: int
    stretch: int = -1
    wished: float = 0.0
    low: float = 0.0
    high: float = 0.0
    chosen: float = 0.0
    is_fixed: bool = False
    is_poor: bool = False
    is_pinned: bool = False
    place: Place | None = None


@dataclass(frozen=True)
class Tied:
    """The lines of one run, and the tack at each end of each, None without one."""

    run: Run
    chains: list[Chain]
    tacks: list[tuple[Place | None, Place | None]]


def place_tacks(ground: Ground, runs: Sequence[Ends], moved: Sequence[MovedAnchor]) -> list[Tied]:
    """The tacks of all lines of all ``runs`` together."""
    lined = [ends for ends in runs if ends.chains]
    if not lined:
        return [_tied(ends, []) for ends in runs]
    windows = windows_of(ground, lined)
    tacks = _tacks_of(windows, runs)
    for wish in moved:
        for ends, own in zip(runs, tacks, strict=True):
            if ends.task.run == wish.run:
                _move(ground, ends, own, wish)
    every = [tack for own in tacks for tack in own]
    _settle(windows, every)
    pairs = zip(runs, tacks, strict=True)
    clashing = [tack for ends, own in pairs for tack in _clashing(ends, own)]
    for tack in clashing:
        tack.low = tack.high = tack.wished = tack.chosen
        tack.is_pinned = True
    if clashing:
        _settle(windows, every)
    return [_tied(ends, own) for ends, own in zip(runs, tacks, strict=True)]


def _tacks_of(windows: Windows, runs: Sequence[Ends]) -> list[list[Tack]]:
    """For each run a tack for every end that goes to a rail."""
    ground, springs = windows.ground, windows.ways.spring
    places = ground.standing.centres[springs]
    odds = ground.odds.at(places.reshape(-1, 2)).reshape(springs.shape)
    columns = (
        *(windows.stretch, windows.wished, windows.low, windows.high, windows.chosen),
        *(places[..., 0], places[..., 1], odds, np.arange(springs.size)),
    )
    rows = zip(*[column.ravel().tolist() for column in columns], strict=True)
    return [_run_tacks(ground.nails, ends, rows) for ends in runs]


def _run_tacks(nails: NailLine, ends: Ends, rows: Iterator[tuple[float, ...]]) -> list[Tack]:
    """The tacks of one run; takes two of the ``rows`` a line."""
    poor, has_rail = poor_ways(ends).tolist(), bool(nails.has_rail.any())
    ways, tacks = ends.chosen.tolist(), []
    for line in range(len(ends.chains)):
        weight = _weight(ends, line)
        for end in (0, 1):
            stretch, wished, low, high, chosen, x, y, odds, number = next(rows)
            tack = Tack(ends.task.run, line, end, (x, y), weight, odds, int(number), int(stretch))
            tack.wished, tack.low, tack.high, tack.chosen = wished, low, high, chosen
            if ways[line][end] == NO_WAY and has_rail:
                _make_poor(nails, ends, tack, poor[line][end])
            if tack.is_poor or ways[line][end] >= 0:
                tacks.append(tack)
    return tacks


def _weight(ends: Ends, line: int) -> float:
    if not ends.task.run.startswith("diagonal"):
        return WEIGHTS[0]
    return WEIGHTS[1] if len(ends.chains[line]) > 1 else WEIGHTS[2]


def _make_poor(nails: NailLine, ends: Ends, tack: Tack, way: int) -> None:
    """The tack of an end without a way that keeps the rules, which may be moved to make room."""
    fan, row = ends.fan, (tack.line, tack.end)
    if way >= 0:
        side, along = int(fan.side[*row, way]), float(fan.along[*row, way])
    else:
        side, along = _nearest_tack(nails, tack.spring, float(ends.aims[row]))
    tack.is_poor = True
    tack.stretch = int(nails.stretch_of[side])
    at = float(nails.at(np.array([side]), np.array([along]))[0])
    tack.chosen = tack.wished = at
    low, high = nails.at(np.array([side, side]), nails.limits[side]).tolist()
    tack.low, tack.high = min(max(at - LOOSE, low), at), max(min(at + LOOSE, high), at)


def _nearest_tack(nails: NailLine, spring: Point, aim: float) -> tuple[int, float]:
    """The tack on any rail that is least off the aim."""
    found = []
    for side in np.flatnonzero(nails.has_rail).tolist():
        low, high = nails.limits[side].tolist()
        along = np.linspace(low, high, 9)
        to = nails.places(np.full(9, side), along) - spring
        off = np.abs(turn_between(np.array(aim), np.arctan2(to[:, 1], to[:, 0])))
        found.append((float(off.min()), side, float(along[off.argmin()])))
    _, side, best = min(found)
    return side, best


def _move(ground: Ground, ends: Ends, tacks: list[Tack], wish: MovedAnchor) -> None:
    """Fixes a tack where the user has put it."""
    row = ends.task.standing.index.get(wish.spring, -1)
    number = 0 if wish.end == "start" else 1
    for line, chain in enumerate(ends.chains):
        if row not in chain:
            continue
        found = [tack for tack in tacks if (tack.line, tack.end) == (line, number)]
        if not found:
            place = ground.standing.centres[[chain[-number]]]
            (x, y), odds = place[0].tolist(), float(ground.odds.at(place)[0])
            found = [Tack(wish.run, line, number, (x, y), WEIGHTS[0], odds, number=-1)]
            tacks += found
        _fix(ground.nails, found[0], wish)


def _fix(nails: NailLine, tack: Tack, wish: MovedAnchor) -> None:
    side = np.array([wish.side])
    along = np.clip(np.array([wish.along]), 0.0, nails.lengths[side])
    at = float(nails.at(side, along)[0])
    x, y = nails.places(side, along)[0].tolist()
    tack.is_fixed = True
    tack.place = Place(wish.side, float(along[0]), (x, y))
    tack.stretch = int(nails.stretch_of[wish.side])
    tack.low = tack.high = tack.wished = tack.chosen = at


def _settle(windows: Windows, tacks: list[Tack]) -> None:
    """Spreads the tacks of every stretch."""
    for stretch in range(len(windows.ground.nails.stretches)):
        row = [tack for tack in tacks if tack.stretch == stretch]
        if row:
            _settle_stretch(windows, stretch, row)


def _settle_stretch(windows: Windows, stretch: int, row: list[Tack]) -> None:
    nails = windows.ground.nails
    apart = nails.standing.deck.spacing.limits.anchor_spacing
    if nails.is_closed(stretch):
        _cut(row, nails.length(stretch))
    row, now = _in_best_order(nails, stretch, row)
    low, high = now.low, now.high
    if not fit(low, high, apart):
        _refine(windows, row)
        row, now = _in_best_order(nails, stretch, row)
        low, high = widened(now.low, now.high, _room_of(windows, stretch, row))
    side, along = nails.sides_at(stretch, spread(now.wished, low, high, now.weight, apart))
    points = nails.places(side, along)
    for tack, *place in zip(row, side.tolist(), along.tolist(), points.tolist(), strict=True):
        if not tack.is_fixed:
            tack.place = Place(place[0], place[1], (place[2][0], place[2][1]))


def _in_best_order(nails: NailLine, stretch: int, row: list[Tack]) -> tuple[list[Tack], Row]:
    """The tacks in the order in which they stand best, and the same as arrays."""
    row = _in_order(nails, stretch, row)
    wished = _as_row(row)
    best = best_order(wished, nails.standing.deck.spacing.limits.anchor_spacing)
    return [row[i] for i in best], wished.take(best)


def _refine(windows: Windows, row: list[Tack]) -> None:
    """Windows to the last hair."""
    free = [tack for tack in row if not (tack.is_fixed or tack.is_poor or tack.is_pinned)]
    if not free:
        return
    numbers = np.array([tack.number for tack in free], np.intp)
    lows, highs = windows.refined(numbers)
    shifts = np.array([tack.chosen for tack in free]) - windows.chosen.reshape(-1)[numbers]
    for tack, low, high in zip(
        free, (lows + shifts).tolist(), (highs + shifts).tolist(), strict=True
    ):
        tack.low, tack.high = low, high


def _room_of(windows: Windows, stretch: int, row: list[Tack]) -> tuple[Array, Array]:
    """The least and most places to which tacks may be moved where there is no room else.

    On the sides where they stand, and with no way passing over a spring.
    """
    low, high = _rail_of(windows.ground.nails, stretch, row)
    rows = np.array([i for i, t in enumerate(row) if not (t.is_fixed or t.is_poor)], np.intp)
    numbers = np.array([row[i].number for i in rows], np.intp)
    shifts = np.array([row[i].chosen for i in rows]) - windows.chosen.reshape(-1)[numbers]
    least, most = windows.widest(numbers)
    low[rows] = np.maximum(low[rows], least + shifts)
    high[rows] = np.minimum(high[rows], most + shifts)
    return low, high


def _as_row(row: list[Tack]) -> Row:
    table = np.array([(t.wished, t.low, t.high, t.weight, t.odds) for t in row])
    wished, low, high, weight, odds = np.ascontiguousarray(table.T)
    return Row(wished, low, high, weight, [tack.run for tack in row], odds)


def _rail_of(nails: NailLine, stretch: int, row: list[Tack]) -> tuple[Array, Array]:
    """The least and most places on the sides where tacks stand; a tack set by hand has one."""
    chosen = np.array([tack.chosen for tack in row])
    side, along = nails.sides_at(stretch, chosen)
    shift = chosen - nails.at(side, along)
    low, high = (nails.at(side, nails.limits[side, i]) + shift for i in (0, 1))
    fixed = np.array([tack.is_fixed for tack in row])
    return np.where(fixed, chosen, low), np.where(fixed, chosen, high)


def _cut(row: list[Tack], long: float) -> None:
    """Counts the places of a closed stretch from its widest gap between tacks."""
    at = np.sort(np.array([tack.wished % long for tack in row]))
    gaps = np.append(np.diff(at), at[0] + long - at[-1])
    widest = int(gaps.argmax())
    begin = (at[widest] + gaps[widest] / 2) % long
    for tack in row:
        by = (tack.wished - begin) % long + begin - tack.wished
        tack.wished, tack.low, tack.high = tack.wished + by, tack.low + by, tack.high + by
        tack.chosen += by


def _in_order(nails: NailLine, stretch: int, row: list[Tack]) -> list[Tack]:
    """The tacks by where they would best stand; those of a run as the ways chosen do.

    The ways chosen of one run do not cross, so their order is kept. Tacks at one place stand in
    the order of where they come from.
    """
    origins = _origins(nails, stretch, row)
    row = [row[i] for i in sorted(range(len(row)), key=origins.__getitem__)]
    ordered = _levelled(row, lambda tack: tack.wished)
    for run in RUNS:
        places = [i for i, tack in enumerate(ordered) if tack.run == run]
        own = _levelled([tack for tack in row if tack.run == run], lambda tack: tack.chosen)
        for i, tack in zip(places, own, strict=True):
            ordered[i] = tack
    return ordered


def _levelled(row: list[Tack], at: Callable[[Tack], float]) -> list[Tack]:
    """The tacks by place; those nearer than the eye can tell stay in the order they came in."""
    ordered = sorted(range(len(row)), key=lambda i: at(row[i]))
    levels: list[list[int]] = []
    for i in ordered:
        if levels and at(row[i]) - at(row[levels[-1][-1]]) < SAME_PLACE:
            levels[-1].append(i)
        else:
            levels.append([i])
    return [row[i] for level in levels for i in sorted(level)]


def _origins(nails: NailLine, stretch: int, row: list[Tack]) -> list[tuple[float, float]]:
    """How far back along the nail line the spring of each tack stands."""
    side, along = nails.sides_at(stretch, np.array([tack.wished for tack in row]))
    away = np.array([tack.spring for tack in row]) - nails.places(side, along)
    ahead = nails.headings(side, along)
    back = away[:, 0] * ahead[:, 0] + away[:, 1] * ahead[:, 1]
    deep = [math.hypot(dx, dy) for dx, dy in away.tolist()]
    return [
        (round(far / max(long, 1.0), 6), long)
        for far, long in zip(back.tolist(), deep, strict=True)
    ]


def _clashing(ends: Ends, tacks: list[Tack]) -> list[Tack]:
    """The tacks whose ways meet other lines of their run, though those chosen did not."""
    own = [tack for tack in tacks if tack.place and not (tack.is_fixed or tack.is_poor)]
    if not own:
        return []
    springs = np.array([tack.spring for tack in own])
    pieces = pieces_of(springs, np.array([tack.place.point for tack in own if tack.place]))
    lines = np.array([tack.line for tack in own])
    links, owner = ends.cover.link_pieces
    met = meet_each_other(pieces, np.concatenate([pieces, links]))
    met &= lines[:, None] != np.concatenate([lines, owner])
    return [own[i] for i in np.flatnonzero(met.any(axis=1))]


def _tied(ends: Ends, tacks: list[Tack]) -> Tied:
    found = {(tack.line, tack.end): tack.place for tack in tacks}
    rows = [(found.get((i, 0)), found.get((i, 1))) for i in range(len(ends.chains))]
    return Tied(ends.task.run, ends.chains, rows)
