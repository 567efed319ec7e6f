"""How springs stand to each other and to the rails, as the plan tells it."""

import msgspec
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spring_layout.deck.model import Spring
from spring_layout.planning.spacing import evenness_of, spaces_of
from spring_layout.planning.standing import standing_of
from tests.decks import SEAT_COIL, grid_deck, straight_frame


def spaces_in(deck):
    return spaces_of(standing_of(deck))


def with_springs(deck, *places):
    springs = tuple(
        Spring(id=f"s{i + 1}", coil="seat", x=x, y=y, held=False) for i, (x, y) in enumerate(places)
    )
    return msgspec.structs.replace(deck, springs=springs)


def test_nine_springs_in_square_rows():
    spaces = spaces_in(grid_deck())
    assert spaces.gap == pytest.approx(np.full(9, 50))
    assert spaces.nearest.tolist() == [1, 0, 1, 0, 1, 2, 3, 4, 5]
    assert spaces.clearance == pytest.approx([62, 62, 62, 62, 204, 62, 62, 62, 62])
    assert spaces.nearest_side.tolist() == [0, 0, 0, 3, 0, 1, 2, 2, 1]
    assert spaces.neighbour_gaps == pytest.approx(np.full(12, 50))
    assert spaces.side_clearances.shape == (9, 4)


def test_a_lone_spring_has_clearances_but_no_gap():
    spaces = spaces_in(grid_deck(1, 1))
    assert spaces.nearest.tolist() == [-1]
    assert np.isnan(spaces.gap).all()
    assert spaces.clearance.tolist() == [62]
    assert len(spaces.neighbours) == 0


def test_a_deck_without_springs_has_empty_spaces():
    spaces = spaces_in(with_springs(grid_deck()))
    assert len(spaces.gap) == len(spaces.clearance) == len(spaces.neighbours) == 0


def test_a_larger_ring_is_nearer_though_its_centre_is_farther():
    small, big = SEAT_COIL, msgspec.structs.replace(SEAT_COIL, id="big", top_diameter=200)
    deck = msgspec.structs.replace(grid_deck(), coils=(small, big))
    springs = (
        Spring(id="a", coil="seat", x=250, y=250, held=False),
        Spring(id="b", coil="seat", x=370, y=250, held=False),
        Spring(id="c", coil="big", x=90, y=250, held=False),
    )
    spaces = spaces_in(msgspec.structs.replace(deck, springs=springs))
    assert spaces.nearest[0] == 2
    assert spaces.gap[0] == pytest.approx(160 - 46 - 100)


def test_even_rows_have_no_spread():
    standing = standing_of(grid_deck())
    even = evenness_of(standing, spaces_of(standing))
    assert (even.gap_least, even.gap_most) == pytest.approx((50, 50))
    assert (even.rim_least, even.rim_most) == pytest.approx((62, 62))
    assert even.gap_spread == pytest.approx(0, abs=1e-9)
    assert even.rim_spread == pytest.approx(0, abs=1e-9)


def test_one_spring_out_of_place_shows_as_spread():
    deck = grid_deck()
    moved = msgspec.structs.replace(deck.springs[1], y=deck.springs[1].y - 20)
    springs = (deck.springs[0], moved, *deck.springs[2:])
    standing = standing_of(msgspec.structs.replace(deck, springs=springs))
    even = evenness_of(standing, spaces_of(standing))
    assert even.gap_most == pytest.approx(70)
    assert even.gap_spread == pytest.approx(20)
    assert even.rim_spread == pytest.approx(20)


def test_a_lone_spring_is_neither_even_nor_uneven():
    standing = standing_of(grid_deck(1, 1))
    even = evenness_of(standing, spaces_of(standing))
    assert even.gap_spread is None
    assert even.rim_spread == pytest.approx(0)


def test_without_springs_there_is_no_evenness():
    standing = standing_of(with_springs(grid_deck()))
    even = evenness_of(standing, spaces_of(standing))
    assert (even.gap_spread, even.rim_spread) == (None, None)


PLACES = st.lists(
    st.tuples(st.integers(50, 450), st.integers(50, 450)), min_size=1, max_size=12, unique=True
)


@given(PLACES)
def test_a_mirrored_deck_has_the_mirrored_spaces(places):
    deck = msgspec.structs.replace(grid_deck(), frame=straight_frame(500, 500, 30))
    ours = spaces_in(with_springs(deck, *places))
    theirs = spaces_in(with_springs(deck, *((500 - x, y) for x, y in places)))
    assert theirs.gap == pytest.approx(ours.gap, nan_ok=True)
    assert theirs.clearance == pytest.approx(ours.clearance)
    assert theirs.side_clearances[:, [0, 3, 2, 1]] == pytest.approx(ours.side_clearances)
    assert theirs.neighbours.tolist() == ours.neighbours.tolist()
    assert theirs.neighbour_gaps == pytest.approx(ours.neighbour_gaps)


@given(PLACES, st.randoms())
def test_the_order_of_the_springs_changes_nothing(places, random):
    order = list(range(len(places)))
    random.shuffle(order)
    ours = spaces_in(with_springs(grid_deck(), *places))
    theirs = spaces_in(with_springs(grid_deck(), *(places[i] for i in order)))
    back = np.argsort(order)
    assert theirs.gap[back] == pytest.approx(ours.gap, nan_ok=True)
    assert theirs.nearest_side[back].tolist() == ours.nearest_side.tolist()
    wanted = [places[i] if i >= 0 else None for i in ours.nearest]
    found = [places[order[i]] if i >= 0 else None for i in theirs.nearest[back]]
    assert found == wanted
