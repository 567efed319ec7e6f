"""Arcs as Qt paints them against the circles they belong to.

The full-size sheets promise 0.1 mm; the radii are those of a bowed chair front (938 mm), a round
ottoman (305 mm) and a long settee front with a slight bow (9 m).
"""

import math

import pytest

from spring_layout.drawing.primitives import Arc, Move
from spring_layout.qtrender.painter_pen import path_of


@pytest.mark.parametrize("radius", [0.4, 1.6, 6.0, 48.0])
def test_small_rings_of_fewer_curves_are_no_less_true(radius: float) -> None:
    halves = (Arc(10, 20, radius, 0, 180), Arc(10, 20, radius, 180, 180))
    path = path_of((Move(10 + radius, 20), *halves))
    places = [path.pointAtPercent(i / 200) for i in range(201)]
    assert max(abs(math.hypot(p.x() - 10, p.y() - 20) - radius) for p in places) < 2.2e-4
    # a move, and three points for each curve: at 30 degrees a curve there would be 37
    assert path.elementCount() < 37


@pytest.mark.parametrize(("radius", "sweep"), [(938, 38), (305, 180), (305, -180), (9000, 12)])
@pytest.mark.parametrize("start", [0, 71])
def test_a_painted_arc_lies_on_its_circle(radius: float, sweep: float, start: float) -> None:
    arc = Arc(10, 20, radius, start, sweep)
    begin = Arc(10, 20, radius, start, 0).finish
    path = path_of((Move(*begin), arc))
    places = [path.pointAtPercent(i / 200) for i in range(201)]
    off = [abs(math.hypot(p.x() - 10, p.y() - 20) - radius) for p in places]
    assert max(off) < 0.005
    assert (places[-1].x(), places[-1].y()) == pytest.approx(arc.finish, abs=1e-6)
    # Qt adds the lengths up from chords, to about 0.02 %
    assert path.length() / math.radians(abs(sweep)) == pytest.approx(radius, rel=5e-4)
