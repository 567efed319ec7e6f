"""The contract of the deck's file lets a length be anything over 0, however little that is."""

import msgspec
import pytest

from spring_layout.deck.model import Deck
from spring_layout.deck.ranges import LENGTH, ranges_of
from spring_layout.deck.validate import faults
from spring_layout.drawing.orders import Order, drawn
from spring_layout.plan import make_plan
from spring_layout.report.plan_json import plan_to_json
from spring_layout.report.text import plan_to_text
from tests.decks import grid_deck

LEAST = 1e-300
WHERE = [
    (part, field)
    for part in ("frame", "tying", "twine", "seat", "webbing", "stitching")
    for field, allowed in ranges_of(type(getattr(grid_deck(), part))).items()
    if allowed is LENGTH
]
OF_A_SPRING = [
    f for f, allowed in ranges_of(type(grid_deck().coils[0])).items() if allowed is LENGTH
]


def with_least(part: str, field: str) -> Deck:
    deck = grid_deck()
    changed = msgspec.structs.replace(getattr(deck, part), **{field: LEAST})
    return msgspec.structs.replace(deck, **{part: changed})


def tell(deck: Deck) -> str:
    """Everything that the command line says of the deck; a warning fails the test."""
    assert faults(deck) == []
    plan = make_plan(deck)
    assert "NaN" not in plan_to_json(plan)
    return plan_to_text(plan)


@pytest.mark.parametrize(("part", "field"), WHERE)
def test_the_least_of_lengths_is_planned_without_a_warning(part: str, field: str) -> None:
    assert "CHECKS" in tell(with_least(part, field))


@pytest.mark.parametrize("field", OF_A_SPRING)
def test_the_least_of_springs_is_planned_and_drawn_without_a_warning(field: str) -> None:
    deck = grid_deck()
    deck = msgspec.structs.replace(
        deck, coils=(msgspec.structs.replace(deck.coils[0], **{field: LEAST}),)
    )
    assert "CHECKS" in tell(deck)
    assert drawn(make_plan(deck), Order("template"))
