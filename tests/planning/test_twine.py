"""How long each tie is over the springs, and what the rules of thumb cut."""

import math
from dataclasses import replace

import msgspec
import numpy as np
import pytest

from spring_layout.deck.model import Deck, TwineRule
from spring_layout.plan import make_plan
from spring_layout.planning.parts import Heights, Line, LineTwine, Ties
from spring_layout.planning.standing import outline_of
from spring_layout.planning.twine import between_edges, rounded_up, total_as_cut, twine_of
from spring_layout.units import format_length, parse_length
from tests.decks import grid_deck, straight_frame

ROW = ("s1", "s2", "s3")


def level_heights(deck: Deck, tied: float) -> Heights:
    n = len(deck.springs)
    return Heights(
        tied=np.full(n, tied),
        squeeze=np.full(n, 0.25),
        tied_height=tied,
        free_height=152,
        typical_squeeze=0.25,
        finished_height=None,
    )


def row_tie(deck: Deck) -> Line:
    """A side-to-side tie over the back row, tacked halfway out on the left and right rails."""
    centres = tuple((deck.spring(name).x, deck.spring(name).y) for name in ROW)
    width, y = deck.frame.corners[1][0], centres[0][1]
    return Line(
        number=1,
        run="side-to-side",
        springs=ROW,
        centres=centres,
        sides=(3, 1),
        along=(deck.frame.corners[2][1] - y, y),
        anchors=((-22.5, y), (width + 22.5, y)),
    )


def cut_by(rule: TwineRule, line: Line | None = None, step: float = 10) -> LineTwine:
    deck = grid_deck()
    twine = msgspec.structs.replace(deck.twine, rule=rule, step=step)
    deck = msgspec.structs.replace(deck, twine=twine)
    plan = twine_of(deck, Ties((line or row_tie(deck),), ()), level_heights(deck, 115))
    assert plan.rule == rule
    assert plan.pieces == 1
    assert plan.cut_total == plan.lines[0].cut_length
    return plan.lines[0]


def test_the_total_is_what_the_pieces_shown_add_up_to():
    deck = grid_deck()
    parts = make_plan(deck).parts
    shown = [format_length(line.cut_length, "in", "cut") for line in parts.twine.lines]
    assert total_as_cut(deck, parts.twine) == pytest.approx(
        sum(parse_length(text, "in") for text in shown)
    )
    assert total_as_cut(deck, parts.twine) > parts.twine.cut_total


def test_the_drape_rises_from_the_rail_top_to_the_tied_height_and_comes_down_again():
    # The rail is 75 mm high, the springs are tied to 115 mm; from the tack point to the first
    # spring's centre it is 22.5 + 108 mm in plan.
    assert cut_by("over-springs-3").drape == pytest.approx(2 * math.hypot(130.5, 40) + 2 * 142)


def test_over_the_springs_three_times_the_drape_is_cut():
    row = cut_by("over-springs-3")
    assert row.rule_length == pytest.approx(3 * row.drape)
    assert row.cut_length == pytest.approx(1680)  # 1674.95 rounded up to the next 10 mm


def test_a_single_pass_is_one_and_two_thirds_of_the_distance_between_the_inside_edges():
    assert cut_by("single-1.67").rule_length == pytest.approx(500 * 5 / 3)


def test_doubled_twine_is_four_times_the_distance_between_the_inside_edges():
    assert cut_by("doubled-4").rule_length == pytest.approx(2000)
    assert cut_by("doubled-4").cut_length == pytest.approx(2000)


def test_lower_rails_make_a_longer_drape():
    deck = grid_deck()
    low = msgspec.structs.replace(deck, frame=msgspec.structs.replace(deck.frame, rail_top=20))
    ties, heights = Ties((row_tie(deck),), ()), level_heights(deck, 115)
    assert twine_of(low, ties, heights).cut_total > twine_of(deck, ties, heights).cut_total


@pytest.mark.parametrize("end", [0, 1])
def test_without_a_tack_point_the_tie_ends_at_its_last_spring(end):
    line = row_tie(grid_deck())
    anchors = [line.anchors[0], line.anchors[1]]
    sides = [line.sides[0], line.sides[1]]
    anchors[end] = sides[end] = None
    open_ended = replace(line, anchors=tuple(anchors), sides=tuple(sides))
    row = cut_by("over-springs-3", open_ended)
    assert row.drape == pytest.approx(math.hypot(130.5, 40) + 2 * 142)
    assert cut_by("doubled-4", open_ended).rule_length == pytest.approx(4 * (108 + 2 * 142))


def test_a_tie_over_one_spring_with_no_rail_to_reach_takes_no_length():
    lone = replace(
        row_tie(grid_deck()),
        springs=("s1",),
        centres=((108.0, 108.0),),
        sides=(None, None),
        along=(None, None),
        anchors=(None, None),
    )
    assert cut_by("over-springs-3", lone) == LineTwine(1, 0.0, 0.0, 0.0)


def test_a_bowed_side_is_met_on_its_true_arc():
    frame = straight_frame(500, 500, bow=40)
    line = Line(
        number=1,
        run="front-to-back",
        springs=("a",),
        centres=((250.0, 250.0),),
        sides=(2, 0),
        along=(250.0, 250.0),
        anchors=((250.0, 562.5), (250.0, -22.5)),
    )
    assert between_edges(outline_of(frame), line) == pytest.approx(540, abs=1e-9)


def test_a_tack_point_that_lies_behind_no_edge_is_measured_to_itself():
    line = replace(row_tie(grid_deck()), anchors=((60.0, 108.0), (522.5, 108.0)))
    assert between_edges(outline_of(grid_deck().frame), line) == pytest.approx(440)


@pytest.mark.parametrize(
    ("length", "step", "cut"),
    [(1801.0, 10, 1810), (1810.0, 10, 1810), (1810.0000001, 10, 1810), (762.0, 12.7, 762.0)],
)
def test_cut_lengths_are_rounded_up_to_the_step_and_what_is_whole_stays(length, step, cut):
    assert rounded_up(length, step) == pytest.approx(cut)
