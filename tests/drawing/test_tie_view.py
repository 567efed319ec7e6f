"""Ties keep apart where they cross, and their dashes and knots are fitted to the springs."""

import itertools
import math

import msgspec
import pytest

from spring_layout.drawing import look
from spring_layout.drawing.paper import PAPERS
from spring_layout.drawing.primitives import Path
from spring_layout.drawing.sheet import tie_diagram
from spring_layout.drawing.tie_view import knot_items, tie_items
from spring_layout.drawing.view import View
from spring_layout.plan import make_plan
from tests.decks import grid_deck
from tests.drawing.hand_tied import hand_tied
from tests.drawing.reading import of_kind
from tests.random_decks import random_deck

VIEW = View(5.0, 0.0, 0.0)


@pytest.fixture(scope="module")
def stool():
    return hand_tied(grid_deck(), 3, 3).parts


def ties(parts, view=VIEW):
    items = tie_items(parts, view)
    return [item for item in items if isinstance(item, Path) and item.tag.kind == "tie"]


def places(path):
    return [(step.x, step.y) for step in path.steps]


def drawn_at(stroke, along):
    """Whether the pen is down ``along`` mm from where the dashed line begins."""
    at = (along + stroke.offset) % math.fsum(stroke.dashes)
    edges = list(itertools.accumulate(stroke.dashes))
    return next(i for i, edge in enumerate(edges) if at <= edge + 1e-6) % 2 == 0


def test_a_dash_goes_out_both_ways_from_every_spring_of_an_even_row(stool):
    for line, tie in zip(stool.ties.lines, ties(stool), strict=True):
        dashes = tie.stroke.dashes
        if dashes:
            between = (math.fsum(dashes) - dashes[0]) / 2
            steps = [math.dist(a, b) for a, b in itertools.pairwise(places(tie))]
            for along in list(itertools.accumulate(steps))[:-1]:
                for way in (-1, 1):
                    begins = along + way * (between + dashes[0] / 2)
                    assert drawn_at(tie.stroke, begins), line.number
                    assert not drawn_at(tie.stroke, along + way * (between - 0.05)), line.number


def test_fitted_dashes_stay_near_their_usual_length(stool):
    for line, tie in zip(stool.ties.lines, ties(stool), strict=True):
        usual = math.fsum(look.RUN_LOOKS[line.run].stroke.dashes)
        fitted = math.fsum(tie.stroke.dashes)
        assert 0.8 * usual <= fitted <= 1.25 * usual


def test_a_tie_lies_over_white_where_it_crosses_ties_tied_before_it(stool):
    """The open knots of the square deck: each later tie has its white under it, just before it."""
    items = tie_items(stool, VIEW)
    open_knots = [c for c in stool.ties.crossings if c.spring is None]
    air = [i for i, item in enumerate(items) if item.tag.kind == "air"]
    assert len(air) == sum(len(c.lines) - 1 for c in open_knots) > 0
    for i in air:
        piece, tie = items[i], next(it for it in items[i:] if it.tag.kind == "tie")
        assert piece.stroke.colour == look.PAPER
        assert piece.stroke.width == pytest.approx(tie.stroke.width + 2 * look.AIR)
        number = int(tie.tag.id.removeprefix("line-"))
        middle = [sum(axis) / 2 for axis in zip(*places(piece), strict=True)]
        knot = next(c for c in open_knots if math.dist(VIEW.place(c.place), middle) < 0.01)
        assert number in knot.lines[1:]


def test_flat_crossings_get_longer_white():
    """Two ties that cross at 20 degrees need more of it than two that cross at 80."""
    deck = grid_deck(4, 3)
    steep = make_plan(deck).parts
    flat = make_plan(
        msgspec.structs.replace(
            deck,
            frame=msgspec.structs.replace(
                deck.frame, corners=tuple((x, y * 2.2) for x, y in deck.frame.corners)
            ),
            springs=tuple(msgspec.structs.replace(s, y=s.y * 2.2) for s in deck.springs),
        )
    ).parts

    def longest(parts):
        pieces = [it for it in tie_items(parts, VIEW) if it.tag.kind == "air"]
        return max(math.dist(*places(piece)) for piece in pieces)

    assert longest(flat) > longest(steep) + 0.1


@pytest.mark.parametrize("seed", range(8))
def test_no_two_knots_touch(seed):
    knots = knot_items(make_plan(random_deck(seed, most=24)).parts, VIEW)
    halves = [knot.steps[1].x - knot.steps[0].x for knot in knots]
    middles = [(knot.steps[0].x, knot.steps[1].y) for knot in knots]
    pairs = itertools.combinations(zip(middles, halves, strict=True), 2)
    assert all(math.dist(a, b) > one + other - 1e-9 for (a, one), (b, other) in pairs)


def test_ties_are_drawn_finer_where_springs_stand_close_on_the_paper():
    def width(deck):
        return of_kind(tie_diagram(make_plan(deck), PAPERS["a4"]), "tie")[0].stroke.width

    assert width(grid_deck(3, 3)) == look.RUN_LOOKS["front-to-back"].stroke.width
    assert width(grid_deck(3, 14)) < width(grid_deck(3, 3))
