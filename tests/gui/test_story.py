"""The whole story, by hand: trace or measure, suggest, drag, space evenly, tie, export, save."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog

from spring_layout.deck.files import deck_to_bytes, read_deck
from spring_layout.gui.main_window import MainWindow
from spring_layout.gui.panels.layouts_dialog import LayoutsDialog
from spring_layout.gui.panels.shape_dialog import ShapeDialog
from spring_layout.plan import make_plan
from tests.gui.hands import Hands

ALT = Qt.KeyboardModifier.AltModifier


def answer(kind: type[QDialog], do: Callable[[QDialog], None]) -> None:
    """``do`` is done to the next dialog of that kind once it is open."""

    def look() -> None:
        dialog = QApplication.activeModalWidget()
        if isinstance(dialog, kind):
            do(dialog)
        else:
            QTimer.singleShot(10, look)

    QTimer.singleShot(0, look)


def trace_tapered_and_bowed(hands: Hands) -> None:
    """A tapered frame traced corner by corner, its front then bowed by hand."""
    hands.window.start.trace.emit()
    for place in ((0, 0), (420, 0), (470, 440), (-50, 440)):
        hands.click(place, ALT)
    hands.click((0, 0))
    front = next(i for i, s in enumerate(hands.deck.frame.sides) if s.rail == "front")
    (x0, y0), (x1, _) = hands.deck.frame.corners[front], hands.deck.frame.corners[front + 1]
    middle = ((x0 + x1) / 2, y0)
    hands.drag([middle, (middle[0], y0 + 12), (middle[0], y0 + 24)], ALT)
    assert hands.deck.frame.sides[front].bow == pytest.approx(24, abs=0.01)


def measure_round(hands: Hands) -> None:
    """A round frame from its one measurement."""

    def work(dialog: QDialog) -> None:
        assert isinstance(dialog, ShapeDialog)
        fields = dialog.choose("round")
        hands.type(fields["diameter"], "520 mm")
        dialog.accept()

    answer(ShapeDialog, work)
    hands.window.start.measure.emit()
    assert len(hands.deck.frame.corners) == 2


def choose_first_layout(hands: Hands) -> None:
    """The first of the suggested layouts."""
    answer(LayoutsDialog, lambda dialog: dialog.accept())
    hands.act("suggest")
    assert len(hands.deck.springs) >= 4


def drag_one_and_even(hands: Hands) -> None:
    """One spring out of its place, then all spaced evenly."""
    hands.bench.choose_stage("springs")
    spring = hands.deck.springs[0].id
    x, y = hands.place_of(spring)
    hands.drag([(x, y), (x + 5, y + 4), (x + 11, y + 8)], ALT)
    assert hands.place_of(spring) == pytest.approx((x + 11, y + 8), abs=0.01)
    hands.act("even")


def tie(hands: Hands) -> None:
    """All diagonals, a tack point moved, another height."""
    hands.bench.choose_stage("ties")
    page = hands.window.particulars.ties_page
    page.diagonals.choose("all")
    hands.act("fit")
    line = hands.bench.line(1)
    assert line is not None
    assert line.anchors[0] is not None
    x, y = line.anchors[0]
    hands.drag([(x, y), (x + 6, y), (x + 14, y)])
    assert len(hands.deck.tying.anchors) == 1


def named(monkeypatch: pytest.MonkeyPatch, path: Path) -> None:
    """The user names this file in the next dialog that asks where to save."""
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_a, **_k: (str(path), ""))


@pytest.mark.parametrize("begin", [trace_tapered_and_bowed, measure_round])
def test_the_whole_story(
    window: MainWindow,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    begin: Callable[[Hands], None],
) -> None:
    hands = Hands(window)
    window.placing.work_here()
    begin(hands)
    choose_first_layout(hands)
    drag_one_and_even(hands)
    tie(hands)

    named(monkeypatch, tmp_path / "diagram.svg")
    hands.act("export")
    assert b'data-scale="' in (tmp_path / "diagram.svg").read_bytes()
    named(monkeypatch, tmp_path / "story.deck.json")
    hands.act("save")
    end = hands.deck
    assert read_deck(tmp_path / "story.deck.json") == end
    assert not window.isWindowModified()
    assert not [f for f in make_plan(end).findings if f.severity == "wrong"]

    steps = hands.bench.document.undo_stack.count()
    assert steps >= 5
    for _ in range(steps):
        hands.act("undo")
    assert hands.bench.document.deck is None
    for _ in range(steps):
        hands.act("redo")
    assert deck_to_bytes(hands.deck) == (tmp_path / "story.deck.json").read_bytes()

    assert window.filing.open_path(tmp_path / "story.deck.json")
    assert hands.deck == end
    assert hands.bench.document.undo_stack.count() == 0
