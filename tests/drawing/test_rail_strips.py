"""Rail strips: every tack point where it is, on every rail of every sample."""

import itertools
import math

import pytest
import shapely
from msgspec.structs import replace

from spring_layout.drawing.lettering import LEAST_HEIGHT
from spring_layout.drawing.paper import MARGIN, PAPERS, PaperError, paper_named
from spring_layout.drawing.primitives import Circle, Group, Line, Move, Path
from spring_layout.drawing.rail_strips import rail_strips
from spring_layout.drawing.tacks import tacks_of
from spring_layout.drawing.template_correction import Correction
from spring_layout.drawing.template_papers import OneSheet, template_paper_named
from spring_layout.plan import make_plan
from tests.decks import grid_deck, straight_frame
from tests.drawing.reading import items, of_kind, texts
from tests.drawing.samples import (
    BY_TURNS,
    NAMES,
    lowest_capitals,
    off_the_sheet,
    overlapping,
    plan_of,
)

A4 = PAPERS["a4"]


def strips(drawing):
    """The strips of one sheet: the groups that carry a rail's side and what they show of it."""
    found = []

    def look_in(group):
        for item in group.items:
            if isinstance(item, Group):
                found.append(item) if item.tag.kind == "rail-strip" else look_in(item)

    look_in(drawing)
    return found


def edge_of(strip):
    (edge,) = (i for i in strip.items if isinstance(i, Path) and i.tag.kind == "inside-edge")
    return [(s.x, s.y) for s in edge.steps if isinstance(s, Move | Line)]


def outline_of(strip):
    """What the strip covers of the sheet: the first thing drawn of it."""
    outline = next(i for i in strip.items if isinstance(i, Path))
    return shapely.Polygon([(s.x, s.y) for s in outline.steps if isinstance(s, Move | Line)])


@pytest.mark.parametrize("name", ["round-ottoman", "bay-window-seat", "hall-bench"])
def test_no_mark_of_a_strip_sticks_out_of_it(name):
    for drawing in rail_strips(plan_of(name), A4):
        for strip in strips(drawing):
            room = outline_of(strip).buffer(0.01)
            for item in strip.items:
                if isinstance(item, Path):
                    ends = [(s.x, s.y) for s in item.steps if isinstance(s, Move | Line)]
                    assert room.covers(shapely.MultiPoint(ends))


def words_of(strip, kind):
    return [i.words for i in strip.items if getattr(i, "words", None) and i.tag.kind == kind]


@pytest.mark.parametrize(("name", "paper"), BY_TURNS)
def test_every_sheet_of_strips_is_legible(name, paper):
    for drawing in rail_strips(plan_of(name), PAPERS[paper]):
        assert overlapping(drawing) == []
        assert off_the_sheet(drawing, MARGIN - 0.5) == []
        assert lowest_capitals(drawing) > LEAST_HEIGHT - 0.01


@pytest.mark.parametrize("name", NAMES)
def test_every_tack_point_stands_at_its_distance_along_the_inside_edge(name):
    plan = plan_of(name)
    told = {}
    for drawing in rail_strips(plan, A4):
        for strip in strips(drawing):
            data = dict(strip.tag.data)
            (left, edge), _ = edge_of(strip)
            for tack in strip.items:
                if isinstance(tack, Circle):
                    named = int(data["side"]), int(dict(tack.tag.data)["tie"])
                    place = float(data["from"]) + tack.x - left, edge - tack.y
                    told.setdefault(named, []).append(place)
    wanted = {}
    for side, tacks in tacks_of(plan.parts).items():
        for tack in tacks:
            place = tack.along, plan.deck.frame.nail_line_of(side)
            wanted.setdefault((side, tack.line.number), []).append(place)
    assert told.keys() == wanted.keys()
    for named, places in told.items():
        for place in places:
            # where pieces overlap it is told twice, at the same place
            assert min(math.dist(place, known) for known in wanted[named]) < 0.01
        for known in wanted[named]:
            assert min(math.dist(place, known) for place in places) < 0.01


@pytest.mark.parametrize("name", NAMES)
def test_every_tack_point_has_its_label_once(name):
    plan = plan_of(name)
    for side, tacks in tacks_of(plan.parts).items():
        labels = [
            word
            for drawing in rail_strips(plan, A4)
            for strip in strips(drawing)
            if dict(strip.tag.data)["side"] == str(side)
            for word in words_of(strip, "tack-label")
        ]
        assert sorted(labels[::2]) == sorted(str(tack.line.number) for tack in tacks)


@pytest.mark.parametrize("name", NAMES)
def test_the_pieces_of_a_strip_overlap_and_reach_from_end_to_end(name):
    plan = plan_of(name)
    pieces = {}
    for drawing in rail_strips(plan, A4):
        for strip in strips(drawing):
            data = dict(strip.tag.data)
            (left, _), (right, _) = edge_of(strip)
            begin, end = float(data["from"]), float(data["to"])
            assert right - left == pytest.approx(end - begin, abs=0.002)
            pieces.setdefault(int(data["side"]), []).append((begin, end))
    rails = {i for i, side in enumerate(plan.deck.frame.sides) if side.rail != "none"}
    assert pieces.keys() == rails
    for side, ends in pieces.items():
        long = plan.parts.standing.outline.sides[side].length
        assert (ends[0][0], ends[-1][1]) == (0, pytest.approx(long, abs=0.01))
        for (_, end), (begin, _) in itertools.pairwise(ends):
            assert end - begin == pytest.approx(15, abs=0.01)


def test_the_centre_mark_stands_on_the_middle_of_the_rail():
    for drawing in rail_strips(plan_of("tapered-dining-chair"), A4):
        for strip in strips(drawing):
            marks = [i for i in strip.items if i.tag.kind == "centre-mark"]
            data = dict(strip.tag.data)
            middle = (
                plan_of("tapered-dining-chair")
                .parts.standing.outline.sides[int(data["side"])]
                .length
                / 2
            )
            holds = float(data["from"]) <= middle <= float(data["to"])
            assert len(marks) == holds
            if marks:
                tip = marks[0].steps[0].x
                left = edge_of(strip)[0][0]
                assert tip - left + float(data["from"]) == pytest.approx(middle, abs=0.01)
                assert words_of(strip, "mark") == ["centre"]


def test_a_curved_rail_says_how_its_strip_is_laid():
    said = [
        text.words
        for drawing in rail_strips(plan_of("bow-fronted-easy-chair"), A4)
        for text in texts(drawing)
        if text.tag.kind == "strip-title"
    ]
    assert any(w.startswith("Front rail") and "Curved: fold it" in w for w in said)
    assert any(w.startswith("Back rail") and "Lay it flat" in w for w in said)
    notes = " ".join(t.words for t in texts(rail_strips(plan_of("round-ottoman"), A4)[0]))
    assert "Lengths run along the inside edge." in notes


def test_a_strip_is_called_by_its_ends_as_they_lie_on_the_rail():
    ends = {}
    for drawing in rail_strips(plan_of("square-stool"), paper_named("a2")):
        for strip in strips(drawing):
            ends[dict(strip.tag.data)["side"]] = words_of(strip, "strip-end")
    assert ends == {
        "0": ["left end", "right end"],
        "1": ["back end", "front end"],
        "2": ["right end", "left end"],
        "3": ["front end", "back end"],
    }


def test_crowded_tack_points_make_the_strip_taller_and_are_all_labelled():
    deck = grid_deck(1, 5, pitch=60, margin=60)
    narrow = replace(
        deck,
        frame=straight_frame(360, 120),
        coils=(replace(deck.coils[0], top_diameter=50, foot_diameter=50, waist_diameter=40),),
        tying=replace(deck.tying, diagonals="all"),
    )
    plan = make_plan(narrow)
    labels = [
        text.words
        for drawing in rail_strips(plan, A4)
        for text in texts(drawing)
        if text.tag.kind == "tack-label"
    ]
    count = sum(len(tacks) for tacks in tacks_of(plan.parts).values())
    assert count > 15
    assert len(labels) >= 2 * count
    for drawing in rail_strips(plan, A4):
        assert overlapping(drawing) == []


def test_a_corrected_strip_prints_at_its_true_length():
    (first, *_) = rail_strips(plan_of("square-stool"), A4, Correction(0.99, 1.0))
    bars = [i for i in items(first) if isinstance(i, Path) and i.tag.id == "bar-mm-across"]
    xs = [s.x for s in bars[0].steps if isinstance(s, Move | Line)]
    assert (max(xs) - min(xs)) * 0.99 == pytest.approx(100)
    assert "scale" not in dict(first.data)


def test_a_frame_of_open_sides_has_one_empty_sheet_of_strips():
    deck = grid_deck()
    frame = straight_frame()
    open_frame = replace(frame, sides=tuple(replace(s, rail="none") for s in frame.sides))
    (drawing,) = rail_strips(make_plan(replace(deck, frame=open_frame)), A4)
    assert of_kind(drawing, "tack") == []


@pytest.mark.parametrize("name", ["big-settee", "round-ottoman"])
def test_off_a_roll_every_rail_has_its_strip_in_one_piece(name):
    plan = plan_of(name)
    rails = sum(side.rail != "none" for side in plan.deck.frame.sides)
    on_roll = rail_strips(plan, template_paper_named("roll-297"))
    (one,) = rail_strips(plan, OneSheet())
    assert all(drawing.height == pytest.approx(297) for drawing in on_roll)
    assert sum(len(strips(drawing)) for drawing in on_roll) == rails
    assert len(strips(one)) == rails
    for drawing in (*on_roll, one):
        assert overlapping(drawing) == []
        assert off_the_sheet(drawing, MARGIN - 0.5) == []


def test_small_paper_is_refused():
    with pytest.raises(PaperError):
        rail_strips(plan_of("square-stool"), paper_named("150x105"))
