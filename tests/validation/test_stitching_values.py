"""Sewing-in routes against values worked out with a general library before this was written.

Value X4 and the 2 x 2 grid: feet 90 mm wide, 150 mm apart, four stitches on the axes ("0") or
on the diagonals ("45"), found by a dynamic programme and proved by a general constraint library;
open routes, and closed ones to check the independent method itself.
"""

import numpy as np
import pytest

from spring_layout.planning.stitching import best_route
from spring_layout.planning.stitching_least import floor_under
from spring_layout.planning.stitching_ways import Ways
from tests.sewing import shortest_by_whole_numbers


def feet(side: int, turned: float) -> Ways:
    angles = np.radians(np.array([0.0, 90.0, 180.0, 270.0]) + turned)
    ring = 45 * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    grid = [(150.0 * x, 150.0 * y) for y in range(side) for x in range(side)]
    return Ways(np.array(grid)[:, None] + ring)


CASES = [(2, 0, 943.675324), (3, 0, 2250.990258), (3, 45, 2409.152596)]


@pytest.mark.parametrize(("side", "turned", "length"), CASES)
def test_the_shortest_open_routes(side, turned, length):
    route, least = best_route(feet(side, turned))
    assert route.length == pytest.approx(length, abs=1e-5)
    assert least == route.length


@pytest.mark.parametrize(("side", "turned", "length"), CASES)
def test_the_floor_meets_the_shortest_route_on_these_grids(side, turned, length):
    assert floor_under(feet(side, turned), length, 1e-6) == pytest.approx(length, abs=0.05)


def test_the_way_within_a_foot():
    """190.918831 to the next quarter, 217.279221 to the opposite one."""
    within = feet(2, 0).within[0]
    assert within[0, 1] == pytest.approx(190.918831, abs=1e-6)
    assert within[0, 2] == pytest.approx(217.279221, abs=1e-6)


@pytest.mark.parametrize(
    ("side", "turned", "length"),
    [(2, 0, 1003.675324), (3, 0, 2438.905592), (3, 45, 2552.200132)],
)
def test_the_independent_method_meets_the_closed_values(side, turned, length):
    assert shortest_by_whole_numbers(feet(side, turned), closed=True) == pytest.approx(
        length, abs=1e-5
    )


def test_the_independent_method_meets_the_open_value():
    assert shortest_by_whole_numbers(feet(3, 0)) == pytest.approx(2250.990258, abs=1e-5)
