"""The ties and cross knots of a plan view.

Ties are drawn in tying order, so that a later one lies over the earlier ones, with a little white
on both its sides where it crosses them. The dashes of a tie are fitted to its springs: from each
spring a dash goes out both ways, so that the knots look alike and short stretches tell the run.
"""

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely

from spring_layout.drawing import look
from spring_layout.drawing.primitives import (
    NO_TAG,
    Item,
    Path,
    Place,
    Step,
    Stroke,
    Tag,
    polyline,
)
from spring_layout.drawing.view import Array, View
from spring_layout.planning.parts import Crossing, Line, Parts

BAR = 1.9
"""Length of the bar across a tie's end, mm."""
_MOST_AIR = 4.0
"""mm along a tie, the most that is kept white each way from a crossing."""
_NEAREST = 0.48
"""A diamond's half height is at most this share of the way to the nearest other crossing."""


def tie_items(parts: Parts, view: View) -> list[Item]:
    """The ties in tying order, each over the white that keeps it off the earlier ones."""
    air = _air(parts, view)
    items: list[Item] = []
    for line in parts.ties.lines:
        items += [*air[line.number], _tie(line, parts, view), *_bars(line, parts, view)]
    return items


def _tie(line: Line, parts: Parts, view: View) -> Path:
    names = " ".join(parts.labels[name] for name in line.springs)
    tag = Tag(
        id=f"line-{line.number}",
        kind="tie",
        title=f"{parts.told('Tie')} {line.number}, {look.RUN_LOOKS[line.run].words}: {names}",
        data=(("run", line.run),),
    )
    return Path(view.polyline(line.path), _fitted(line, view), tag=tag)


def _fitted(line: Line, view: View) -> Stroke:
    """The run's stroke, its dashes stretched so that each spring is midway between two of them."""
    stroke = look.RUN_LOOKS[line.run].stroke.times(view.fine)
    if not stroke.dashes:
        return stroke
    springs = [view.place(centre) for centre in line.centres]
    anchor = line.anchors[0]
    before = math.dist(view.place(anchor), springs[0]) if anchor else 0.0
    fitted = _stretched(stroke.dashes, springs)
    long = math.fsum(fitted)
    offset = ((fitted[0] + long) / 2 - before) % long
    return Stroke(stroke.colour, stroke.width, fitted, stroke.ends, offset)


def _stretched(dashes: tuple[float, ...], springs: Sequence[Place]) -> tuple[float, ...]:
    """The dashes so long that a whole number of patterns goes into the usual pitch."""
    if len(springs) < 2:
        return dashes
    pitch = math.fsum(math.dist(a, b) for a, b in pairwise(springs)) / (len(springs) - 1)
    long = math.fsum(dashes)
    stretch = pitch / max(1, round(pitch / long)) / long
    return tuple(dash * stretch for dash in dashes)


def _bars(line: Line, parts: Parts, view: View) -> list[Item]:
    """The tack points: a short bar along the rail across each end of the tie."""
    bars: list[Item] = []
    for anchor, side, along in zip(line.anchors, line.sides, line.along, strict=True):
        if anchor is not None and side is not None and along is not None:
            x, y = view.place(anchor)
            dx, dy = parts.standing.outline.sides[side].tangent(along) * (BAR / 2 * view.fine)
            ends = ((x - float(dx), y - float(dy)), (x + float(dx), y + float(dy)))
            bars.append(Path(polyline(ends), look.TACK_BAR.times(view.fine), tag=Tag(kind="tack")))
    return bars


def bar_sample(place: Place) -> list[Item]:
    """A tack point at a tie's end, for the key."""
    x, y = place
    tie = Path(polyline(((x - 4, y), (x, y))), look.RUN_LOOKS["front-to-back"].stroke)
    return [tie, Path(polyline(((x, y - BAR / 2), (x, y + BAR / 2))), look.TACK_BAR)]


def _air(parts: Parts, view: View) -> dict[int, list[Item]]:
    """By tie number, the white pieces under it where it crosses ties tied before it.

    At a spring there are none: there the white edge of the knot keeps the ties apart.
    """
    lines = {line.number: line for line in parts.ties.lines}
    air: dict[int, list[Item]] = defaultdict(list)
    for crossing in parts.ties.crossings:
        if crossing.spring is None:
            passes = {n: _pass(lines[n].path, crossing.place) for n in crossing.lines}
            for number in crossing.lines[1:]:
                width = look.RUN_LOOKS[lines[number].run].stroke.width * view.fine + 2 * look.AIR
                reach = min(_MOST_AIR, width / 2 / _sine_to_others(number, passes) + look.AIR)
                steps = _piece(passes[number], view, reach)
                air[number].append(Path(steps, Stroke(look.PAPER, width), tag=Tag(kind="air")))
    return air


Pass = tuple[Place, Place]
"""A place of a tie on the deck, and its direction there."""


def _pass(path: Sequence[Place], place: Place) -> Pass:
    """Where a tie passes nearest to ``place``."""
    return min(_feet(path, place), key=lambda foot: math.dist(foot[0], place))


def _feet(path: Sequence[Place], place: Place) -> Iterator[Pass]:
    """For each stretch of the path its point nearest to ``place``, and its direction."""
    for start, finish in pairwise(path):
        long = math.dist(start, finish) or 1.0
        dx, dy = (finish[0] - start[0]) / long, (finish[1] - start[1]) / long
        along = (place[0] - start[0]) * dx + (place[1] - start[1]) * dy
        along = min(max(along, 0.0), long)
        yield (start[0] + along * dx, start[1] + along * dy), (dx, dy)


def _sine_to_others(number: int, passes: dict[int, Pass]) -> float:
    """The sine of the least angle between this tie and the others of a crossing, 0.1 at least."""
    _, (x, y) = passes[number]
    others = (way for other, (_, way) in passes.items() if other != number)
    return max(0.1, min(abs(x * oy - y * ox) for ox, oy in others))


def _piece(passed: Pass, view: View, reach: float) -> tuple[Step, ...]:
    (x, y), (dx, dy) = view.place(passed[0]), passed[1]
    ends = ((x - dx * reach, y - dy * reach), (x + dx * reach, y + dy * reach))
    return polyline(ends)


def knot_items(parts: Parts, view: View) -> list[Item]:
    """The cross knots' diamonds, smaller where two would touch."""
    crossings = parts.ties.crossings
    places = view.places(np.array([c.place for c in crossings], float).reshape(-1, 2))
    usual = np.array([look.KNOT_HALF if c.spring is None else look.SPRING_KNOT for c in crossings])
    halves = np.minimum(usual * view.fine, _NEAREST * _nearest(places))
    return [
        _knot(crossing, view, float(half)) for crossing, half in zip(crossings, halves, strict=True)
    ]


def _nearest(places: Array) -> Array:
    """(n,) how far each of (n, 2) places is from the next one; inf for a lone one."""
    if len(places) < 2:
        return np.full(len(places), np.inf)
    points = shapely.points(places)
    _, away = shapely.STRtree(points).query_nearest(
        points, exclusive=True, return_distance=True, all_matches=False
    )
    return np.asarray(away)


def _knot(crossing: Crossing, view: View, half: float) -> Path:
    lines = " ".join(str(number) for number in crossing.lines)
    data = (("lines", lines), ("tied-by", str(crossing.tied_by)))
    tag = Tag(kind="crossing", data=data)
    return diamond(view.place(crossing.place), crossing.spring is not None, half, tag)


def diamond(place: Place, at_spring: bool, half: float | None = None, tag: Tag = NO_TAG) -> Path:
    """A cross knot's diamond, ``half`` mm each way: filled at a spring, open between springs."""
    x, y = place
    usual = look.SPRING_KNOT if at_spring else look.KNOT_HALF
    half = usual if half is None else half
    steps = polyline(((x, y - half), (x + half, y), (x, y + half), (x - half, y)), closed=True)
    edge = look.KNOT_AIR if at_spring else look.KNOT_EDGE
    fill = look.INK if at_spring else look.PAPER
    return Path(steps, edge.times(half / usual), fill, tag)
