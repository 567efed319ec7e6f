"""The twine that a knot takes, against the figures worked out for the wrap model.

The turns are geometry (a helix); the totals of the hitches are a model. The values were computed
from the formulas, by hand, outside the program; no published measurement of these knots was
found, so the user's own ten knots replace them.
"""

import math

import pytest

from spring_layout.planning.twine_geometry import beside_turn, over_turn, wrapped


def test_a_round_turn_of_3_mm_twine_on_3_66_mm_wire():
    """Value W1: 20.9230 for the plain turn, 21.1370 for the helix beside it."""
    assert math.pi * (3.66 + 3) == pytest.approx(20.9230, abs=1e-4)
    assert beside_turn(3.66, 3) == pytest.approx(21.1370, abs=1e-4)


@pytest.mark.parametrize(
    ("wire", "twine", "turn", "clove", "half"),
    [
        (3.66, 3, 21.1370, 51.817, 25.824),
        (3.66, 4, 24.3948, 61.514, 30.636),
        (3.77, 3.2, 22.1295, 54.438, 27.128),
    ],
)
def test_turns_and_hitches(wire, twine, turn, clove, half):
    assert beside_turn(wire, twine) == pytest.approx(turn, abs=1e-4)
    assert wrapped("clove", wire, twine) == pytest.approx(clove, abs=1e-3)
    assert wrapped("half", wire, twine) == pytest.approx(half, abs=1e-3)


def test_a_clove_hitch_is_about_seventeen_times_the_twine():
    assert wrapped("clove", 3.66, 3) / 3 == pytest.approx(17.3, abs=0.05)


def test_the_turns_are_the_arc_lengths_of_their_helices():
    """The same two lengths by summing small chords of a helix of one turn."""
    for turn, radius, rise in (
        (beside_turn(3.66, 3), (3.66 + 3) / 2, 3),
        (over_turn(3.66, 3), 3.66 / 2 + 1.5 * 3, 6),
    ):
        steps = 20_000
        chord = math.hypot(2 * radius * math.sin(math.pi / steps), rise / steps)
        assert turn == pytest.approx(steps * chord, rel=1e-6)


def test_an_overhand_knot_is_a_turn_round_the_wire_and_one_round_the_twine():
    """By hand: 21.1370 and sqrt((2 pi 3)^2 + 3^2) = 19.0868."""
    assert wrapped("overhand", 3.66, 3) == pytest.approx(21.1370 + 19.0868, abs=1e-3)
