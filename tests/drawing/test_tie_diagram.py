"""The tie diagram: true to scale, legible, and by the contract of its ids."""

import itertools
import math

import msgspec
import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from spring_layout.deck.files import read_deck
from spring_layout.drawing import look
from spring_layout.drawing.paper import (
    PAPERS,
    paper_named,
    scale_words,
)
from spring_layout.drawing.primitives import Path
from spring_layout.drawing.sheet import tie_diagram
from spring_layout.drawing.svg import svg_bytes
from spring_layout.plan import make_plan
from spring_layout.resources import sample_decks
from tests.decks import grid_deck
from tests.drawing.golden import difference
from tests.drawing.hand_tied import hand_tied
from tests.drawing.legible import assert_labels_keep_clear, assert_legible, words_of
from tests.drawing.reading import (
    SVG,
    by_id,
    items,
    of_kind,
    parsed,
    rings,
    shape_of,
    tie_lines,
)
from tests.random_decks import random_deck

SAMPLES = [path.name.removesuffix(".deck.json") for path in sample_decks()]
GROUPS = ["webbing", "frame", "springs", "ties", "crossings", "labels"]


def sample_plan(name):
    return make_plan(read_deck(next(p for p in sample_decks() if p.name.startswith(name))))


@pytest.fixture(scope="module")
def plans():
    return {name: sample_plan(name) for name in SAMPLES}


@pytest.fixture(scope="module")
def stool():
    return hand_tied(grid_deck(), 3, 3)


class TestContract:
    def test_the_groups_and_ids_are_there(self, stool):
        root = parsed(svg_bytes(tie_diagram(stool, PAPERS["a4"])))
        found = by_id(root)
        assert [e.attrib["id"] for e in root.iter(f"{SVG}g") if "id" in e.attrib][:6] == GROUPS
        for spring in stool.deck.springs:
            assert found[f"spring-{spring.id}"].tag == f"{SVG}circle"
        for line in stool.parts.ties.lines:
            element = found[f"line-{line.number}"]
            assert element.tag == f"{SVG}path"
            assert element.attrib["data-run"] == line.run
        knots = [e for e in root.iter() if e.attrib.get("class") == "crossing"]
        assert len(knots) == len(stool.parts.ties.crossings)
        assert root.attrib["data-scale"] == "4"
        assert root.find(f"{SVG}title").text == "Tie diagram: 3 by 3"
        assert "9 springs, 12 ties" in root.find(f"{SVG}desc").text

    def test_ids_are_unique(self, plans):
        for plan in plans.values():
            root = parsed(svg_bytes(tie_diagram(plan, PAPERS["a4"])))
            ids = [e.attrib["id"] for e in root.iter() if "id" in e.attrib]
            assert len(ids) == len(set(ids))

    def test_a_tie_runs_through_its_springs_between_its_tack_points(self, stool):
        drawing = tie_diagram(stool, PAPERS["a4"])
        places = {ring.tag.id.removeprefix("spring-"): (ring.x, ring.y) for ring in rings(drawing)}
        for line, drawn in zip(stool.parts.ties.lines, tie_lines(drawing), strict=True):
            inner = list(drawn.coords)[1:-1]
            assert inner == [pytest.approx(places[name]) for name in line.springs]

    def test_a_knot_is_filled_at_a_spring_and_open_between(self, stool):
        drawing = tie_diagram(stool, PAPERS["a4"])
        knots = of_kind(drawing, "crossing")
        for knot, crossing in zip(knots, stool.parts.ties.crossings, strict=True):
            assert knot.fill == (look.INK if crossing.spring else look.PAPER)

    def test_the_same_plan_gives_the_same_bytes(self, plans):
        for name, plan in plans.items():
            again = sample_plan(name)
            first = svg_bytes(tie_diagram(plan, PAPERS["a4"]))
            assert first == svg_bytes(tie_diagram(again, PAPERS["a4"]))


class TestScale:
    @pytest.mark.parametrize("paper", ["a4", "letter", "a3", "a1"])
    def test_springs_stand_as_far_apart_as_the_scale_says(self, plans, paper):
        for plan in plans.values():
            drawing = tie_diagram(plan, PAPERS[paper])
            scale = float(dict(drawing.data)["scale"])
            drawn = {r.tag.id.removeprefix("spring-"): r for r in rings(drawing)}
            deck = plan.deck
            for a, b in itertools.pairwise(deck.springs):
                apart = math.dist((a.x, a.y), (b.x, b.y))
                ra, rb = drawn[a.id], drawn[b.id]
                assert math.dist((ra.x, ra.y), (rb.x, rb.y)) * scale == pytest.approx(
                    apart, abs=0.01
                )
                assert ra.radius * scale == pytest.approx(deck.coil_of(a).top_radius, abs=0.01)

    def test_the_file_keeps_that_to_its_three_decimals(self, stool):
        found = by_id(parsed(svg_bytes(tie_diagram(stool, PAPERS["a4"]))))
        a, b = found["spring-s1"].attrib, found["spring-s3"].attrib
        assert (float(b["cx"]) - float(a["cx"])) * 4 == pytest.approx(284, abs=0.01)

    def test_the_scale_bar_is_true_to_scale(self, plans):
        for plan in plans.values():
            drawing = tie_diagram(plan, PAPERS["a4"])
            scale = float(dict(drawing.data)["scale"])
            bars = [item for item in items(drawing) if isinstance(item, Path) and is_bar_step(item)]
            long = sum(step.steps[1].x - step.steps[0].x for step in bars) * scale
            unit = 25.4 if plan.deck.units == "in" else 1.0
            last = next(
                w
                for w in words_of(drawing)
                if w.endswith(f" {plan.deck.units}")
                and w.split()[0].isdigit()
                and len(w.split()) == 2
                and math.isclose(float(w.split()[0]) * unit, long, rel_tol=1e-6)
            )
            assert last

    def test_the_scale_is_written_in_figures(self, plans):
        for plan in plans.values():
            drawing = tie_diagram(plan, PAPERS["a4"])
            scale = float(dict(drawing.data)["scale"])
            assert scale_words(scale, plan.deck.units) in words_of(drawing)


def is_bar_step(path):
    """Whether a path is one of the scale bar's four steps."""
    if len(path.steps) != 5 or path.stroke != look.RULE or path.fill is None:
        return False
    return math.isclose(path.steps[2].y - path.steps[1].y, 1.4, abs_tol=1e-9)


class TestLegible:
    @pytest.mark.parametrize("paper", ["a4", "letter", "a3"])
    @pytest.mark.parametrize("name", SAMPLES)
    def test_every_sample_is_legible(self, plans, name, paper):
        drawing = tie_diagram(plans[name], PAPERS[paper])
        assert_legible(drawing)
        assert_labels_keep_clear(drawing)

    @settings(max_examples=12)
    @given(seed=st.integers(0, 10_000), paper=st.sampled_from(["a4", "letter", "a2", "297x210"]))
    def test_any_deck_is_legible(self, seed, paper):
        drawing = tie_diagram(make_plan(random_deck(seed, most=24)), paper_named(paper))
        assert_legible(drawing)
        assert_labels_keep_clear(drawing)

    @pytest.mark.larger
    @pytest.mark.parametrize("seed", range(40))
    def test_forty_more_decks_are_legible(self, seed):
        plan = make_plan(random_deck(seed, most=40))
        for paper in ("a4", "tabloid"):
            drawing = tie_diagram(plan, PAPERS[paper])
            assert_legible(drawing)
            assert_labels_keep_clear(drawing)

    def test_every_spring_and_both_ends_of_every_tie_are_labelled(self, plans):
        for plan in plans.values():
            drawing = tie_diagram(plan, PAPERS["a3"])
            labels = [text.words for text in of_kind(drawing, "spring-label")]
            assert sorted(labels) == sorted(plan.parts.labels.values())
            ends = [end for line in plan.parts.ties.lines for end in line.anchors if end]
            assert len(of_kind(drawing, "tie-number")) == len(ends)
            assert len(of_kind(drawing, "distance")) == len(ends)
            assert len(of_kind(drawing, "tack")) == len(ends)

    def test_the_rails_are_named_and_have_centre_marks(self, stool):
        drawing = tie_diagram(stool, PAPERS["a4"])
        names = {text.words for text in of_kind(drawing, "rail-name")}
        assert names == {"BACK", "FRONT", "LEFT", "RIGHT"}
        assert len(of_kind(drawing, "centre-mark")) == 5  # four rails and the key

    def test_a_label_is_nearest_to_its_own_spring(self, plans):
        for plan in plans.values():
            drawing = tie_diagram(plan, PAPERS["a4"])
            by_label = {
                plan.parts.labels[r.tag.id.removeprefix("spring-")]: r for r in rings(drawing)
            }
            for text in of_kind(drawing, "spring-label"):
                middle = shape_of(text).centroid
                away = {n: math.dist((middle.x, middle.y), (r.x, r.y)) for n, r in by_label.items()}
                assert min(away, key=away.__getitem__) == text.words

    @pytest.mark.parametrize("paper", ["a4", "letter"])
    def test_no_two_labels_stand_between_the_same_two_springs(self, plans, paper):
        for plan in plans.values():
            drawing = tie_diagram(plan, PAPERS[paper])
            middles = [shape_of(text).centroid for text in of_kind(drawing, "spring-label")]
            round_ = {r.tag.id.removeprefix("spring-"): r for r in rings(drawing)}
            for i, j in plan.parts.spaces.neighbours.tolist():
                one, other = (round_[plan.parts.standing.ids[k]] for k in (i, j))
                way = shapely.LineString([(one.x, one.y), (other.x, other.y)])
                gap = way.buffer(one.radius, cap_style="flat")
                gap -= shapely.Point(one.x, one.y).buffer(one.radius)
                gap -= shapely.Point(other.x, other.y).buffer(other.radius)
                assert sum(gap.contains(middle) for middle in middles) <= 1, plan.deck.name

    @pytest.mark.parametrize("paper", ["a4", "letter"])
    def test_a_rails_name_outside_stands_off_the_distances_where_there_is_room(self, plans, paper):
        drawing = tie_diagram(plans["big-settee"], PAPERS[paper])
        told = shapely.MultiPolygon([shape_of(text) for text in of_kind(drawing, "distance")])
        names = of_kind(drawing, "rail-name")
        assert len(names) == 4
        assert all(shape_of(name).distance(told) > 2.0 for name in names)

    def test_the_four_runs_differ_without_colour(self):
        dashes = {run.stroke.dashes for run in look.RUN_LOOKS.values()}
        assert len(dashes) == 4
        weights = [run.stroke.width for run in look.RUN_LOOKS.values()]
        assert max(weights) > min(weights)

    @pytest.mark.parametrize("colour", [look.INK, look.SOFT_INK])
    @pytest.mark.parametrize("ground", [look.PAPER, look.WOOD, look.JUTE])
    def test_words_stand_out_from_their_ground(self, colour, ground):
        assert contrast(colour, ground) >= 4.5

    @pytest.mark.parametrize("run", list(look.RUN_LOOKS.values()))
    @pytest.mark.parametrize("ground", [look.PAPER, look.WOOD, look.JUTE])
    def test_ties_stand_out_from_their_ground(self, run, ground):
        assert contrast(run.stroke.colour, ground) >= 3.0


def contrast(one, other):
    """The contrast ratio of WCAG 2 (W3C recommendation, from memory)."""

    def luminance(colour):
        parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        return float(np.dot(linear, (0.2126, 0.7152, 0.0722)))

    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


class TestTackPoints:
    def test_distances_are_told_from_the_centre_mark(self, stool):
        """142 mm apart about the middle: 5 5/8 in to the left and right, 0 in the middle."""
        drawing = tie_diagram(stool, PAPERS["a4"])
        told = drawing_groups(drawing, "tack-point")
        back = {g.items[-1].words for g in told if data(g)["line"] in ("1", "2", "3")}
        assert back == {"5 5/8 L", "0", "5 5/8 R"}
        level = {g.items[-1].words for g in told if data(g)["line"] in ("4", "5", "6")}
        assert level == {"5 5/8 B", "0", "5 5/8 F"}

    def test_on_a_bowed_side_they_are_told_along_the_edge(self, plans):
        plan = plans["bow-fronted-easy-chair"]
        outline = plan.parts.standing.outline
        told = drawing_groups(tie_diagram(plan, PAPERS["a4"]), "tack-point")
        measured = sorted(float(data(group)["from-centre"]) for group in told)
        wanted = sorted(
            round(along - outline.sides[side].length / 2, 2) + 0.0
            for line in plan.parts.ties.lines
            for side, along in zip(line.sides, line.along, strict=True)
        )
        assert measured == pytest.approx(wanted, abs=0.011)


def drawing_groups(drawing, kind):
    """The groups of that kind, wherever they are."""
    found, waiting = [], list(drawing.items)
    while waiting:
        item = waiting.pop(0)
        if hasattr(item, "items"):
            waiting += item.items
            if item.tag.kind == kind:
                found.append(item)
    return found


def data(group):
    return dict(group.tag.data)


class TestTold:
    def test_the_numbers_that_matter_are_there(self, stool):
        told = words_of(tie_diagram(stool, PAPERS["a4"]))
        for words in ("9 of 6 in free, 0.144 in wire", "4 1/2 in", "clove hitch"):
            assert words in told
        assert any(words.startswith("12 pieces, about ") for words in told)

    def test_cautions_are_there(self, stool):
        told = " ".join(words_of(tie_diagram(stool, PAPERS["a4"])))
        assert "eye protection" in told
        assert "qualified upholsterer" in told.replace("  ", " ")

    def test_a_deck_that_is_wrong_says_so(self, plans):
        told = " ".join(words_of(tie_diagram(plans["deliberate-faults"], PAPERS["a4"])))
        assert "wrong with this deck" in told
        sound = " ".join(words_of(tie_diagram(plans["square-stool"], PAPERS["a4"])))
        assert "wrong with this deck" not in sound

    def test_the_note_is_there(self):
        deck = msgspec.structs.replace(grid_deck(), note="Beech, sound.")
        assert "Beech, sound." in words_of(tie_diagram(make_plan(deck), PAPERS["a4"]))


class TestGolden:
    def test_the_picture_is_the_one_that_was_looked_at(self, stool):
        assert difference("stool-a4", svg_bytes(tie_diagram(stool, PAPERS["a4"]))) == ""

    def test_the_comparison_can_fail(self, stool, monkeypatch):
        monkeypatch.delenv("REWRITE_GOLDEN", raising=False)
        svg = svg_bytes(tie_diagram(stool, PAPERS["a4"]))
        moved = svg.replace(b'id="spring-s5"', b'id="spring-s6"')
        assert "spring-s6" in difference("stool-a4", moved)
        assert "lines, golden" in difference("stool-a4", svg + b"<!-- more -->\n")

    def test_the_rewrite_switch_writes_the_picture(self, stool, monkeypatch, tmp_path):
        monkeypatch.setenv("REWRITE_GOLDEN", "1")
        svg = svg_bytes(tie_diagram(stool, PAPERS["letter"]))
        assert difference("new", svg, tmp_path) == ""
        assert "line-12" in (tmp_path / "new.svg").read_text()
