"""A square nine-spring deck takes twelve pieces of twine (common practice, no source).

Three front to back, three side to side, and on each diagonal the three lines of two or more
springs. With the short ties over the single corner springs it is sixteen. Eight-way tying is
eight hitches a spring (E. A. Johnson, Furniture Upholstery for Schools, Manual Arts Press 1919):
two hitches on each spring that a line passes, so the twelve pieces make 64 and the sixteen 72.
"""

import pytest

from spring_layout.planning.standing import standing_of
from spring_layout.planning.tying import ties_of
from tests.decks import grid_deck
from tests.random_decks import replace_struct


@pytest.mark.parametrize(
    ("diagonals", "pieces", "hitches"), [("two-or-more", 12, 64), ("all", 16, 72)]
)
def test_the_nine_spring_square_deck(diagonals: str, pieces: int, hitches: int) -> None:
    deck = grid_deck(3, 3)
    deck = replace_struct(deck, tying=replace_struct(deck.tying, diagonals=diagonals))
    lines = ties_of(standing_of(deck)).lines
    assert len(lines) == pieces
    assert 2 * sum(len(line.springs) for line in lines) == hitches


def test_eight_way_tying_passes_every_spring_four_times() -> None:
    deck = grid_deck(3, 3)
    deck = replace_struct(deck, tying=replace_struct(deck.tying, diagonals="all"))
    lines = ties_of(standing_of(deck)).lines
    assert all(sum(s.id in line.springs for line in lines) == 4 for s in deck.springs)
