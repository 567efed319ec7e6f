"""How long a tie diagram takes, for 9, 60 and 400 springs on A4, plan not counted."""

import pytest

from spring_layout.drawing.paper import PAPERS
from spring_layout.drawing.sheet import tie_diagram
from spring_layout.drawing.svg import svg_bytes
from spring_layout.plan import make_plan
from tests.decks import grid_deck


@pytest.mark.parametrize(("rows", "columns"), [(3, 3), (6, 10), (20, 20)])
def test_tie_diagram(benchmark, rows, columns):
    plan = make_plan(grid_deck(rows, columns))
    svg = benchmark(lambda: svg_bytes(tie_diagram(plan, PAPERS["a4"])))
    assert svg.count(b'class="spring"') == rows * columns
