"""Corners that no joiner makes: spikes, outward and inward."""

import msgspec
import pytest

from spring_layout.deck.edits import set_frame
from spring_layout.deck.model import Side
from spring_layout.deck.shapes import bowed_frame, notched_frame, round_frame, straight_frame
from spring_layout.plan import make_plan
from tests.decks import grid_deck


def traced(*corners):
    """A frame through these corners, mm, each side a back rail for want of a better name."""
    frame = straight_frame(500, 500)
    sides = tuple(Side(rail="back", bow=0.0) for _ in corners)
    return msgspec.structs.replace(frame, corners=corners, sides=sides)


def spikes(frame, springs=True):
    deck = set_frame(grid_deck(), frame, drop_outside=True)
    if not springs:
        deck = msgspec.structs.replace(deck, springs=())
    return [f for f in make_plan(deck).findings if f.code == "FRAME-SPIKE"]


@pytest.mark.parametrize("springs", [True, False])
@pytest.mark.parametrize(("between", "corner"), [((1600, 250), "outward"), ((40, 250), "inward")])
def test_a_spike_is_doubtful_with_and_without_springs(between, corner, springs):
    frame = traced((0, 0), (500, 0), (500, 240), between, (500, 260), (500, 500), (0, 500))
    (spike,) = spikes(frame, springs)
    assert spike.severity == "doubtful"
    assert spike.stage == "frame"
    assert spike.place == between
    assert spike.sides == (2, 3)
    assert spike.value < spike.limit
    assert "meet in a spike of" in spike.message


@pytest.mark.parametrize(
    "frame",
    [
        straight_frame(500, 500),
        bowed_frame(300, 560, 440, front_bow=40),
        round_frame(600),
        notched_frame(420, 480, 450, 60, 70),
    ],
)
def test_the_corners_of_seats_are_none(frame):
    assert spikes(frame) == []
    assert spikes(frame, springs=False) == []
