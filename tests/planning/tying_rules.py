"""A referee of tied decks: every rule of tying that a finished set of ties can be held to.

It reads a ``Deck`` and its ``Ties`` and nothing of how they were found: plain numpy and shapely.
``broken_rules`` gives each broken rule in words; ``unnamed`` leaves out those that the ties own
up to in ``Ties.breaks``. The rules' numbers are those of ``planning.parts.Break``.
"""

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from spring_layout.deck.model import RUNS, Deck, Run
from spring_layout.planning.parts import Line, Ties
from tests.frame_shapes import (
    corner_turn,
    opening,
    side_length,
    side_places,
    tacks_apart,
)
from tests.planning.tying_knots import broken_crossings
from tests.planning.tying_order import broken_order

MOST_BEND = 25.0
ANCHORS_APART = 20.0
CORNER_CLEAR = 25.0
SMOOTH = 15.0
SLACK = 0.01
EDGE_SLACK = 0.1
AHEAD = {
    "front-to-back": (0.0, -1.0),
    "side-to-side": (1.0, 0.0),
    "diagonal-rising": (1.0, -1.0),
    "diagonal-falling": (1.0, 1.0),
}


@dataclass(frozen=True)
class Broken:
    """A rule that does not hold: its number, what is wrong in words, the lines and springs."""

    rule: int
    words: str
    lines: tuple[int, ...] = ()
    springs: tuple[str, ...] = ()

    def __str__(self) -> str:
        return f"rule {self.rule}: {self.words}"


def broken_rules(deck: Deck, ties: Ties) -> list[Broken]:
    """Every rule that ``ties`` breaks on ``deck``, in words, in the order of the rules."""
    return [
        *_broken_listing(deck, ties),
        *_broken_covers(deck, ties),
        *broken_twine(deck, ties),
        *_broken_runs(ties),
        *_broken_wishes(deck, ties),
        *(Broken(10, words, lines) for words, lines in broken_crossings(deck, ties)),
        *(Broken(11, words) for words in broken_order(deck, ties)),
    ]


def broken_twine(deck: Deck, ties: Ties) -> list[Broken]:
    """The broken rules about where the twine goes and is fixed: 3, 4 and 5."""
    return [
        *_broken_apart(ties),
        *_broken_ways(deck, ties),
        *_broken_anchors(deck, ties),
    ]


def unnamed(deck: Deck, ties: Ties) -> list[Broken]:
    """The broken rules that ``ties.breaks`` does not name."""
    return [broken for broken in broken_rules(deck, ties) if not _is_named(broken, ties)]


def _is_named(broken: Broken, ties: Ties) -> bool:
    """Whether a break of that rule names one of its lines or springs.

    Rules 4 and 5 both speak of the bend where a line leaves its last spring for the rail.
    """
    if broken.rule in (0, 1, 2, 10, 11):
        return False
    rules = {4, 5} if broken.rule in (4, 5) else {broken.rule}
    return any(
        told.rule in rules
        and (set(told.lines) & set(broken.lines) or set(told.springs) & set(broken.springs))
        for told in ties.breaks
    )


# Rule 0, the contract: what a line's fields must agree on.


def _broken_listing(deck: Deck, ties: Ties) -> Iterator[Broken]:
    if [line.number for line in ties.lines] != list(range(1, len(ties.lines) + 1)):
        yield Broken(0, "lines are not numbered 1, 2, 3 ... as listed")
    where = {s.id: (s.x, s.y) for s in deck.springs}
    for line in ties.lines:
        if tuple(where[s] for s in line.springs) != tuple(line.centres):
            yield Broken(0, f"line {line.number} does not go through its springs' centres")
        yield from _broken_direction(deck, line)


def _broken_direction(deck: Deck, line: Line) -> Iterator[Broken]:
    """A line is listed in the direction of its run: by its springs, over one by its anchors.

    The user may put the anchor of a single spring where it likes, even at the wrong end.
    """
    wishes = {(wish.run, wish.spring) for wish in deck.tying.anchors}
    is_single = len(line.springs) == 1
    way = np.array(line.path if is_single else line.centres)
    if is_single and (len(way) == 1 or (line.run, line.springs[0]) in wishes):
        return
    # A join may stand square across its run: neither way round is against it.
    if float((way[-1] - way[0]) @ AHEAD[line.run]) < -SLACK:
        yield Broken(0, f"line {line.number} is listed against its run, {line.run}", (line.number,))


# Rules 1 and 2: every spring on one line of each run.


def _runs_on(deck: Deck) -> dict[Run, bool]:
    diagonal = deck.tying.diagonals != "none"
    return dict(
        zip(
            RUNS,
            (deck.tying.front_to_back, deck.tying.side_to_side, diagonal, diagonal),
            strict=True,
        )
    )


def _broken_covers(deck: Deck, ties: Ties) -> Iterator[Broken]:
    for run, is_on in _runs_on(deck).items():
        rule = 2 if run.startswith("diagonal") else 1
        lines = [line for line in ties.lines if line.run == run]
        if lines and not is_on:
            yield Broken(rule, f"{run} is off, yet has {len(lines)} lines")
        counts = Counter(name for line in lines for name in line.springs)
        most_lines_ok = rule == 2 and deck.tying.diagonals == "two-or-more"
        for spring in deck.springs if is_on else ():
            if counts[spring.id] != 1 and not (most_lines_ok and counts[spring.id] == 0):
                words = f"{spring.id} lies on {counts[spring.id]} {run} lines"
                yield Broken(rule, words, (), (spring.id,))
        if most_lines_ok and any(len(line.springs) < 2 for line in lines):
            yield Broken(2, f"a {run} line over one spring, though short corner ties are off")


# Rule 3: lines of one run keep apart.


def _broken_apart(ties: Ties) -> Iterator[Broken]:
    for run in RUNS:
        lines = [line for line in ties.lines if line.run == run]
        ways = np.array([_way(line.path) for line in lines], dtype=object)
        for i, line in enumerate(lines):
            for k in np.flatnonzero(shapely.dwithin(ways[i], ways[i + 1 :], SLACK / 2)) + i + 1:
                pair = (line.number, lines[k].number)
                yield Broken(3, f"{run} lines {pair[0]} and {pair[1]} cross or touch", pair)


def _way(path: Sequence[tuple[float, float]]) -> shapely.Geometry:
    return shapely.LineString(path) if len(path) > 1 else shapely.Point(path[0])


# Rule 4: bends, springs in the way, the opening.


def _broken_ways(deck: Deck, ties: Ties) -> Iterator[Broken]:
    centres = shapely.points(np.array([(s.x, s.y) for s in deck.springs]).reshape(-1, 2))
    radii = np.array([deck.coil_of(s).top_radius for s in deck.springs])
    for line in ties.lines:
        yield from _broken_bends(line)
        yield from _broken_over(deck, line, centres, radii)
        yield from _broken_inside(deck, line)


def _broken_bends(line: Line) -> Iterator[Broken]:
    first = 0 if line.anchors[0] else 1
    for i, bend in enumerate(bends(line.path)):
        if bend > MOST_BEND + SLACK:
            spring = line.springs[i + first]
            words = f"line {line.number} bends by {bend:.1f} degrees at {spring}"
            yield Broken(4, words, (line.number,), (spring,))


def bends(path: Sequence[tuple[float, float]]) -> list[float]:
    """The bend at each inner place of ``path``, degrees."""
    steps = np.diff(np.array(path), axis=0)
    turns = []
    for (ax, ay), (bx, by) in pairwise(steps):
        turns.append(abs(math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by))))
    return turns


def _broken_over(
    deck: Deck, line: Line, centres: np.ndarray, radii: np.ndarray
) -> Iterator[Broken]:
    far = shapely.distance(_way(line.path), centres)
    for i in np.flatnonzero(far < radii - SLACK):
        spring = deck.springs[i].id
        if spring not in line.springs:
            words = f"line {line.number} passes {far[i]:.1f} mm from the middle of {spring}"
            yield Broken(4, words, (line.number,), (spring,))


def _broken_inside(deck: Deck, line: Line) -> Iterator[Broken]:
    outside = shapely.difference(_way(line.path), opening(deck.frame).buffer(EDGE_SLACK))
    ends = [shapely.Point(anchor) for anchor in line.anchors if anchor]
    for piece in shapely.get_parts(outside):
        if piece.length > SLACK and not any(piece.distance(end) < SLACK for end in ends):
            place = piece.centroid
            words = f"line {line.number} leaves the opening at ({place.x:.0f}, {place.y:.0f})"
            yield Broken(4, words, (line.number,))


# Rule 5: anchors.


@dataclass(frozen=True)
class Tack:
    """One anchor: its line, its end (0 start, 1 finish), its side, its place along it."""

    line: int
    end: int
    side: int
    along: float


def _broken_anchors(deck: Deck, ties: Ties) -> Iterator[Broken]:
    tacks = []
    for line in ties.lines:
        for end in (0, 1):
            side, along, place = line.sides[end], line.along[end], line.anchors[end]
            if side is None or along is None or place is None:
                yield from _broken_open_end(deck, line, end)
                continue
            tacks.append(Tack(line.number, end, side, along))
            yield from _broken_place(deck, tacks[-1], place)
    yield from _broken_spacing(deck, tacks)


def _broken_open_end(deck: Deck, line: Line, end: int) -> Iterator[Broken]:
    if not (line.sides[end] is None and line.along[end] is None and line.anchors[end] is None):
        yield Broken(0, f"line {line.number} has half an anchor", (line.number,))
    spring = line.springs[-1] if end else line.springs[0]
    yield Broken(5, f"line {line.number} meets no rail beyond {spring}", (line.number,), (spring,))
    if all(side.rail != "none" for side in deck.frame.sides):
        yield Broken(0, f"line {line.number} ends at {spring}, though every side has a rail")


def _broken_place(deck: Deck, tack: Tack, place: tuple[float, float]) -> Iterator[Broken]:
    frame, lines = deck.frame, (tack.line,)
    if frame.sides[tack.side].rail == "none":
        yield Broken(5, f"line {tack.line} is fixed to side {tack.side}, which has no rail", lines)
    right = side_places(frame, tack.side, np.array(tack.along), frame.nail_line_of(tack.side))
    if math.dist(right, place) > SLACK:
        yield Broken(0, f"line {tack.line} is not fixed on the nail line", lines)
    length = side_length(frame, tack.side)
    for corner, clear in ((tack.side, tack.along), (tack.side + 1, length - tack.along)):
        is_corner = corner_turn(frame, corner % len(frame.sides)) >= SMOOTH
        least = CORNER_CLEAR if is_corner else 0.0
        if clear < least - SLACK:
            words = f"line {tack.line} is fixed {clear:.1f} mm from a corner of side {tack.side}"
            yield Broken(5, words, lines)


def _broken_spacing(deck: Deck, tacks: Sequence[Tack]) -> Iterator[Broken]:
    count = len(deck.frame.sides)
    for side in range(count):
        row = sorted((t for t in tacks if t.side == side), key=_along)
        for a, b in pairwise(row):
            yield from _too_near(deck, a, b, _apart(deck, side, a.along, b.along))
        after = (side + 1) % count
        if row and corner_turn(deck.frame, after) < SMOOTH:
            following = min(
                (t for t in tacks if t.side == after), key=lambda t: t.along, default=None
            )
            if following and following is not row[-1]:
                rest = _apart(deck, side, row[-1].along, side_length(deck.frame, side))
                start = _apart(deck, after, 0.0, following.along)
                yield from _too_near(deck, row[-1], following, rest + start)


def _along(tack: Tack) -> float:
    return tack.along


def _apart(deck: Deck, side: int, along: float, other: float) -> float:
    return tacks_apart(deck.frame, side, along, other, deck.frame.nail_line_of(side))


def _too_near(deck: Deck, a: Tack, b: Tack, apart: float) -> Iterator[Broken]:
    if apart < ANCHORS_APART - SLACK:
        words = f"lines {a.line} and {b.line} are fixed {apart:.1f} mm apart on side {a.side}"
        yield Broken(5, words, (a.line, b.line))


# Rule 9: what the user asked for.


def _broken_wishes(deck: Deck, ties: Ties) -> Iterator[Broken]:
    for pair in deck.tying.joins:
        if _runs_on(deck)[pair.run] and not _are_joined(ties, pair.run, pair.springs):
            yield Broken(9, f"{pair.springs} are not joined on {pair.run}", (), pair.springs)
    for pair in deck.tying.parts:
        if _are_joined(ties, pair.run, pair.springs):
            yield Broken(9, f"{pair.springs} are not parted on {pair.run}", (), pair.springs)
    for wish in deck.tying.anchors:
        for line in ties.lines:
            if line.run == wish.run and wish.spring in line.springs:
                end = 0 if wish.end == "start" else 1
                along = line.along[end]
                if line.sides[end] != wish.side or along is None or abs(along - wish.along) > SLACK:
                    words = f"line {line.number} is not fixed where it was moved to"
                    yield Broken(9, words, (line.number,), (wish.spring,))


def _are_joined(ties: Ties, run: Run, pair: tuple[str, str]) -> bool:
    return any(
        set(pair) == {a, b}
        for line in ties.lines
        if line.run == run
        for a, b in pairwise(line.springs)
    )


# Rule 6: a link belongs to one run.


def _broken_runs(ties: Ties) -> Iterator[Broken]:
    """Two springs are joined directly by one run at most."""
    links = Counter(frozenset(pair) for line in ties.lines for pair in pairwise(line.springs))
    for pair in (tuple(sorted(link)) for link, count in links.items() if count > 1):
        yield Broken(6, f"{pair} are joined directly by more than one run", (), pair)
