"""The strips of webbing as tests of the window meet them."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from spring_layout.gui.panels.pages.base import BasePage
from spring_layout.planning.parts import WebbingPlan
from tests.gui.hands import Hands


def webbing(hands: Hands) -> WebbingPlan:
    plan = hands.bench.planner.plan
    assert plan is not None
    return plan.parts.webbing


def middles(hands: Hands, run: str = "front-to-back") -> list[float]:
    return [strip.at for strip in webbing(hands).of(run)]  # type: ignore[arg-type]  # a run


def steps(hands: Hands) -> tuple[int, str]:
    stack = hands.bench.document.undo_stack
    return stack.count(), stack.undoText()


BARE = 30.0
"""mm from the back edge: there only a front-to-back strip lies."""


def base_page(hands: Hands) -> BasePage:
    """The page of the base, on nine springs and the webbing that the program lays."""
    hands.window.routing.works_here = False
    QTest.mouseClick(hands.window.stages.buttons["base"], Qt.MouseButton.LeftButton)
    shown = hands.window.particulars.page
    assert isinstance(shown, BasePage)
    return shown
