"""Rails drawn to their width, and the line that the tacks go in.

The width of a buffer from shapely is the reference for the outer edge of equal rails.
"""

import itertools
import math

import numpy as np
import pytest
import shapely

from spring_layout.geometry.outline import make_outline
from spring_layout.geometry.rails import rail_bands, ring_outside

FRAMES = {
    "straight": (((0, 0), (500, 0), (500, 400), (0, 400)), (0, 0, 0, 0)),
    "tapered and bowed": (((0, 0), (460, 0), (500, 440), (-40, 440)), (0, 0, 30, 0)),
    "hollow back": (((0, 0), (500, 0), (500, 400), (0, 400)), (-50, 0, 0, 0)),
    "round": (((0, 250), (500, 250)), (250, 250)),
    "half round": (((0, 0), (500, 0)), (0, 240)),
    "notched": (
        ((60, 0), (440, 0), (440, 80), (500, 80), (500, 480), (0, 480), (0, 80), (60, 80)),
        (0,) * 8,
    ),
    "pointed": (((0, 0), (500, 100), (0, 200)), (0, 0, 0)),
}


@pytest.fixture(params=FRAMES)
def outline(request):
    return make_outline(*FRAMES[request.param])


def test_rails_lie_outside_the_opening_and_beside_each_other(outline):
    bands = rail_bands(outline, [45] * len(outline.sides))
    for number, band in enumerate(bands):
        assert band.intersection(outline.polygon).area < 1
        line = outline.lines[number]
        assert band.buffer(0.1).covers(line)
    for one, two in itertools.combinations(bands, 2):
        assert one.intersection(two).area < 1


def test_rails_together_make_the_frame(outline):
    widths = [45] * len(outline.sides)
    rails = sum(band.area for band in rail_bands(outline, widths))
    frame = ring_outside(outline, widths).area - outline.polygon.area
    assert rails == pytest.approx(frame, abs=5)


def test_the_outer_edge_of_a_straight_frame_is_a_buffer_with_mitres():
    outline = make_outline(*FRAMES["straight"])
    wanted = outline.polygon.buffer(45, join_style="mitre")
    assert ring_outside(outline, [45] * 4).symmetric_difference(wanted).area < 1e-6


def test_a_round_frame_has_a_round_nail_line():
    outline = make_outline(*FRAMES["round"])
    ring = ring_outside(outline, [22.5, 22.5])
    away = np.hypot(*(np.array(ring.exterior.coords) - (250, 250)).T)
    assert away == pytest.approx(np.full(len(away), 272.5), abs=0.01)
    assert ring.area == pytest.approx(math.pi * 272.5**2, rel=4e-4)


def test_the_nail_line_is_the_sides_own_away_from_corners(outline):
    ring = ring_outside(outline, [20] * len(outline.sides)).exterior
    for side in outline.sides:
        middle = side.point(side.length / 2, 20)
        assert ring.distance(shapely.Point(middle)) < 0.06


def test_a_side_without_a_rail_has_no_band_and_its_neighbours_end_flush():
    outline = make_outline(*FRAMES["straight"])
    bands = rail_bands(outline, [45, 45, 0, 45])
    assert bands[2].is_empty
    assert bands[1].bounds[3] == pytest.approx(400)
    assert ring_outside(outline, [45, 45, 0, 45]).bounds == pytest.approx((-45, -45, 545, 400))


def test_rails_of_unlike_width_meet_in_one_mitre():
    outline = make_outline(*FRAMES["straight"])
    back, right, _, _ = rail_bands(outline, [60, 40, 40, 40])
    shared = back.intersection(right)
    assert shared.length == pytest.approx(math.hypot(60, 40))


def test_a_sharp_corner_is_cut_off_square():
    outline = make_outline(*FRAMES["pointed"])
    point = ring_outside(outline, [45] * 3).bounds[2]
    assert 500 < point < 500 + 2.5 * 45


def test_a_notch_smaller_than_its_rails_is_filled():
    notched = ((0, 0), (470, 0), (470, 30), (500, 30), (500, 400), (0, 400))
    ring = ring_outside(make_outline(notched, (0,) * 6), [45] * 6)
    assert len(ring.interiors) == 0
    assert ring.is_valid
