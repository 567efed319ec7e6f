"""The sewing-in at the base: the route is told, drawn, and waits while a hand moves."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from spring_layout.deck import edits
from spring_layout.gui.panels.pages.base import BasePage
from spring_layout.planning.stitching import stitching_of
from tests.decks import grid_deck
from tests.gui.hands import Hands
from tests.gui.strips import BARE, base_page, middles

ALT = Qt.KeyboardModifier.AltModifier


@pytest.fixture
def page(hands: Hands) -> BasePage:
    """The page of the base."""
    return base_page(hands)


# the sewing-in --------------------------------------------------------------------------------


def test_the_route_is_told_and_drawn(hands: Hands, page: BasePage) -> None:
    route = stitching_of(hands.deck)
    assert page.route["Stitches"].text() == "36"
    assert page.route["Way of the twine"].text() == hands.bench.length(route.route_length)
    assert page.route["Shortest possible"].text() == "this is it"
    layer = hands.window.base_work.layer
    assert len(layer.stitches) == 36
    assert [n.words for n in layer.numbers] == [str(i) for i in range(1, 10)]
    assert len(layer.begins) == len(route.new_lengths)
    assert layer.way.path().elementCount() == 36
    begin = route.stitches[route.new_lengths[1]]
    assert f"{hands.bench.label(begin.spring)} {begin.point}" in page.route_note.text()


def test_the_route_waits_while_a_strip_or_a_spring_is_in_the_hand(
    hands: Hands, page: BasePage
) -> None:
    layer = hands.window.base_work.layer
    hands.press((middles(hands)[1], BARE))
    hands.move((middles(hands)[1] + 20, BARE), ALT)
    assert layer.stitches == []
    hands.release((middles(hands)[1] + 20, BARE))
    assert len(layer.stitches) == 36, "strips moved, the feet did not"


def test_the_route_is_only_shown_at_the_base(hands: Hands, page: BasePage) -> None:
    layer = hands.window.base_work.layer
    ties = hands.view.deck_scene.ties.ties.values()
    assert not any(span.isVisible() for tie in ties for span in tie.spans)
    hands.bench.choose_stage("springs")
    assert layer.stitches == []
    assert all(span.isVisible() for tie in ties for span in tie.spans)


def test_three_stitches_and_a_shorter_arm(hands: Hands, page: BasePage) -> None:
    page.points.choose("3")
    assert page.route["Stitches"].text() == "27"
    lengths = len(stitching_of(hands.deck).new_lengths)
    hands.type(page.arm, "30")
    assert len(stitching_of(hands.deck).new_lengths) > lengths
    hands.type(page.loops, "2")
    assert hands.deck.stitching.loops == 2
    hands.type(page.twine, "3 mm")
    assert hands.deck.stitching.twine == 3


def test_many_feet_are_worked_out_elsewhere_while_nobody_waits(hands: Hands) -> None:
    routing = hands.window.routing
    hands.bench.document.replace(grid_deck(3, 4), None)
    hands.bench.choose_stage("base")
    page = hands.window.base_page
    assert routing.is_working
    assert page.route_note.text() == "Working out the order…"
    assert page.route["Stitches"].text() == "–"
    for _ in range(400):
        QTest.qWait(25)
        if not routing.is_working:
            break
    assert page.route["Stitches"].text() == "48"
    assert routing.route == stitching_of(hands.deck)
    routing.end()


def test_a_route_that_cannot_be_worked_out_is_told(hands: Hands, page: BasePage) -> None:
    routing = hands.window.routing
    routing.helper.failed.emit(routing._ticket, "the helper process ended unexpectedly")
    assert "not worked out: the helper process ended" in hands.window.status.hint.text()
    hands.bench.choose_stage("springs")
    hands.bench.choose_stage("base")
    assert routing.route is not None


def test_another_deck_gets_another_route(hands: Hands, page: BasePage) -> None:
    hands.bench.attempt("Remove", lambda deck: edits.remove_springs(deck, ["s1", "s2", "s3"]))
    assert page.route["Stitches"].text() == "24"
    assert len(hands.window.base_work.layer.numbers) == 6
