"""The record to staple under the bottom cloth."""

import pytest
from msgspec.structs import replace

from spring_layout.drawing.lettering import LEAST_HEIGHT
from spring_layout.drawing.paper import MARGIN, PAPERS, PaperError, paper_named
from spring_layout.drawing.record import record_sheet
from spring_layout.plan import make_plan
from tests.decks import grid_deck
from tests.drawing.reading import rings, texts
from tests.drawing.samples import (
    BY_TURNS,
    lowest_capitals,
    off_the_sheet,
    overlapping,
    plan_of,
)

A4 = PAPERS["a4"]


def words_of(drawing):
    return [text.words for text in texts(drawing)]


@pytest.mark.parametrize(("name", "paper"), BY_TURNS)
def test_it_is_one_legible_page(name, paper):
    (drawing,) = record_sheet(plan_of(name), PAPERS[paper])
    assert overlapping(drawing) == []
    assert off_the_sheet(drawing, MARGIN - 0.5) == []
    assert lowest_capitals(drawing) > LEAST_HEIGHT - 0.01
    sides = drawing.width, drawing.height
    assert sides == (pytest.approx(PAPERS[paper].width), pytest.approx(PAPERS[paper].height))


@pytest.mark.parametrize("name", ["square-stool", "round-ottoman", "big-settee"])
def test_its_diagram_has_the_scale_that_it_states(name):
    plan = plan_of(name)
    (drawing,) = record_sheet(plan, PAPERS["a3"])
    scale = float(dict(drawing.data)["scale"])
    assert any(f"1 : {scale:g}" in words for words in words_of(drawing))
    shown = {ring.tag.id: ring for ring in rings(drawing)}
    for spring in plan.deck.springs:
        ring = shown[f"spring-{spring.id}"]
        assert ring.radius * scale == pytest.approx(plan.deck.coil_of(spring).top_radius)
    first, second = plan.deck.springs[0], plan.deck.springs[-1]
    apart = shown[f"spring-{second.id}"].x - shown[f"spring-{first.id}"].x
    assert apart * scale == pytest.approx(second.x - first.x, abs=1e-6)


def test_every_spring_has_its_planned_height_and_a_line_to_write_on():
    plan = plan_of("square-stool")
    said = words_of(record_sheet(plan, A4)[0])
    for label in plan.parts.labels.values():
        assert said.count(label) == 2  # in the diagram and in the table
    assert said.count("4 1/2") == 9


def test_heights_as_measured_are_printed_beside_the_planned_ones():
    deck = grid_deck()
    first = replace(deck.springs[0], measured_height=113.5)
    deck = replace(deck, units="mm", springs=(first, *deck.springs[1:]))
    said = words_of(record_sheet(make_plan(deck), A4)[0])
    assert said[said.index("A1", said.index("Heights")) :][:3] == ["A1", "115", "113.5"]
    assert said.count("113.5") == 1


def test_a_very_big_deck_gives_the_ends_and_the_middle_of_its_rows_and_says_so():
    plan = make_plan(grid_deck(12, 15))
    (drawing,) = record_sheet(plan, A4)
    said = words_of(drawing)
    (note,) = (words for words in said if "have no room here" in words)
    table = said[said.index("Heights") :]
    told = sum(label in table for label in plan.parts.labels.values())
    assert f"{180 - told} springs have no room here" in note
    assert told >= 20
    assert overlapping(drawing) == []


def test_there_is_room_for_the_hand_the_date_and_notes():
    said = words_of(record_sheet(plan_of("round-ottoman"), A4)[0])
    assert {"Tied by", "Date", "Notes"} <= set(said)


def test_small_paper_is_refused():
    with pytest.raises(PaperError, match="too small for a record"):
        record_sheet(plan_of("square-stool"), paper_named("148x210"))
