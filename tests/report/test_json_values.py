"""Every value of the plan's JSON, worked out a second time.

What follows from the deck alone is worked out from it in plain loops: gaps, paths, lengths, rings.
What other tests hold to account (where the ties run, strips, stitches, findings, materials) is
taken from the plan's parts, to be found in the JSON under its own name and rounded.
"""

import json
import math
from collections import Counter
from itertools import pairwise
from typing import Any

import pytest
from shapely import LineString, Point

from spring_layout.deck.files import read_deck
from spring_layout.deck.model import Coil, Deck, Spring
from spring_layout.plan import Plan, make_plan
from spring_layout.report.plan_json import plan_to_json
from spring_layout.resources import sample_decks_folder

SAMPLES = ("deliberate-faults", "notched-armchair", "tapered-dining-chair")
"""Straight sides all: one with findings and an open side, one with a finished height and blocks
that strips are split round, one in inches whose strips do not start at 0."""

FINISHED = {
    "deliberate-faults": None,
    "notched-armchair": 210 + 123 + 20 + 100,
    "tapered-dining-chair": 292 + 95.25 + 63.5 + 0,
}
"""From the floor up, mm: webbing, tied height, what lies over the springs, cushion."""


@pytest.fixture(scope="module", params=SAMPLES)
def both(request: pytest.FixtureRequest) -> tuple[Plan, dict[str, Any]]:
    """A sample's plan, and its JSON read back."""
    plan = make_plan(read_deck(sample_decks_folder() / f"{request.param}.deck.json"))
    return plan, json.loads(plan_to_json(plan))


def same(told: Any, wanted: Any, where: str = "$") -> None:
    """Whether ``told`` is ``wanted`` in shape and kind, and its lengths to 0.01 mm."""
    if isinstance(wanted, dict):
        assert isinstance(told, dict), where
        assert told.keys() == wanted.keys(), where
        for key, value in wanted.items():
            same(told[key], value, f"{where}.{key}")
    elif isinstance(wanted, list | tuple):
        assert isinstance(told, list), where
        assert len(told) == len(wanted), where
        for i, (one, other) in enumerate(zip(told, wanted, strict=True)):
            same(one, other, f"{where}[{i}]")
    elif isinstance(wanted, float):
        assert isinstance(told, int | float), where
        assert told == pytest.approx(wanted, abs=0.0051), where
        assert told == round(told, 2), where
    else:
        assert (told, type(told)) == (wanted, type(wanted)), where


def sizes(deck: Deck) -> dict[str, Coil]:
    """The spring size of each spring."""
    coils = {coil.id: coil for coil in deck.coils}
    return {spring.id: coils[spring.coil] for spring in deck.springs}


def test_the_head_names_format_version_and_deck(both):
    plan, told = both
    head = {key: told[key] for key in ("format", "version", "deck")}
    same(head, {"format": "spring-layout-plan", "version": 1, "deck": plan.deck.name})


def test_the_springs(both):
    plan, told = both
    hitches = Counter(h["spring"] for h in told["hitches"] if h["end"] != "return")
    wanted = [spring_told(plan, i, spring, hitches) for i, spring in enumerate(plan.deck.springs)]
    same(told["springs"], wanted)


def spring_told(plan: Plan, i: int, spring: Spring, hitches: Counter[str]) -> dict[str, Any]:
    deck, radius = plan.deck, {name: c.top_diameter / 2 for name, c in sizes(plan.deck).items()}
    gap, _, _, nearest = min(
        (
            round(math.hypot(o.x - spring.x, o.y - spring.y) - radius[o.id] - radius[spring.id], 6),
            *(o.y, o.x, o.id),
        )
        for o in deck.springs
        if o is not spring
    )
    corners = deck.frame.corners
    edges = [LineString((a, b)) for a, b in pairwise((*corners, corners[0]))]
    away, side = min(
        (round(e.distance(Point(spring.x, spring.y)), 6), k) for k, e in enumerate(edges)
    )
    return {
        "id": spring.id,
        "label": plan.parts.labels[spring.id],
        "x": float(spring.x),
        "y": float(spring.y),
        "nearest": nearest,
        "gap": gap,
        "nearest_side": side,
        "clearance": away - radius[spring.id],
        "tied_height": float(plan.parts.heights.tied[i]),
        "ties": hitches[spring.id],
    }


def test_the_lines(both):
    plan, told = both
    rows = [line_told(plan, number) for number in range(1, len(plan.parts.ties.lines) + 1)]
    same(told["lines"], rows)
    for line, count in zip(told["lines"], plan.parts.counts, strict=True):
        step = plan.deck.twine.step
        assert line["cut_length"] == pytest.approx(math.ceil(count.total / step) * step)


def line_told(plan: Plan, number: int) -> dict[str, Any]:
    deck, line = plan.deck, plan.parts.ties.lines[number - 1]
    tied = dict(zip(plan.parts.standing.ids, plan.parts.heights.tied.tolist(), strict=True))
    springs = {spring.id: spring for spring in deck.springs}
    ends: list[list[tuple[float, float, float]]] = [[], []]
    for end, (anchor, side) in enumerate(zip(line.anchors, line.sides, strict=True)):
        if anchor is not None and side is not None:
            own = deck.frame.sides[side].rail_top
            ends[end] = [(*anchor, deck.frame.rail_top if own is None else own)]
    over = [(springs[s].x, springs[s].y, tied[s]) for s in line.springs]
    way = [*ends[0], *over, *ends[1]]
    drape = math.fsum(math.dist(a, b) for a, b in pairwise(way))
    return {
        "number": number,
        "run": line.run,
        "springs": line.springs,
        "sides": line.sides,
        "anchors": [list(map(float, a)) if a else None for a in line.anchors],
        "path": [[float(x), float(y)] for x, y, _ in way],
        "along": [
            None if anchor is None or side is None else beside(deck, side, anchor)
            for anchor, side in zip(line.anchors, line.sides, strict=True)
        ],
        "drape": drape,
        "rule_length": 3 * drape,
        "cut_length": float(plan.parts.twine.lines[number - 1].cut_length),
    }


def beside(deck: Deck, side: int, place: tuple[float, float]) -> float:
    """How far along a straight side a place beside it lies, mm from the side's first corner."""
    (ax, ay), (bx, by) = (deck.frame.corners * 2)[side : side + 2]
    length = math.hypot(bx - ax, by - ay)
    return ((place[0] - ax) * (bx - ax) + (place[1] - ay) * (by - ay)) / length


def test_the_twine(both):
    plan, told = both
    cuts = [line["cut_length"] for line in told["lines"]]
    same(told["twine"], {"pieces": len(cuts), "cut_total": sum(cuts), "rule": plan.deck.twine.rule})
    (twine,) = [m for m in told["materials"] if m["item"] == "spring twine"]
    assert (twine["quantity"], twine["unit"]) == (pytest.approx(sum(cuts) / 1000), "m")


def test_the_crossings(both):
    plan, told = both
    ways = {line["number"]: LineString(line["path"]) for line in told["lines"]}
    wanted = []
    for crossing in plan.parts.ties.crossings:
        place = Point(crossing.place)
        assert all(ways[number].distance(place) <= 6 for number in crossing.lines)
        inside = [
            spring.id
            for spring in plan.deck.springs
            if place.distance(Point(spring.x, spring.y))
            <= sizes(plan.deck)[spring.id].top_diameter / 2
        ]
        wanted.append(
            {
                "x": float(crossing.place[0]),
                "y": float(crossing.place[1]),
                "lines": crossing.lines,
                "spring": crossing.spring,
                "tied_by": max(crossing.lines),
            }
        )
        assert crossing.spring in (inside or [None])
    same(told["crossings"], wanted)


def test_the_findings(both):
    plan, told = both
    for row, finding in zip(map(dict, told["findings"]), plan.findings, strict=True):
        digits = 3 if finding.code.startswith("SQUEEZE-") else 2
        for key in ("value", "limit"):
            number = getattr(finding, key)
            assert row.pop(key) == (
                None if number is None else pytest.approx(round(number, digits))
            )
        words = ("code", "severity", "message", "stage", "mend", "source")
        lists = ("springs", "lines", "sides")
        wanted = {key: getattr(finding, key) for key in words + lists}
        place = None if finding.place is None else [float(n) for n in finding.place]
        same(row, {**wanted, "place": place})


def test_the_heights(both, request):
    plan, told = both
    deck = plan.deck
    ((most, _),) = Counter(spring.coil for spring in deck.springs).most_common(1)
    free = next(coil.free_height for coil in deck.coils if coil.id == most)
    tied = deck.tying.tied_height
    heights = dict(told["heights"])
    assert heights.pop("squeeze") == pytest.approx((free - tied) / free, abs=5e-4)
    finished = FINISHED[request.node.callspec.params["both"]]
    wanted = {"tied_height": float(tied), "free_height": float(free)}
    same(heights, {**wanted, "finished_height": None if finished is None else float(finished)})


def test_the_hitches(both):
    plan, told = both
    tied = {spring["id"]: spring["tied_height"] for spring in told["springs"]}
    springs = {spring.id: spring for spring in plan.deck.springs}
    for row, hitch in zip(told["hitches"], plan.parts.hitches.in_order, strict=True):
        x, y, z = map(float, hitch.place)
        named = {key: getattr(hitch, key) for key in ("line", "spring", "end", "ring")}
        same(row, {**named, "x": x, "y": y, "z": z})
        down, radius = ring_of(sizes(plan.deck)[row["spring"]], row["ring"])
        spring = springs[row["spring"]]
        off = math.hypot(row["x"] - spring.x, row["y"] - spring.y)
        assert off == pytest.approx(radius, abs=0.01)
        assert row["z"] == pytest.approx(tied[spring.id] * (1 - down), abs=0.01)


def ring_of(coil: Coil, ring: int) -> tuple[float, float]:
    """How far down (share of the tied height) that ring of a double cone lies, and its radius."""
    assert coil.shape == "double-cone"
    down = (ring - 1) / (coil.turns - 1)
    end = coil.top_diameter if down <= 0.5 else coil.foot_diameter
    return down, (coil.waist_diameter + (end - coil.waist_diameter) * abs(1 - 2 * down)) / 2


def test_the_webbing(both):
    plan, told = both
    keys = ("run", "at", "width", "cut_length", "start", "finish", "split")
    strips = plan.parts.webbing.strips
    same(told["webbing"], [{key: getattr(strip, key) for key in keys} for strip in strips])
    for strip in told["webbing"]:
        assert strip["width"] == plan.deck.webbing.width
        assert strip["cut_length"] > strip["finish"] - strip["start"] > 0


def test_the_stitching(both):
    plan, told = both
    sewn, stitching = plan.stitching, told["stitching"]
    stitches = [
        {"spring": s.spring, "point": s.point, "x": float(s.place[0]), "y": float(s.place[1])}
        for s in sewn.stitches
    ]
    way = math.fsum(math.dist(a.place, b.place) for a, b in pairwise(sewn.stitches))
    # the decks have few enough feet for the shortest route
    lengths = {"route_length": way, "bound": way, "exact": True, "twine": float(sewn.twine)}
    same(stitching, {**lengths, "new_lengths": sewn.new_lengths, "stitches": stitches})


def test_the_materials(both):
    plan, told = both
    wanted = [
        {"item": m.item, "quantity": float(m.quantity), "unit": m.unit, "rule": m.rule}
        for m in plan.materials
    ]
    same(told["materials"], wanted)
    assert sum(
        m["quantity"] for m in told["materials"] if m["item"].startswith("springs, ")
    ) == len(plan.deck.springs)


def test_the_comparison_can_fail():
    row = {"x": 1.0, "name": "a", "sides": (0, None)}
    same({"x": 1.005, "name": "a", "sides": [0, None]} | {"x": 1.0}, row)
    for wrong in ({"x": 1.01}, {"x": 0}, {"x": None}, {"name": "b"}, {"sides": [0]}, {"more": 1}):
        with pytest.raises(AssertionError):
            same({"x": 1.0, "name": "a", "sides": [0, None]} | wrong, row)
