"""How long the sheets of a deck of 400 springs take to draw and to write, the plan aside."""

from functools import lru_cache

import pytest

from spring_layout.drawing.bench_sheet import bench_sheet
from spring_layout.drawing.paper import PAPERS
from spring_layout.drawing.rail_strips import rail_strips
from spring_layout.drawing.record import record_sheet
from spring_layout.drawing.steps import tying_steps
from spring_layout.drawing.svg import svg_bytes
from spring_layout.drawing.template import full_size_template
from spring_layout.plan import Plan, make_plan
from spring_layout.qtrender.pdf import pdf_bytes
from tests.decks import grid_deck

SHEETS = {
    "template": full_size_template,
    "rail strips": rail_strips,
    "bench sheet": bench_sheet,
    "record": record_sheet,
    "steps": tying_steps,
}


@lru_cache(maxsize=1)
def big_plan() -> Plan:
    plan = make_plan(grid_deck(20, 20))
    assert plan.materials
    return plan


@pytest.mark.parametrize("name", SHEETS)
def test_sheets_of_400_springs_as_svg(benchmark, name):
    plan = big_plan()
    pages = benchmark(lambda: [svg_bytes(d) for d in SHEETS[name](plan, PAPERS["a3"])])
    assert pages


def test_a_template_of_400_springs_as_pdf(qapp, benchmark):
    drawings = full_size_template(big_plan(), PAPERS["a3"])
    assert benchmark(lambda: pdf_bytes(drawings)).startswith(b"%PDF")
