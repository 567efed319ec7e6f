"""How long the rest of the plan takes: what a drag waits for, and what can wait."""

import pytest

from spring_layout.plan import make_plan
from spring_layout.planning.hitches import hitches_of
from spring_layout.planning.stitching import best_route, foot_points
from spring_layout.planning.stitching_ways import Ways
from spring_layout.planning.twine_geometry import counts_of
from spring_layout.planning.webbing import webbing_of
from tests.decks import grid_deck

SIZES = [(3, 3), (6, 10), (20, 20)]


@pytest.mark.parametrize("size", SIZES)
def test_hitches_and_twine(benchmark, size):
    deck = grid_deck(*size)
    parts = make_plan(deck).parts

    def worked_out():
        hitches = hitches_of(deck, parts.standing, parts.heights, parts.ties)
        return counts_of(deck, hitches, parts.ties)

    assert len(benchmark(worked_out)) == len(parts.ties.lines)


@pytest.mark.parametrize("size", SIZES)
def test_webbing(benchmark, size):
    parts = make_plan(grid_deck(*size)).parts
    assert benchmark(webbing_of, parts.standing).strips


@pytest.mark.parametrize("size", [(3, 3), (2, 7), (4, 12), (6, 10), (20, 20)])
def test_sewing_in_route(benchmark, size):
    deck = grid_deck(*size)
    _, points = foot_points(deck.springs, deck.coils, deck.stitching)
    route, least = benchmark.pedantic(lambda: best_route(Ways(points)), rounds=3)
    assert route.length >= least
