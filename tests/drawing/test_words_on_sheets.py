"""The sheets speak the words of those who tie from them, American or British."""

import re
from collections.abc import Iterator

import pytest

from spring_layout.drawing.orders import KINDS, Order, drawn
from spring_layout.drawing.primitives import Drawing, Group, Item, Text
from spring_layout.plan import make_plan
from spring_layout.report.text import plan_to_text
from spring_layout.words import UK, US, Words
from tests.decks import grid_deck

AMERICAN = re.compile(
    r"(?<!\bto )\b(ties?(?!-| or cut springs)|crown|burlap|webbing|spring twine|seat deck)\b",
    re.IGNORECASE,
)
BRITISH = re.compile(r"\b(lashings?|dome|hessian|webs?|laid cord|platform)\b", re.IGNORECASE)
PLAN = make_plan(grid_deck())


def words_of(items: tuple[Item, ...]) -> Iterator[str]:
    for item in items:
        if isinstance(item, Text):
            yield item.words
        yield item.tag.title
        if isinstance(item, Group):
            yield from words_of(item.items)


def said_on(drawing: Drawing) -> list[str]:
    return [drawing.title, drawing.description, *words_of(drawing.items)]


@pytest.mark.parametrize("sheet", KINDS)
@pytest.mark.parametrize(("words", "others"), [(UK, AMERICAN), (US, BRITISH)])
def test_a_sheet_speaks_one_sides_words(sheet: str, words: Words, others: re.Pattern[str]) -> None:
    pages = drawn(PLAN.in_words(words), Order(sheet))
    said = [line for page in pages for line in said_on(page) if line != "Tie"]
    assert any(said)
    assert [line for line in said if others.search(line)] == []


def test_the_report_speaks_one_sides_words() -> None:
    british = plan_to_text(PLAN.in_words(UK))
    assert AMERICAN.search(" ".join(british.split())) is None
    assert BRITISH.search(plan_to_text(PLAN.in_words(US))) is None
    assert "LASHINGS, in the order of tying." in british


def test_an_order_in_other_words_is_another_order() -> None:
    said = {words: said_on(drawn(PLAN, Order("diagram", words=words))[0]) for words in ("us", "uk")}
    assert "Tie diagram, seen from above" in said["us"]
    assert "Lashing plan, seen from above" in said["uk"]
    assert said_on(drawn(PLAN, Order("diagram"))[0]) == said["us"]
