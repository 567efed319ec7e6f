"""Branching on what breaks a rule finds the lines that the search over the whole finds."""

import numpy as np
import pytest

from spring_layout.deck.model import Pairing
from spring_layout.planning.standing import standing_of
from spring_layout.planning.tying import ties_of
from spring_layout.planning.tying.branching import Branching, _Fits
from spring_layout.planning.tying.ground import Ground
from spring_layout.planning.tying.search import Search
from spring_layout.planning.tying.task import task_of
from tests.decks import grid_deck
from tests.random_decks import Recipe, deck_of, random_deck, replace_struct

RUNS = ("front-to-back", "side-to-side", "diagonal-rising", "diagonal-falling")
BRANCHING = "spring_layout.planning.tying.branching"


def task(deck, run):
    return task_of(Ground(standing_of(deck)), run, deck.tying.joins, deck.tying.parts)


def set_aside(across, down):
    """Even rows, five by six, one spring in their midst set aside."""
    deck = grid_deck(5, 6)
    springs = tuple(
        replace_struct(s, x=s.x + across, y=s.y + down) if s.id == "s15" else s
        for s in deck.springs
    )
    return replace_struct(deck, springs=springs)


def like(found):
    return sorted(found.chains), found.breaks, found.unled, found.proved


def assert_both_agree(deck, spaced=True):
    """Every run's lines, found both ways."""
    for run in RUNS:
        work = task(deck, run)
        branched = Branching(work, spaced).run()
        assert branched is not None
        counted = Search(work, spaced).run()
        assert like(branched) == like(counted)
        assert branched.bound == pytest.approx(counted.bound, abs=1e-5)


@pytest.mark.parametrize("aside", [(0, 0), (70, 0), (0, -66), (45, 52), (-68, 20), (60, 30)])
def test_one_spring_set_aside_in_even_rows(aside):
    assert_both_agree(set_aside(*aside))


@pytest.mark.parametrize("seed", [21, 24, 28, 33, 36])
def test_springs_set_by_eye(seed):
    assert_both_agree(random_deck(seed, most=16))


def test_lines_over_one_spring_whose_ends_are_in_the_way_of_different_lines():
    """Each end was settled with its own neighbors, and undid the other's, without end."""
    assert_both_agree(random_deck(113, most=12))


@pytest.mark.parametrize("seed", [3, 7])
def test_springs_whose_tacks_may_stand_near(seed):
    assert_both_agree(deck_of(Recipe("tapered", "staggered", 3, 4, 0.3, 130.0, seed)), spaced=False)


def test_a_side_without_a_rail():
    assert_both_agree(deck_of(Recipe("straight", "square", 3, 4, 0.3, 142.0, 4, open_sides=1)))


@pytest.mark.parametrize(
    ("limit", "seed"), [("LOOKS", 36), ("GROUP", 1061), ("TRIES", 1061)], ids=lambda v: str(v)
)
def test_too_much_broken_is_left_to_the_search_over_the_whole(monkeypatch, limit, seed):
    deck = random_deck(seed)
    branched = ties_of(standing_of(deck))
    monkeypatch.setattr(f"{BRANCHING}.{limit}", 0)
    found = [Branching(task(deck, run)).run() for run in RUNS]
    assert None in found
    moved = replace_struct(deck, spacing=replace_struct(deck.spacing, gap=41.0))
    assert ties_of(standing_of(moved)).lines == branched.lines


def test_lines_joined_by_hand_are_left_to_the_search_over_the_whole():
    deck = set_aside(70, 0)
    joins = (Pairing(run="front-to-back", springs=("s9", "s3")),)
    deck = replace_struct(deck, tying=replace_struct(deck.tying, joins=joins))
    assert Branching(task(deck, "front-to-back")).run() is None


def test_a_bend_that_nothing_avoids_is_taken_and_counted():
    found = Branching(task(set_aside(60, 30), "side-to-side")).run()
    assert found is not None
    assert (found.breaks, found.unled) == (1, 0)


def test_ends_of_which_only_any_two_have_ways_together():
    """Three ends, two ways each; every two of them must take different ways."""
    ends = [(0, 0), (1, 0), (2, 0)]
    differ = ~np.eye(2, dtype=bool)
    fits = _Fits({(a, b): differ for i, a in enumerate(ends) for b in ends[i + 1 :]})
    counts = dict.fromkeys(ends, 2)
    assert fits.together(counts) == {}
    assert fits.unfit(counts) == ends
    two = _Fits({(ends[0], ends[1]): differ}).together(dict.fromkeys(ends[:2], 2))
    assert sorted(two.values()) == [0, 1]
