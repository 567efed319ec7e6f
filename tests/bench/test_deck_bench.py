"""How long the deck's file and edits take."""

import pytest

from spring_layout.deck import edits
from spring_layout.deck.files import deck_to_bytes, read_deck
from tests.decks import grid_deck

DECKS = {60: grid_deck(6, 10), 400: grid_deck(20, 20), 2000: grid_deck(40, 50)}


@pytest.mark.parametrize("springs", DECKS)
def test_reading(benchmark, springs):
    data = deck_to_bytes(DECKS[springs])
    assert benchmark(read_deck, data) == DECKS[springs]


@pytest.mark.parametrize("springs", DECKS)
def test_writing(benchmark, springs):
    assert benchmark(deck_to_bytes, DECKS[springs])


@pytest.mark.parametrize("springs", DECKS)
def test_moving_one_spring(benchmark, springs):
    deck = DECKS[springs]
    assert benchmark(edits.move_springs, deck, ["s1"], 1.0, 0.0) != deck
