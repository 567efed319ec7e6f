"""How long tying alone takes, in even rows and where springs are set by eye.

Run with ``pytest tests/bench/test_tying_speed.py -m bench``; ``test_plan_speed.py`` times the plan.
"""

import msgspec
import pytest

from spring_layout.deck.model import Deck
from spring_layout.planning import tying
from spring_layout.planning.standing import standing_of
from tests.decks import grid_deck
from tests.random_decks import Recipe, deck_of

GRIDS = [(3, 3), (6, 10), (20, 20), (25, 40)]
JITTERS = [0.05, 0.1, 0.2, 1 / 3]


def forgetful(*, but_of: Deck) -> tuple[tuple[object], dict[str, object]]:
    """A fresh standing of a deck, with nothing kept from the run before."""
    tying._known.cache_clear()
    return (standing_of(but_of),), {}


def measured(benchmark, work, deck, rounds):
    return benchmark.pedantic(
        work, setup=lambda: forgetful(but_of=deck), rounds=rounds, warmup_rounds=1
    )


@pytest.mark.parametrize("size", GRIDS, ids=lambda size: f"{size[0] * size[1]}-springs")
def test_tying_even_rows(benchmark, size):
    ties = measured(benchmark, tying.ties_of, grid_deck(*size), 5)
    assert ties.proved
    assert ties.breaks == ()


@pytest.mark.parametrize("jitter", JITTERS, ids=lambda jitter: f"moved-{jitter:.2f}")
@pytest.mark.parametrize("shape", ["tapered", "round"])
def test_tying_sixty_springs_set_by_eye(benchmark, shape, jitter):
    """From a twentieth of the pitch, as people set them, to a third, as nobody does."""
    deck = deck_of(Recipe(shape, "square", 6, 10, jitter, 142.0, 1))
    assert measured(benchmark, tying.ties_of, deck, 3).proved


def test_tying_again_when_only_the_height_changes(benchmark):
    """What the window pays for a change that moves no spring."""
    deck = grid_deck(6, 10)
    tying.ties_of(standing_of(deck))
    higher = msgspec.structs.replace(
        deck, tying=msgspec.structs.replace(deck.tying, tied_height=130.0)
    )
    assert benchmark(tying.ties_of, standing_of(higher)).proved
