"""Random seat decks: straight, tapered, bowed, round and notched, in square or staggered rows.

A deck comes from a ``Recipe`` (its choices, small enough to print) by ``deck_of``; the same
recipe gives the same deck on every machine. ``recipes`` is the Hypothesis strategy,
``recipe_of(seed)`` the seeded one. Rows follow the frame: the springs stand on an even grid of
the frame's own curves, then each is moved by up to ``jitter`` of the pitch, drawn again while
top coils overlap or hang over the edge.
"""

import math
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import msgspec
import numpy as np
import shapely
from hypothesis import strategies as st

from spring_layout.deck.model import (
    RUNS,
    Coil,
    Deck,
    Frame,
    MovedAnchor,
    Pairing,
    Side,
    Spring,
    Tying,
)
from tests.frame_shapes import opening, side_length, side_points

SHAPES = ("straight", "tapered", "bowed", "round", "notched")
PATTERNS = ("square", "staggered")
MOST_JITTER = 1 / 3
DRAWS = 60
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


def recipe_of(seed: int, most: int = 60, shapes: Sequence[str] = SHAPES) -> Recipe:
    """The recipe of ``seed``, of at most ``most`` springs (exactly as many, or fewer)."""
    dice = random.Random(seed)
    rows = dice.randint(1, min(7, most))
    return Recipe(
        shape=dice.choice(list(shapes)),
        pattern=dice.choice(PATTERNS),
        rows=rows,
        columns=dice.randint(1, min(10, most // rows)),
        jitter=dice.choice((0.0, 0.05, 0.1, 0.2, MOST_JITTER)),
        pitch=dice.choice((120.0, 130.0, 142.0, 160.0)),
        seed=seed,
    )


@st.composite
def recipes(draw: st.DrawFn, most: int = 60, most_jitter: float = MOST_JITTER) -> Recipe:
    """A Hypothesis strategy of recipes; shrinks to fewer springs, straighter, calmer."""
    rows = draw(st.integers(1, min(7, most)))
    return Recipe(
        shape=draw(st.sampled_from(SHAPES)),
        pattern=draw(st.sampled_from(PATTERNS)),
        rows=rows,
        columns=draw(st.integers(1, min(10, most // rows))),
        jitter=draw(st.floats(0.0, most_jitter)),
        pitch=draw(st.sampled_from((120.0, 130.0, 142.0, 160.0))),
        seed=draw(st.integers(0, 10_000)),
    )


def random_deck(seed: int, most: int = 60, shapes: Sequence[str] = SHAPES) -> Deck:
    """The deck of ``seed``: at most ``most`` springs, no top coils overlapping."""
    return deck_of(recipe_of(seed, most, shapes))


def deck_of(recipe: Recipe) -> Deck:
    """The deck of ``recipe``."""
    dice = random.Random(repr(recipe))
    frame, places = _MAKERS[recipe.shape](recipe, dice)
    for side in dice.sample(range(len(frame.sides)), min(recipe.open_sides, len(frame.sides))):
        frame = _with_open_side(frame, side)
    radius = _fitting_radius(frame, places, recipe.pitch)
    places = jittered(frame, places, radius, recipe.jitter * recipe.pitch, dice)
    dice.shuffle(places)
    return make_deck(frame, places, 2 * radius, _tying(dice), name=repr(recipe))


def make_deck(
    frame: Frame, places: Sequence[Place], diameter: float, tying: Tying, name: str = "deck"
) -> Deck:
    """A deck of springs s1, s2 ... at ``places``, all of one kind, ``diameter`` mm across."""
    coil = Coil(
        id="seat",
        free_height=152,
        wire=3.66,
        turns=6,
        top_diameter=round(diameter, 3),
        waist_diameter=round(diameter * 0.65, 3),
        foot_diameter=round(diameter, 3),
    )
    springs = tuple(
        Spring(id=f"s{i + 1}", coil="seat", x=float(x), y=float(y), held=False)
        for i, (x, y) in enumerate(places)
    )
    return Deck(name=name, frame=frame, coils=(coil,), springs=springs, tying=tying)


def plain_tying(**changes: object) -> Tying:
    """Eight-way tying with the single-spring diagonals; ``changes`` to its fields."""
    tying = Tying(front_to_back=True, side_to_side=True, diagonals="all", tied_height=115, crown=0)
    return replace_struct(tying, **changes)


def replace_struct(value: S, **changes: object) -> S:
    """``value`` with some of its fields changed."""
    return msgspec.structs.replace(value, **changes)


def _tying(dice: random.Random) -> Tying:
    return plain_tying(
        diagonals=dice.choice(("all", "all", "two-or-more", "two-or-more", "none")),
        order=dice.choice(("balanced", "balanced", "by-direction")),
    )


def _with_open_side(frame: Frame, side: int) -> Frame:
    sides = list(frame.sides)
    sides[side] = replace_struct(sides[side], rail="none")
    return replace_struct(frame, sides=tuple(sides))


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


_MAKERS: dict[str, Callable[[Recipe, random.Random], tuple[Frame, list[Place]]]] = {
    "straight": _straight,
    "tapered": _tapered,
    "bowed": _bowed,
    "round": _round,
    "notched": _notched,
}


# Jitter.


def _fitting_radius(frame: Frame, places: Sequence[Place], pitch: float) -> float:
    """A top coil's radius that neither touches a neighbour nor hangs over the edge, mm."""
    points = np.array(places)
    apart = np.hypot(*(points[:, None] - points[None]).T)
    np.fill_diagonal(apart, math.inf)
    edge = opening(frame).exterior.distance(shapely.points(points))
    return round(min(0.33 * pitch, float(apart.min()) / 2 - 2, float(np.min(edge)) - 2), 3)


def jittered(
    frame: Frame, places: Sequence[Place], radius: float, reach: float, dice: random.Random
) -> list[Place]:
    """``places``, each moved by up to ``reach`` mm; drawn again while top coils overlap."""
    inner = opening(frame).buffer(-radius)
    moved = list(places)
    for i, (x, y) in enumerate(places):
        others = np.array([p for k, p in enumerate(moved) if k != i]).reshape(-1, 2)
        for _ in range(DRAWS):
            angle, far = dice.uniform(0, 2 * math.pi), reach * math.sqrt(dice.random())
            place = (round(x + far * math.cos(angle), 3), round(y + far * math.sin(angle), 3))
            apart = np.hypot(*(others - place).T)
            if inner.covers(shapely.Point(place)) and (apart > 2 * radius).all():
                moved[i] = place
                break
    return moved


# Images of a deck, for the laws.


def mirrored(deck: Deck) -> Deck:
    """The deck seen in a mirror: left and right change places."""
    count = len(deck.frame.sides)
    swap = {"left": "right", "right": "left"}
    sides = tuple(deck.frame.sides[(count - 2 - i) % count] for i in range(count))
    frame = replace_struct(
        deck.frame,
        corners=tuple((-x, y) for x, y in reversed(deck.frame.corners)),
        sides=tuple(replace_struct(s, rail=swap.get(s.rail, s.rail)) for s in sides),
    )
    springs = tuple(replace_struct(s, x=-s.x) for s in deck.springs)
    return replace_struct(deck, frame=frame, springs=springs)


def half_turned(deck: Deck) -> Deck:
    """The deck turned by a half turn, its rails renamed for the new front."""
    swap = {"left": "right", "right": "left", "back": "front", "front": "back"}
    frame = replace_struct(
        deck.frame,
        corners=tuple((-x, -y) for x, y in deck.frame.corners),
        sides=tuple(replace_struct(s, rail=swap.get(s.rail, s.rail)) for s in deck.frame.sides),
    )
    springs = tuple(replace_struct(s, x=-s.x, y=-s.y) for s in deck.springs)
    return replace_struct(deck, frame=frame, springs=springs)


def moved(deck: Deck, across: int, down: int) -> Deck:
    """The whole deck moved by whole millimetres."""
    frame = replace_struct(
        deck.frame, corners=tuple((x + across, y + down) for x, y in deck.frame.corners)
    )
    springs = tuple(replace_struct(s, x=s.x + across, y=s.y + down) for s in deck.springs)
    return replace_struct(deck, frame=frame, springs=springs)


def relisted(deck: Deck, seed: int) -> Deck:
    """The same deck, its springs listed in another order."""
    springs = list(deck.springs)
    random.Random(seed).shuffle(springs)
    return replace_struct(deck, springs=tuple(springs))


def renamed(deck: Deck, names: dict[str, str]) -> Deck:
    """The same deck, its springs named by ``names`` (old -> new)."""
    springs = tuple(replace_struct(s, id=names[s.id]) for s in deck.springs)
    return replace_struct(deck, springs=springs)


def open_sided(recipe: Recipe) -> Recipe:
    """The same deck with one side that takes no tacks."""
    return replace(recipe, open_sides=1)


def crowded_deck(seed: int, count: int = 9) -> Deck:
    """Springs strewn anywhere, top coils overlapping, some at the very same place."""
    dice = random.Random(seed)
    frame, _ = _straight(Recipe("straight", "square", 3, 3, 0, 130.0, seed), dice)
    (x0, y0), (x1, y1) = frame.corners[0], frame.corners[2]
    places = [
        (round(dice.uniform(x0 + 5, x1 - 5), 3), round(dice.uniform(y0 + 5, y1 - 5), 3))
        for _ in range(count)
    ]
    twins = dice.randint(0, 2)
    places[:twins] = [places[-1]] * twins
    return make_deck(frame, places, 92, _tying(dice), name=f"crowded {seed}")


def with_random_wishes(deck: Deck, seed: int) -> Deck:
    """The deck with a few joins, parts and moved anchors, sensible or not."""
    dice = random.Random(seed)
    ids = [spring.id for spring in deck.springs]
    pairs = [
        Pairing(run=dice.choice(RUNS), springs=tuple(dice.sample(ids, 2)))
        for _ in range(dice.randint(0, 6) if len(ids) > 1 else 0)
    ]
    cut = dice.randint(0, len(pairs))
    anchors = [_random_anchor(deck, dice) for _ in range(dice.randint(0, 4))]
    tying = replace_struct(
        deck.tying, joins=tuple(pairs[:cut]), parts=tuple(pairs[cut:]), anchors=tuple(anchors)
    )
    return replace_struct(deck, tying=tying)


def _random_anchor(deck: Deck, dice: random.Random) -> MovedAnchor:
    side = dice.randrange(len(deck.frame.sides))
    return MovedAnchor(
        run=dice.choice(RUNS),
        spring=dice.choice(deck.springs).id,
        end=dice.choice(("start", "finish")),
        side=side,
        along=round(dice.uniform(0, side_length(deck.frame, side)), 3),
    )
