"""The list of what to buy and cut."""

import math

import msgspec
import pytest

from spring_layout.deck.model import Deck
from spring_layout.plan import make_plan
from spring_layout.planning.materials import Material
from tests.decks import SEAT_COIL, grid_deck

replace = msgspec.structs.replace


def materials(deck: Deck) -> dict[str, Material]:
    return {material.item: material for material in make_plan(deck).materials}


def metric(**parts: object) -> Deck:
    return replace(grid_deck(), units="mm", **parts)


def test_a_square_deck_of_nine_takes_what_was_counted_by_hand():
    """Twelve pieces have 24 tack points; six strips of 650 mm; 600 mm of hessian each way."""
    took = {name: (m.quantity, m.unit) for name, m in materials(metric()).items()}
    assert took["springs, seat"] == (9, "pieces")
    assert took["webbing, 89 mm wide"] == (pytest.approx(3.9), "m")
    assert took["tacks for the webbing"] == (66, "pieces")
    assert took["tacks for the ties"] == (48, "pieces")
    assert took["hessian"] == (pytest.approx(0.36), "m2")


def test_the_twine_is_the_sum_of_the_pieces_as_they_are_cut():
    plan = make_plan(metric())
    twine = materials(metric())["spring twine"]
    assert twine.quantity == pytest.approx(
        sum(line.cut_length for line in plan.parts.twine.lines) / 1000
    )
    assert twine.rule == "12 pieces, as they are cut"


def test_pieces_rounded_up_in_inches_are_more_on_paper_than_in_millimetres():
    """Each piece is counted up to 10 mm, and on paper up to the next 1/2 in."""
    plan = make_plan(grid_deck())
    twine = next(m for m in plan.materials if m.item == "spring twine")
    assert twine.quantity == pytest.approx(plan.parts.twine.cut_total / 1000)
    on_paper = sum(
        math.ceil(line.cut_length / 12.7 - 1e-6) * 12.7 for line in plan.parts.twine.lines
    )
    assert twine.on_paper == pytest.approx(on_paper / 1000)
    assert twine.on_paper > twine.quantity


def test_the_stitching_twine_is_that_of_the_route():
    plan = make_plan(metric())
    twine = materials(metric())["stitching twine"]
    assert twine.quantity == pytest.approx(plan.stitching.twine / 1000)
    assert "36 stitches, 4 to a spring" in twine.rule


def test_every_item_says_how_it_was_counted():
    for material in materials(metric()).values():
        assert material.rule
        assert material.quantity > 0


def test_each_spring_size_is_listed_with_what_to_ask_for():
    tall = replace(SEAT_COIL, id="tall", free_height=203, gauge="W&M 9")
    unused = replace(SEAT_COIL, id="unused")
    deck = metric(coils=(SEAT_COIL, tall, unused))
    springs = tuple(
        replace(s, coil="tall" if i < 3 else "seat") for i, s in enumerate(deck.springs)
    )
    items = materials(replace(deck, springs=springs))
    assert items["springs, seat"].quantity == 6
    assert items["springs, tall"].quantity == 3
    assert items["springs, tall"].rule.startswith("free height 203 mm, W&M 9, wire 3.66 mm")
    assert "springs, unused" not in items


def test_a_deck_in_inches_is_told_in_american_words_and_inches():
    """W&M 9 is 0.1483 in (table of the US steel wire gauge)."""
    wired = replace(SEAT_COIL, gauge="W&M 9", wire=0.1483 * 25.4)
    items = materials(replace(grid_deck(), units="in", coils=(wired,)))
    assert "W&M 9, wire 0.148 in" in items["springs, seat"].rule
    assert "burlap" in items
    assert "hessian" not in items


def test_hanks_are_counted_where_the_user_has_said_what_one_holds():
    deck = metric(twine=replace(grid_deck().twine, hank=10_000.0))
    hanks = materials(deck)["hanks of spring twine"]
    assert hanks.quantity == 2
    assert hanks.rule == "a hank holds 10 m; the fewest there can be"
    assert "hanks of spring twine" not in materials(metric())


def test_ties_longer_than_a_hank_are_named():
    deck = metric(twine=replace(grid_deck().twine, hank=1200.0))
    items = materials(deck)
    assert "1, 2" in items["pieces longer than a hank"].rule
    short = metric(twine=replace(grid_deck().twine, hank=300.0))
    assert "hanks of spring twine" not in materials(short)


def test_feet_on_plywood_take_staples_and_no_webbing():
    items = materials(metric(webbing=replace(grid_deck().webbing, fixed="plywood")))
    assert items["staples for the feet"].quantity == 36
    assert not any(name.startswith(("webbing", "stitching")) for name in items)


def test_clips_are_counted_to_a_spring():
    stitching = replace(grid_deck().stitching, points=3)
    web = replace(grid_deck().webbing, foot_fixing="clip")
    assert materials(metric(webbing=web, stitching=stitching))["clips for the feet"].quantity == 27


def test_webbing_can_be_stapled():
    items = materials(metric(webbing=replace(grid_deck().webbing, fastening="staples", tacks=16)))
    assert items["staples for the webbing"].quantity == 96
    assert items["staples for the webbing"].rule == "16 to a strip of webbing"


def test_time_is_told_only_where_the_user_has_said_how_long_things_take():
    assert "time" not in materials(metric())
    work = replace(grid_deck().work, minutes_per_spring=5.0, minutes_per_tie=8.0)
    time = materials(metric(work=work))["time"]
    assert (time.quantity, time.unit) == (9 * 5 + 12 * 8, "minutes")
    springs_only = replace(work, minutes_per_tie=None)
    assert materials(metric(work=springs_only))["time"].quantity == 45


def test_a_deck_without_springs_lists_only_its_floor_and_cloth():
    items = materials(metric(springs=()))
    assert set(items) == {"webbing, 89 mm wide", "tacks for the webbing", "hessian"}
