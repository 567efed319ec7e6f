"""Counts and places of webbing against published chairs and stools.

The sources give counts and few sizes; the openings are ours, chosen as such pieces usually are,
and said beside each.
"""

import msgspec
import pytest

from spring_layout.deck.model import Deck, Spring
from spring_layout.planning.parts import WebbingPlan
from spring_layout.planning.standing import standing_of
from spring_layout.planning.webbing import on_crossings, webbing_of
from tests.decks import SEAT_COIL, grid_deck, straight_frame

replace = msgspec.structs.replace
INCH = 25.4


def webbed(deck: Deck, school: str, width: float, gap: float) -> WebbingPlan:
    web = replace(deck.webbing, school=school, width=width, gap=gap)
    return webbing_of(standing_of(replace(deck, webbing=web)))


def counts(plan: WebbingPlan) -> tuple[int, int]:
    return len(plan.of("front-to-back")), len(plan.of("side-to-side"))


def test_johnsons_stool_has_its_strips_3_3_4_in_from_the_outer_edge():
    """E. A. Johnson, Furniture Upholstery for Schools, 1919: six springs 5 in across, 3 in from
    the outer edge, webs of 3 1/2 in. Our rails are 2 in wide, the springs 7 in apart."""
    deck = grid_deck(2, 3, pitch=7 * INCH, margin=3.5 * INCH)
    coil = replace(SEAT_COIL, top_diameter=5 * INCH, foot_diameter=5 * INCH)
    deck = replace(deck, coils=(coil,), frame=replace(deck.frame, rail_width=2 * INCH))
    plan = webbed(deck, "us", 3.5 * INCH, 0.25 * INCH)
    assert counts(plan) == (3, 2)
    edge = deck.frame.corners[0][0] - 2 * INCH
    for run in ("front-to-back", "side-to-side"):
        first = plan.of(run)[0]
        assert (first.at - first.width / 2 - edge) / INCH == pytest.approx(3.75)
    assert on_crossings(plan, standing_of(deck).centres).sum() == 6


def test_a_small_chair_of_five_springs_has_three_webs_each_way():
    """19th-century British Mechanics How-To upholstery chapters. Our opening: 15 x 14 in."""
    spots = [(95, 90), (286, 90), (190, 178), (95, 266), (286, 266)]
    springs = tuple(
        Spring(id=f"s{i}", coil="seat", x=x, y=y, held=False) for i, (x, y) in enumerate(spots)
    )
    deck = replace(grid_deck(), frame=straight_frame(381, 356), springs=springs)
    assert counts(webbed(deck, "uk", 51, 51)) == (3, 3)


def test_an_easy_chair_of_nine_springs_has_five_or_six_webs_front_to_back():
    """A British upholstery handbook of 1961: 3 x 3 springs. Our opening: 22 in square."""
    deck = grid_deck(3, 3, pitch=165, margin=114)
    assert counts(webbed(deck, "uk", 51, 51))[0] in (5, 6)


def test_an_easy_chair_of_sixteen_springs_has_six_webs_back_to_front_and_eight_across():
    """Hasluck's easy-chair chapter, about 1907. Our opening: 22 x 27 in, 2 in webs 1 1/4 in apart
    (the schools range from none to 2 1/4 in)."""
    deck = grid_deck(4, 4)
    columns, rows = (95, 218, 341, 464), (93, 259, 427, 593)
    springs = tuple(
        replace(s, x=columns[i % 4], y=rows[i // 4]) for i, s in enumerate(deck.springs)
    )
    deck = replace(deck, frame=straight_frame(559, 686), springs=springs)
    assert counts(webbed(deck, "uk", 51, 32)) == (6, 8)
