"""How long placing takes: gaps and clearances, evening out, and suggested layouts."""

import msgspec
import numpy as np
import pytest

from spring_layout.planning.placing.even import even_out
from spring_layout.planning.placing.keep import Constraints
from spring_layout.planning.placing.propose import propose
from spring_layout.planning.spacing import evenness_of, spaces_of
from spring_layout.planning.standing import standing_of
from tests.decks import grid_deck
from tests.placing_frames import FRAMES, frame_named

SIZES = [(3, 3), (6, 10), (20, 20), (40, 50)]


@pytest.mark.parametrize("size", SIZES)
def test_gaps_and_clearances(benchmark, size):
    standing = standing_of(grid_deck(*size))
    assert len(benchmark(spaces_of, standing).gap) == len(standing.ids)


@pytest.mark.parametrize("size", SIZES)
def test_evenness(benchmark, size):
    standing = standing_of(grid_deck(*size))
    assert benchmark(evenness_of, standing, spaces_of(standing)).gap_least > 0


@pytest.mark.parametrize("size", [(3, 3), (4, 10), (6, 10)])
def test_even_out_of_crooked_rows(benchmark, size):
    deck = grid_deck(*size)
    rng = np.random.default_rng(1)
    springs = tuple(
        msgspec.structs.replace(s, x=s.x + rng.uniform(-8, 8), y=s.y + rng.uniform(-8, 8))
        for s in deck.springs
    )
    standing = standing_of(msgspec.structs.replace(deck, springs=springs))
    rows, columns = size
    lines = [tuple(range(r * columns, (r + 1) * columns)) for r in range(rows)]
    lines += [tuple(range(c, rows * columns, columns)) for c in range(columns)]
    keep = Constraints(tuple(lines), order=True)
    places = benchmark.pedantic(lambda: even_out(standing, (), 50, 40, keep), rounds=3)
    assert len(places) == rows * columns


@pytest.mark.parametrize("name", sorted(FRAMES))
def test_suggested_layouts(benchmark, name):
    deck = msgspec.structs.replace(grid_deck(), frame=frame_named(name), springs=())
    assert benchmark.pedantic(lambda: propose(deck, "seat", 50, 40), rounds=3)
