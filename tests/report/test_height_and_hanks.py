"""The height and the hanks in words."""

import re

import msgspec
import pytest

from spring_layout.checks.tie_words import pieces_to_cut
from spring_layout.deck.model import Deck, Seat
from spring_layout.plan import make_plan
from spring_layout.report.hanks import hanks_section
from spring_layout.report.height import height_section
from spring_layout.report.text import plan_to_text
from spring_layout.units import parse_length
from tests.decks import grid_deck

replace = msgspec.structs.replace
INCH = 25.4


def height(deck: Deck) -> str:
    return " ".join(" ".join(height_section(make_plan(deck).parts)).split())


def hanks(deck: Deck, hank: float | None) -> str:
    deck = replace(deck, twine=replace(deck.twine, hank=hank))
    return " ".join(" ".join(hanks_section(make_plan(deck).parts)).split())


def test_the_stack_is_told_from_the_floor_up():
    """Common practice, no source: 9 in, 5 in and a 4 in cushion finish at 18 in."""
    seat = Seat(floor_to_webbing=9 * INCH, cushion=4 * INCH)
    deck = replace(grid_deck(), seat=seat)
    deck = replace(deck, tying=replace(deck.tying, tied_height=5 * INCH))
    assert (
        "From the floor up at the front: floor to webbing 9 in, tied height 5 in, cushion 4 in; "
        "finished 18 in from the floor." in height(deck)
    )


def test_without_the_floor_it_is_told_from_the_webbing():
    deck = replace(grid_deck(), units="mm", seat=Seat(measured_at="middle", cushion=0))
    assert "From the webbing up in the middle: tied height 115 mm; 115 mm above" in height(deck)


def test_each_schools_free_height_stands_with_its_source():
    text = height(replace(grid_deck(), units="mm"))
    assert "153 mm (144 to 173 mm): tied down by a quarter; 19th-century British" in text
    assert "140 mm: the top of the rail and 30 mm over it, and a third more; French work" in text
    assert "172 mm (153 to 190 mm): tied down by 38 to 75 mm; US workshop pages." in text


def test_in_inches_no_school_speaks_of_mm():
    text = height(grid_deck())
    assert " mm" not in text
    assert "5 1/2 in: the top of the rail and 1 1/8 in over it, and a third more;" in text
    assert "tied down by 1 1/2 to 3 in; US workshop pages." in text


def test_an_open_front_takes_the_frames_own_rail():
    sides = tuple(
        replace(s, rail="none") if s.rail == "front" else s for s in grid_deck().frame.sides
    )
    deck = replace(grid_deck(), units="mm", frame=replace(grid_deck().frame, sides=sides))
    assert "140 mm: the top of the rail" in height(deck)


def test_each_hank_names_its_ties():
    deck = replace(grid_deck(), units="mm")
    text = hanks(deck, 10_000.0)
    assert text.startswith("From hanks of 10 m: hank 1: ties ")
    assert "hank 2: ties " in text
    assert hanks(deck, None) == ""
    assert "From hanks" in plan_to_text(
        make_plan(replace(deck, twine=replace(deck.twine, hank=9e4)))
    )


def test_pieces_longer_than_a_hank_are_named():
    text = hanks(replace(grid_deck(), units="mm"), 1250.0)
    assert "Longer than a hank: ties 1, 2, 3" in text
    assert "hank 1: tie " in text


def told_hanks(text: str) -> tuple[float, list[tuple[list[int], float]]]:
    """What a hank is said to hold, and of each its ties and what is said to be left, mm."""
    holds = re.match(r"From hanks of (.+?):", text)
    assert holds
    rows = re.findall(r"hank \d+: ties? (.+?); about (.+?) left", text)
    return parse_length(holds[1]), [
        ([int(n) for n in re.findall(r"\d+", ties)], parse_length(left)) for ties, left in rows
    ]


@pytest.mark.parametrize(
    ("units", "hank"),
    # 2820 mm hold two pieces of 1410 mm, but not two of 56 in, as which the cut list has them
    [("in", 2820.0), ("in", 111 * INCH), ("in", 30 * 12 * INCH), ("mm", 2999.0), ("mm", 9e3)],
)
def test_on_paper_no_hank_gives_more_than_it_holds(units, hank):
    deck = replace(grid_deck(), units=units)
    deck = replace(deck, twine=replace(deck.twine, hank=hank))
    cut = {
        number: parse_length(length, units)
        for length, numbers in pieces_to_cut(make_plan(deck).parts)
        for number in numbers
    }
    holds, rows = told_hanks(hanks(deck, hank))
    assert holds <= hank + 1e-6
    assert sorted(number for ties, _ in rows for number in ties) == list(range(1, 13))
    for ties, left in rows:
        assert sum(cut[number] for number in ties) + left <= holds + 1e-6


def test_what_a_hank_holds_is_told_in_full_and_never_rounded_up():
    assert hanks(grid_deck(), 2820.0).startswith("From hanks of 111 in: ")
    assert hanks(grid_deck(), 30 * 12 * INCH).startswith("From hanks of 30 ft: ")
    metric = replace(grid_deck(), units="mm")
    assert hanks(metric, 12_347.0).startswith("From hanks of 12.34 m: ")
