"""The sheets of random decks of every shape, crowded ones and oddly tied ones among them."""

import pytest

from spring_layout.drawing.bench_sheet import bench_sheet
from spring_layout.drawing.dxf import dxf_bytes
from spring_layout.drawing.paper import MARGIN, PAPERS
from spring_layout.drawing.rail_strips import rail_strips
from spring_layout.drawing.record import record_sheet
from spring_layout.drawing.steps import tying_steps
from spring_layout.drawing.template import full_size_template
from spring_layout.plan import make_plan
from tests.drawing.samples import off_the_sheet, overlapping
from tests.random_decks import crowded_deck, random_deck, with_random_wishes

SHEETS = (full_size_template, rail_strips, bench_sheet, record_sheet, tying_steps)


def assert_legible(deck, paper):
    plan = make_plan(deck)
    for sheet in SHEETS:
        for drawing in sheet(plan, PAPERS[paper]):
            assert overlapping(drawing) == []
            assert off_the_sheet(drawing, MARGIN - 0.6) == []
    assert dxf_bytes(plan.parts)


@pytest.mark.parametrize("seed", range(2))
def test_every_sheet_of_a_random_deck_is_legible(seed):
    assert_legible(random_deck(seed, 16), "letter")


def test_every_sheet_of_a_crowded_deck_is_legible():
    assert_legible(crowded_deck(3), "a4")


@pytest.mark.larger
@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("seed", range(20, 32))
def test_every_sheet_of_many_random_decks_is_legible(seed, paper):
    deck = crowded_deck(seed) if seed % 4 == 0 else random_deck(seed, 40)
    assert_legible(with_random_wishes(deck, seed) if seed % 3 == 0 else deck, paper)
