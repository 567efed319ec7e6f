"""Starting: the window opens with a deck or empty; without a screen one sentence and 2."""

import os
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from spring_layout.deck.files import write_deck
from spring_layout.gui import app, starting
from spring_layout.gui.main_window import MainWindow
from spring_layout.gui.screen import NO_SCREEN, has_screen
from spring_layout.gui.settings import Settings, data_folder
from tests.decks import grid_deck
from tests.gui.conftest import end


def test_without_a_screen_it_says_so_in_one_sentence_and_ends_with_2(tmp_path: Path) -> None:
    names = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    environment = {name: value for name, value in os.environ.items() if name not in names}
    for display in ({}, {"DISPLAY": ":4711"}, {"DISPLAY": "odd"}, {"WAYLAND_DISPLAY": "none"}):
        run = subprocess.run(
            [
                sys.executable,
                "-c",
                "import sys; from spring_layout.gui.app import main; sys.exit(main())",
            ],
            env={**environment, **display},
            capture_output=True,
            text=True,
            check=False,
        )
        if sys.platform.startswith("linux"):
            assert (run.returncode, run.stdout) == (2, "")
            assert run.stderr.strip() == NO_SCREEN


def test_a_screen_that_answers_is_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("QT_QPA_PLATFORM", raising=False)
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    monkeypatch.setenv("WAYLAND_DISPLAY", "w-0")
    assert not has_screen()
    with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as listener:
        listener.bind(str(tmp_path / "w-0"))
        listener.listen()
        assert has_screen()


def test_a_screen_over_the_network_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("QT_QPA_PLATFORM", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    with socket.socket() as listener:
        for number in range(20, 60):
            try:
                listener.bind(("127.0.0.1", 6000 + number))
                break
            except OSError:
                continue
        listener.listen()
        monkeypatch.setenv("DISPLAY", f"127.0.0.1:{number}.0")
        assert has_screen()
    assert not has_screen()


@pytest.mark.parametrize(
    ("platform", "shows"),
    [
        ("offscreen", True),
        ("minimal:enable_fonts", True),
        ("vnc:size=800x600", True),
        ("xcb", False),
        ("wayland;xcb", False),
        ("linuxfb", Path("/dev/fb0").exists()),
        ("abacus", False),
    ],
)
def test_a_platform_that_is_asked_for_has_to_have_its_screen(
    monkeypatch: pytest.MonkeyPatch, platform: str, shows: bool
) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("QT_QPA_PLATFORM", platform)
    assert has_screen() == shows


@pytest.fixture
def own_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The program's own settings go to a folder of the test."""
    monkeypatch.setattr(starting, "Settings", lambda: Settings(tmp_path / "config"))


@pytest.fixture(autouse=True)
def no_window_left(qapp: QApplication) -> Iterator[None]:
    """Windows that a test opened are ended with it."""
    before = set(qapp.topLevelWidgets())
    yield
    for left in set(qapp.topLevelWidgets()) - before:
        if isinstance(left, MainWindow):
            left.end()
            end(left)


@pytest.fixture
def no_asking(monkeypatch: pytest.MonkeyPatch) -> None:
    """The event loop ends as soon as it begins."""
    monkeypatch.setattr(QApplication, "exec", lambda *_: 0)


def test_main_opens_a_deck(own_settings: None, no_asking: None, tmp_path: Path) -> None:
    path = tmp_path / "a.deck.json"
    write_deck(grid_deck(), path)
    QTimer.singleShot(0, lambda: None)
    assert app.main(str(path)) == 0


def test_a_deck_opens_with_the_window(own_settings: None, qapp: object, tmp_path: Path) -> None:
    path = tmp_path / "a.deck.json"
    write_deck(grid_deck(), path)
    _, window = starting.open_window(path)
    assert window is not None
    assert window.bench.document.deck == grid_deck()
    assert window.bench.document.path == path


def test_a_deck_from_standard_input_opens_as_work_that_is_not_saved(
    own_settings: None, no_asking: None, qapp: object
) -> None:
    _, window = starting.open_window(None, grid_deck())
    assert window is not None
    document = window.bench.document
    assert (document.deck, document.path) == (grid_deck(), None)
    assert document.is_modified
    assert grid_deck().name in window.windowTitle()
    assert app.main(given=grid_deck()) == 0


def test_a_deck_that_cannot_be_read_is_told_and_nothing_opens(
    own_settings: None, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "none.deck.json"
    assert app.main(str(path)) == 2
    told = capsys.readouterr().err
    assert told.count("\n") == 1
    assert "none.deck.json" in told


def test_settings_are_kept_between_two_windows(tmp_path: Path) -> None:
    first = Settings(tmp_path)
    first.keep("look", "dark")
    first.keep("motion", False)
    first.flush()
    second = Settings(tmp_path)
    assert second.text("look", "light") == "dark"
    assert not second.flag("motion", True)
    assert second.flag("unknown", True)


def test_the_data_folder_is_the_users_own() -> None:
    assert data_folder().name == "spring-layout"
