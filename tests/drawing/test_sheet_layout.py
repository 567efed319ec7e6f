"""The sheet: the largest scale that holds everything, white used evenly, what goes first."""

import itertools
import math

import msgspec
import pytest
import shapely

from spring_layout.deck.files import read_deck
from spring_layout.drawing.paper import MARGIN, PAPERS, Paper, PaperError, scales
from spring_layout.drawing.primitives import moved
from spring_layout.drawing.sheet import tie_diagram
from spring_layout.plan import make_plan
from spring_layout.resources import sample_decks
from tests.decks import grid_deck
from tests.drawing.hand_tied import hand_tied
from tests.drawing.legible import assert_labels_keep_clear, assert_legible, words_of
from tests.drawing.reading import of_kind, rings, shape_of, tie_lines
from tests.random_decks import random_deck

SMALL_SHEETS = [(297, 210), (250, 176), (210, 148), (176, 125)]
"""A4, B5, A5 and B6."""
BESIDE, BELOW = 66.0, 58.0
"""mm that the margin takes of a sheet's width or height at the least."""
ORDER = ["the note", "the key to the marks", "the numbers", "the key to the ties"]


@pytest.fixture(scope="module")
def plans():
    decks = [read_deck(path) for path in sample_decks()]
    return {deck.name: make_plan(deck) for deck in decks}


@pytest.fixture(scope="module")
def stool():
    return hand_tied(grid_deck(), 3, 3)


def scale_of(drawing):
    return float(dict(drawing.data)["scale"])


def picture_bounds(drawing):
    """What the rails and all labels outside the opening cover, mm."""
    shapes = rails(drawing)
    for kind in ("tie-number", "distance", "rail-name"):
        shapes += [shape_of(text) for text in of_kind(drawing, kind)]
    return shapely.total_bounds(shapes)


def rails(drawing):
    return [
        shapely.Polygon([(s.x, s.y) for s in rail.steps if hasattr(s, "x")])
        for rail in of_kind(drawing, "rail")
    ]


def frame_bounds(drawing):
    return shapely.total_bounds(rails(drawing))


def rules(drawing):
    """The upright and the level rule that bound the picture's room: (right, bottom), mm."""
    margin = next(item for item in drawing.items if item.tag.id == "margin")
    right, bottom = drawing.width - MARGIN, drawing.height - MARGIN
    for item in margin.items:
        if hasattr(item, "steps") and len(item.steps) == 2:
            (a, b) = item.steps
            if a.x == b.x and math.isclose(abs(b.y - a.y), drawing.height - 2 * MARGIN):
                right = min(right, a.x)
            if a.y == b.y and math.isclose(abs(b.x - a.x), drawing.width - 2 * MARGIN):
                bottom = min(bottom, a.y)
    return right, bottom


class TestScale:
    @pytest.mark.parametrize("paper", ["a4", "letter"])
    def test_an_easy_chair_of_24_inches_is_drawn_at_1_to_5(self, plans, paper):
        drawing = tie_diagram(plans["Easy chair with a bowed front"], PAPERS[paper])
        assert scale_of(drawing) == 5

    @pytest.mark.parametrize("paper", ["a4", "letter"])
    def test_the_scale_is_one_that_people_use(self, plans, paper):
        for plan in plans.values():
            usual = itertools.islice(scales(plan.deck.units), 20)
            assert scale_of(tie_diagram(plan, PAPERS[paper])) in set(usual)

    def test_the_next_larger_scale_would_not_fit(self, plans):
        """At it no way to divide the sheet leaves room for a margin of the least usual size."""
        for plan in plans.values():
            drawing = tie_diagram(plan, PAPERS["a4"])
            scale = scale_of(drawing)
            larger = max(s for s in itertools.islice(scales(plan.deck.units), 20) if s < scale)
            x0, y0, x1, y1 = picture_bounds(drawing)
            a0, b0, a1, b1 = frame_bounds(drawing)
            across = (x1 - x0) + (a1 - a0) * (scale / larger - 1)
            down = (y1 - y0) + (b1 - b0) * (scale / larger - 1)
            for width, height in ((277, 190), (190, 277)):
                beside = across + BESIDE <= width and down <= height
                below = across <= width and down + BELOW <= height
                assert (beside, below) == (False, False), plan.deck.name


class TestWhite:
    def test_the_picture_stands_in_the_middle_of_its_room_across(self, plans):
        for plan in plans.values():
            drawing = tie_diagram(plan, PAPERS["a4"])
            x0, _, x1, _ = picture_bounds(drawing)
            right, _ = rules(drawing)
            assert x0 - MARGIN == pytest.approx(right - x1, abs=0.6)

    def test_it_stands_a_little_above_the_middle_down(self, plans):
        for plan in plans.values():
            drawing = tie_diagram(plan, PAPERS["letter"])
            _, y0, _, y1 = picture_bounds(drawing)
            _, bottom = rules(drawing)
            above, below = y0 - MARGIN, bottom - y1
            assert min(above, below) >= 3.0
            assert 0.0 <= below - above <= 0.08 * (above + below) + 0.6

    def test_a_wide_deck_lies(self):
        drawing = tie_diagram(make_plan(grid_deck(2, 7)), PAPERS["a4"])
        assert drawing.width > drawing.height

    def test_moving_a_group_moves_all_of_it(self, stool):
        group = tie_diagram(stool, PAPERS["a4"]).items[1]
        there = moved(moved(group, 10, -4), -10, 4)
        before = [(type(item), item.tag) for item in items_of(group)]
        assert [(type(item), item.tag) for item in items_of(there)] == before
        shifted = next(it for it in items_of(moved(stool_ring(stool), 3, 5)))
        ring = stool_ring(stool)
        assert (shifted.x, shifted.y, shifted.radius) == (ring.x + 3, ring.y + 5, ring.radius)


def items_of(item):
    return (
        [inner for it in item.items for inner in items_of(it)] if hasattr(item, "items") else [item]
    )


def stool_ring(stool):
    return rings(tie_diagram(stool, PAPERS["a4"]))[0]


class TestRoom:
    def test_a_big_deck_on_small_paper_says_what_it_leaves_out_and_where_it_fits(self):
        plan = make_plan(grid_deck(13, 13))
        small = tie_diagram(plan, PAPERS["a4"])
        told = " ".join(words_of(small))
        assert "For want of room:" in told
        larger = next(name for name in ("A3", "A2", "A1", "A0") if f"{name} paper holds" in told)
        full = tie_diagram(plan, PAPERS[larger.lower()])
        assert "For want of room:" not in " ".join(words_of(full))
        assert len(of_kind(full, "spring-label")) == 169
        assert_legible(small)
        assert_labels_keep_clear(small)

    def test_the_margin_leaves_out_the_least_needed_first(self, stool):
        """On ever smaller sheets the note goes first, then the marks, the numbers, the key."""
        deck = msgspec.structs.replace(stool.deck, note="Beech, sound. " * 4)
        plan = make_plan(deck)
        gone = []
        for size in SMALL_SHEETS:
            drawing = tie_diagram(plan, Paper("own", *size))
            told = " ".join(words_of(drawing))
            gone.append([block for block in ORDER if block in told])
            assert_legible(drawing)
        assert gone[0] == []
        assert all(blocks == ORDER[: len(blocks)] for blocks in gone)
        assert len(gone[-1]) > len(gone[0])

    def test_where_the_cut_lengths_have_room_they_are_told_tie_by_tie(self, stool):
        told = words_of(tie_diagram(stool, PAPERS["a4"]))
        assert "Ties, and what to cut for each (inches)" in told
        assert told.count("66 1/2") == 6
        assert "on the bench sheet" not in told

    def test_where_they_have_none_the_sheet_says_where_they_are(self):
        told = words_of(tie_diagram(make_plan(grid_deck(4, 12)), PAPERS["a4"]))
        assert "Ties" in told
        assert "on the bench sheet" in told

    def test_up_to_three_labels_are_left_out_before_all_distances_are(self):
        """A deck with two tack points at one inward corner that find no room together."""
        plan = make_plan(random_deck(92, most=24))
        drawing = tie_diagram(plan, PAPERS["a4"])
        ends = [end for line in plan.parts.ties.lines for end in line.anchors if end]
        missing = len(ends) - len(of_kind(drawing, "distance"))
        assert 0 < missing <= 3
        words = "1 tack point's label" if missing == 1 else f"{missing} tack points' labels"
        assert words in " ".join(words_of(drawing))

    def test_where_no_paper_holds_it_all_it_says_so(self):
        plan = make_plan(grid_deck(2, 60))
        told = " ".join(words_of(tie_diagram(plan, PAPERS["a0"])))
        assert ("No sheet up to A0" in told) == ("For want of room" in told)

    def test_tiny_paper_is_refused_in_a_sentence(self, stool):
        with pytest.raises(PaperError, match="too small for a tie diagram"):
            tie_diagram(stool, Paper("tag", 60, 60))

    def test_a_deck_without_ties_is_drawn_without_them(self):
        deck = grid_deck()
        tying = msgspec.structs.replace(
            deck.tying, front_to_back=False, side_to_side=False, diagonals="none"
        )
        drawing = tie_diagram(make_plan(msgspec.structs.replace(deck, tying=tying)), PAPERS["a4"])
        assert tie_lines(drawing) == []
        assert len(rings(drawing)) == 9
        assert_legible(drawing)

    def test_a_long_name_is_shortened_to_two_lines(self):
        deck = msgspec.structs.replace(grid_deck(), name="Very long settee " * 12)
        drawing = tie_diagram(make_plan(deck), PAPERS["a4"])
        assert any(words.endswith("…") for words in words_of(drawing))
        assert_legible(drawing)


class TestTitleBlock:
    def test_it_has_scale_paper_sheet_and_room_for_hand_and_date(self, plans):
        for plan in plans.values():
            told = words_of(tie_diagram(plan, PAPERS["letter"]))
            for words in ("Scale", "Paper", "Letter", "Drawn", "Date", "Sheet", "1 of 1"):
                assert words in told

    def test_the_coil_of_the_outer_hitches_is_told_where_it_is_one(self, plans):
        told = words_of(tie_diagram(plans["Square stool for a ticket hall"], PAPERS["a4"]))
        assert "third coil down; return ties to the top" in told
        told = words_of(tie_diagram(plans["Practice piece with faults to find"], PAPERS["a4"]))
        assert "not all on one coil: see the bench sheet" in " ".join(told)
