"""A real window for each test, offscreen, with settings and recovery in a folder of its own."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication

from spring_layout.gui.main_window import MainWindow
from spring_layout.gui.settings import Settings
from spring_layout.gui.starting import application
from spring_layout.gui.theme.look import wear
from spring_layout.gui.workbench import Workbench
from tests.decks import grid_deck
from tests.gui.hands import Hands


@pytest.fixture(scope="session")
def qapp() -> QApplication:
    """The program's own application, so that font and style are the user's."""
    return application()


@pytest.fixture
def refusals() -> list[str]:
    """What the planner refused; a test that expects a refusal empties it."""
    return []


@pytest.fixture
def bench(qapp: QApplication, tmp_path: Path, refusals: list[str]) -> Iterator[Workbench]:
    """A workbench without a deck; a plan that cannot be made fails the test."""
    settings = Settings(tmp_path / "config")
    settings.keep("look", "light")
    settings.keep("motion", False)
    made = Workbench(settings)
    made.planner.failed.connect(refusals.append)
    wear(qapp, made.palette)
    yield made
    assert refusals == []


@pytest.fixture
def window(bench: Workbench) -> Iterator[MainWindow]:
    """The empty window; a question that no test answers fails the test."""
    made = MainWindow(bench)
    made.filing.ask = _nobody_asked  # type: ignore[method-assign]  # stands in for the user
    made.resize(1280, 800)
    made.show()
    yield made
    bench.document.undo_stack.setClean()
    made.close()
    made.deleteLater()
    QApplication.sendPostedEvents(made, QEvent.Type.DeferredDelete.value)


@pytest.fixture
def hands(window: MainWindow) -> Hands:
    """The user's hands on a window that shows nine springs, in the springs stage."""
    window.bench.document.replace(grid_deck(), None)
    window.bench.choose_stage("springs")
    QApplication.processEvents()
    return Hands(window)


def _nobody_asked(words: str, more: str, buttons: object) -> object:
    raise AssertionError(f"the window asked: {words} {more}")
