"""Random seat decks: straight, tapered, bowed, round and notched, in square or staggered rows.

A deck comes from a ``Recipe`` (its choices, small enough to print) by ``deck_of``; the same
recipe gives the same deck on every machine. ``recipes`` is the Hypothesis strategy,
``recipe_of(seed)`` the seeded one. Rows follow the frame: the springs stand on an even grid of
the frame's own curves, then each is moved by up to ``jitter`` of the pitch, drawn again while
top coils overlap or hang over the edge.
"""

import math
import random
from collections.abc import Sequence
from dataclasses import replace

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
    Spring,
    Tying,
)
from tests.frame_shapes import opening, side_length
from tests.random_frames import MAKERS, Place, Recipe, replace_struct

SHAPES = ("straight", "tapered", "bowed", "round", "notched")
PATTERNS = ("square", "staggered")
MOST_JITTER = 1 / 3
DRAWS = 60


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
    frame, places = MAKERS[recipe.shape](recipe, dice)
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


def _tying(dice: random.Random) -> Tying:
    return plain_tying(
        diagonals=dice.choice(("all", "all", "two-or-more", "two-or-more", "none")),
        order=dice.choice(("balanced", "balanced", "by-direction")),
    )


def _with_open_side(frame: Frame, side: int) -> Frame:
    sides = list(frame.sides)
    sides[side] = replace_struct(sides[side], rail="none")
    return replace_struct(frame, sides=tuple(sides))


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
    frame, _ = MAKERS["straight"](Recipe("straight", "square", 3, 3, 0, 130.0, seed), dice)
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
