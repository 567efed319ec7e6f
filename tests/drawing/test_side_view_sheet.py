"""The side view drawn: its sheet and its picture, their words, coils and colours."""

import math
from itertools import combinations

import numpy as np
import pytest
import shapely

from spring_layout.deck import edits
from spring_layout.deck.files import read_deck
from spring_layout.deck.model import Deck
from spring_layout.drawing.paper import paper_named, scales
from spring_layout.drawing.primitives import Circle, Drawing, Group, Path
from spring_layout.drawing.side_view import Across, side_picture, side_view
from spring_layout.drawing.side_view_coil import Upright, coil_items
from spring_layout.drawing.side_view_look import DARK, LIGHT, SideColours
from spring_layout.drawing.side_view_section import section_of
from spring_layout.drawing.svg import svg_bytes
from spring_layout.gui.theme.contrast import contrast
from spring_layout.plan import make_plan
from spring_layout.planning.coil_shape import rings_of
from spring_layout.resources import sample_decks
from tests.decks import SEAT_COIL, grid_deck
from tests.drawing.cut import A4, SCREEN, sample
from tests.drawing.reading import by_id, items, of_kind, parsed, shape_of, texts

# on paper -----------------------------------------------------------------------------------------


def hitches(drawing: Drawing) -> list[Circle]:
    return [item for item in of_kind(drawing, "hitch") if isinstance(item, Circle)]


@pytest.mark.parametrize("paper", ["a4", "letter", "a2"])
def test_the_sheet_is_drawn_at_the_usual_scale_that_it_states(paper: str) -> None:
    plan = sample("square-stool")
    drawing = side_view(plan, 2, paper_named(paper))
    scale = float(dict(drawing.data)["scale"])
    assert scale in [s for s, _ in zip(scales(), range(20), strict=False)]
    assert f"Scale 1 : {scale:g}" in [t.words for t in texts(drawing)]
    section = section_of(plan.parts, 2)
    drawn = hitches(drawing)
    for (one, a), (other, b) in combinations(zip(section.hitches, drawn, strict=True), 2):
        real = math.dist(one.place, other.place)
        assert math.dist((a.x, a.y), (b.x, b.y)) * scale == pytest.approx(real, abs=0.1)


def clear_of_each_other(drawing: Drawing) -> None:
    shapes = [(t.words, shape_of(t)) for t in texts(drawing)]
    sheet = shapely.box(0, 0, drawing.width, drawing.height)
    for words, shape in shapes:
        assert sheet.contains(shape), f"{words} runs off the sheet"
    for (one, a), (other, b) in combinations(shapes, 2):
        assert a.intersection(b).area < 1e-6, f"{one} lies on {other}"


@pytest.mark.parametrize("path", sample_decks(), ids=lambda p: p.name.split(".")[0])
def test_no_words_lie_upon_each_other_or_off_the_picture(path: object) -> None:
    plan = make_plan(read_deck(path))  # type: ignore[arg-type]  # a path
    numbers = [1, 2, len(plan.parts.ties.lines) // 2, len(plan.parts.ties.lines)]
    for number in sorted(set(numbers)):
        clear_of_each_other(side_picture(plan, number, SCREEN))
        clear_of_each_other(side_view(plan, number, A4))
    x0, y0, x1, y1 = plan.parts.standing.outline.bounds
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    for angle in (0.0, 30.0, 270.0):
        clear_of_each_other(side_picture(plan, Across(middle, angle), SCREEN))


def test_no_lettering_is_lower_than_two_millimetres() -> None:
    drawing = side_view(sample("big-settee"), 3, A4)
    # a font's size is its capitals' height over 0.7
    assert min(t.size for t in texts(drawing)) * 0.7 >= 2.0 - 1e-6


def test_every_spring_has_its_label_and_height_while_there_is_room() -> None:
    plan = sample("bow-fronted-easy-chair")
    written = [t.words for t in texts(side_picture(plan, 1, SCREEN))]
    row = plan.parts.standing.index
    for name in plan.parts.ties.lines[0].springs:
        assert plan.parts.labels[name] in written
    tied = [plan.parts.heights.tied[row[s]] for s in plan.parts.ties.lines[0].springs]
    assert tied[0] == pytest.approx(127.0)
    assert "5 in" in written
    mm = make_plan(edits.set_units(plan.deck, "mm"))
    assert "127 mm" in [t.words for t in texts(side_picture(mm, 1, SCREEN))]


def test_where_springs_stand_close_the_outer_heights_stay() -> None:
    plan = make_plan(grid_deck(2, 30, pitch=100, margin=80))
    number = next(k.number for k in plan.parts.ties.lines if k.run == "side-to-side")
    drawing = side_picture(plan, number, (90.0, 40.0))
    labels = [t.words for t in texts(drawing) if t.tag.kind == "spring"]
    first, last = (plan.parts.labels[s] for s in plan.parts.ties.lines[number - 1].springs[::29])
    assert {first, last} <= set(labels)
    assert len(labels) < 30
    clear_of_each_other(drawing)


def test_a_lower_coil_with_a_hitch_has_its_number_beside_it() -> None:
    plan = sample("square-stool")
    section = section_of(plan.parts, 2)
    lower = [hitch.ring for hitch in section.hitches if hitch.ring > 1]
    written = [t.words for t in texts(side_picture(plan, 2, SCREEN)) if t.tag.kind == "ring-number"]
    assert lower
    assert written == [str(ring) for ring in lower]


def test_the_sheet_tells_what_is_counted_beside_the_rule_of_thumb() -> None:
    plan = sample("square-stool")
    told = " ".join(t.words for t in texts(side_view(plan, 2, A4)))
    assert "Counted from its hitches and knots 49 3/8 in" in told
    assert "cut 56 in" in told
    assert "Three times the length over the springs would be 61 1/4 in" in told


def test_the_svg_names_its_springs_and_its_tie() -> None:
    plan = sample("square-stool")
    root = parsed(svg_bytes(side_view(plan, 2, A4)))
    ids = by_id(root)
    assert {f"spring-{s}" for s in plan.parts.ties.lines[1].springs} <= ids.keys()
    assert ids["line-2"].attrib["data-run"] == plan.parts.ties.lines[1].run
    assert root.attrib["data-scale"] == "2.5"
    assert svg_bytes(side_view(plan, 2, A4)) == svg_bytes(side_view(plan, 2, A4))


def test_a_plywood_floor_takes_the_webbings_place() -> None:
    plan = make_plan(edits.set_webbing(grid_deck(), fixed="plywood"))
    drawing = side_picture(plan, 1, SCREEN)
    floors = [i for i in items(drawing) if isinstance(i, Path) and i.tag.id == "webbing"]
    assert len(floors) == 1
    assert floors[0].fill == LIGHT.wood


# coils --------------------------------------------------------------------------------------------


def drawn_places(group: Group) -> np.ndarray:
    return np.array(
        [(s.x, s.y) for item in group.items if isinstance(item, Path) for s in item.steps]  # type: ignore[union-attr]  # moves and lines
    )


@pytest.mark.parametrize("turns", [3, 4.5, 6, 7.5])
def test_a_coil_is_wound_through_both_edges_of_every_ring(turns: float) -> None:
    coil = edits.change_coil(grid_deck(), "seat", turns=turns).coils[0]
    view = Upright(1.0, 0.0, 0.0)
    rings = rings_of(coil, 115.0)
    wound = drawn_places(coil_items(rings, coil.wire, 0.0, view, LIGHT, tag=Group(()).tag))
    for ring in rings:
        for side in (-1, 1):
            edge = (side * ring.radius, -ring.height)
            nearest = np.hypot(*(wound - edge).T).min()
            assert nearest <= coil.wire, f"ring {ring.number} is not where its hitch would sit"
    assert wound[:, 1].max() <= 0.1 * coil.top_radius, "nothing hangs through the webbing"
    assert np.abs(wound[:, 0]).max() <= coil.top_radius


def test_the_last_half_turn_of_a_coil_lies_on_the_webbing() -> None:
    coil = edits.change_coil(grid_deck(), "seat", turns=5.5).coils[0]
    assert rings_of(coil, 115.0)[-1].height > 5.0
    group = coil_items(
        rings_of(coil, 115.0), coil.wire, 0.0, Upright(1.0, 0, 0), LIGHT, tag=Group(()).tag
    )
    assert drawn_places(group)[:, 1].max() > 0.0


def test_thin_wire_far_off_is_still_seen() -> None:
    tag = Group(()).tag
    far = coil_items(rings_of(SEAT_COIL, 115.0), 3.66, 0.0, Upright(20.0, 0, 0), LIGHT, tag=tag)
    widths = [i.stroke.width for i in far.items if isinstance(i, Path) and i.stroke]
    assert min(widths) >= 0.25


# colours ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
def test_words_and_lines_stand_out_on_their_grounds(colours: SideColours) -> None:
    """W3C, Web Content Accessibility Guidelines 2.1, criteria 1.4.3 and 1.4.11."""
    for text in (colours.ink, colours.soft, colours.accent):
        assert contrast(text, colours.paper) >= 4.5
    for line in (colours.wire, colours.wood_edge, colours.jute_edge, *colours.runs.values()):
        assert contrast(line, colours.paper) >= 3.0


def test_a_deck_of_one_spring_can_be_looked_at_from_the_side() -> None:
    deck: Deck = edits.remove_springs(grid_deck(), [f"s{i}" for i in range(2, 10)])
    plan = make_plan(deck)
    for line in plan.parts.ties.lines:
        clear_of_each_other(side_picture(plan, line.number, SCREEN))


def _first_rail_and_strip(fixed: str) -> tuple[np.ndarray, tuple[float, float]]:
    """The corners of the left rail, and where the strip that comes to it ends, mm on paper."""
    plan = make_plan(edits.set_webbing(grid_deck(), fixed=fixed))
    paths = [i for i in items(side_view(plan, 1, A4)) if isinstance(i, Path)]
    woods = [_places(path) for path in paths if path.fill == LIGHT.wood]
    jute = [_places(p) for p in paths if p.stroke is not None and p.stroke.colour == LIGHT.jute]
    rail = min(woods, key=lambda places: float(places[:, 0].min()))
    ends = np.concatenate(jute)
    x, y = ends[ends[:, 0].argmin()].tolist()
    return rail, (x, y)


def _places(path: Path) -> np.ndarray:
    return np.array([(s.x, s.y) for s in path.steps if hasattr(s, "x")])


def test_webbing_under_the_rails_ends_below_the_middle_of_the_rail() -> None:
    rail, (x, y) = _first_rail_and_strip("under-rails")
    assert x == pytest.approx((rail[:, 0].min() + rail[:, 0].max()) / 2, abs=0.01)
    assert y >= rail[:, 1].max()


def test_webbing_over_the_rails_lies_on_their_tops_to_their_outer_edges() -> None:
    rail, (x, y) = _first_rail_and_strip("over-rails")
    assert x == pytest.approx(rail[:, 0].min(), abs=0.01)
    assert y <= rail[:, 1].min()


def test_webbing_over_the_rails_is_painted_over_them() -> None:
    for fixed, order in (("under-rails", ["base", "frame"]), ("over-rails", ["frame", "base"])):
        plan = make_plan(edits.set_webbing(grid_deck(), fixed=fixed))
        groups = [g.tag.id for g in side_view(plan, 1, A4).items if isinstance(g, Group)]
        assert [name for name in groups if name in ("base", "frame")] == order
