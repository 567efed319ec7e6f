"""``make_plan``: pure, whole, the same every time."""

import msgspec
import pytest

from spring_layout.deck.model import Frame
from spring_layout.geometry.outline import OutlineError
from spring_layout.plan import make_plan
from spring_layout.report.plan_json import plan_to_json
from tests.decks import grid_deck


def test_planning_leaves_the_deck_as_it_was():
    deck = grid_deck()
    before = msgspec.json.encode(deck)
    plan = make_plan(deck)
    assert plan.deck is deck
    assert msgspec.json.encode(deck) == before


def test_every_part_tells_of_every_spring():
    parts = make_plan(grid_deck(2, 4)).parts
    ids = {spring.id for spring in parts.deck.springs}
    assert set(parts.labels) == ids
    assert {spring for row in parts.rows for spring in row} == ids
    assert len(parts.heights.tied) == len(parts.spaces.gap) == 8
    assert len(parts.twine.lines) == len(parts.ties.lines)


def test_names_of_springs_change_nothing():
    deck = grid_deck()
    renamed = {spring.id: f"other-{i}" for i, spring in enumerate(reversed(deck.springs))}
    springs = tuple(msgspec.structs.replace(s, id=renamed[s.id]) for s in deck.springs)
    text = plan_to_json(make_plan(msgspec.structs.replace(deck, springs=springs)))
    for old, new in renamed.items():
        text = text.replace(f'"{new}"', f'"{old}"')
    assert text == plan_to_json(make_plan(deck))


@pytest.mark.parametrize(("rows", "columns"), [(0, 0), (1, 1), (1, 2), (2, 1), (1, 5)])
def test_small_decks_are_planned(rows, columns):
    plan = make_plan(grid_deck(rows, columns) if rows else _empty())
    assert len(plan.parts.ties.lines) == (rows + columns if rows else 0)
    assert all(finding.severity != "wrong" for finding in plan.findings)


def _empty():
    return msgspec.structs.replace(grid_deck(), springs=())


def test_an_opening_that_crosses_itself_is_refused():
    corners = ((0.0, 0.0), (500.0, 500.0), (500.0, 0.0), (0.0, 500.0))
    frame = grid_deck().frame
    bad = Frame(
        corners=corners, sides=frame.sides, rail_width=frame.rail_width, rail_top=frame.rail_top
    )
    with pytest.raises(OutlineError):
        make_plan(msgspec.structs.replace(grid_deck(), frame=bad))
