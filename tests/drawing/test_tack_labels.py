"""The tack points' labels can be read at arm's length, and their leaders never cross."""

import itertools

import pytest
import shapely

from spring_layout.deck.files import read_deck
from spring_layout.drawing.lettering import font_size
from spring_layout.drawing.paper import PAPERS
from spring_layout.drawing.primitives import Path, Text
from spring_layout.drawing.sheet import tie_diagram
from spring_layout.plan import make_plan
from spring_layout.resources import sample_decks
from tests.decks import grid_deck
from tests.drawing.reading import of_kind, shape_of, texts
from tests.random_decks import random_deck

ARM = 2.2
"""mm, the least height of a tie's number."""


@pytest.fixture(scope="module")
def drawings():
    plans = [make_plan(read_deck(path)) for path in sample_decks()]
    plans += [make_plan(random_deck(seed, most=20)) for seed in range(6)]
    plans += [make_plan(grid_deck(9, 9)), make_plan(grid_deck(1, 1))]
    return [tie_diagram(plan, PAPERS["a4"]) for plan in plans]


def labels_of(drawing):
    """(leader, texts) of each tack point."""
    found, waiting = [], list(drawing.items)
    while waiting:
        item = waiting.pop()
        if hasattr(item, "items"):
            waiting += item.items
            if item.tag.kind == "tack-point":
                leader = next(it for it in item.items if isinstance(it, Path))
                line = shapely.LineString([(step.x, step.y) for step in leader.steps])
                found.append((line, [it for it in item.items if isinstance(it, Text)]))
    return found


def test_the_ties_numbers_are_high_enough_for_an_arms_length(drawings):
    for drawing in drawings:
        for number in of_kind(drawing, "tie-number"):
            assert number.size >= font_size(ARM) - 1e-9


def test_all_words_are_read_from_the_bottom_or_the_right(drawings):
    """As on any technical drawing (ISO 129-1, from memory); none stands on its head."""
    for drawing in drawings:
        for text in texts(drawing):
            assert -105.0 - 1e-6 <= text.turned <= 60.0 + 1e-6, text.words


def test_leaders_cross_neither_each_other_nor_another_label(drawings):
    for drawing in drawings:
        labels = labels_of(drawing)
        for (one, words), (other, others) in itertools.combinations(labels, 2):
            assert not one.crosses(other)
            assert not any(one.intersects(shape_of(text)) for text in others)
            assert not any(other.intersects(shape_of(text)) for text in words)


@pytest.mark.larger
@pytest.mark.parametrize("seed", range(20, 60))
def test_leaders_of_forty_more_decks_do_not_cross(seed):
    drawing = tie_diagram(make_plan(random_deck(seed, most=40)), PAPERS["a4"])
    for (one, _), (other, _) in itertools.combinations(labels_of(drawing), 2):
        assert not one.crosses(other)


@pytest.mark.parametrize("seed", [3, 44, 56])
def test_tack_points_in_a_notch_are_labelled(seed):
    """Both rails of a notch have a tack point at the corner that points inward."""
    plan = make_plan(random_deck(seed, most=24))
    drawing = tie_diagram(plan, PAPERS["a4"])
    ends = [end for line in plan.parts.ties.lines for end in line.anchors if end]
    assert len(labels_of(drawing)) == len(ends)


def test_the_rails_are_named_all_on_the_rails_or_all_outside(drawings):
    for drawing in drawings:
        rails = [
            shapely.Polygon([(s.x, s.y) for s in rail.steps if hasattr(s, "x")])
            for rail in of_kind(drawing, "rail")
        ]
        wood = shapely.union_all(rails).buffer(0.01)
        on = [wood.contains(shape_of(name).centroid) for name in of_kind(drawing, "rail-name")]
        assert len(set(on)) == 1


def test_opposite_rails_of_a_square_deck_are_named_alike():
    drawing = tie_diagram(make_plan(grid_deck(3, 3)), PAPERS["a4"])
    at = {name.words: shape_of(name).centroid for name in of_kind(drawing, "rail-name")}
    assert at["BACK"].x == pytest.approx(at["FRONT"].x)
    assert at["LEFT"].y == pytest.approx(at["RIGHT"].y)
