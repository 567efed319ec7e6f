"""Whatever a deck is called and whatever its note says, every sheet stays legible."""

import pytest
from msgspec.structs import replace

from spring_layout.drawing.bench_sheet import bench_sheet
from spring_layout.drawing.paper import MARGIN, PAPERS
from spring_layout.drawing.rail_strips import rail_strips
from spring_layout.drawing.record import record_sheet
from spring_layout.drawing.sheet import tie_diagram
from spring_layout.drawing.side_view import side_view
from spring_layout.drawing.steps import tying_steps
from spring_layout.drawing.template import full_size_template
from spring_layout.plan import make_plan
from tests.drawing.reading import texts
from tests.drawing.samples import off_the_sheet, overlapping, plan_of

A4 = PAPERS["a4"]
LONG = "The settee of the second-floor landing — rebuilt for the third time since it was made " * 3
NAMES = {
    "long": (LONG, "Needs care. " * 60),
    "one word": ("Wartesaalbankpolsterung" * 6, "Sprungfederkern" * 30),
    "other letters": ("Grünes Sofa — Łódź, Ærø, “½ in”", "Füße gewachst; ±2 mm … „gut“"),
    "no spaces": ("椅子の座面を張り替える" * 9, "馬毛はそのまま使い、綱は新しくする。" * 12),
}


def named(name, note):
    """The plan of a dining chair with that name and note."""
    return make_plan(replace(plan_of("tapered-dining-chair").deck, name=name, note=note))


def sheets(plan):
    yield tie_diagram(plan, A4)
    yield side_view(plan, 1, A4)
    for sheet in (bench_sheet, record_sheet, tying_steps, full_size_template, rail_strips):
        yield from sheet(plan, A4)


@pytest.mark.parametrize("kind", NAMES)
def test_no_words_run_into_others_or_off_the_sheet(kind):
    for drawing in sheets(named(*NAMES[kind])):
        assert overlapping(drawing) == [], drawing.title[:40]
        assert off_the_sheet(drawing, MARGIN - 0.6) == [], drawing.title[:40]


def test_a_template_with_a_long_name_still_tells_how_many_sheets_there_are():
    for drawing in full_size_template(named(LONG, ""), A4):
        words = " ".join(text.words for text in texts(drawing))
        assert "…" in words
        assert "Template, 12 sheets." in words
        assert "Cut each sheet along" in words


@pytest.mark.parametrize("kind", ["long", "no spaces"])
def test_the_bench_sheet_gives_the_note_in_full(kind):
    name, note = NAMES[kind]
    (first, *_) = bench_sheet(named(name, note), A4)
    said = "".join(text.words for text in texts(first)).replace(" ", "")
    assert note.replace(" ", "") in said
