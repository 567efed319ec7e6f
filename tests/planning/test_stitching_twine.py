"""The stitching twine, reckoned by hand from the stated model (a model: no published measure).

One stitch of the square stool, wire 3.7668 mm (W&M 9), stitching twine 2.5 mm:

* a turn round the wire, sqrt((pi (3.7668 + 2.5))^2 + 2.5^2) = sqrt(19.6877^2 + 6.25) = 19.846;
* through the webbing and back, twice the 3 mm of two layers where strips cross, 6: with the turn
  a loop of 25.846;
* a half hitch round the twine itself: three quarters of a turn beside, sqrt((5 pi)^2 + 2.5^2) =
  15.906, make 11.929; a quarter of one laid over, sqrt((10 pi)^2 + 2.5^2) = 31.515, makes 7.879;
  together 19.808.

In all 45.654 mm a stitch, 71.500 with two loops.
"""

import math

import pytest

from spring_layout.deck.files import read_deck
from spring_layout.deck.model import Stitching
from spring_layout.planning.stitching import stitch_twine, stitching_of
from spring_layout.resources import sample_decks_folder

STOOL = read_deck(sample_decks_folder() / "square-stool.deck.json")
COIL = STOOL.coils[0]

A_STITCH = 45.654
"""mm, by the reckoning above."""


def test_the_stool_is_the_one_that_was_reckoned():
    assert (COIL.wire, COIL.foot_diameter) == (3.7668, 89)
    assert STOOL.stitching == Stitching(points=4, loops=1, twine=2.5, working_length=1500)
    assert {spring.x for spring in STOOL.springs} == {88.5, 228.5, 368.5}
    assert {spring.y for spring in STOOL.springs} == {88.5, 228.5, 368.5}


@pytest.mark.parametrize(("loops", "by_hand"), [(1, A_STITCH), (2, 71.500), (0, 19.808)])
def test_a_stitch_takes_its_loops_and_a_half_hitch(loops, by_hand):
    stitching = Stitching(points=4, loops=loops, twine=2.5, working_length=1500)
    assert stitch_twine(stitching, COIL) == pytest.approx(by_hand, abs=5e-4)


def test_the_stool_takes_4301_mm_in_three_working_lengths():
    """Of 1500 mm each, 100 at either end stay free to start and to finish off: 1300 to sew with.

    A foot of 89 mm has four stitches and three ways between them, 44.5 sqrt(2) = 62.9325 from
    quarter to quarter: 188.80 + 4 x 45.654 = 371.41 (397.48 where one way goes across, 89). To the
    next foot it is 140 - 89 = 51. Three feet take 1216.2, or 1242.3 with one way across; 51 and
    45.654 more for one stitch at the fourth do not fit into 1300. So each length sews three feet.

    The shortest way has 25 quarters, two ways across and eight between feet: 1573.31 + 178 + 408 =
    2159.31; the two ways to where a new length starts take no twine. 2159.31 - 2 x 51 + 36 x 45.654
    + 3 x 200 = 4300.85.
    """
    plan = stitching_of(STOOL)
    assert plan.route_length == pytest.approx(25 * 44.5 * math.sqrt(2) + 2 * 89 + 8 * 51)
    assert plan.new_lengths == (0, 12, 24)
    assert plan.twine == pytest.approx(2159.31 - 2 * 51 + 36 * A_STITCH + 3 * 200, abs=0.02)
    assert plan.twine == pytest.approx(4300.85, abs=0.01)
