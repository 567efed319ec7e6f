"""The tail to leave at the first tack of a tie, for its return tie."""

import math

import msgspec
import pytest

from spring_layout.deck.model import Twine
from spring_layout.plan import make_plan
from spring_layout.planning.twine_geometry import first_tail
from tests.decks import grid_deck


def tails(deck):
    parts = make_plan(deck).parts
    return {
        line.number: first_tail(parts.deck, hitches)
        for line, hitches in zip(parts.ties.lines, parts.hitches.lines, strict=True)
    }


def test_the_tail_reaches_back_over_the_top_coil_and_leaves_enough_to_pull():
    deck = msgspec.structs.replace(
        grid_deck(), twine=Twine(ten_hitches=520.0, allowance=150.0, fold_back=75.0)
    )
    parts = make_plan(deck).parts
    hitches = parts.hitches.lines[0]
    tack, top = hitches.anchors[0], hitches.returns[0].place
    by_hand = math.dist(tack, top) + 52 + 75  # the way, a clove hitch of ten in 520 mm, half of 150
    assert first_tail(deck, hitches) == pytest.approx(by_hand)


def test_the_tail_and_its_like_at_the_other_end_are_part_of_what_is_cut():
    parts = make_plan(grid_deck()).parts
    for line, count in zip(parts.hitches.lines, parts.counts, strict=True):
        assert first_tail(parts.deck, line) <= count.returns + count.hitches + count.allowance


def test_a_diagonal_has_no_return_tie_and_needs_no_tail():
    runs = {line.number: line.run for line in make_plan(grid_deck()).parts.ties.lines}
    for number, tail in tails(grid_deck()).items():
        assert (tail == 0) == runs[number].startswith("diagonal")


def test_without_return_ties_no_tail_is_left():
    deck = msgspec.structs.replace(grid_deck(), twine=Twine(return_tie=False))
    assert set(tails(deck).values()) == {0.0}
