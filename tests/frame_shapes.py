"""The tests' own reading of a frame: its opening, its sides and its nail line.

Written apart from ``spring_layout.geometry``, so that the two check each other: an arc here is
the circle through its two corners and the top of its bow.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from spring_layout.deck.model import Frame

STEP = math.radians(0.25)
HAIR = 1e-6
Pair = tuple[float, float]


@dataclass(frozen=True)
class Edge:
    """One side's inside edge: ends, unit directions ahead and outward, and its arc.

    ``sweep``: the angle of the arc, radians, + where it bows outward, 0 where straight; then
    ``radius`` and ``centre`` mean nothing.
    """

    start: Pair
    end: Pair
    ahead: Pair
    out: Pair
    chord: float
    length: float
    sweep: float
    radius: float
    centre: Pair

    @property
    def outward(self) -> float:
        """1 where it bows outward, -1 where inward."""
        return math.copysign(1.0, self.sweep)

    def turn_at(self, place: Pair) -> float:
        """The edge's turn from its chord, radians, at the spoke of the arc through ``place``."""
        x, y = (self.outward * (p - c) for p, c in zip(place, self.centre, strict=True))
        (ax, ay), (ox, oy) = self.ahead, self.out
        return math.atan2(x * ax + y * ay, x * ox + y * oy)


@lru_cache(maxsize=4096)
def edge(frame: Frame, side: int) -> Edge:
    """The inside edge of a side."""
    (x0, y0), (x1, y1) = frame.corners[side], frame.corners[(side + 1) % len(frame.corners)]
    chord = math.hypot(x1 - x0, y1 - y0)
    ahead = ((x1 - x0) / chord, (y1 - y0) / chord)
    out = (ahead[1], -ahead[0])
    bow = frame.sides[side].bow
    if abs(bow) < 0.01:
        return Edge((x0, y0), (x1, y1), ahead, out, chord, chord, 0.0, math.inf, (0.0, 0.0))
    sweep = math.copysign(4 * math.atan(2 * abs(bow) / chord), bow)
    radius = (chord * chord / 4 + bow * bow) / (2 * abs(bow))
    deep = bow - math.copysign(radius, bow)
    centre = ((x0 + x1) / 2 + deep * out[0], (y0 + y1) / 2 + deep * out[1])
    length = abs(sweep) * radius
    return Edge((x0, y0), (x1, y1), ahead, out, chord, length, sweep, radius, centre)


@lru_cache(maxsize=256)
def opening(frame: Frame) -> shapely.Polygon:
    """The opening between the inside edges, arcs in steps of a quarter of a degree."""
    points = [side_points(frame, i)[:-1] for i in range(len(frame.sides))]
    polygon = shapely.Polygon(np.concatenate(points))
    shapely.prepare(polygon)
    return polygon


def side_points(frame: Frame, side: int, outside: float = 0.0) -> np.ndarray:
    """(m, 2) places along a side from its first corner, moved ``outside`` mm outward."""
    line = edge(frame, side)
    pieces = 1 if line.sweep == 0 else max(16, int(abs(line.sweep) / STEP))
    return side_places(frame, side, np.linspace(0, line.length, pieces + 1), outside)


def side_length(frame: Frame, side: int) -> float:
    """The length of a side's inside edge, mm."""
    return edge(frame, side).length


def side_places(frame: Frame, side: int, along: np.ndarray, outside: float = 0.0) -> np.ndarray:
    """(..., 2) places ``along`` mm from a side's first corner, moved ``outside`` mm outward."""
    line = edge(frame, side)
    ahead, out = np.array(line.ahead), np.array(line.out)
    along = np.asarray(along, float)[..., None]
    if line.sweep == 0:
        return np.array(line.start) + along * ahead + outside * out
    angle = line.outward * (along / line.radius - abs(line.sweep) / 2)
    # From the centre, the way to the top of the bow is `outward * out`; `angle` turns from it.
    way = line.outward * (np.cos(angle) * out + np.sin(angle) * ahead)
    return np.array(line.centre) + (line.radius + line.outward * outside) * way


def tacks_apart(frame: Frame, side: int, along: float, other: float, outside: float) -> float:
    """The distance along the nail line between two tack points of one side, mm."""
    line = edge(frame, side)
    stretch = 1.0 if line.sweep == 0 else 1 + line.outward * outside / line.radius
    return abs(along - other) * stretch


@lru_cache(maxsize=4096)
def corner_turn(frame: Frame, corner: int) -> float:
    """How far the edge turns at a corner, degrees, whichever way."""
    count = len(frame.sides)
    came = side_points(frame, (corner - 1) % count)
    goes = side_points(frame, corner)
    headings = [math.atan2(*(b - a)[::-1]) for a, b in ((came[-2], came[-1]), (goes[0], goes[1]))]
    turn = math.degrees(headings[1] - headings[0])
    return abs((turn + 180) % 360 - 180)


def distance_to_side(frame: Frame, side: int, place: np.ndarray) -> float:
    """How far ``place`` is from the nearest place of a side, mm."""
    line = edge(frame, side)
    x, y = place[0] - line.start[0], place[1] - line.start[1]
    if line.sweep == 0:
        along = min(max(x * line.ahead[0] + y * line.ahead[1], 0.0), line.chord)
        return math.hypot(x - along * line.ahead[0], y - along * line.ahead[1])
    if abs(line.turn_at((place[0], place[1]))) <= abs(line.sweep) / 2:
        return abs(math.dist(place, line.centre) - line.radius)
    return min(math.dist(place, line.start), math.dist(place, line.end))


def turn_across(frame: Frame, side: int, place: np.ndarray) -> float:
    """The edge's turn from its chord straight across from ``place``, square to it, radians."""
    line = edge(frame, side)
    if line.sweep == 0:
        return 0.0
    x, y = place[0] - line.start[0], place[1] - line.start[1]
    half = line.chord / 2
    off = min(max(x * line.ahead[0] + y * line.ahead[1] - half, -half), half)
    return line.outward * math.asin(min(max(off / line.radius, -1.0), 1.0))


def chord_angle(frame: Frame, side: int) -> float:
    """The direction of a side's chord, radians from x toward the front."""
    line = edge(frame, side)
    return math.atan2(line.ahead[1], line.ahead[0])


def chord_length(frame: Frame, side: int) -> float:
    """The straight distance between a side's corners, mm."""
    return edge(frame, side).chord


def cuts(
    frame: Frame, side: int, here: np.ndarray, angle: float, outside: float = 0.0
) -> list[tuple[float, float]]:
    """(how far, along) of each place where the ray from ``here`` cuts a side, mm.

    The side is moved ``outside`` mm outward; ``angle`` is in radians; the ray's start is left out.
    """
    line = edge(frame, side)
    way = (math.cos(angle), math.sin(angle))
    met = (_straight_cuts if line.sweep == 0 else _arc_cuts)(line, here, way, outside)
    return [(far, at) for far, at in met if far > HAIR and -HAIR <= at <= line.length + HAIR]


def _straight_cuts(line: Edge, here: np.ndarray, way: Pair, outside: float) -> list[Pair]:
    (ax, ay), (ox, oy) = line.ahead, line.out
    x, y = float(here[0]) - line.start[0], float(here[1]) - line.start[1]
    slope = way[0] * ox + way[1] * oy
    if abs(slope) < 1e-12:
        return []
    far = (outside - x * ox - y * oy) / slope
    return [(far, (x + far * way[0]) * ax + (y + far * way[1]) * ay)]


def _arc_cuts(line: Edge, here: np.ndarray, way: Pair, outside: float) -> list[Pair]:
    x, y = float(here[0]) - line.centre[0], float(here[1]) - line.centre[1]
    reach = line.radius + line.outward * outside
    half = x * way[0] + y * way[1]
    root = half * half - (x * x + y * y) + reach * reach
    if root < 0:
        return []
    met = []
    for far in (-half - math.sqrt(root), -half + math.sqrt(root)):
        turn = line.turn_at((float(here[0]) + far * way[0], float(here[1]) + far * way[1]))
        met.append((far, line.length / 2 + line.outward * turn * line.radius))
    return met
