"""The bench sheet: legible from a metre, every tie in its order with all that it takes."""

import re

import pytest
from msgspec.structs import replace

from spring_layout.checks.tie_words import knot_words, knots_by_tie, tack_words
from spring_layout.drawing.bench_blocks import BODY
from spring_layout.drawing.bench_sheet import bench_sheet
from spring_layout.drawing.paper import MARGIN, PAPERS, PaperError, paper_named
from spring_layout.drawing.primitives import Path
from spring_layout.plan import make_plan
from spring_layout.units import format_length
from tests.decks import grid_deck
from tests.drawing.reading import items, texts
from tests.drawing.samples import BY_TURNS, NAMES, off_the_sheet, overlapping, plan_of

A4 = PAPERS["a4"]


def said(drawings):
    """All words in reading order, as one line."""
    return " ".join(text.words for drawing in drawings for text in texts(drawing))


@pytest.mark.parametrize(("name", "paper"), BY_TURNS)
def test_every_page_is_legible(name, paper):
    for drawing in bench_sheet(plan_of(name), PAPERS[paper]):
        assert overlapping(drawing) == []
        assert off_the_sheet(drawing, MARGIN - 0.5) == []


@pytest.mark.parametrize("name", NAMES)
def test_every_tie_is_there_in_order_with_its_ends_its_piece_and_its_knots(name):
    plan = plan_of(name)
    parts = plan.parts
    words, at = said(bench_sheet(plan, A4)), 0
    made = knots_by_tie(parts)
    for line, twine in zip(parts.ties.lines, parts.twine.lines, strict=True):
        start, finish = tack_words(parts, line, 0), tack_words(parts, line, 1)
        at = words.index(f"From {start}", at)
        end = words.index(f"to {finish}.", at)
        springs = [parts.labels[spring] for spring in line.springs]
        over = words[at:end].split("over ")[1]
        assert re.findall(r"[A-Z]+\d+", over) == springs
        knots = knot_words(parts, line, made.get(line.number, []))
        assert not knots or f"Knot {knots}." in words[end:]
        cut = f"Cut {format_length(twine.cut_length, plan.deck.units, 'cut')}"
        assert cut in words


def test_what_is_read_while_working_is_large():
    for drawing in bench_sheet(plan_of("square-stool"), A4):
        working = [t for t in texts(drawing) if t.words.startswith(("From", "to the", "over"))]
        assert all(text.size * 0.7 >= BODY - 0.01 for text in working)
        # 17 point type, 25.4 / 72 mm a point
        assert all(text.size / (25.4 / 72) >= 17 for text in working)


def test_the_tick_boxes_are_one_for_each_thing_to_do():
    plan = plan_of("square-stool")
    drawings = bench_sheet(plan, A4)
    boxes = [
        item
        for drawing in drawings
        for item in items(drawing)
        if isinstance(item, Path) and item.stroke and item.stroke.width == 0.5 and item.fill is None
    ]
    squares = [b for b in boxes if b.steps[1].x - b.steps[0].x == pytest.approx(6.0)]
    # materials, two lengths of webbing ways, pieces of twine by length, ties, the press test
    assert len(squares) >= len(plan.materials) + 2 + len(plan.parts.ties.lines) + 1


def test_it_ends_with_the_press_test_and_shows_the_cautions():
    words = said(bench_sheet(plan_of("tapered-dining-chair"), A4))
    assert "Press each spring by itself: the whole deck must move." in words
    assert words.index("Press each spring") > words.index("From the front rail")
    assert "Protect your eyes" in words
    assert "16 CFR 1640" in words


def test_a_deck_that_is_not_sound_says_so_first():
    words = said(bench_sheet(plan_of("deliberate-faults"), A4))
    assert "Not sound: mend this first" in words
    assert words.index("Not sound") < words.index("The numbers")
    assert "Not sound" not in said(bench_sheet(plan_of("square-stool"), A4))


def test_the_coils_of_the_outer_hitches_are_told_for_every_tie():
    plan = plan_of("square-stool")
    words = said(bench_sheet(plan, A4))
    assert words.count("Outer hitches on the") == len(plan.parts.ties.lines)
    assert "Outer hitches on the top coil at both ends." in words


def test_the_pictures_from_the_side_are_lettered_for_the_bench():
    for name in ("square-stool", "big-settee"):
        for drawing in bench_sheet(plan_of(name), A4):
            heights = [text for text in texts(drawing) if text.tag.kind == "tied-height"]
            # 2 mm is the least that is read in the hand; these are read from farther off
            assert all(text.size * 0.7 >= 2.0 * 1.3 - 0.01 for text in heights)


def test_larger_paper_is_lettered_larger():
    on_a4, on_a2 = (bench_sheet(plan_of("square-stool"), PAPERS[p])[0] for p in ("a4", "a2"))
    assert (on_a2.width, on_a2.height) == (pytest.approx(420), pytest.approx(594))
    assert texts(on_a2)[0].size > texts(on_a4)[0].size * 1.3


def test_a_deck_without_ties_or_webbing_has_neither_list():
    deck = grid_deck()
    bare = replace(
        deck,
        tying=replace(deck.tying, front_to_back=False, side_to_side=False, diagonals="none"),
        webbing=replace(deck.webbing, fixed="plywood"),
        note="Glued board, no webbing.",
    )
    words = said(bench_sheet(make_plan(bare), A4))
    assert "Cut the strips of webbing" not in words
    assert "Cut the spring twine" not in words
    assert "When it is tied" not in words
    assert "Glued board, no webbing." in words


def test_small_paper_is_refused():
    with pytest.raises(PaperError, match="too small for a bench sheet"):
        bench_sheet(plan_of("square-stool"), paper_named("130x200"))


def test_every_strip_of_webbing_has_its_place_on_the_rails():
    words = said(bench_sheet(plan_of("square-stool"), A4))
    assert (
        "1: back rail and front rail 5 1/2 in left; 2: back rail and front rail at the mark;"
        in words
    )
    assert "3: left rail and right rail 5 1/2 in forward" in words
