"""Sheets as they are ordered: any of them, either way round, with the margins that are wanted."""

from collections.abc import Iterator

import pytest

from spring_layout.drawing.orders import KINDS, Order, drawn, drawn_all
from spring_layout.drawing.paper import MARGIN, PAPERS, PaperError, Way, larger_papers
from spring_layout.drawing.primitives import Circle, Drawing, Group, Item
from spring_layout.drawing.template_correction import correction_from
from spring_layout.plan import Plan, make_plan
from tests.decks import grid_deck


@pytest.fixture(scope="module")
def plan() -> Plan:
    return make_plan(grid_deck())


def circles(items: tuple[Item, ...]) -> Iterator[Circle]:
    for item in items:
        if isinstance(item, Group):
            yield from circles(item.items)
        elif isinstance(item, Circle):
            yield item


def size(drawing: Drawing) -> tuple[float, float]:
    return round(drawing.width, 6), round(drawing.height, 6)


@pytest.mark.parametrize("sheet", KINDS)
@pytest.mark.parametrize("margin", [6.0, 14.0])
def test_a_sheet_with_other_margins_still_fills_its_paper(
    plan: Plan, sheet: str, margin: float
) -> None:
    pages = drawn(plan, Order(sheet, margin=margin))
    assert pages
    assert {tuple(sorted(size(page))) for page in pages} == {(210.0, 297.0)}  # ISO 216


@pytest.mark.parametrize("sheet", [name for name, kind in KINDS.items() if kind.turns])
@pytest.mark.parametrize(("way", "is_lying"), [("upright", False), ("lying", True)])
def test_a_sheet_that_turns_lies_as_it_is_wanted(
    plan: Plan, sheet: str, way: Way, is_lying: bool
) -> None:
    for page in drawn(plan, Order(sheet, way=way)):
        assert (page.width > page.height) == is_lying


def test_wider_margins_move_the_drawing_and_leave_its_scale_alone(plan: Plan) -> None:
    """On a tile of the template the pricking points keep their distances, at 1:1."""
    usual, wide = (
        drawn(plan, Order("template", paper="a2", margin=margin))[0] for margin in (MARGIN, 16.0)
    )
    first, second = list(circles(usual.items))[:2]
    moved_first, moved_second = list(circles(wide.items))[:2]
    apart = (second.x - first.x, second.y - first.y)
    assert (moved_second.x - moved_first.x, moved_second.y - moved_first.y) == pytest.approx(apart)
    assert dict(wide.data)["scale"] == "1"


def test_margins_that_leave_no_room_are_told_with_the_mend(plan: Plan) -> None:
    with pytest.raises(PaperError, match="choose narrower margins"):
        drawn(plan, Order("template", way="upright", margin=20.0))
    with pytest.raises(PaperError) as told:
        drawn(plan, Order("template", paper="210x110", way="upright"))
    assert "margins" not in str(told.value)


def test_a_corrected_template_still_fills_its_paper(plan: Plan) -> None:
    order = Order("template", margin=12.0, correction=correction_from("99 mm", "101 mm"))
    assert {tuple(sorted(size(page))) for page in drawn(plan, order)} == {(210.0, 297.0)}


def test_a_roll_keeps_its_width_with_wider_margins(plan: Plan) -> None:
    for margin in (MARGIN, 20.0):
        page = drawn(plan, Order("template", paper="roll-610", margin=margin))[0]
        assert 610.0 in size(page)


def test_several_sheets_are_drawn_at_once(plan: Plan) -> None:
    orders = (Order("diagram"), Order("side-view", line=2))
    made = drawn_all(plan, orders)
    assert tuple(made) == orders
    assert made[orders[0]] != made[orders[1]]


def test_a_sheet_with_wide_margins_does_not_recommend_its_own_size() -> None:
    from dataclasses import replace

    inner = replace(PAPERS["a3"], width=277, height=400)
    assert [paper.name for paper in larger_papers(inner)] == ["A2", "A1", "A0"]
