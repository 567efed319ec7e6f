"""The sample decks planned once for all tests of paper, and what makes a sheet legible."""

from functools import lru_cache

import pytest
import shapely

from spring_layout.deck.files import read_deck
from spring_layout.drawing.primitives import Drawing
from spring_layout.plan import Plan, make_plan
from spring_layout.resources import sample_decks
from tests.drawing.reading import shape_of, texts

NAMES = [path.name.removesuffix(".deck.json") for path in sample_decks()]

BY_TURNS = [
    pytest.param(name, paper, marks=[pytest.mark.larger] if (i + j) % 2 else [])
    for i, name in enumerate(NAMES)
    for j, paper in enumerate(("a4", "letter"))
]
"""Every sample on A4 and on letter, one of the two at once and the other in the larger sets."""


@lru_cache(maxsize=32)
def plan_of(name: str) -> Plan:
    """The plan of the sample deck of that name."""
    return make_plan(read_deck(next(p for p in sample_decks() if p.name.startswith(f"{name}."))))


def overlapping(drawing: Drawing) -> list[tuple[str, str]]:
    """The words of each pair of texts that cover some of each other."""
    told = texts(drawing)
    shapes = [shape_of(text) for text in told]
    tree = shapely.STRtree(shapes)
    first, second = tree.query(shapes, predicate="intersects")
    return [
        (told[i].words, told[j].words)
        for i, j in zip(first.tolist(), second.tolist(), strict=True)
        if i < j and shapes[i].intersection(shapes[j]).area > 0.02
    ]


def off_the_sheet(drawing: Drawing, edge: float) -> list[str]:
    """The words of the texts that come nearer than ``edge`` mm to the sheet's edge."""
    sheet = shapely.box(edge, edge, drawing.width - edge, drawing.height - edge)
    return [text.words for text in texts(drawing) if not sheet.covers(shape_of(text))]


def lowest_capitals(drawing: Drawing) -> float:
    """The least height of capitals on the sheet, mm."""
    return min(text.size for text in texts(drawing)) * 0.7
