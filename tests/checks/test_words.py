"""How the checks name the sides of a frame."""

import pytest

from spring_layout.checks.words import side_named
from spring_layout.deck.model import Deck, Side
from tests.checks.made import framed
from tests.decks import grid_deck


def with_rails(*rails: str) -> Deck:
    return framed(grid_deck(), sides=tuple(Side(rail=rail, bow=0) for rail in rails))


@pytest.mark.parametrize(("side", "where"), list(enumerate(["back", "right", "front", "left"])))
def test_a_side_without_a_rail_is_named_by_where_it_is(side, where):
    rails = ["back", "right", "front", "left"]
    rails[side] = "none"
    assert side_named(with_rails(*rails), side) == f"the open {where} side"


def test_sides_that_share_a_name_are_told_apart_by_where_they_are():
    deck = with_rails("back", "right", "back", "left")
    assert side_named(deck, 0) == "the back rail at the back"
    assert side_named(deck, 2) == "the back rail at the front"
    assert side_named(deck, 1) == "the right rail"


@pytest.mark.parametrize(
    ("parts", "names"),
    [
        (2, ["the front rail at the right", "the front rail at the left"]),
        (3, ["at the right", "in the middle", "at the left"]),
        (5, ["the fifth front rail from the left", "fourth", "third", "second", "first"]),
    ],
)
def test_a_front_in_parts_is_counted_from_the_left(parts, names):
    front = [(500 - 500 * i / parts, 500.0 + 40 * (0 < i < parts)) for i in range(parts + 1)]
    rails = ("back", "right", *["front"] * parts, "left")
    sides = tuple(Side(rail=rail, bow=0) for rail in rails)
    deck = framed(grid_deck(), corners=((0, 0), (500, 0), *front), sides=sides)
    for number, name in enumerate(names):
        assert name in side_named(deck, 2 + number)


def test_open_sides_of_a_notch_are_told_apart():
    corners = ((40, 0), (460, 0), (460, 60), (500, 60), (500, 500), (0, 500), (0, 60), (40, 60))
    rails = ("back", "none", "none", "right", "front", "left", "none", "none")
    sides = tuple(Side(rail=rail, bow=0) for rail in rails)
    deck = framed(grid_deck(), corners=corners, sides=sides)
    assert [side_named(deck, side) for side in (1, 2, 6, 7)] == [
        "the open right side",
        "the open back side at the right",
        "the open back side at the left",
        "the open left side",
    ]


def test_a_slanting_open_side_is_named_by_where_it_looks_most():
    deck = framed(
        with_rails("back", "none", "front", "left"),
        corners=((0, 0), (460, 0), (500, 440), (-40, 440)),
    )
    assert side_named(deck, 1) == "the open right side"
