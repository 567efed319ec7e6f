"""The tying steps: one small picture for each tie, what is tied so far and the next."""

import pytest
from msgspec.structs import replace

from spring_layout.drawing.lettering import LEAST_HEIGHT
from spring_layout.drawing.paper import MARGIN, PAPERS, PaperError, paper_named
from spring_layout.drawing.primitives import Group, Move, Path
from spring_layout.drawing.steps import tying_steps
from spring_layout.plan import make_plan
from tests.decks import grid_deck
from tests.drawing.reading import of_kind, texts
from tests.drawing.samples import (
    BY_TURNS,
    NAMES,
    lowest_capitals,
    off_the_sheet,
    overlapping,
    plan_of,
)

A4 = PAPERS["a4"]


def pictures(drawings):
    return [
        item
        for drawing in drawings
        for item in drawing.items
        if isinstance(item, Group) and item.tag.kind == "step"
    ]


@pytest.mark.parametrize(("name", "paper"), BY_TURNS)
def test_every_page_is_legible(name, paper):
    for drawing in tying_steps(plan_of(name), PAPERS[paper]):
        assert overlapping(drawing) == []
        assert off_the_sheet(drawing, MARGIN - 0.5) == []
        assert lowest_capitals(drawing) > LEAST_HEIGHT - 0.01


@pytest.mark.parametrize("name", NAMES)
def test_there_is_a_picture_for_each_tie_with_those_before_it(name):
    plan = plan_of(name)
    shown = pictures(tying_steps(plan, A4))
    assert len(shown) == len(plan.parts.ties.lines)
    for number, picture in enumerate(shown, 1):
        (following,) = (i for i in picture.items if i.tag.kind == "next-tie")
        assert following.tag.id == f"step-{number}"
        so_far = [
            sum(isinstance(step, Move) for step in item.steps)
            for item in picture.items
            if isinstance(item, Path) and item.stroke and item.stroke.width == 0.35
        ]
        assert so_far == ([number - 1] if number > 1 else [])


def test_they_claim_no_scale():
    for drawing in tying_steps(plan_of("square-stool"), A4):
        assert "scale" not in dict(drawing.data)
        assert not any("1 :" in text.words for text in texts(drawing))


def test_with_very_many_ties_a_picture_shows_the_next_few():
    plan = make_plan(grid_deck(12, 14))
    drawings = tying_steps(plan, A4)
    shown = pictures(drawings)
    assert len(shown) < len(plan.parts.ties.lines)
    drawn = [tie.tag.id for d in drawings for tie in of_kind(d, "next-tie")]
    assert drawn == [f"step-{line.number}" for line in plan.parts.ties.lines]
    assert overlapping(drawings[-1]) == []


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_twelve_ties_are_on_one_page(paper):
    (drawing,) = tying_steps(plan_of("square-stool"), PAPERS[paper])
    assert len(of_kind(drawing, "next-tie")) == 12
    assert off_the_sheet(drawing, MARGIN - 0.5) == []


def test_a_deck_without_ties_says_so():
    deck = grid_deck()
    bare = replace(
        deck, tying=replace(deck.tying, front_to_back=False, side_to_side=False, diagonals="none")
    )
    (drawing,) = tying_steps(make_plan(bare), A4)
    assert "This deck has no ties yet." in [text.words for text in texts(drawing)]


def test_small_paper_is_refused():
    with pytest.raises(PaperError, match="too small for tying steps"):
        tying_steps(plan_of("square-stool"), paper_named("130x200"))
