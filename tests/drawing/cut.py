"""Decks that are cut upright for a side view."""

from spring_layout.deck.files import read_deck
from spring_layout.drawing.paper import paper_named
from spring_layout.plan import Plan, make_plan
from spring_layout.resources import sample_decks_folder
from tests.decks import grid_deck

A4 = paper_named("a4")


SCREEN = (150.0, 52.0)
"""mm, the room for the picture in a window of 1280 by 800 px."""


def sample(name: str) -> Plan:
    return make_plan(read_deck(sample_decks_folder() / f"{name}.deck.json"))


def nine() -> Plan:
    return make_plan(grid_deck())
