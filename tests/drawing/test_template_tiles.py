"""Tiles cover the drawing, overlap by what is stated, and are joined away from what is pricked."""

import itertools

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from spring_layout.drawing.paper import Paper
from spring_layout.drawing.template_marks import Ink, Mark
from spring_layout.drawing.template_tiles import OVERLAP, PAD, laid_out, tiling_of

A4 = Paper("A4", 210, 297)
ROOM = (10, 10, 190, 260)
NOTHING = np.empty((0, 2))


def ink_of(*lines):
    return Ink([Mark(shapely.LineString(line), lambda view: []) for line in lines])


def box_ink(x0, y0, x1, y1):
    return ink_of([(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)])


@given(
    st.floats(-500, 500), st.floats(10, 3000), st.floats(100, 600), st.lists(st.floats(-500, 2500))
)
def test_pictures_in_a_row_cover_everything_and_no_more_than_needed(low, size, room, avoid):
    high = low + size
    count, begin = laid_out(low, high, room, np.array(avoid))
    last = begin + (count - 1) * (room - OVERLAP) + room
    assert begin <= low + 1e-6
    assert last >= high - 1e-6
    assert (count - 1) * (room - OVERLAP) + OVERLAP < size + 1e-6 or count == 1


def test_joins_keep_away_from_a_place_to_prick_through():
    middle, room = 150.0, 180.0
    _, even = laid_out(0, 300, room, np.array([]))
    _, moved = laid_out(0, 300, room, np.array([middle]))
    join = room - OVERLAP / 2
    assert abs(even + join - middle) < 1
    assert abs(moved + join - middle) > 15


def test_the_cells_between_the_joins_cover_the_drawing_once():
    layout = tiling_of(box_ink(0, 0, 500, 700), NOTHING, A4, ROOM)
    xs = [-PAD, *layout.columns_at(), 500 + PAD]
    ys = [-PAD, *layout.rows_at(), 700 + PAD]
    pictures = {tile.name: shapely.box(*tile.shows) for tile in layout.tiles}
    area = 0.0
    for row, (y0, y1) in enumerate(itertools.pairwise(ys), 1):
        for column, (x0, x1) in enumerate(itertools.pairwise(xs), 1):
            cell = shapely.box(x0, y0, x1, y1)
            area += cell.area
            name = f"{row}-{column}"
            assert name in layout.blank or pictures[name].covers(cell)
    assert area == pytest.approx((500 + 2 * PAD) * (700 + 2 * PAD))


def test_neighbours_have_the_stated_overlap_in_common():
    layout = tiling_of(box_ink(0, 0, 500, 700), NOTHING, A4, ROOM)
    for tile in layout.tiles:
        right = layout.beside(tile, 0, 1)
        if right:
            shared = shapely.box(*tile.shows).intersection(shapely.box(*right.shows))
            x0, _, x1, _ = shared.bounds
            assert x1 - x0 == pytest.approx(OVERLAP)
            middle = (x0 + x1) / 2
            assert any(join == pytest.approx(middle) for join in layout.columns_at())


def test_a_sheet_on_which_nothing_would_be_drawn_is_blank():
    corner = ink_of([(0, 0), (400, 0)], [(0, 0), (0, 600)])
    layout = tiling_of(corner, NOTHING, A4, ROOM)
    assert (layout.rows, layout.columns) == (3, 3)
    assert layout.blank == ("2-2", "2-3", "3-2", "3-3")
    assert [tile.name for tile in layout.tiles] == ["1-1", "1-2", "1-3", "2-1", "3-1"]


def test_no_two_tiles_share_a_name():
    layout = tiling_of(box_ink(0, 0, 900, 900), NOTHING, A4, ROOM)
    names = [tile.name for tile in layout.tiles] + list(layout.blank)
    grid = itertools.product(range(layout.rows), range(layout.columns))
    assert sorted(names) == sorted(f"{r + 1}-{c + 1}" for r, c in grid)
