"""Where the tacks go: every end of every line on the nail line, apart from one another.

Each end has a window: the tacks it can reach by neighbouring clear ways round the one chosen in
``ends``. It would best stand where its aim meets the nail line. All tacks of a stretch, of all
runs, are then spread (``spread``), the straight lines staying where they would best be, the
diagonals giving way to them, and those over a single spring to all others. Tacks moved by the
user stay where they were put.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from spring_layout.deck.model import MovedAnchor, Point, Run
from spring_layout.planning.parts import Array
from spring_layout.planning.tying.ends import NO_WAY, Ends
from spring_layout.planning.tying.nail_line import NailLine
from spring_layout.planning.tying.spread import roomier_order, spread
from spring_layout.planning.tying.task import Chain
from spring_layout.planning.tying.touch import Rows, cross_or_touch, pieces_of, turn_between
from spring_layout.planning.tying.ways import MOST_BEND, Fan
from spring_layout.tolerances import SAME_PLACE

WEIGHTS = (1e8, 1e4, 1.0)
"""How firmly tacks stay: of straight lines, of diagonals, of diagonals over one spring."""
LOOSE = 60.0
"""mm. How far the tack of an end without a clear way may be moved to make room."""


@dataclass
class Tack:
    """One end of one line. ``end`` is 0 or 1; places are on the stretch of nail line, mm."""

    run: Run
    line: int
    end: int
    spring: Point
    weight: float
    stretch: int = -1
    wished: float = 0.0
    low: float = 0.0
    high: float = 0.0
    chosen: float = 0.0
    narrow: tuple[float, float] = (0.0, 0.0)
    fixed: tuple[int, float] | None = None
    at: float = field(default=math.nan)


@dataclass(frozen=True)
class Tied:
    """The lines of one run with their tacks: (side, along) at each end, None without one."""

    run: Run
    chains: list[Chain]
    tacks: list[tuple[tuple[int, float] | None, tuple[int, float] | None]]


def place_tacks(nails: NailLine, runs: Sequence[Ends], moved: Sequence[MovedAnchor]) -> list[Tied]:
    """The tacks of all lines of all ``runs`` together."""
    tacks = [tack for ends in runs for tack in _tacks_of(nails, ends)]
    _obey(nails, runs, tacks, moved)
    _settle(nails, tacks)
    for narrower in (_to_narrow, _to_chosen):
        clashing = [t for ends in runs for t in _clashing(nails, ends, tacks)]
        if not clashing:
            break
        for tack in clashing:
            narrower(tack)
        _settle(nails, tacks)
    return [_tied(nails, ends, tacks) for ends in runs]


def _to_narrow(tack: Tack) -> None:
    tack.low, tack.high = tack.narrow
    tack.wished = min(max(tack.wished, tack.low), tack.high)


def _to_chosen(tack: Tack) -> None:
    tack.low = tack.high = tack.wished = tack.chosen


def _tacks_of(nails: NailLine, ends: Ends) -> list[Tack]:
    """A tack for every end of a run that goes to a rail."""
    centres = ends.task.standing.centres
    tacks = []
    for line, chain in enumerate(ends.chains):
        for end, spring in ((0, chain[0]), (1, chain[-1])):
            x, y = centres[spring]
            weight = _weight(ends.task.run, chain)
            tack = Tack(ends.task.run, line, end, (float(x), float(y)), weight)
            if ends.chosen[line, end] >= 0:
                _give_window(nails, ends, tack)
                tacks.append(tack)
            elif ends.chosen[line, end] == NO_WAY and _give_least_bad(nails, ends, tack):
                tacks.append(tack)
    _wish(nails, ends, [t for t in tacks if ends.chosen[t.line, t.end] >= 0])
    return tacks


def _weight(run: Run, chain: Chain) -> float:
    if not run.startswith("diagonal"):
        return WEIGHTS[0]
    return WEIGHTS[1] if len(chain) > 1 else WEIGHTS[2]


def _give_window(nails: NailLine, ends: Ends, tack: Tack) -> None:
    """The window of an end: the tacks of the clear ways on either side of its own."""
    fan, row = ends.fans[tack.end], tack.line
    way = int(ends.chosen[row, tack.end])
    tack.stretch = int(nails.stretch_of[fan.side[row, way]])
    ways = _window_ways(nails, ends, tack)
    at = _unrolled(
        nails,
        tack.stretch,
        nails.at(fan.side[row, ways], fan.along[row, ways]),
        float(nails.at(fan.side[row, way], fan.along[row, way])),
    )
    here = int(np.flatnonzero(ways == way)[0])
    tack.chosen = float(at[here])
    beside = at[max(here - 1, 0) : here + 2]
    near = (beside + at[here]) / 2
    tack.low, tack.high = float(at.min()), float(at.max())
    tack.narrow = (float(near.min()), float(near.max()))
    tack.wished = tack.chosen


def _window_ways(nails: NailLine, ends: Ends, tack: Tack) -> Rows:
    """The unbroken row of allowed ways, on one stretch, round the way chosen."""
    fan, row, end = ends.fans[tack.end], tack.line, tack.end
    way = int(ends.chosen[row, end])
    good = ends.allowed[row, end] & (nails.stretch_of[fan.side[row]] == tack.stretch)
    good &= np.abs(fan.offset[row] - fan.offset[row, way]) <= _freedom(ends, row) + 1e-9
    bad = np.flatnonzero(~good)
    first = int(bad[bad < way].max(initial=-1)) + 1
    last = int(bad[bad > way].min(initial=len(good)))
    return np.arange(first, last)


def _freedom(ends: Ends, line: int) -> float:
    """How far the ways of a line over one spring may turn, each, from those chosen, radians."""
    start, finish = ends.chosen[line]
    if len(ends.chains[line]) > 1 or start < 0 or finish < 0:
        return 2 * math.pi
    angles = [fan.angle[line, way] for fan, way in zip(ends.fans, (start, finish), strict=True)]
    bend = abs(float(turn_between(np.array(angles[0] + math.pi), np.array(angles[1]))))
    return max(MOST_BEND - bend, 0.0) / 2


def _unrolled(nails: NailLine, stretch: int, at: Array, middle: float) -> Array:
    """``at`` on a closed stretch counted on past its end, so that all lie about ``middle``."""
    if not nails.is_closed(stretch):
        return at
    long = nails.length(stretch)
    return np.asarray(middle + (at - middle + long / 2) % long - long / 2)


def _wish(nails: NailLine, ends: Ends, tacks: list[Tack]) -> None:
    """Each tack would best stand where its aim, held within its window, meets the nail line."""
    if not tacks:
        return
    angles = []
    for tack in tacks:
        fan, row = ends.fans[tack.end], tack.line
        ways = _window_ways(nails, ends, tack)
        aim = float(turn_between(fan.course[row], ends.aims[row, tack.end]))
        offset = fan.offset[row, ways]
        angles.append(fan.course[row] + min(max(aim, offset[0]), offset[-1]))
    rays = nails.rays(np.array([t.spring for t in tacks]), np.array(angles))
    at = nails.at(rays.side, rays.along)
    for i, tack in enumerate(tacks):
        if rays.side[i] >= 0 and nails.stretch_of[rays.side[i]] == tack.stretch:
            wished = float(_unrolled(nails, tack.stretch, at[i : i + 1], tack.chosen)[0])
            tack.wished = min(max(wished, tack.low), tack.high)


def _give_least_bad(nails: NailLine, ends: Ends, tack: Tack) -> bool:
    """The tack of an end without a clear way: over the fewest springs, then the least bend."""
    fan, row = ends.fans[tack.end], tack.line
    met = fan.side[row] >= 0
    if not nails.has_rail.any():
        return False
    if met.any():
        way = int(np.where(met, _badness(ends, fan, tack), np.inf).argmin())
        side, along = int(fan.side[row, way]), float(fan.along[row, way])
    else:
        side, along = _nearest_tack(nails, tack.spring, float(ends.aims[row, tack.end]))
    tack.stretch = int(nails.stretch_of[side])
    at = float(nails.at(np.array([side]), np.array([along]))[0])
    tack.chosen = tack.wished = at
    tack.narrow = (at, at)
    ends_at = nails.at(np.array([side, side]), nails.limits[side])
    tack.low, tack.high = max(at - LOOSE, float(ends_at[0])), min(at + LOOSE, float(ends_at[1]))
    tack.low, tack.high = min(tack.low, at), max(tack.high, at)
    return True


def _badness(ends: Ends, fan: Fan, tack: Tack) -> Array:
    """(w,) how bad each way is: springs passed over, then tacks in corners, then the bend."""
    row = tack.line
    off = np.abs(turn_between(ends.aims[row, tack.end], fan.angle[row]))
    return np.asarray(10.0 * fan.over[row] + 10.0 * fan.in_corner[row] + off)


def _nearest_tack(nails: NailLine, spring: Point, aim: float) -> tuple[int, float]:
    """The tack on any rail that is least off the aim."""
    found = []
    for side in np.flatnonzero(nails.has_rail).tolist():
        for along in np.linspace(*nails.limits[side], 9).tolist():
            x, y = nails.place(side, along)
            to = math.atan2(y - spring[1], x - spring[0])
            found.append((abs(float(turn_between(np.array(aim), np.array(to)))), side, along))
    _, side, along = min(found)
    return side, along


def _obey(
    nails: NailLine, runs: Sequence[Ends], tacks: list[Tack], moved: Iterable[MovedAnchor]
) -> None:
    """Fixes the tacks that the user has moved."""
    for wish in moved:
        for ends in runs:
            if ends.task.run == wish.run:
                _move(nails, ends, tacks, wish)


def _move(nails: NailLine, ends: Ends, tacks: list[Tack], wish: MovedAnchor) -> None:
    row = ends.task.standing.index.get(wish.spring, -1)
    number = 0 if wish.end == "start" else 1
    for line, chain in enumerate(ends.chains):
        if row not in chain:
            continue
        found = [t for t in tacks if (t.run, t.line, t.end) == (wish.run, line, number)]
        if not found:
            x, y = ends.task.standing.centres[chain[-number]]
            found = [Tack(wish.run, line, number, (float(x), float(y)), WEIGHTS[0])]
            tacks += found
        tack = found[0]
        along = min(max(wish.along, 0.0), float(nails.lengths[wish.side]))
        at = float(nails.at(np.array([wish.side]), np.array([along]))[0])
        tack.fixed = (wish.side, along)
        tack.stretch = int(nails.stretch_of[wish.side])
        tack.low = tack.high = tack.wished = tack.chosen = at
        tack.narrow = (at, at)


def _settle(nails: NailLine, tacks: list[Tack]) -> None:
    """Spreads the tacks of every stretch."""
    apart = nails.standing.deck.spacing.limits.anchor_spacing
    for stretch in range(len(nails.stretches)):
        row = [tack for tack in tacks if tack.stretch == stretch]
        if not row:
            continue
        if nails.is_closed(stretch):
            _cut(row, nails.length(stretch))
        row = _in_order(nails, row)
        low, high = (np.array([getattr(t, name) for t in row]) for name in ("low", "high"))
        row = [row[i] for i in roomier_order(low, high, [t.run for t in row], apart)]
        columns = zip(*((t.wished, t.low, t.high, t.weight) for t in row), strict=True)
        wished, low, high, weight = (np.array(column) for column in columns)
        for tack, at in zip(row, spread(wished, low, high, weight, apart), strict=True):
            tack.at = float(at)


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
        tack.narrow = (tack.narrow[0] + by, tack.narrow[1] + by)


def _in_order(nails: NailLine, row: list[Tack]) -> list[Tack]:
    """The tacks by where they would best stand; those at one place by where they come from."""
    row = sorted(row, key=lambda tack: tack.wished)
    ordered: list[Tack] = []
    while row:
        level = [row.pop(0)]
        while row and row[0].wished - level[-1].wished < SAME_PLACE:
            level.append(row.pop(0))
        ordered += sorted(level, key=lambda tack: _origin(nails, tack)) if level[1:] else level
    return _uncrossed(ordered)


def _uncrossed(row: list[Tack]) -> list[Tack]:
    """The same with the tacks of each run in the order of the ways chosen, which do not cross."""
    row = list(row)
    for run in {tack.run for tack in row}:
        places = [i for i, tack in enumerate(row) if tack.run == run]
        own = sorted((row[i] for i in places), key=lambda tack: tack.chosen)
        for i, tack in zip(places, own, strict=True):
            row[i] = tack
    return row


def _origin(nails: NailLine, tack: Tack) -> tuple[float, float]:
    """How far back along the nail line a tack's spring stands."""
    side, along = nails.side_at(tack.stretch, tack.wished)
    curve = nails.standing.outline.sides[side]
    ahead = curve.tangent(along)
    x, y = nails.place(side, along)
    back = float((tack.spring[0] - x) * ahead[0] + (tack.spring[1] - y) * ahead[1])
    deep = math.hypot(tack.spring[0] - x, tack.spring[1] - y)
    return round(back / max(deep, 1.0), 6), deep


def _clashing(nails: NailLine, ends: Ends, tacks: list[Tack]) -> list[Tack]:
    """The tacks whose ways meet other lines of their run, though those chosen did not."""
    own = [t for t in tacks if t.run == ends.task.run and t.stretch >= 0 and t.fixed is None]
    if not own:
        return []
    places = np.array([nails.place(*nails.side_at(t.stretch, t.at)) for t in own])
    pieces = pieces_of(np.array([t.spring for t in own]), places)
    lines = np.array([t.line for t in own])
    met = cross_or_touch(pieces[:, None], pieces) & (lines[:, None] != lines)
    rows = [(a, b, i) for i, c in enumerate(ends.chains) for a, b in zip(c, c[1:], strict=False)]
    table = np.array(rows, np.intp).reshape(-1, 3)
    centres = ends.task.standing.centres
    links = pieces_of(centres[table[:, 0]], centres[table[:, 1]])
    crossed = cross_or_touch(pieces[:, None], links) & (lines[:, None] != table[:, 2])
    return [own[i] for i in np.flatnonzero(met.any(axis=1) | crossed.any(axis=1))]


def _tied(nails: NailLine, ends: Ends, tacks: list[Tack]) -> Tied:
    found: dict[tuple[int, int], tuple[int, float]] = {}
    for tack in tacks:
        if tack.run == ends.task.run:
            found[tack.line, tack.end] = tack.fixed or nails.side_at(tack.stretch, tack.at)
    rows = [(found.get((i, 0)), found.get((i, 1))) for i in range(len(ends.chains))]
    return Tied(ends.task.run, ends.chains, rows)
