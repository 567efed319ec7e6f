"""After a crash the work comes back: the process is killed, and the next window offers it."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from PySide6.QtWidgets import QMessageBox

from spring_layout.deck import edits
from spring_layout.deck.files import read_deck
from spring_layout.gui.main_window import MainWindow
from spring_layout.gui.recovery import Recovery, unsaved_work
from tests.decks import grid_deck
from tests.gui.hands import Hands
from tests.gui.test_files_in_window import Told

WORK = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from spring_layout.deck import edits
from spring_layout.gui.main_window import MainWindow
from spring_layout.gui.settings import Settings
from spring_layout.gui.starting import application
from spring_layout.gui.workbench import Workbench
from tests.decks import grid_deck

app = application()
window = MainWindow(Workbench(Settings(Path(sys.argv[1]))))
window.show()
window.bench.document.replace(grid_deck(), None)
window.filing.recovery._timer.setInterval(50)
window.bench.attempt("Rename", lambda deck: edits.set_name(deck, "Work of an hour"))
window.filing.recovery.kept.connect(lambda: print("kept", flush=True))
app.exec()
"""


@pytest.fixture
def killed(tmp_path: Path) -> Path:
    """The settings folder of a window that was killed in the middle of unsaved work."""
    root = Path(__file__).resolve().parents[2]
    command = [sys.executable, "-c", WORK, str(tmp_path / "config")]
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": str(root)}
    with subprocess.Popen(command, stdout=subprocess.PIPE, env=environment, text=True) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "kept\n"
        process.send_signal(signal.SIGKILL if hasattr(signal, "SIGKILL") else signal.SIGTERM)
        process.wait(10)
    return tmp_path / "config"


def test_the_work_of_a_killed_window_comes_back(
    killed: Path, window: MainWindow, tmp_path: Path
) -> None:
    # the fixture's window has its settings in the same folder
    assert window.bench.settings.folder == killed
    (found,) = unsaved_work(window.bench.recovery_folder())
    assert found.deck == edits.set_name(grid_deck(), "Work of an hour")
    told = Told(window, QMessageBox.StandardButton.Open)
    window.filing.offer_recovery()
    assert "Work of an hour" in told.asked[0]
    assert window.bench.document.deck == found.deck
    assert window.bench.document.is_modified
    assert not found.file.exists()
    assert window.filing.recovery.file.exists()


def test_the_work_can_be_left_for_later_or_given_up(killed: Path, window: MainWindow) -> None:
    button = QMessageBox.StandardButton
    Told(window, button.Cancel)
    window.filing.offer_recovery()
    assert len(unsaved_work(window.bench.recovery_folder())) == 1
    Told(window, button.Discard)
    window.filing.offer_recovery()
    assert unsaved_work(window.bench.recovery_folder()) == []
    assert window.bench.document.deck is None


def change(own_hands: Hands) -> Recovery:
    own_hands.bench.attempt("Rename", lambda deck: edits.set_name(deck, "Changed"))
    own_hands.window.filing.recovery.keep()
    return own_hands.window.filing.recovery


def test_the_copy_goes_when_the_work_is_saved(own_hands: Hands, tmp_path: Path) -> None:
    recovery = change(own_hands)
    assert read_deck(recovery.file).name == "Changed"
    own_hands.window.filing.save_to(tmp_path / "a.deck.json")
    assert not recovery.file.exists()


def test_the_copy_goes_when_everything_is_undone(own_hands: Hands) -> None:
    recovery = change(own_hands)
    own_hands.act("undo")
    assert not recovery.file.exists()


def test_a_window_that_runs_is_not_offered_its_own_work(own_hands: Hands) -> None:
    change(own_hands)
    assert unsaved_work(own_hands.bench.recovery_folder()) == []


def test_a_change_is_kept_within_seconds(own_hands: Hands) -> None:
    own_hands.bench.attempt("Rename", lambda deck: edits.set_name(deck, "Changed"))
    timer = own_hands.window.filing.recovery._timer
    assert timer.isActive()
    assert timer.interval() <= 5000


def test_a_copy_that_cannot_be_written_is_told(own_hands: Hands) -> None:
    folder = own_hands.bench.recovery_folder()
    folder.parent.mkdir(parents=True, exist_ok=True)
    folder.write_text("a file where the folder should be", encoding="utf-8")
    change(own_hands)
    assert "No recovery copy" in own_hands.window.status.hint.text()


@pytest.mark.parametrize("note", ["", "{}", "[1, 2]", '{"process": "x", "path": ""}'])
def test_a_copy_with_a_damaged_note_is_still_offered(tmp_path: Path, note: str) -> None:
    from spring_layout.deck.files import write_deck

    write_deck(grid_deck(), tmp_path / "a.deck.json")
    (tmp_path / "a.note.json").write_text(note, encoding="utf-8")
    (found,) = unsaved_work(tmp_path)
    assert found.deck == grid_deck()


def test_a_damaged_copy_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "a.deck.json").write_text("{", encoding="utf-8")
    assert unsaved_work(tmp_path) == []
    assert unsaved_work(tmp_path / "no such folder") == []


def test_the_helper_ends_with_the_window_that_was_killed(tmp_path: Path) -> None:
    script = (
        "import os, sys, time\n"
        "from PySide6.QtCore import QCoreApplication\n"
        "from spring_layout.gui.helper import Helper\n"
        "app = QCoreApplication([])\n"
        "helper = Helper()\n"
        "helper.ready.connect(lambda: print(helper._process.pid, flush=True))\n"
        "helper.start()\n"
        "app.exec()\n"
    )
    with subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE, text=True) as it:
        assert it.stdout is not None
        helper = int(it.stdout.readline())
        it.kill()
        it.wait(10)
    deadline = time.monotonic() + 20
    while _runs(helper) and time.monotonic() < deadline:
        time.sleep(0.05)
    assert not _runs(helper)


def _runs(process: int) -> bool:
    """Whether a process runs; one that has ended but is not yet collected does not."""
    try:
        state = Path(f"/proc/{process}/stat").read_text(encoding="ascii").split(") ")[1][0]
    except OSError:
        return False
    return state != "Z"
