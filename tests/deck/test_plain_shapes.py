"""The measurements of a frame as they would be taken at the bench: the way back from shapes."""

import msgspec
import pytest

from spring_layout.deck.files import read_deck
from spring_layout.deck.model import Frame
from spring_layout.deck.plain_shapes import plain_shape_of, put_in_place
from spring_layout.deck.shapes import (
    bowed_frame,
    measured_frame,
    notched_frame,
    round_frame,
    straight_frame,
    tapered_frame,
)
from spring_layout.resources import sample_decks

MAKERS = {
    "straight": straight_frame,
    "tapered": tapered_frame,
    "bowed": bowed_frame,
    "round": round_frame,
    "notched": notched_frame,
}


def moved(frame: Frame, by: tuple[float, float], begun_at: int = 0) -> Frame:
    """The same frame elsewhere on the paper, its corners counted from another one."""
    corners = tuple((x + by[0], y + by[1]) for x, y in frame.corners)
    return msgspec.structs.replace(
        frame,
        corners=corners[begun_at:] + corners[:begun_at],
        sides=frame.sides[begun_at:] + frame.sides[:begun_at],
    )


@pytest.mark.parametrize("begun_at", [0, 1])
@pytest.mark.parametrize(
    ("shape", "measures"),
    [
        ("straight", {"width": 508.0, "depth": 450.0}),
        ("tapered", {"back": 420.0, "front": 480.0, "depth": 450.0}),
        ("bowed", {"back": 431.8, "front": 533.4, "depth": 482.6, "front_bow": 38.1}),
        ("round", {"diameter": 550.0}),
        (
            "notched",
            {"back": 420, "front": 480, "depth": 450, "notch_width": 60, "notch_depth": 70},
        ),
    ],
)
def test_a_plain_frame_gives_back_what_it_was_made_of(shape, measures, begun_at):
    frame = moved(MAKERS[shape](**measures), (-120.5, 33), begun_at)
    assert plain_shape_of(frame) == (shape, pytest.approx(measures, abs=0.002))


def test_a_frame_out_of_square_is_told_by_its_sides_and_diagonals():
    six = {"back": 400, "right": 301, "front": 402, "left": 299, "rising": 498, "falling": 503}
    shape, measures = plain_shape_of(measured_frame(**six).frame)
    assert shape == "measured"
    assert measured_frame(**measures).misfit_mm < 0.01
    assert measures == pytest.approx(six, abs=1.5)  # five lengths fix a frame, the sixth gives


def test_a_frame_of_no_plain_shape_is_told_by_back_front_depth_and_bow():
    frame = bowed_frame(400, 460, 440, front_bow=25, side_bow=-6)
    told = plain_shape_of(frame)
    assert told == ("bowed", {"back": 400, "front": 460, "depth": 440, "front_bow": 25})
    assert plain_shape_of(bowed_frame(400, 460, 440, side_bow=-6))[0] == "tapered"


@pytest.mark.parametrize("path", sample_decks(), ids=lambda path: path.name.split(".")[0])
def test_every_sample_has_measurements_that_make_a_frame(path):
    shape, measures = plain_shape_of(read_deck(path).frame)
    made = measured_frame(**measures).frame if shape == "measured" else MAKERS[shape](**measures)
    assert len(made.corners) >= 2


def test_a_frame_measured_again_stands_where_it_stood_with_its_own_rails():
    before = moved(tapered_frame(420, 480, 450, rail_width=60, rail_top=70), (-300, 80), 1)
    back = [side.rail for side in before.sides].index("back")
    sides = list(before.sides)
    sides[back] = msgspec.structs.replace(sides[back], rail_width=25.0)
    before = msgspec.structs.replace(before, sides=tuple(sides))
    after = put_in_place(tapered_frame(420, 500, 450), before)
    assert after.corners[0] == pytest.approx((-270, 80))
    assert (after.rail_width, after.rail_top) == (60, 70)
    assert [side.rail_width for side in after.sides] == [25, None, None, None]


def test_a_frame_measured_again_as_it_is_stays_the_same():
    before = moved(round_frame(480), (100, -40))
    shape, measures = plain_shape_of(before)
    assert put_in_place(MAKERS[shape](**measures), before) == before
