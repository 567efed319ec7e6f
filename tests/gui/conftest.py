"""A real window for each test, offscreen, with settings and recovery in a folder of its own."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication

from spring_layout.drawing.orders import KINDS
from spring_layout.gui.main_window import MainWindow
from spring_layout.gui.settings import Settings
from spring_layout.gui.starting import application
from spring_layout.gui.theme.look import wear
from spring_layout.gui.workbench import Workbench
from tests.decks import grid_deck
from tests.gui.hands import Hands
from tests.gui.paper_desk import page_of


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
    made = quiet_bench(qapp, tmp_path / "config")
    made.planner.failed.connect(refusals.append)
    yield made
    assert refusals == []


def quiet_bench(app: QApplication, folder: Path) -> Workbench:
    """A workbench with settings of its own, in daylight and without motion."""
    settings = Settings(folder)
    settings.keep("look", "light")
    settings.keep("motion", False)
    made = Workbench(settings)
    wear(app, made.palette)
    return made


@pytest.fixture
def window(bench: Workbench) -> Iterator[MainWindow]:
    """A new, empty window; a question that no test answers fails the test."""
    made = shown(bench)
    yield made
    end(made)


def shown(bench: Workbench) -> MainWindow:
    """The window of a workbench, on the screen."""
    made = MainWindow(bench)
    made.filing.ask = nobody_asked  # type: ignore[method-assign]  # stands in for the user
    made.papering.helper.works_here = True
    made.resize(1280, 800)
    made.show()
    return made


def end(window: MainWindow) -> None:
    """Closes a window and everything that hangs on it."""
    window.bench.document.undo_stack.setClean()
    window.close()
    window.deleteLater()
    QApplication.sendPostedEvents(window, QEvent.Type.DeferredDelete.value)


@pytest.fixture(scope="session")
def kept_window(qapp: QApplication, tmp_path_factory: pytest.TempPathFactory) -> object:
    """One window for all tests that leave it whole: a new one for each would take a minute."""
    made = shown(quiet_bench(qapp, tmp_path_factory.mktemp("settings")))
    yield made
    end(made)


@pytest.fixture
def hands(kept_window: MainWindow, refusals: list[str]) -> Iterator[Hands]:
    """The user's hands on a window that shows nine springs, in the springs stage."""
    tidy(kept_window)
    kept_window.bench.planner.failed.connect(refusals.append)
    yield Hands(kept_window)
    kept_window.bench.planner.failed.disconnect(refusals.append)
    assert refusals == []


@pytest.fixture
def own_hands(window: MainWindow) -> Hands:
    """The same on a window of the test's own, which it may close or break."""
    begin(window)
    return Hands(window)


def begin(window: MainWindow) -> None:
    """Nine springs, in the springs stage."""
    window.bench.document.replace(grid_deck(), None)
    window.bench.choose_stage("springs")
    QApplication.processEvents()


def tidy(window: MainWindow) -> None:
    """The window as if it had just been opened, whatever the test before did."""
    bench = window.bench
    window.filing.ask = nobody_asked  # type: ignore[method-assign]  # stands in for the user
    for key, value in (("look", "light"), ("words", "auto"), ("motion", "no"), ("recent", "")):
        bench.settings.keep(key, value)
    if window.view.tool is not None:
        window.view.tool.cancel()
    bench.coil, bench.same_both_sides = "", True
    bench.selection.clear()
    bench.say("")
    window.windowHandle().requestActivate()
    window.acts["panels"].setChecked(False)
    window.tabs.setCurrentIndex(0)
    window.placing.work_away()
    window.restyle()
    bench.choose_stage("frame")
    begin(window)
    window.take_tool("move")
    window.view.fit()


def nobody_asked(words: str, more: str, buttons: object) -> object:
    """Stands in for a user who does not expect to be asked."""
    raise AssertionError(f"the window asked: {words} {more}")


@pytest.fixture
def desk(hands: Hands) -> Iterator[Hands]:
    """The paper stage, every wish as it is at first."""
    for sheet in KINDS:
        for name in ("paper", "way", "margin", "copies", "in-set"):
            hands.window.paper_page.wishes.keep(name, "", sheet)
        hands.bench.settings.keep(
            f"paper-{sheet}-in-set", "yes" if sheet in ("diagram", "bench", "record") else "no"
        )
        hands.window.paper_page.wishes.keep("paper", "a4", sheet)
    hands.window.paper_page.wishes.keep_bars("", "")
    page_of(hands).show_sheet("side-view")  # the quickest to draw
    hands.bench.choose_stage("paper")
    yield hands
    hands.window.papering.helper.works_here = True
    page_of(hands).show_sheet("diagram")


@pytest.fixture
def framed(hands: Hands) -> Hands:
    """Hands in the frame stage; the opening is 500 by 500 mm, springs well inside."""
    hands.bench.choose_stage("frame")
    hands.bench.same_both_sides = False
    return hands
