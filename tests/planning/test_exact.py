"""The lines are the best there are: an independent programme finds none cheaper.

At least two hundred random decks of up to twelve springs whose top coils do not overlap; every
run of each is put to ``exact_cover`` (same cost, same hard rules, code of its own), and the cost
must be the same to a millionth of a pitch. Decks of up to six springs are also put to plain
trying of every set (``brute_cover``).
"""

import pytest

from spring_layout.deck.model import RUNS, Deck
from spring_layout.planning.parts import Ties
from spring_layout.planning.standing import standing_of
from spring_layout.planning.tying import solve_run, ties_of
from tests.decks import grid_deck
from tests.planning.brute_cover import cheapest_by_trying
from tests.planning.exact_cover import MICRO, Best, PlainTask
from tests.random_decks import plain_tying, random_deck, replace_struct

BATCH = 10
LINE_BREAKS = {"bend", "over-spring", "clash", "leaves-opening", "anchor-turn"}


def eight_ways(deck: Deck) -> Deck:
    """The deck tied in all four runs, single-spring diagonals too."""
    return replace_struct(deck, tying=plain_tying())


def tied(deck: Deck) -> Ties:
    return ties_of(standing_of(deck))


def best_of(deck: Deck) -> Best:
    """All four runs together."""
    task = PlainTask(deck)
    found = [task.best(run) for run in RUNS]
    return Best(sum(best.cost for best in found), sum(best.breaks for best in found))


def assert_best(deck: Deck) -> None:
    ties, best = tied(deck), best_of(deck)
    assert ties.proved
    assert ties.cost == pytest.approx(best.cost / MICRO, abs=1e-6)
    assert any(told.kind in LINE_BREAKS for told in ties.breaks) == (best.breaks > 0)


@pytest.mark.parametrize("seed", range(12))
def test_no_set_of_lines_is_cheaper(seed: int) -> None:
    assert_best(eight_ways(random_deck(seed, most=12)))


@pytest.mark.larger
@pytest.mark.parametrize("batch", range(20))
def test_no_set_of_lines_is_cheaper_on_two_hundred_decks(batch: int) -> None:
    for seed in range(100 + BATCH * batch, 100 + BATCH * (batch + 1)):
        assert_best(eight_ways(random_deck(seed, most=12)))


@pytest.mark.parametrize("seed", range(8))
def test_trying_every_set_finds_none_cheaper_either(seed: int) -> None:
    assert_found_by_trying(seed)


@pytest.mark.larger
@pytest.mark.parametrize("batch", range(4))
def test_trying_every_set_finds_none_cheaper_on_forty_decks(batch: int) -> None:
    for seed in range(20 + BATCH * batch, 20 + BATCH * (batch + 1)):
        assert_found_by_trying(seed)


def assert_found_by_trying(seed: int) -> None:
    """A deck of at most six springs: where some set keeps every rule, the cheapest is found."""
    deck = eight_ways(random_deck(seed, most=6))
    task, standing = PlainTask(deck), standing_of(deck)
    for run in RUNS:
        least = cheapest_by_trying(task, run)
        if least is not None:
            assert solve_run(standing, run).cost == pytest.approx(least / MICRO, abs=1e-6)


def test_the_square_nine_costs_what_is_reckoned_by_hand() -> None:
    """Pitch 142 mm, 108 mm from the edges, so 500 mm either way.

    Each straight line is two pitches and the way to the edge twice, and a pitch for the line.
    Diagonals: one of three springs, two of two, two of one, each pitch and way longer by the
    root of two.
    """
    edge, root = 108 / 142, 2**0.5
    straight = 6 * (1 + 2 + 2 * edge)
    # Beyond a two-spring diagonal the corner springs' distance and the middle springs' alike.
    diagonal = 5 + root * (2 + 2 * 1) + 10 * root * edge
    deck = eight_ways(grid_deck(3, 3))
    assert tied(deck).cost == pytest.approx(straight + 2 * diagonal, abs=2e-5)
    assert best_of(deck).cost / MICRO == pytest.approx(straight + 2 * diagonal, abs=2e-5)
