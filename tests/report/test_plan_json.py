"""The plan as JSON keeps its contract to the letter."""

import json
import math
import re
from itertools import pairwise
from typing import Any

import msgspec
import pytest

from spring_layout.deck.model import Deck, Side
from spring_layout.plan import make_plan
from spring_layout.report.plan_json import plan_to_dict, plan_to_json
from tests.checks.made import framed, moved, tied
from tests.decks import grid_deck, straight_frame

CONTRACT = {
    "springs": {
        *("id", "label", "x", "y", "nearest", "gap", "nearest_side", "clearance"),
        *("tied_height", "ties"),
    },
    "lines": {
        *("number", "run", "springs", "sides", "anchors", "path", "drape", "rule_length"),
        "cut_length",
    },
    "crossings": {"x", "y", "lines", "spring", "tied_by"},
    "findings": {"code", "severity", "message", "springs", "lines", "value", "limit"},
    "twine": {"pieces", "cut_total", "rule"},
    "heights": {"tied_height", "free_height", "squeeze", "finished_height"},
    "hitches": {"line", "spring", "end", "ring", "x", "y", "z"},
    "webbing": {"run", "at", "width", "cut_length"},
    "stitching": {"route_length", "bound", "exact", "stitches"},
    "materials": {"item", "quantity", "unit", "rule"},
}
"""The fields that other programs build on, by the section that has them, or whose rows do."""


def plan_of(deck: Deck) -> dict[str, Any]:
    whole: dict[str, Any] = json.loads(plan_to_json(make_plan(deck)))
    return whole


def test_the_head_says_what_it_is():
    plan = plan_of(grid_deck())
    assert plan["format"] == "spring-layout-plan"
    assert plan["version"] == 1
    assert plan["deck"] == "3 by 3"


@pytest.mark.parametrize("section", CONTRACT)
def test_every_field_of_the_contract_is_there(section):
    told = plan_of(moved(grid_deck(), s5=(208, 250)))[section]
    rows = told if isinstance(told, list) else [told]
    assert rows
    assert all(CONTRACT[section] <= row.keys() for row in rows)


def test_the_contract_is_of_every_section_and_of_each_stitch():
    plan = plan_of(grid_deck())
    assert plan.keys() == {"format", "version", "deck", *CONTRACT}
    stitches = plan["stitching"]["stitches"]
    assert all({"spring", "point", "x", "y"} <= stitch.keys() for stitch in stitches)
    assert {stitch["point"] for stitch in stitches} == {"back", "right", "front", "left"}


def test_a_spring_tells_its_place_nearest_gap_and_ties():
    spring = plan_of(grid_deck())["springs"][0]
    assert spring["id"] == "s1"
    assert spring["label"] == "A1"
    assert (spring["x"], spring["y"]) == (108, 108)
    assert (spring["nearest"], spring["gap"]) == ("s2", 50)
    assert (spring["nearest_side"], spring["clearance"]) == (0, 62)
    assert spring["tied_height"] == 115
    assert spring["ties"] == 6


def test_the_middle_spring_has_eight_hitches():
    assert plan_of(grid_deck())["springs"][4]["ties"] == 8


def test_the_twelve_pieces_of_a_square_deck_have_64_hitches():
    plan = plan_of(grid_deck())
    assert plan["twine"]["pieces"] == len(plan["lines"]) == 12
    assert sum(spring["ties"] for spring in plan["springs"]) == 64


def test_a_lone_spring_has_no_nearest():
    (spring,) = plan_of(grid_deck(1, 1))["springs"]
    assert spring["nearest"] is None
    assert spring["gap"] is None


def test_a_path_runs_from_anchor_over_the_springs_to_anchor():
    plan = plan_of(grid_deck())
    centres = {spring["id"]: [spring["x"], spring["y"]] for spring in plan["springs"]}
    for line in plan["lines"]:
        over = [centres[spring] for spring in line["springs"]]
        assert line["path"] == [line["anchors"][0], *over, line["anchors"][1]]


def test_a_line_without_a_rail_has_a_null_anchor_and_side():
    sides = list(straight_frame().sides)
    sides[2] = Side(rail="none", bow=0)
    plan = plan_of(framed(grid_deck(), sides=tuple(sides)))
    line = next(line for line in plan["lines"] if line["run"] == "front-to-back")
    assert line["anchors"][0] is None
    assert line["sides"][0] is None
    assert len(line["path"]) == len(line["springs"]) + 1


def test_the_drape_is_the_polyline_in_space():
    plan = plan_of(tied(grid_deck(), crown=15))
    heights = {spring["id"]: spring["tied_height"] for spring in plan["springs"]}
    for line in plan["lines"]:
        z = [75, *(heights[spring] for spring in line["springs"]), 75]
        places = [(*place, up) for place, up in zip(line["path"], z, strict=True)]
        drape = sum(math.dist(a, b) for a, b in pairwise(places))
        assert line["drape"] == pytest.approx(drape, abs=0.05)
        assert line["rule_length"] == pytest.approx(3 * drape, abs=0.1)


def test_pieces_add_up():
    plan = plan_of(grid_deck())
    total = sum(line["cut_length"] for line in plan["lines"])
    assert plan["twine"]["cut_total"] == pytest.approx(total)
    assert plan["twine"]["rule"] == "over-springs-3"


def test_each_knot_is_made_by_the_tie_that_comes_last():
    for crossing in plan_of(grid_deck())["crossings"]:
        assert crossing["tied_by"] == max(crossing["lines"])


def test_findings_carry_value_limit_and_springs():
    plan = plan_of(moved(grid_deck(), s5=(208, 250)))
    (finding,) = [f for f in plan["findings"] if f["code"] == "GAP-SMALL"]
    assert finding["severity"] == "doubtful"
    assert finding["springs"] == ["s4", "s5"]
    assert finding["lines"] == []
    assert (finding["value"], finding["limit"]) == (8, 10)


def test_shares_keep_three_decimals():
    plan = plan_of(tied(grid_deck(), tied_height=135))
    (finding,) = [f for f in plan["findings"] if f["code"] == "SQUEEZE-SMALL"]
    assert finding["value"] == pytest.approx(0.112)
    assert plan["heights"]["squeeze"] == pytest.approx(0.112)


def numbers_in(value: Any) -> list[float]:
    if isinstance(value, dict):
        return [n for item in value.values() for n in numbers_in(item)]
    if isinstance(value, list):
        return [n for item in value for n in numbers_in(item)]
    return [value] if isinstance(value, float) else []


def test_lengths_are_written_to_a_hundredth_of_a_millimetre_and_never_as_minus_zero():
    deck = tied(moved(grid_deck(), s5=(250.333, 249.667)), crown=7.77)
    shifted = tuple(msgspec.structs.replace(s, x=s.x - 250, y=s.y - 250) for s in deck.springs)
    corners = tuple((x - 250, y - 250) for x, y in deck.frame.corners)
    deck = framed(msgspec.structs.replace(deck, springs=shifted), corners=corners)
    text = plan_to_json(make_plan(deck))
    assert not re.search(r"-0(\.0+)?[,\]}\s]", text)
    plan = json.loads(text)
    for section in ("springs", "lines", "crossings", "twine"):
        assert all(round(n, 2) == n for n in numbers_in(plan[section]))


def test_the_same_deck_gives_the_same_bytes():
    deck = grid_deck(4, 5)
    assert plan_to_json(make_plan(deck)) == plan_to_json(make_plan(deck))


def test_an_empty_deck_has_a_plan_too():
    plan = plan_of(msgspec.structs.replace(grid_deck(), springs=()))
    assert plan["springs"] == plan["lines"] == plan["crossings"] == plan["findings"] == []


def test_the_text_is_the_dictionary():
    plan = make_plan(grid_deck())
    assert json.loads(plan_to_json(plan)) == json.loads(json.dumps(plan_to_dict(plan)))
