"""The base and the materials in words and as CSV."""

import csv
import io
import json

import msgspec
import pytest

from spring_layout.deck.model import Deck
from spring_layout.plan import make_plan
from spring_layout.report.base import base_section
from spring_layout.report.materials import materials_csv, materials_section
from spring_layout.report.plan_json import plan_to_json
from spring_layout.report.text import plan_to_text
from tests.decks import grid_deck

replace = msgspec.structs.replace


def base(deck: Deck) -> str:
    plan = make_plan(deck)
    return " ".join(" ".join(base_section(plan.parts, plan.stitching)).split())


def metric(**changes: object) -> Deck:
    return replace(grid_deck(), units="mm", **changes)


def test_the_base_says_the_count_first_and_then_each_strip():
    text = base(metric())
    assert "BASE. 6 strips of webbing 89 mm wide, 3.9 m off the roll" in text
    assert "66 tacks" in text
    assert text.count("650 mm") == 6
    assert "with gaps of 6 mm, the opening would take 5 front to back and 5 side to side" in text
    assert "Front to back 1 back rail and front rail 142 mm left 650 mm" in text
    assert "Front to back 2 back rail and front rail at the mark 650 mm" in text
    assert "Side to side 3 left rail and right rail 142 mm forward 650 mm" in text


def test_on_rails_that_are_off_each_other_a_strip_has_a_place_on_each():
    corners = ((0, 0), (400, 0), (500, 500), (0, 500))
    frame = replace(grid_deck().frame, corners=corners)
    web = replace(grid_deck().webbing, front_to_back=(150.0,))
    text = base(metric(frame=frame, webbing=web))
    assert "back rail 50 mm left; front rail 100 mm left" in text


def test_a_strip_between_sides_without_a_rail_is_told_from_the_middle():
    side = grid_deck().frame.sides[0]
    frame = replace(grid_deck().frame, sides=tuple(replace(side, rail="none") for _ in range(4)))
    text = base(metric(frame=frame))
    assert "Front to back 1 142 mm left of the middle of the opening 650 mm" in text
    assert "Side to side 2 the middle of the opening 650 mm" in text


def test_a_strip_round_a_leg_block_is_to_be_split():
    corners = ((40, 0), (460, 0), (460, 60), (500, 60), (500, 500), (0, 500), (0, 60), (40, 60))
    rails = ("back", "right", "back", "right", "front", "left", "back", "left")
    side = grid_deck().frame.sides[0]
    frame = replace(
        grid_deck().frame, corners=corners, sides=tuple(replace(side, rail=r) for r in rails)
    )
    web = replace(grid_deck().webbing, front_to_back=(50.0, 250.0))
    assert base(metric(frame=frame, webbing=web)).count("split round the block at the back") == 1
    assert "Front to back 1: split round the block at the back, never cut across." in base(
        metric(frame=frame, webbing=web)
    )


def test_the_sewing_names_every_foot_and_where_new_twine_starts():
    text = base(metric())
    for label in ("A1", "B2", "C3"):
        assert f"{label} " in text
    assert "no way is shorter" in text
    assert "3 A1 right" in text
    one_length = replace(grid_deck().stitching, working_length=9000.0)
    assert "; A1 right" in base(metric(stitching=one_length))


def test_a_long_route_says_what_no_route_falls_short_of():
    assert "(the shortest cannot be under " in base(replace(grid_deck(5, 7), units="mm"))


def test_a_plywood_floor_has_no_strips_and_no_sewing():
    text = base(metric(webbing=replace(grid_deck().webbing, fixed="plywood")))
    assert text == "BASE A plywood floor instead of webbing; the feet are fixed with staples."


@pytest.mark.parametrize(("fixing", "words"), [("stitch", "stitches"), ("clip", "clips")])
def test_other_fixings_on_plywood_are_told(fixing, words):
    web = replace(grid_deck().webbing, fixed="plywood", foot_fixing=fixing)
    assert f"the feet are fixed with {words}." in base(metric(webbing=web))


def test_a_deck_without_webbing_says_that_the_feet_have_nothing_to_be_fixed_to():
    web = replace(grid_deck().webbing, front_to_back=(), side_to_side=())
    assert base(metric(webbing=web)).startswith("BASE No webbing, so the feet have nothing")


def test_the_csv_is_the_list_and_reads_back():
    materials = make_plan(metric()).materials
    rows = list(csv.DictReader(io.StringIO(materials_csv(materials))))
    assert [row["item"] for row in rows] == [m.item for m in materials]
    assert next(row["quantity"] for row in rows if row["item"] == "springs, seat") == "9"
    assert next(row["quantity"] for row in rows if row["item"] == "hessian") == "0.36"


def test_the_csv_of_a_deck_in_inches_has_feet():
    """3.89 m are 12.75 ft; burlap of 24 by 24 in is 4 square ft."""
    deck = grid_deck()
    rows = csv.DictReader(io.StringIO(materials_csv(make_plan(deck).materials, "in")))
    told = {row["item"]: (row["quantity"], row["unit"]) for row in rows}
    assert told["webbing, 3 1/2 in wide"] == ("12.75", "ft")
    assert told["burlap"] == ("4.00", "square ft")
    assert told["springs, seat"] == ("9", "pieces")


def listed(deck: Deck) -> str:
    return " ".join(" ".join(materials_section(deck, make_plan(deck).materials)).split())


def test_the_list_says_how_much_and_how_it_was_counted():
    text = listed(metric())
    assert "Springs, seat: 9; free height 152 mm" in text
    assert "Webbing, 89 mm wide: 3.9 m; front to back 3, side to side 3" in text
    assert "Hessian: one piece; 600 mm by 600 mm, 50 mm past the opening on each side." in text


def test_a_deck_in_inches_buys_by_the_foot():
    """3.89 m of webbing are 12.75 ft."""
    text = listed(grid_deck())
    assert "Webbing, 3 1/2 in wide: 13 ft;" in text


def test_time_is_listed_in_minutes():
    work = replace(grid_deck().work, minutes_per_spring=5.0)
    assert "Time: 45 minutes; 5 to a spring, as you set them." in listed(metric(work=work))


def test_each_tie_says_on_which_coil_its_outer_hitches_sit():
    deck = grid_deck()
    text = plan_to_text(make_plan(deck))
    assert text.count("Outer hitches on the third coil down at both ends, with return ties.") == 6
    top = replace(deck, tying=replace(deck.tying, rim_ring="top"))
    assert "Outer hitches" not in plan_to_text(make_plan(top))


def test_ends_at_rails_of_different_heights_are_told_one_by_one():
    sides = (replace(grid_deck().frame.sides[0], rail_top=45), *grid_deck().frame.sides[1:])
    deck = metric(frame=replace(grid_deck().frame, sides=sides))
    deck = replace(deck, twine=replace(deck.twine, return_tie=False))
    text = " ".join(plan_to_text(make_plan(deck)).split())
    assert "on the third coil down of C2 and the fourth coil down of A2." in text


def test_the_json_carries_hitches_strips_stitches_and_materials():
    """Johnson 1919: eight hitches a spring; four return ties come to each rim row besides."""
    plan = json.loads(plan_to_json(make_plan(metric())))
    hitches = plan["hitches"]
    assert sum(h["spring"] == "s5" for h in hitches) == 8
    assert sum(h["end"] != "return" for h in hitches) == 64
    assert set(hitches[0]) == {"line", "spring", "end", "ring", "x", "y", "z"}
    assert [s["cut_length"] for s in plan["webbing"]] == [650] * 6
    assert len(plan["stitching"]["stitches"]) == 36
    assert plan["stitching"]["bound"] == plan["stitching"]["route_length"]
    assert plan["stitching"]["exact"] is True
    assert {m["item"] for m in plan["materials"]} >= {"spring twine", "hessian"}


def test_the_json_of_a_plywood_deck_has_no_stitches():
    deck = metric(webbing=replace(grid_deck().webbing, fixed="plywood"))
    plan = json.loads(plan_to_json(make_plan(deck)))
    assert plan["webbing"] == []
    assert plan["stitching"]["stitches"] == []


def test_the_cut_lengths_are_those_of_the_count_rounded_up():
    plan = make_plan(metric())
    lines = json.loads(plan_to_json(plan))["lines"]
    for line, count in zip(lines, plan.parts.counts, strict=True):
        assert 0 <= line["cut_length"] - count.total < 10
        assert line["cut_length"] % 10 == 0


@pytest.mark.parametrize(
    ("fixed", "words"),
    [("under-rails", "under the rails;"), ("over-rails", "over the rails to their outer edges;")],
)
def test_where_the_webbing_is_fixed_is_told(fixed, words):
    web = replace(grid_deck().webbing, fixed=fixed)
    assert f"woven over and under by turns, fixed {words} 66 tacks" in base(metric(webbing=web))
