"""Every rule of tying, on random decks of every kind: it holds, or the break is named.

The referee (``tying_rules``) reads the deck and its ties alone. Decks of even rows and small
jitter are what somebody really sets; on those, breaks must be rare.
"""

import math
from pathlib import Path

import pytest
from hypothesis import example, given, settings

from spring_layout.deck.files import read_deck
from spring_layout.deck.model import Deck
from spring_layout.planning.parts import Ties
from spring_layout.planning.standing import standing_of
from spring_layout.planning.tying import ties_of
from spring_layout.resources import sample_decks
from tests.planning.tying_rules import bends, unnamed
from tests.planning.tying_tacks import idle_tacks
from tests.random_decks import (
    PATTERNS,
    SHAPES,
    Recipe,
    deck_of,
    plain_tying,
    random_deck,
    recipes,
    replace_struct,
)


def tied(deck: Deck) -> Ties:
    return ties_of(standing_of(deck))


def faults(deck: Deck) -> list[str]:
    """The rules that the ties of ``deck`` break and do not name, in words."""
    return [str(broken) for broken in unnamed(deck, tied(deck))]


@settings(max_examples=50, deadline=None, derandomize=True)
@given(recipe=recipes(most=30))
@example(Recipe("straight", "square", 1, 1, 0.0, 142.0, 0))
def test_every_rule_holds_or_its_break_is_named(recipe: Recipe) -> None:
    assert faults(deck_of(recipe)) == []


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_rule_holds_on_sixty_springs(shape: str, pattern: str) -> None:
    assert faults(deck_of(Recipe(shape, pattern, 6, 10, 0.1, 142.0, 1))) == []


@pytest.mark.larger
@pytest.mark.parametrize("batch", range(15))
def test_every_rule_holds_on_many_decks(batch: int) -> None:
    seeds = range(1000 + 10 * batch, 1010 + 10 * batch)
    told = {seed: faults(random_deck(seed)) for seed in seeds}
    assert {seed: words for seed, words in told.items() if words} == {}


@settings(max_examples=20, deadline=None, derandomize=True)
@given(recipe=recipes(most=30))
def test_short_corner_ties_off_is_the_same_set_without_them(recipe: Recipe) -> None:
    deck = deck_of(recipe)
    sets = {}
    for diagonals in ("all", "two-or-more"):
        ties = tied(replace_struct(deck, tying=plain_tying(diagonals=diagonals)))
        sets[diagonals] = {(line.run, line.springs) for line in ties.lines}
    dropped = sets["all"] - sets["two-or-more"]
    assert sets["two-or-more"] <= sets["all"]
    assert all(run.startswith("diagonal") and len(springs) == 1 for run, springs in dropped)


# What somebody really sets: even rows, hardly any jitter.


def plausible(seed: int, shape: str) -> Deck:
    """A deck in even rows, springs within a twentieth of the pitch of their places."""
    rows, columns = 2 + seed % 3, 3 + seed % 4
    pattern = PATTERNS[seed // 2 % 2]
    return deck_of(Recipe(shape, pattern, rows, columns, 0.05 * (seed % 2), 142.0, seed))


@pytest.mark.parametrize("shape", SHAPES)
def test_breaks_are_rare_on_decks_that_people_set(shape: str) -> None:
    broken = {
        seed: sorted({told.kind for told in ties.breaks})
        for seed in range(20)
        for ties in [tied(plausible(seed, shape))]
        if any(told.rule in (3, 4) for told in ties.breaks)
    }
    assert len(broken) <= 1, broken


@pytest.mark.parametrize("shape", SHAPES)
def test_tacks_are_told_too_near_only_where_there_is_no_room(shape: str) -> None:
    for seed in range(0, 20, 3):
        deck = plausible(seed, shape)
        assert list(idle_tacks(deck, tied(deck))) == [], seed


@pytest.mark.parametrize("seed", [1116, 1145, 1189, 1273])
def test_crowded_tacks_have_all_the_room_that_the_turn_to_the_rail_allows(seed: int) -> None:
    """Not only as far as a way at a whole step of 3 degrees: that left tacks 18 mm apart."""
    deck = random_deck(seed)
    assert list(idle_tacks(deck, tied(deck))) == []


def test_no_room_is_made_for_a_tack_by_a_way_over_a_spring() -> None:
    """Sooner do two tacks stand nearer still: line 9 had passed 0.1 mm inside a top coil."""
    ties = tied(random_deck(1284))
    assert "over-spring" not in {told.kind for told in ties.breaks}


@pytest.mark.larger
@pytest.mark.parametrize("batch", range(10))
def test_tacks_are_told_too_near_only_where_there_is_no_room_on_many_decks(batch: int) -> None:
    for seed in range(1000 + 6 * batch, 1006 + 6 * batch):
        deck = random_deck(seed)
        assert list(idle_tacks(deck, tied(deck))) == [], seed


@pytest.mark.parametrize("shape", ["straight", "tapered", "bowed"])
def test_straight_lines_hardly_bend_on_decks_that_people_set(shape: str) -> None:
    """A front-to-back or side-to-side line that bends by 12 degrees pulls its spring aside."""
    for seed in range(0, 20, 4):
        deck = plausible(seed, shape)
        for line in tied(deck).lines:
            if not line.run.startswith("diagonal"):
                assert max(bends(line.centres), default=0.0) < 12.0, (seed, line.number)


@pytest.mark.parametrize("path", sample_decks(), ids=lambda path: path.name.split(".")[0])
def test_the_sample_decks_keep_every_rule(path: Path) -> None:
    """But for the one that is faulty on purpose: it has a side without a rail."""
    deck = read_deck(path)
    assert faults(deck) == []
    kinds = {told.kind for told in tied(deck).breaks}
    assert kinds == ({"no-rail"} if path.name.startswith("deliberate-faults") else set())


# Rule 6: lines follow the frame.


def tapered_deck() -> Deck:
    return deck_of(Recipe("tapered", "square", 4, 5, 0.0, 142.0, 6))


def test_front_to_back_lines_fan_with_the_side_rails() -> None:
    deck = tapered_deck()
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = deck.frame.corners
    left, right = math.atan2(dx - ax, dy - ay), math.atan2(cx - bx, cy - by)
    lines = [line for line in tied(deck).lines if line.run == "front-to-back"]
    lines.sort(key=lambda line: line.centres[0][0])
    leans = [
        math.atan2(line.path[0][0] - line.path[-1][0], line.path[0][1] - line.path[-1][1])
        for line in lines
    ]
    assert len(lines) == 5
    assert leans == sorted(leans)
    assert min(left, right) - 0.01 <= leans[0] <= leans[-1] <= max(left, right) + 0.01


def test_side_to_side_lines_take_up_the_bow_of_the_front_gradually() -> None:
    deck = next(
        deck
        for seed in range(40)
        for deck in [deck_of(Recipe("bowed", "square", 4, 5, 0.0, 142.0, seed))]
        if deck.frame.sides[2].bow > 40 and deck.frame.sides[0].bow == 0
    )
    lines = [line for line in tied(deck).lines if line.run == "side-to-side"]
    lines.sort(key=lambda line: line.centres[0][1])
    bows = [line.centres[2][1] - (line.centres[0][1] + line.centres[-1][1]) / 2 for line in lines]
    assert [len(line.springs) for line in lines] == [5] * 4
    assert bows == sorted(bows)
    assert bows[-1] > 2 * bows[0] > 0


def test_diagonals_follow_the_pitch_and_not_forty_five_degrees() -> None:
    """Rows half as far apart as the columns: diagonals still step one row and one column."""
    deck = deck_of(Recipe("straight", "square", 4, 4, 0.0, 142.0, 2))
    squashed = replace_struct(
        deck,
        frame=replace_struct(
            deck.frame, corners=tuple((1.6 * x, y) for x, y in deck.frame.corners)
        ),
        springs=tuple(replace_struct(s, x=1.6 * s.x) for s in deck.springs),
        tying=plain_tying(),
    )
    for run in ("diagonal-rising", "diagonal-falling"):
        lines = [line for line in tied(squashed).lines if line.run == run]
        assert sorted(len(line.springs) for line in lines) == [1, 1, 2, 2, 3, 3, 4]
