"""The full-size template: every sheet of every sample, on A4 and on letter."""

import re
from functools import lru_cache

import numpy as np
import pytest
import shapely
from msgspec.structs import replace

from spring_layout.drawing.lettering import LEAST_HEIGHT
from spring_layout.drawing.paper import MARGIN, PAPERS, Paper, PaperError
from spring_layout.drawing.primitives import Circle, Line, Move, Path
from spring_layout.drawing.template import full_size_template
from spring_layout.drawing.template_correction import Correction
from spring_layout.drawing.template_papers import OneSheet, template_paper_named
from spring_layout.plan import make_plan
from tests.decks import grid_deck, straight_frame
from tests.drawing.reading import items, of_kind, shape_of, texts
from tests.drawing.samples import (
    BY_TURNS,
    NAMES,
    lowest_capitals,
    off_the_sheet,
    overlapping,
    plan_of,
)

A4 = PAPERS["a4"]


@lru_cache(maxsize=32)
def sheets(plan, paper="a4", correction=None):
    return full_size_template(plan, template_paper_named(paper), correction)


def moved(drawing, place):
    """A place on the sheet as a place of the deck."""
    data = dict(drawing.data)
    return place[0] + float(data["left"]), place[1] + float(data["top"])


def words_of(drawing, kind=None):
    return [text.words for text in texts(drawing) if kind is None or text.tag.kind == kind]


@pytest.mark.parametrize(("name", "paper"), BY_TURNS)
def test_every_sheet_is_legible(name, paper):
    for drawing in sheets(plan_of(name), paper):
        assert overlapping(drawing) == []
        assert off_the_sheet(drawing, MARGIN - 0.5) == []
        assert lowest_capitals(drawing) > LEAST_HEIGHT - 0.01


@pytest.mark.parametrize("name", ["square-stool", "bow-fronted-easy-chair", "round-ottoman"])
def test_no_tick_to_match_runs_through_the_words_beside_it(name):
    for drawing in sheets(plan_of(name)):
        ticks = [
            shapely.LineString([(s.x, s.y) for s in t.steps]) for t in of_kind(drawing, "tick")
        ]
        words = [shape_of(text) for text in texts(drawing) if text.tag.kind == "seam"]
        assert len(ticks) > len(words) > 0
        assert not shapely.MultiLineString(ticks).intersects(shapely.MultiPolygon(words))


@pytest.mark.parametrize("name", NAMES)
def test_every_spring_is_named_where_it_is_pricked_through(name):
    plan = plan_of(name)
    named = set()
    for drawing in sheets(plan):
        centres = [c for c in of_kind(drawing, "centre") if isinstance(c, Circle)]
        inside = shapely.box(MARGIN, MARGIN, drawing.width - 22, drawing.height - 40)
        shown = [c for c in centres if inside.covers(shapely.Point(c.x, c.y))]
        labels = words_of(drawing, "spring-label")
        assert len(labels) >= len(shown)
        named |= set(labels)
    assert named == set(plan.parts.labels.values())


@pytest.mark.parametrize("name", NAMES)
def test_every_tack_point_is_told_by_its_tie_and_its_distance(name):
    plan = plan_of(name)
    told = {}
    for drawing in sheets(plan):
        for tack in of_kind(drawing, "tack"):
            if isinstance(tack, Circle):
                x, y = moved(drawing, (tack.x, tack.y))
                told[round(x, 2), round(y, 2)] = dict(tack.tag.data)["tie"]
    wanted = {
        (round(anchor[0], 2), round(anchor[1], 2)): str(line.number)
        for line in plan.parts.ties.lines
        for anchor in line.anchors
        if anchor
    }
    assert told.keys() == wanted.keys()
    numbers = {word for d in sheets(plan) for word in words_of(d, "tack-label")}
    assert numbers >= {str(line.number) for line in plan.parts.ties.lines}


def test_a_sheet_says_that_it_is_full_size_and_how_to_prove_it():
    for drawing in sheets(plan_of("square-stool")):
        said = " ".join(words_of(drawing))
        assert dict(drawing.data)["scale"] == "1"
        assert "1 : 1. Print at 100 % (actual size), not fitted to the page." in said
        assert "100 mm and 4 in" in said
        assert f"Sheet {dict(drawing.data)['sheet']}" in said


def bar(drawing, name):
    (path,) = (i for i in items(drawing) if isinstance(i, Path) and i.tag.id == name)
    x, y = np.array([(s.x, s.y) for s in path.steps if isinstance(s, Move | Line)]).T
    return np.ptp(x), np.ptp(y)


def test_every_sheet_has_bars_of_100_mm_and_4_in_both_ways():
    for drawing in sheets(plan_of("round-ottoman"), "letter"):
        assert bar(drawing, "bar-mm-across")[0] == pytest.approx(100)
        assert bar(drawing, "bar-in-across")[0] == pytest.approx(101.6)
        assert bar(drawing, "bar-mm-down")[1] == pytest.approx(100)
        assert bar(drawing, "bar-in-down")[1] == pytest.approx(101.6)


def test_a_blank_sheet_is_left_out_and_said():
    plan = make_plan(grid_deck(1, 2, pitch=90, margin=60))
    triangle = grid_deck(3, 3, pitch=150, margin=110)
    frame = straight_frame(520, 520)
    corners = ((0, 0), (520, 0), (520, 120), (120, 520), (0, 520))
    sides = (*frame.sides[:2], frame.sides[1], *frame.sides[2:])
    keep = tuple(s for s in triangle.springs if s.x + s.y < 500)
    deck = replace(triangle, frame=replace(frame, corners=corners, sides=sides), springs=keep)
    drawings = sheets(make_plan(deck))
    names = {dict(d.data)["sheet"] for d in drawings}
    (blank,) = set(re.findall(r"Sheets? (.*) (?:is|are) blank", drawings[0].description))
    left_out = set(re.findall(r"\d-\d", blank))
    assert left_out
    assert left_out.isdisjoint(names)
    for drawing in drawings:
        assert blank in " ".join(words_of(drawing))
    assert "blank" not in " ".join(words_of(sheets(plan)[0]))


def test_sheets_are_named_by_row_and_column_and_say_where_the_next_one_lies():
    drawings = {dict(d.data)["sheet"]: d for d in sheets(plan_of("square-stool"))}
    rows = {int(name.split("-")[0]) for name in drawings}
    columns = {int(name.split("-")[1]) for name in drawings}
    assert set(drawings) == {f"{r}-{c}" for r in rows for c in columns}
    assert {"1-2 lies here", "2-1 lies here"} <= set(words_of(drawings["1-1"]))
    assert {"cut, lay on 1-2", "cut, lay on 2-1"} <= set(words_of(drawings["2-2"]))
    assert len(of_kind(drawings["1-1"], "cut-line")) == 0
    assert len(of_kind(drawings["2-2"], "trim-mark")) == 2 * len(
        [*of_kind(drawings["2-2"], "cut-line"), *of_kind(drawings["2-2"], "lay-line")]
    )


def test_a_corrected_sheet_says_so_and_claims_no_scale():
    drawings = sheets(plan_of("five-spring-chair"), "a4", Correction(0.992, 1.003))
    for drawing in drawings:
        said = " ".join(words_of(drawing))
        assert "bars measured 99.2 mm across and 100.3 mm down" in said
        assert "scale" not in dict(drawing.data)
        sides = sorted((drawing.width, drawing.height))
        assert sides == [pytest.approx(210), pytest.approx(297)]
        assert bar(drawing, "bar-mm-across")[0] * 0.992 == pytest.approx(100)
        assert bar(drawing, "bar-mm-down")[1] * 1.003 == pytest.approx(100)
        assert overlapping(drawing) == []


@pytest.mark.parametrize("paper", ["a3", "a2", "a1", "legal", "tabloid", "roll-610", "roll-36in"])
def test_the_template_comes_on_every_paper(paper):
    drawings = sheets(plan_of("bow-fronted-easy-chair"), paper)
    for drawing in drawings:
        assert overlapping(drawing) == []
        assert off_the_sheet(drawing, MARGIN - 0.5) == []
    if paper.startswith("roll"):
        width = {"roll-610": 610.0, "roll-36in": 914.4}[paper]
        assert width in (pytest.approx(drawings[0].width), pytest.approx(drawings[0].height))


def test_one_sheet_holds_the_whole_deck():
    (drawing,) = full_size_template(plan_of("hall-bench"), OneSheet())
    assert len(of_kind(drawing, "foot")) == 24
    assert drawing.width > 1168
    assert of_kind(drawing, "cut-line") == []
    assert overlapping(drawing) == []


@pytest.mark.parametrize("size", [(150, 300), (180, 190), (400, 140)])
def test_paper_without_room_for_the_bars_is_refused(size):
    with pytest.raises(PaperError, match="use A4, letter or larger"):
        full_size_template(plan_of("square-stool"), Paper("scrap", *size))


def test_feet_on_plywood_have_no_stitches():
    deck = grid_deck()
    sewn = full_size_template(make_plan(deck), OneSheet())[0]
    bare = replace(deck, webbing=replace(deck.webbing, fixed="plywood"))
    stapled = full_size_template(make_plan(bare), OneSheet())[0]
    assert len(of_kind(sewn, "stitch")) == 36
    assert of_kind(stapled, "stitch") == []
    assert of_kind(stapled, "strip") == []


def test_a_deck_without_springs_still_has_its_frame():
    drawings = sheets(make_plan(replace(grid_deck(), springs=())))
    assert len([i for d in drawings for i in of_kind(d, "inside-edge")]) >= 4
    assert all(of_kind(d, "foot") == [] for d in drawings)
