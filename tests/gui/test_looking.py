"""Looking at the deck: zoom and pan, the panels out of the way, where the pointer is."""

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QApplication,
)

from tests.gui.hands import Hands

# looking ------------------------------------------------------------------------------------------


def wheel(hands: Hands, pixel: QPointF, steps: int) -> None:
    viewport = hands.view.viewport()
    whole = QPointF(viewport.mapToGlobal(QPoint(0, 0))) + pixel
    event = QWheelEvent(
        pixel,
        whole,
        QPoint(),
        QPoint(0, 120 * steps),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(viewport, event)


def test_the_wheel_zooms_about_the_pointer(hands: Hands) -> None:
    place = hands.place_of("s1")
    before, zoom = hands.pixel(place), hands.view.zoom
    wheel(hands, before, 2)
    assert hands.view.zoom == pytest.approx(zoom * 1.44)
    after = hands.pixel(place)
    assert (after - before).manhattanLength() < 3


def test_f_shows_the_whole_frame_again(hands: Hands) -> None:
    zoom = hands.view.zoom
    wheel(hands, QPointF(10, 10), 5)
    hands.act("fit")
    assert hands.view.zoom == pytest.approx(zoom)


def pan(hands: Hands, button: Qt.MouseButton) -> QPointF:
    """Drags by 60 px to the right with a button; how far the deck went."""
    viewport = hands.view.viewport()
    before = hands.pixel((250, 250))
    for kind, x, held in (
        (QEvent.Type.MouseButtonPress, 100, button),
        (QEvent.Type.MouseMove, 160, button),
        (QEvent.Type.MouseButtonRelease, 160, Qt.MouseButton.NoButton),
    ):
        pressed = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseMove else button
        place = QPointF(x, 100)
        none = Qt.KeyboardModifier.NoModifier
        QApplication.sendEvent(viewport, QMouseEvent(kind, place, place, pressed, held, none))
    return hands.pixel((250, 250)) - before


def test_the_middle_button_moves_the_deck_under_the_glass(hands: Hands) -> None:
    wheel(hands, QPointF(300, 200), 3)
    moved = pan(hands, Qt.MouseButton.MiddleButton)
    assert (moved.x(), moved.y()) == pytest.approx((60, 0), abs=1.5)


def test_so_does_space_with_the_main_button(hands: Hands) -> None:
    wheel(hands, QPointF(300, 200), 3)
    QTest.keyPress(hands.view, Qt.Key.Key_Space)
    moved = pan(hands, Qt.MouseButton.LeftButton)
    QTest.keyRelease(hands.view, Qt.Key.Key_Space)
    assert moved.x() == pytest.approx(60, abs=1.5)
    assert hands.bench.document.undo_stack.count() == 0


def test_the_panels_make_way_for_the_deck(hands: Hands) -> None:
    wide = hands.view.width()
    hands.act("panels")
    assert not hands.window.particulars.isVisible()
    assert not hands.window.stages.isVisible()
    assert hands.view.width() > wide
    hands.act("panels")
    assert hands.window.particulars.isVisible()


def test_the_status_line_says_where_the_pointer_is(hands: Hands) -> None:
    hands.move((250 - 25.4, 50.8), held=False)
    assert hands.window.status.place.text() == "1 left, 2 in from the back"
