"""S. Dziegielewski, *Meble tapicerowane*, WSiP 1996: 140 to 180 cm2 of seat for each spring.

Seen: a seat of 48 by 52 cm takes 13.9 to 17.8 springs at that. The ring (84 mm) and the gap (50
mm) are those that the figure suits; the 10 mm from the rails is ours.
"""

import pytest

from spring_layout.planning.placing.propose import propose
from tests.placing_frames import bare_deck


def test_a_seat_of_48_by_52_cm_is_offered_as_many_springs_as_the_book_has():
    deck = bare_deck(480, 520, 84)
    layout = propose(deck, "seat", 50, 10)[0]
    assert 13.9 <= layout.count <= 17.8
    assert 140 <= layout.area_per_spring / 100 <= 180


@pytest.mark.parametrize(("density_cm2", "springs"), [(180, 13.9), (140, 17.8)])
def test_the_area_of_the_opening_gives_the_books_counts(density_cm2, springs):
    deck = bare_deck(480, 520, 84)
    layout = propose(deck, "seat", 50, 10)[0]
    opening_cm2 = layout.area_per_spring * layout.count / 100
    assert opening_cm2 / density_cm2 == pytest.approx(springs, abs=0.05)
