"""The sewing-in in words: every stitch once, in its order, length by length."""

from itertools import pairwise

import msgspec

from spring_layout.checks.sewing_words import working_lengths
from spring_layout.deck.model import Stitching
from spring_layout.plan import make_plan
from tests.decks import grid_deck


def sewn(deck):
    plan = make_plan(deck)
    return plan, working_lengths(plan.parts, plan.stitching)


def test_every_stitch_is_told_once_in_the_order_of_sewing():
    plan, lengths = sewn(grid_deck())
    told = [
        (foot.split(" ", 1)[0], point)
        for way in lengths
        for foot in way.split("; ")
        for point in foot.split(" ", 1)[1].split(", ")
    ]
    labels = plan.parts.labels
    assert told == [(labels[stitch.spring], stitch.point) for stitch in plan.stitching.stitches]


def test_a_foot_sewn_with_two_lengths_stands_with_both():
    deck = msgspec.structs.replace(grid_deck(), stitching=Stitching(working_length=800.0))
    plan, lengths = sewn(deck)
    assert len(lengths) == len(plan.stitching.new_lengths) > 3
    split = [
        label
        for one, other in pairwise(lengths)
        if (label := one.split("; ")[-1].split(" ")[0]) == other.split(" ")[0]
    ]
    assert split
