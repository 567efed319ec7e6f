"""Frames of random decks, straight, tapered, bowed, round and notched, and where springs stand.

Each maker gives a frame and the places of springs in even rows that follow it; ``random_decks``
makes decks of them.
"""

import math
import random
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

import msgspec
import numpy as np
import shapely

from spring_layout.deck.model import Frame, Side
from tests.frame_shapes import opening, side_points

Place = tuple[float, float]
S = TypeVar("S", bound=msgspec.Struct)


@dataclass(frozen=True)
class Recipe:
    """The choices behind a random deck; ``pitch`` mm, ``jitter`` a share of it."""

    shape: str
    pattern: str
    rows: int
    columns: int
    jitter: float
    pitch: float
    seed: int
    open_sides: int = 0


def replace_struct(value: S, **changes: object) -> S:
    """``value`` with some of its fields changed."""
    return msgspec.structs.replace(value, **changes)


# Frames with four sides: the springs stand on a patch spanned by the four curves.


def _straight(recipe: Recipe, dice: random.Random) -> tuple[Frame, list[Place]]:
    return _four_sided(recipe, dice, taper=(0.0, 0.0), bows=(0.0, 0.0, 0.0, 0.0))


def _tapered(recipe: Recipe, dice: random.Random) -> tuple[Frame, list[Place]]:
    left = dice.uniform(-0.05, 0.16)
    right = left if dice.random() < 0.5 else dice.uniform(-0.05, 0.16)
    return _four_sided(recipe, dice, taper=(left, right), bows=(0.0, 0.0, 0.0, 0.0))


def _bowed(recipe: Recipe, dice: random.Random) -> tuple[Frame, list[Place]]:
    bows = (
        dice.choice((0.0, 0.0, dice.uniform(-0.06, 0.06))),
        dice.choice((0.0, dice.uniform(-0.04, 0.06))),
        dice.uniform(-0.08, 0.13),
        dice.choice((0.0, dice.uniform(-0.04, 0.06))),
    )
    taper = dice.choice((0.0, dice.uniform(0.0, 0.1)))
    return _four_sided(recipe, dice, taper=(taper, taper), bows=bows)


def _four_sided(
    recipe: Recipe,
    dice: random.Random,
    taper: tuple[float, float],
    bows: tuple[float, float, float, float],
) -> tuple[Frame, list[Place]]:
    """``taper``: how much wider left and right at the front, shares of the depth."""
    margin = dice.uniform(0.6, 0.8)
    wide = round(recipe.pitch * (2 * margin + recipe.columns - 1), 3)
    deep = round(recipe.pitch * (2 * margin + recipe.rows - 1), 3)
    left, right = (round(share * deep, 3) for share in taper)
    corners = ((0.0, 0.0), (wide, 0.0), (wide + right, deep), (-left, deep))
    spans = (wide, deep, wide, deep)
    sides = tuple(
        _side(rail, round(bow * span, 3), dice)
        for rail, bow, span in zip(("back", "right", "front", "left"), bows, spans, strict=True)
    )
    frame = Frame(corners=corners, sides=sides, rail_width=dice.choice((30, 45, 60)), rail_top=75)
    places = [_on_patch(frame, u, v) for u, v in _grid(recipe, margin)]
    return frame, places


def _side(rail: str, bow: float, dice: random.Random) -> Side:
    return Side(
        rail=rail,
        bow=bow,
        rail_width=dice.choice((None, None, None, 35.0, 70.0)),
        nail_line=dice.choice((None, None, None, 12.0)),
    )


def _grid(recipe: Recipe, margin: float) -> list[Place]:
    """Shares (across, down) of the patch where the springs stand, ``margin`` in pitches."""
    across, down = 2 * margin + recipe.columns - 1, 2 * margin + recipe.rows - 1
    shares = []
    for row in range(recipe.rows):
        shift = 0.5 if recipe.pattern == "staggered" and row % 2 else 0.0
        count = recipe.columns - (1 if shift and recipe.columns > 1 else 0)
        shift = shift if recipe.columns > 1 else 0.0
        shares += [((margin + c + shift) / across, (margin + row) / down) for c in range(count)]
    return shares


def _on_patch(frame: Frame, u: float, v: float) -> Place:
    """The place at shares (u, v) of the patch between the four sides (bilinear blend)."""
    back, right, front, left = (
        _at(frame, side, share) for side, share in enumerate((u, v, 1 - u, 1 - v))
    )
    a, b, c, d = (np.array(corner) for corner in frame.corners)
    flat = (1 - u) * (1 - v) * a + u * (1 - v) * b + u * v * c + (1 - u) * v * d
    x, y = (1 - v) * back + v * front + (1 - u) * left + u * right - flat
    return float(x), float(y)


def _at(frame: Frame, side: int, share: float) -> np.ndarray:
    """The place at ``share`` of the way along a side's curve."""
    line = shapely.LineString(side_points(frame, side))
    return np.array(line.interpolate(share, normalized=True).coords[0])


# Round frames: rows across the circle, clipped to it.


def _round(recipe: Recipe, dice: random.Random) -> tuple[Frame, list[Place]]:
    pitch, size = recipe.pitch, max(recipe.rows, recipe.columns)
    radius = round(pitch * ((size - 1) / 2 * dice.uniform(1.0, 1.42) + 0.8), 3)
    places = [
        ((column - (recipe.columns - 1) / 2 + shift) * pitch, (row - (recipe.rows - 1) / 2) * pitch)
        for row in range(recipe.rows)
        for shift in (0.5 if recipe.pattern == "staggered" and row % 2 else 0.0,)
        for column in range(recipe.columns)
    ]
    kept = [p for p in places if math.hypot(*p) + 0.6 * pitch <= radius] or [(0.0, 0.0)]
    return _round_frame(radius, dice), kept


def _round_frame(radius: float, dice: random.Random) -> Frame:
    if dice.random() < 0.5:
        corners: tuple[Place, ...] = ((-radius, 0.0), (radius, 0.0))
        rails = ("back", "front")
    else:
        corners = ((0.0, -radius), (0.0, radius))
        rails = ("right", "left")
    sides = tuple(Side(rail=rail, bow=radius) for rail in rails)
    return Frame(corners=corners, sides=sides, rail_width=dice.choice((30, 45, 60)), rail_top=75)


# Frames notched round two arm posts.


def _notched(recipe: Recipe, dice: random.Random) -> tuple[Frame, list[Place]]:
    square, places = _straight(recipe, dice)
    wide, deep = square.corners[2]
    across = round(min(dice.uniform(40, 0.9 * recipe.pitch), wide / 3), 3)
    down = round(min(dice.uniform(40, 0.9 * recipe.pitch), deep / 3), 3)
    notch = dice.choice(("right", "none"))
    rails = ("back", notch, "back" if notch != "none" else notch, "right", "front", "left") + (
        ("back", "left") if notch != "none" else (notch, notch)
    )
    corners = (
        (across, 0.0), (wide - across, 0.0), (wide - across, down), (wide, down),
        (wide, deep), (0.0, deep), (0.0, down), (across, down),
    )  # fmt: skip
    sides = tuple(Side(rail=rail, bow=0.0) for rail in rails)
    frame = replace_struct(square, corners=corners, sides=sides)
    if dice.random() < 0.5:
        frame = _front_to_back_swapped(frame, deep)
    return frame, _well_inside(frame, places, 0.35 * recipe.pitch)


def _front_to_back_swapped(frame: Frame, deep: float) -> Frame:
    """The notched frame with its notches at the front."""
    other = {"back": "front", "front": "back"}
    corners = tuple((x, round(deep - y, 3)) for x, y in reversed(frame.corners))
    count = len(frame.sides)
    sides = tuple(frame.sides[(count - 2 - i) % count] for i in range(count))
    sides = tuple(replace_struct(s, rail=other.get(s.rail, s.rail)) for s in sides)
    return replace_struct(frame, corners=corners, sides=sides)


def _well_inside(frame: Frame, places: list[Place], clear: float) -> list[Place]:
    inner = opening(frame).buffer(-clear)
    kept = [p for p in places if inner.covers(shapely.Point(p))]
    return kept or [opening(frame).representative_point().coords[0]]


MAKERS: dict[str, Callable[[Recipe, random.Random], tuple[Frame, list[Place]]]] = {
    "straight": _straight,
    "tapered": _tapered,
    "bowed": _bowed,
    "round": _round,
    "notched": _notched,
}
