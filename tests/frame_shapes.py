"""The tests' own reading of a frame: its opening, its sides and its nail line.

Written apart from ``spring_layout.geometry``, so that the two check each other: an arc here is
the circle through its two corners and the top of its bow.
"""

import math
from functools import lru_cache

import numpy as np
import shapely

from spring_layout.deck.model import Frame

STEP = math.radians(0.25)


@lru_cache(maxsize=256)
def opening(frame: Frame) -> shapely.Polygon:
    """The opening between the inside edges, arcs in steps of a quarter of a degree."""
    points = [side_points(frame, i)[:-1] for i in range(len(frame.sides))]
    polygon = shapely.Polygon(np.concatenate(points))
    shapely.prepare(polygon)
    return polygon


def side_points(frame: Frame, side: int, outside: float = 0.0) -> np.ndarray:
    """(m, 2) places along a side from its first corner, moved ``outside`` mm outward."""
    length = side_length(frame, side)
    sweep = abs(_sweep(frame, side))
    pieces = 1 if sweep == 0 else max(16, int(sweep / STEP))
    return side_places(frame, side, np.linspace(0, length, pieces + 1), outside)


def side_length(frame: Frame, side: int) -> float:
    """The length of a side's inside edge, mm."""
    start, end = _ends(frame, side)
    chord = float(np.hypot(*(end - start)))
    sweep = _sweep(frame, side)
    return chord if sweep == 0 else abs(sweep) * _radius(frame, side)


def side_places(frame: Frame, side: int, along: np.ndarray, outside: float = 0.0) -> np.ndarray:
    """(..., 2) places ``along`` mm from a side's first corner, moved ``outside`` mm outward."""
    start, end = _ends(frame, side)
    chord = end - start
    ahead = chord / np.hypot(*chord)
    out = np.array([ahead[1], -ahead[0]])
    along = np.asarray(along, float)[..., None]
    sweep = _sweep(frame, side)
    if sweep == 0:
        return start + along * ahead + outside * out
    radius, outward = _radius(frame, side), math.copysign(1.0, sweep)
    bow = frame.sides[side].bow
    centre = (start + end) / 2 + (bow - outward * radius) * out
    angle = outward * (along / radius - abs(sweep) / 2)
    # From the centre, the way to the top of the bow is `outward * out`; `angle` turns from it.
    way = outward * np.cos(angle) * out + np.sin(angle) * outward * ahead
    return centre + (radius + outward * outside) * way


def tacks_apart(frame: Frame, side: int, along: float, other: float, outside: float) -> float:
    """The distance along the nail line between two tack points of one side, mm."""
    sweep = _sweep(frame, side)
    stretch = 1.0 if sweep == 0 else 1 + math.copysign(outside, sweep) / _radius(frame, side)
    return abs(along - other) * stretch


def corner_turn(frame: Frame, corner: int) -> float:
    """How far the edge turns at a corner, degrees, whichever way."""
    count = len(frame.sides)
    before, after = (corner - 1) % count, corner
    came = side_points(frame, before)
    goes = side_points(frame, after)
    headings = [math.atan2(*(b - a)[::-1]) for a, b in ((came[-2], came[-1]), (goes[0], goes[1]))]
    turn = math.degrees(headings[1] - headings[0])
    return abs((turn + 180) % 360 - 180)


def _ends(frame: Frame, side: int) -> tuple[np.ndarray, np.ndarray]:
    corners = frame.corners
    return np.array(corners[side]), np.array(corners[(side + 1) % len(corners)])


def _sweep(frame: Frame, side: int) -> float:
    """The angle of a side's arc, radians, + where it bows outward, 0 where straight."""
    bow = frame.sides[side].bow
    if abs(bow) < 0.01:
        return 0.0
    start, end = _ends(frame, side)
    return math.copysign(4 * math.atan(2 * abs(bow) / math.dist(start, end)), bow)


def _radius(frame: Frame, side: int) -> float:
    start, end = _ends(frame, side)
    bow, half = abs(frame.sides[side].bow), math.dist(start, end) / 2
    return (half * half + bow * bow) / (2 * bow)


def nearest_place(frame: Frame, side: int, place: np.ndarray) -> tuple[float, float]:
    """How far ``place`` is from a side, mm, and the edge's turn from its chord there, radians."""
    start, end = _ends(frame, side)
    chord = end - start
    ahead = chord / np.hypot(*chord)
    out = np.array([ahead[1], -ahead[0]])
    sweep = _sweep(frame, side)
    if sweep == 0:
        along = float(np.clip((place - start) @ ahead, 0, np.hypot(*chord)))
        return math.dist(start + along * ahead, place), 0.0
    radius, outward = _radius(frame, side), math.copysign(1.0, sweep)
    centre = (start + end) / 2 + (frame.sides[side].bow - outward * radius) * out
    from_centre = outward * (place - centre)
    turn = math.atan2(from_centre @ ahead, from_centre @ out)
    turn = max(-abs(sweep) / 2, min(abs(sweep) / 2, turn))
    rim = centre + outward * radius * (math.cos(turn) * out + math.sin(turn) * ahead)
    return math.dist(rim, place), turn


def turn_across(frame: Frame, side: int, place: np.ndarray) -> float:
    """The edge's turn from its chord straight across from ``place``, square to it, radians."""
    start, end = _ends(frame, side)
    half = float(np.hypot(*(end - start))) / 2
    ahead = (end - start) / (2 * half)
    far = float(np.clip((place - (start + end) / 2) @ ahead, -half, half))
    sweep = _sweep(frame, side)
    if sweep == 0:
        return 0.0
    return math.copysign(math.asin(min(1.0, max(-1.0, far / _radius(frame, side)))), sweep * far)


def chord_angle(frame: Frame, side: int) -> float:
    """The direction of a side's chord, radians from x toward the front."""
    start, end = _ends(frame, side)
    return math.atan2(end[1] - start[1], end[0] - start[0])


def chord_length(frame: Frame, side: int) -> float:
    """The straight distance between a side's corners, mm."""
    return math.dist(*_ends(frame, side))


def cuts(
    frame: Frame, side: int, here: np.ndarray, angle: float, outside: float = 0.0
) -> list[tuple[float, float]]:
    """(how far, along) of each place where the ray from ``here`` cuts a side, mm.

    The side is moved ``outside`` mm outward; ``angle`` is in radians; the ray's start is left out.
    """
    way = np.array([math.cos(angle), math.sin(angle)])
    start, end = _ends(frame, side)
    ahead = (end - start) / np.hypot(*(end - start))
    out = np.array([ahead[1], -ahead[0]])
    sweep, length = _sweep(frame, side), side_length(frame, side)
    if sweep == 0:
        slope = float(way @ out)
        far = (outside - (here - start) @ out) / slope if abs(slope) > 1e-12 else -1.0
        met = [(far, float((here + far * way - start) @ ahead))]
    else:
        radius, outward = _radius(frame, side), math.copysign(1.0, sweep)
        centre = (start + end) / 2 + (frame.sides[side].bow - outward * radius) * out
        reach = radius + outward * outside
        half = float((here - centre) @ way)
        root = half**2 - float((here - centre) @ (here - centre)) + reach**2
        fars = [-half - math.sqrt(root), -half + math.sqrt(root)] if root >= 0 else []
        met = []
        for far in fars:
            spoke = outward * (here + far * way - centre)
            turn = math.atan2(float(spoke @ ahead), float(spoke @ out))
            met.append((far, length / 2 + turn * radius))
    return [(far, along) for far, along in met if far > 1e-6 and -1e-6 <= along <= length + 1e-6]
