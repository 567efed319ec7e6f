"""How high the springs are tied: slope, crown, squeeze, finished height."""

import msgspec
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spring_layout.deck.model import Coil, Deck, Seat, Spring
from spring_layout.planning.heights import heights_of, typical_coil
from spring_layout.planning.parts import Heights, Spaces, Standing
from spring_layout.planning.standing import standing_of
from tests.decks import SEAT_COIL, grid_deck

replace = msgspec.structs.replace


def plain_spaces(standing: Standing) -> Spaces:
    """The distances from the rail of springs in a straight frame, worked out the plain way."""
    x0, y0, x1, y1 = standing.outline.bounds
    x, y = standing.centres.T
    sides = np.stack([y - y0, x1 - x, y1 - y, x - x0], axis=1) - standing.radii[:, None]
    nobody = np.zeros(len(x), np.intp)
    return Spaces(
        nearest=nobody,
        gap=np.zeros(len(x)),
        nearest_side=np.argmin(sides, axis=1),
        clearance=sides.min(axis=1),
        side_clearances=sides,
        neighbours=np.zeros((0, 2), np.intp),
        neighbour_gaps=np.zeros(0),
    )


def tied(deck: Deck) -> Heights:
    standing = standing_of(deck)
    return heights_of(standing, plain_spaces(standing))


def with_tying(deck: Deck, **changes: object) -> Deck:
    return replace(deck, tying=replace(deck.tying, **changes))


def test_a_level_deck_has_every_spring_at_the_tied_height():
    heights = tied(grid_deck())
    assert np.array_equal(heights.tied, np.full(9, 115.0))
    assert heights.squeeze == pytest.approx(1 - 115 / 152)
    assert (heights.tied_height, heights.free_height) == (115, 152)
    assert heights.typical_squeeze == pytest.approx(0.2434, abs=1e-4)


def test_a_deck_that_falls_to_the_back_falls_straight():
    heights = tied(with_tying(grid_deck(), tied_height_back=95))
    assert heights.tied == pytest.approx([95] * 3 + [105] * 3 + [115] * 3)


def test_one_row_from_side_to_side_does_not_fall():
    assert tied(with_tying(grid_deck(rows=1), tied_height_back=90)).tied == pytest.approx([115] * 3)


def test_only_the_middle_of_nine_takes_the_crown():
    heights = tied(with_tying(grid_deck(), crown=12))
    assert heights.tied == pytest.approx([115] * 4 + [127] + [115] * 4)


def test_the_crown_of_a_deck_of_five_by_five_rises_like_a_dome():
    heights = tied(with_tying(grid_deck(5, 5), crown=20)).tied.reshape(5, 5)
    assert heights[2] == pytest.approx([115, 130, 135, 130, 115])
    assert heights[0] == pytest.approx([115] * 5)


@pytest.mark.parametrize(("rows", "columns"), [(1, 1), (1, 2), (1, 5), (2, 2), (2, 6), (4, 1)])
def test_rim_springs_only_take_no_crown(rows, columns):
    assert tied(with_tying(grid_deck(rows, columns), crown=15)).tied == pytest.approx(115)


def test_a_rim_spring_moved_in_a_little_rises_only_a_little():
    deck = grid_deck(2, 3)
    moved = replace(deck.springs[1], y=deck.springs[1].y + 1)
    deck = with_tying(replace(deck, springs=(deck.springs[0], moved, *deck.springs[2:])), crown=20)
    assert 115 <= tied(deck).tied.max() < 116


def test_springs_beside_a_hollow_side_count_as_rim_springs():
    deck = with_tying(grid_deck(3, 3), crown=12)
    standing = standing_of(deck)
    spaces = plain_spaces(standing)
    close = spaces.clearance.copy()
    close[4] = close[0]
    heights = heights_of(standing, other_spaces(spaces, clearance=close))
    assert heights.tied == pytest.approx(115)


def other_spaces(spaces: Spaces, **changes: object) -> Spaces:
    return Spaces(**{**vars(spaces), **changes})


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.tuples(st.integers(60, 440), st.integers(60, 440)), min_size=1, max_size=12),
    st.floats(0, 40),
    st.floats(60, 140),
)
def test_a_mirrored_deck_has_the_mirrored_heights(places, crown, back):
    deck = with_tying(scattered(places), crown=crown, tied_height_back=back)
    mirrored = with_tying(
        scattered([(500 - x, y) for x, y in places]), crown=crown, tied_height_back=back
    )
    here, there = tied(deck), tied(mirrored)
    assert here.tied == pytest.approx(there.tied, abs=1e-6)
    low, high = min(back, 115), max(back, 115)
    assert (here.tied >= low - 1e-9).all()
    assert (here.tied <= high + crown + 1e-9).all()


def scattered(places: list[tuple[int, int]]) -> Deck:
    springs = tuple(
        Spring(id=f"s{i}", coil="seat", x=x, y=y, held=False) for i, (x, y) in enumerate(places)
    )
    deck = grid_deck(1, 1)
    frame = replace(deck.frame, corners=((0, 0), (500, 0), (500, 500), (0, 500)))
    return replace(deck, frame=frame, springs=springs)


def test_the_most_used_coil_is_the_typical_one():
    tall = Coil(**{**as_dict(SEAT_COIL), "id": "tall", "free_height": 200})
    deck = grid_deck()
    springs = tuple(replace(s, coil="tall" if i else "seat") for i, s in enumerate(deck.springs))
    deck = replace(deck, coils=(SEAT_COIL, tall), springs=springs)
    assert typical_coil(deck) is tall
    assert tied(deck).free_height == 200
    assert tied(deck).squeeze == pytest.approx([1 - 115 / 152] + [1 - 115 / 200] * 8)


def as_dict(struct: msgspec.Struct) -> dict[str, object]:
    return {name: getattr(struct, name) for name in struct.__struct_fields__}


def test_a_deck_without_springs_or_coils_has_no_free_height():
    heights = tied(replace(grid_deck(), springs=(), coils=()))
    assert (heights.free_height, heights.typical_squeeze, len(heights.tied)) == (0, 0, 0)


def test_finished_height_stacks_up_from_the_floor():
    """Common practice, no source: 9 in webbing, tied to 5 in, 4 in cushion finish at 18 in."""
    deck = with_tying(grid_deck(), tied_height=5 * 25.4)
    deck = replace(deck, seat=Seat(floor_to_webbing=9 * 25.4, cushion=4 * 25.4))
    assert tied(deck).finished_height == pytest.approx(18 * 25.4)


def test_without_the_floor_the_finished_height_is_the_one_wanted():
    assert tied(grid_deck()).finished_height is None
    wanted = replace(grid_deck(), seat=Seat(finished_height=450))
    assert tied(wanted).finished_height == 450
