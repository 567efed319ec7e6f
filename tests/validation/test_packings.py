"""Spacing evenly against the best known packings of equal circles.

Point-sized springs with a wished clearance of half the wished gap, without rows, are centres of
equal circles packed into the frame. In the square the values are those of E. Specht's public
table of packings, seen second-hand (third-party; up to 30 circles proven the best
by Markot and others, seen in an encyclopaedia); in the circle they were seen to three decimals in
an encyclopaedia's table, the further digits computed (proven for 2-10, 12, 14 and 19, else the
best known). Each value was also found again with another optimiser before it was written here.
"""

import numpy as np
import pytest

from spring_layout.geometry.outline import make_outline
from spring_layout.planning.parts import Standing
from spring_layout.planning.placing.even import even_out_steps
from spring_layout.planning.placing.measure import Wish, measure
from tests.decks import grid_deck

SQUARE_RADIUS = {
    2: 0.292893218813,
    3: 0.254333095030,
    4: 0.25,
    5: 0.207106781187,
    6: 0.187680601147,
    8: 0.170540688701,
    9: 0.166666666667,
    10: 0.148204322565,
    12: 0.139958844038,
    14: 0.129331793710,
    15: 0.127166547515,
    16: 0.125,
    18: 0.115521432464,
    19: 0.112265437571,
    20: 0.111382347512,
}
CIRCLE_RADIUS = {
    2: 0.5,
    3: 0.464101615,
    4: 0.414213562,
    5: 0.370191908,
    6: 0.333333333,
    8: 0.302593388,
    9: 0.276768654,
    10: 0.262258924,
    12: 0.248163471,
    14: 0.231030728,
    15: 0.221172539,
    16: 0.216664743,
    18: 0.205604647,
    19: 0.205604647,
    20: 0.195224011,
}
UNIT = 1000.0
SQUARE = make_outline(((0, 0), (UNIT, 0), (UNIT, UNIT), (0, UNIT)), (0, 0, 0, 0))
CIRCLE = make_outline(((-UNIT, 0), (UNIT, 0)), (UNIT, UNIT))
STARTS = 30
WISH = Wish(200, 100)


def best_radius(outline, count):
    """The largest circles, in units, of the best of 30 seeded random starts."""
    rng = np.random.default_rng(count)
    return max(packed_radius(outline, start(outline, count, rng)) for _ in range(STARTS))


def start(outline, count, rng):
    x0, y0, x1, y1 = outline.bounds
    places = rng.uniform((x0, y0), (x1, y1), (20 * count, 2))
    return places[outline.holds(places)][:count]


def packed_radius(outline, places):
    ids = tuple(f"s{i}" for i in range(len(places)))
    standing = Standing(
        deck=grid_deck(),
        outline=outline,
        ids=ids,
        index={name: i for i, name in enumerate(ids)},
        centres=places,
        radii=np.zeros(len(places)),
    )
    for places in even_out_steps(standing, (), WISH.gap, WISH.clearance, levels=1):  # noqa: B007
        pass
    share = measure(outline, places, standing.radii, WISH)[0]
    return share * WISH.clearance / UNIT


def assert_packed(outline, count, best_known):
    found = best_radius(outline, count)
    assert found <= best_known + 1e-9
    assert found >= 0.97 * best_known


@pytest.mark.parametrize("count", [2, 5])
def test_springs_in_a_square_come_near_the_best_known_packing(count):
    assert_packed(SQUARE, count, SQUARE_RADIUS[count])


@pytest.mark.parametrize("count", [3])
def test_springs_in_a_circle_come_near_the_best_known_packing(count):
    assert_packed(CIRCLE, count, CIRCLE_RADIUS[count])


@pytest.mark.larger
@pytest.mark.parametrize("count", [n for n in SQUARE_RADIUS if n not in (2, 5)])
def test_every_listed_packing_of_a_square(count):
    assert_packed(SQUARE, count, SQUARE_RADIUS[count])


@pytest.mark.larger
@pytest.mark.parametrize("count", [n for n in CIRCLE_RADIUS if n != 3])
def test_every_listed_packing_of_a_circle(count):
    assert_packed(CIRCLE, count, CIRCLE_RADIUS[count])
