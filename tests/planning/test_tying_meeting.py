"""Where ways meet the nail line, against the exact curves one by one."""

import math

import numpy as np
import pytest

from spring_layout.deck.model import Frame, Side
from spring_layout.planning.standing import outline_of, standing_of
from spring_layout.planning.tying.meeting import Sides
from spring_layout.planning.tying.nail_line import NailLine
from spring_layout.planning.tying.touch import cross_or_touch, near, turn_between
from tests.decks import grid_deck, straight_frame
from tests.random_decks import make_deck, plain_tying, random_deck, replace_struct


def nails_of(frame, places=((0, 0),)):
    return NailLine(standing_of(make_deck(frame, places, 40, plain_tying())))


def round_frame(radius=300.0, rails=("back", "front")):
    return Frame(
        corners=((-radius, 0), (radius, 0)),
        sides=tuple(Side(rail=rail, bow=radius) for rail in rails),
        rail_width=40,
        rail_top=75,
    )


@pytest.mark.parametrize("seed", range(8))
def test_ways_meet_the_sides_where_the_curves_say(seed):
    frame = random_deck(seed).frame
    outline, dice = outline_of(frame), np.random.default_rng(seed)
    places = dice.uniform(*np.array(outline.bounds).reshape(2, 2), (20, 2))
    angles = dice.uniform(-math.pi, math.pi, 20)
    ways = np.stack([np.cos(angles), np.sin(angles)], axis=-1)
    outside = np.array([frame.nail_line_of(i) for i in range(len(frame.sides))])
    ((far, along),) = Sides(outline.sides).meetings(places, ways, outside)
    for row, (place, way) in enumerate(zip(places, ways, strict=True)):
        for number, side in enumerate(outline.sides):
            met = np.isfinite(far[row, number])
            order = np.argsort(far[row, number][met])
            expected = side.meet(place, way, float(outside[number]))
            assert along[row, number][met][order] == pytest.approx(expected, abs=1e-6)


def test_a_round_frame_is_one_nail_line_all_the_way_round():
    nails = nails_of(round_frame())
    assert nails.stretches == ((0, 1),)
    assert nails.is_closed(0)
    assert nails.length(0) == pytest.approx(2 * math.pi * 320)


def test_a_round_frame_half_open_is_one_nail_line_with_two_ends():
    nails = nails_of(round_frame(rails=("back", "none")))
    assert nails.stretches == ((0,),)
    assert not nails.is_closed(0)


def test_a_square_frame_has_a_nail_line_to_each_side():
    nails = nails_of(straight_frame(), [(250, 250)])
    assert nails.stretches == ((0,), (1,), (2,), (3,))
    assert nails.limits.tolist() == [[25, 475]] * 4


def test_a_place_on_the_nail_line_is_found_again():
    nails = nails_of(round_frame())
    at = np.array([0.0, 400.0, math.pi * 320 + 5, 2 * math.pi * 320 - 1])
    side, along = nails.sides_at(0, at)
    assert side.tolist() == [0, 0, 1, 1]
    assert nails.at(side, along) == pytest.approx(at)


def test_tacks_on_either_side_of_the_joint_of_a_round_frame_are_near():
    nails = nails_of(round_frame())
    ends = np.array([1.0, nails.length(0) - 1.0])
    zero = np.zeros(2, np.intp)
    assert nails.too_near(zero, ends, zero[::-1], ends[::-1]).all()


def test_a_way_out_in_the_corner_is_told_apart():
    nails = nails_of(straight_frame(), [(250, 250)])
    angles = np.arctan2([-130.5, -130.5], [15.0 - 108.0, 0.0])
    rays = nails.rays(np.array([[108.0, 108.0]] * 2), angles)
    assert rays.along == pytest.approx([15, 108])
    assert rays.in_corner.tolist() == [True, False]
    assert rays.side.tolist()[1] == 0
    assert rays.anchor[1] == pytest.approx([108, -22.5])


def test_a_way_through_a_notch_and_in_again_is_no_way_out():
    """From the left of the notch to the back rail beyond it."""
    frame = Frame(
        corners=(
            (0, 0),
            (200, 0),
            (200, 100),
            (260, 100),
            (260, 0),
            (500, 0),
            (500, 400),
            (0, 400),
        ),
        sides=tuple(
            Side(rail=rail, bow=0)
            for rail in ("back", "right", "back", "left", "back", "right", "front", "left")
        ),
        rail_width=160,
        rail_top=75,
    )
    nails = nails_of(frame, [(100, 300)])
    rays = nails.rays(np.array([[150.0, 80.0]]), np.array([0.0]))
    assert rays.side.tolist() == [-1]


def test_every_side_open_leaves_no_nail_line():
    frame = straight_frame()
    sides = tuple(replace_struct(side, rail="none") for side in frame.sides)
    nails = nails_of(replace_struct(frame, sides=sides), [(250, 250)])
    assert nails.stretches == ()
    assert nails.rays(np.array([[250.0, 250.0]]), np.array([0.3])).side.tolist() == [-1]


# Pieces of twine.

CROSSED = np.array([0.0, 0.0, 10.0, 0.0])


@pytest.mark.parametrize(
    ("other", "meets"),
    [
        ((5, -5, 5, 5), True),
        ((10, 0, 20, 5), True),
        ((5, 0, 5, 9), True),
        ((5, 1, 5, 9), False),
        ((11, -5, 11, 5), False),
        ((4, 0, 6, 0), True),
        ((12, 0, 16, 0), False),
        ((0, 2, 10, 2), False),
    ],
)
def test_pieces_cross_touch_or_keep_apart(other, meets):
    assert bool(cross_or_touch(CROSSED, np.array(other, float))) is meets
    assert bool(cross_or_touch(np.array(other, float), CROSSED)) is meets


def test_nearness_is_measured_to_the_piece_and_not_beyond_it():
    places = np.array([[5.0, 3.0], [-4.0, 3.0], [13.0, 4.0]])
    assert near(CROSSED[None], places, np.array([3.01, 5.01, 5.01])).all()
    assert not near(CROSSED[None], places, np.array([2.99, 4.99, 4.99])).any()


def test_turns_are_taken_the_short_way_round():
    assert turn_between(np.array(3.0), np.array(-3.0)) == pytest.approx(2 * math.pi - 6)


def test_a_grid_has_its_corner_tacks_at_the_corners_clearance():
    nails = NailLine(standing_of(grid_deck()))
    assert len(nails.corner_tacks) == 8
    assert [25.0, -22.5] in nails.corner_tacks.tolist()
