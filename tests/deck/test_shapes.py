"""Frames from the measurements taken at the bench."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spring_layout.deck.opening import outline_of
from spring_layout.deck.shapes import (
    bowed_frame,
    measured_frame,
    notched_frame,
    round_frame,
    straight_frame,
    tapered_frame,
)
from spring_layout.deck.symmetry import is_symmetric, mirrored_frame

WIDTHS = st.integers(300, 800)


def rails(frame):
    return [side.rail for side in frame.sides]


def area(frame):
    return outline_of(frame).polygon.area


@given(WIDTHS, WIDTHS)
def test_a_straight_frame_has_square_corners(width, depth):
    frame = straight_frame(width, depth, rail_width=50, rail_top=60)
    assert frame.corners == ((0, 0), (width, 0), (width, depth), (0, depth))
    assert rails(frame) == ["back", "right", "front", "left"]
    assert (frame.rail_width, frame.rail_top) == (50, 60)


@given(WIDTHS, WIDTHS, WIDTHS)
def test_a_tapered_frame_is_as_wide_as_measured_and_the_same_on_both_sides(back, front, depth):
    frame = tapered_frame(back, front, depth)
    (x0, _), (x1, _), (x2, y2), (x3, _) = frame.corners
    assert (x1 - x0, x2 - x3, y2) == (back, front, depth)
    assert min(x0, x3) == 0
    assert is_symmetric(frame)
    assert area(frame) == pytest.approx((back + front) / 2 * depth)


def test_a_bowed_frame_rises_above_the_straightedge_by_its_bow():
    frame = bowed_frame(460, 540, 440, front_bow=18, back_bow=-6, side_bow=4)
    assert [side.bow for side in frame.sides] == [-6, 4, 18, 4]
    assert outline_of(frame).bounds[3] == pytest.approx(440 + 18, abs=0.05)
    assert is_symmetric(frame)


def test_a_round_frame_is_a_circle():
    frame = round_frame(450)
    assert rails(frame) == ["back", "front"]
    assert outline_of(frame).bounds == pytest.approx((0, 0, 450, 450), abs=0.05)
    assert area(frame) == pytest.approx(math.pi * 225**2, rel=1e-3)


@pytest.mark.parametrize("at", ["front", "back"])
@given(back=WIDTHS, front=WIDTHS, depth=WIDTHS)
def test_a_notched_frame_lacks_the_two_notches(at, back, front, depth):
    back = front if at == "back" else back
    whole = tapered_frame(back, front, depth)
    frame = notched_frame(back, front, depth, 40, 50, at=at)
    assert is_symmetric(frame)
    # a notch is a rectangle and the sliver that the taper adds to it
    sliver = (front - back) / 2 * 50 / depth * 50 / 2
    assert area(whole) - area(frame) == pytest.approx(2 * (40 * 50 - sliver), abs=1)


def test_the_faces_of_a_post_take_no_tacks_unless_said():
    bare = notched_frame(460, 500, 440, 50, 60)
    assert rails(bare) == ["back", "right", "none", "none", "front", "none", "none", "left"]
    tacked = notched_frame(460, 500, 440, 50, 60, posts_take_tacks=True)
    assert rails(tacked)[2:7] == ["front", "right", "front", "left", "front"]
    behind = notched_frame(460, 500, 440, 50, 60, at="back")
    assert rails(behind) == ["back", "none", "none", "right", "front", "left", "none", "none"]


def test_a_notched_frame_starts_at_its_back_left_and_stays_so_in_the_mirror():
    for at in ("front", "back"):
        frame = notched_frame(460, 500, 440, 50, 60, at=at)
        assert mirrored_frame(frame) == frame


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: straight_frame(0, 400), "The back is 0 mm"),
        (lambda: straight_frame(400, -1), "The depth is -1 mm"),
        (lambda: round_frame(math.nan), "The diameter is nan mm"),
        (lambda: round_frame(20_001), "at most 20000 mm"),
        (lambda: bowed_frame(400, 400, 400, front_bow=201), "half circle"),
        (lambda: notched_frame(400, 400, 400, 200, 50), "leave no rail between"),
        (lambda: notched_frame(400, 400, 400, 50, 400), "leave no rail between"),
        (lambda: straight_frame(400, 400, rail_width=0), "rail width is 0"),
        (lambda: measured_frame(400, 300, 400, 300, 900, 500), "make no triangle"),
        (lambda: measured_frame(400, 300, 400, 300, 500, 700), "right and the falling"),
        (lambda: measured_frame(400, 300, 0, 300, 500, 500), "The front is 0 mm"),
    ],
)
def test_measurements_that_make_no_frame_are_told(make, says):
    with pytest.raises(ValueError, match=says) as refused:
        make()
    assert str(refused.value).endswith(".")


def six_lengths(frame):
    bl, br, fr, fl = frame.corners
    pairs = [(bl, br), (br, fr), (fr, fl), (fl, bl), (fl, br), (bl, fr)]
    return [math.dist(a, b) for a, b in pairs]


def test_a_square_frame_is_known_by_its_equal_diagonals():
    # the 3-4-5 triangle: 300 and 400 make a diagonal of 500
    measured = measured_frame(400, 300, 400, 300, 500, 500)
    assert measured.frame == straight_frame(400, 300)
    assert measured.words("in") == "The diagonals agree: the frame is the same on both sides."


OFFSETS = st.integers(-40, 40)


@given(st.lists(OFFSETS, min_size=4, max_size=4))
def test_any_four_sided_frame_is_found_from_its_six_lengths(offsets):
    a, b, c, d = offsets
    true = [(0, 0), (460 + a, 0), (500 + b, 440 + c), (-40, 440 + d)]
    lengths = [math.dist(true[i], true[(i + 1) % 4]) for i in range(4)]
    rising, falling = math.dist(true[3], true[1]), math.dist(true[0], true[2])
    measured = measured_frame(*lengths, rising, falling)
    assert measured.misfit_mm < 1e-3
    assert measured.out_of_square_mm == pytest.approx(falling - rising)
    for found, place in zip(measured.frame.corners, true, strict=True):
        assert found == pytest.approx(place, abs=0.01)


def test_a_frame_out_of_square_says_by_how_much():
    measured = measured_frame(460, 450, 460, 450, 648.6, 638.9)
    assert measured.out_of_square_mm == pytest.approx(-9.7)
    assert "The diagonals differ by 3/8 in: the frame is out of square." in measured.words("in")
    assert "9.7 mm" in measured.words("mm")


def test_lengths_that_do_not_agree_are_shared_out_and_told():
    # the front of a 400 by 300 frame measured 24 mm too long
    measured = measured_frame(400, 300, 424, 300, 500, 500)
    assert 3 < measured.misfit_mm < 12
    assert is_symmetric(measured.frame)
    assert "measure them again" in measured.words("mm")
    misses = [
        a - b
        for a, b in zip(six_lengths(measured.frame), (400, 300, 424, 300, 500, 500), strict=True)
    ]
    assert max(map(abs, misses)) == pytest.approx(measured.misfit_mm, abs=0.01)
