"""Where a spring in the hand settles, and what it says: gaps, rows, the rail and the webbing."""

import numpy as np
import pytest

from spring_layout.deck import edits
from spring_layout.gui.canvas.settling import Others, Settled, settle
from tests.gui.hands import Hands

RADIUS, REACH = 46.0, 6.0


def beside(*centres: tuple[float, float], middle: float = -1000.0) -> Others:
    """Springs of one size that stay, named A1, A2 ...; the middle line is far away."""
    labels = tuple(f"A{i + 1}" for i in range(len(centres)))
    return Others(labels, np.array(centres).reshape(-1, 2), np.full(len(centres), RADIUS), middle)


def settled(place: tuple[float, float], others: Others) -> Settled:
    return settle(place, RADIUS, others, REACH)


@pytest.mark.parametrize("off", [(0.0, 3.0), (3.0, 3.0), (-4.0, 2.0)])
def test_three_in_a_row_settle_with_equal_gaps(off: tuple[float, float]) -> None:
    found = settled((150 + off[0], off[1]), beside((0, 0), (300, 0)))
    assert found.place == (150, 0)
    assert "equal gaps to A1 and A2" in found.reasons


@pytest.mark.parametrize("off", [(0.0, 3.0), (3.0, 3.0), (-4.0, 2.0)])
def test_three_front_to_back_settle_with_equal_gaps(off: tuple[float, float]) -> None:
    found = settled((off[0], 150 + off[1]), beside((0, 0), (0, 300)))
    assert found.place == (0, 150)
    assert "equal gaps to A1 and A2" in found.reasons


@pytest.mark.parametrize(
    ("ends", "near", "place"),
    [
        (((0, 0), (140, 0)), (283, 2), (280, 0)),
        (((140, 0), (280, 0)), (3, 2), (0, 0)),
        (((0, 0), (0, 140)), (2, 283), (0, 280)),
    ],
)
def test_the_next_in_a_row_takes_the_gap_before_it(
    ends: tuple[tuple[float, float], ...], near: tuple[float, float], place: tuple[float, float]
) -> None:
    found = settled(near, beside(*ends))
    assert found.place == pytest.approx(place)
    assert any(why.startswith("the same gap as A") for why in found.reasons)
    assert len(found.guides) >= 2


def test_a_spring_across_from_the_row_takes_no_gap_of_it() -> None:
    found = settled((283, 30), beside((0, 0), (140, 0)))
    assert found.place == (283, 30)
    assert found.reasons == ()


def test_the_last_spring_stands_as_far_from_its_neighbour_as_from_the_rail(hands: Hands) -> None:
    # one spring 108 mm from the left rail is 62 mm clear of it; the deck is 500 mm wide: the
    # second has (500 - 154 - 92) / 2 = 127 mm on both sides
    hands.bench.attempt("Few", lambda deck: edits.remove_springs(deck, ["s2", "s5", "s8"]))
    start = hands.place_of("s6")
    hands.press(start)
    hands.move((start[0] - 40, start[1]))
    hands.move((330.0, start[1] + 1))
    said = hands.view.note.text()
    hands.release((330.0, start[1] + 1))
    assert hands.place_of("s6") == pytest.approx((327, start[1]), abs=0.02)
    assert "as far from the rail as from B1" in said


def test_a_spring_settles_over_the_webbing_that_the_program_lays(hands: Hands) -> None:
    assert hands.deck.webbing.front_to_back is hands.deck.webbing.side_to_side is None
    plan = hands.bench.planner.catch_up()
    assert plan is not None
    x = next(s.at for s in plan.parts.webbing.of("front-to-back"))
    y = next(s.at for s in plan.parts.webbing.of("side-to-side"))
    start = hands.place_of("s1")
    hands.press(start)
    hands.move((start[0] + 40, start[1] + 40))
    hands.move((x + 3, y + 2))
    said = hands.view.note.text()
    hands.release((x + 3, y + 2))
    assert hands.place_of("s1") == pytest.approx((x, y), abs=0.01)
    assert "over a crossing of webbing" in said


def test_one_strip_pulls_alone_and_says_so() -> None:
    others = Others((), np.empty((0, 2)), np.empty(0), -1000.0, ((0, 200.0),))
    found = settled((203, 77), others)
    assert (found.place, found.reasons) == ((200, 77), ("over a strip of webbing",))


def test_a_spring_settles_on_the_middle_line_and_at_the_mirrored_place() -> None:
    alone = settled((252, 77), beside(middle=250))
    assert (alone.place, alone.reasons) == ((250, 77), ("on the middle line",))
    across = settled((403, 2), beside((100, 0), middle=250))
    assert across.place == (400, 0)
    assert "mirrors A1" in across.reasons


def test_dashed_lines_run_from_the_spring_to_those_it_settled_by(hands: Hands) -> None:
    start, guides = hands.place_of("s5"), hands.view.deck_scene.guides
    hands.press(start)
    hands.move((start[0] + 40, start[1] + 40))
    hands.move((start[0] + 3, start[1] + 3))
    assert len([line for line in guides._settling if line.path().length() > 1]) == 4
    hands.release(start)
    assert not any(line.path().length() for line in guides._settling)


def test_a_strip_that_follows_the_spring_in_the_hand_pulls_nothing(hands: Hands) -> None:
    # the strip under A3, B3 and C3 is drawn aside while B3 is 20 mm out of their column
    hands.bench.attempt("Move", lambda deck: edits.move_springs(deck, ["s6"], -20, 0))
    hands.bench.planner.catch_up()
    start = hands.place_of("s6")
    hands.press(start)
    hands.move((start[0] + 40, start[1] + 40))
    hands.move((380.0, start[1] + 2))
    said = hands.view.note.text()
    hands.release((380.0, start[1] + 2))
    assert hands.place_of("s6") == pytest.approx((380, start[1]), abs=0.01)
    assert "webbing" not in said
    assert "in line with B2" in said
