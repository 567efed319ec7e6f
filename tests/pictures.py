"""Pictures of every screen and state, light and dark, at 100 % and 200 %, for the samples.

    python -m tests.pictures FOLDER [--only WORD] [--scale 1] [--look light]

They are for looking at, one by one; nothing is compared.
"""

import argparse
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from spring_layout.gui.main_window import MainWindow
    from tests.gui.hands import Hands

LOOKS = ("light", "dark")
SCALES = ("1", "2")
SIZE = (1280, 800)


def main() -> int:
    """Renders all, each scale in a process of its own: Qt reads the scale when it starts."""
    parser = argparse.ArgumentParser(description="Pictures of every screen, for looking at.")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--only", default="", help="only states whose name holds this word")
    parser.add_argument("--scale", choices=SCALES)
    parser.add_argument("--look", choices=LOOKS)
    chosen = parser.parse_args()
    chosen.folder.mkdir(parents=True, exist_ok=True)
    if chosen.scale is None or os.environ.get("QT_SCALE_FACTOR") != chosen.scale:
        wanted = SCALES if chosen.scale is None else (chosen.scale,)
        return max(_in_scale(chosen, scale) for scale in wanted)
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    for look in [chosen.look] if chosen.look else LOOKS:
        render(chosen.folder, look, chosen.scale, chosen.only)
    return 0


def _in_scale(chosen: argparse.Namespace, scale: str) -> int:
    command = [sys.executable, "-m", "tests.pictures", str(chosen.folder), "--scale", scale]
    command += ["--only", chosen.only] + (["--look", chosen.look] if chosen.look else [])
    environment = {"QT_QPA_PLATFORM": "offscreen", **os.environ, "QT_SCALE_FACTOR": scale}
    return subprocess.run(command, env=environment, check=False).returncode


def render(folder: Path, look: str, scale: str, only: str) -> None:
    """Every state in one look at one scale."""
    from PySide6.QtTest import QTest

    from tests.gui.hands import Hands

    with TemporaryDirectory() as settings:
        window = _window(Path(settings), look)
        hands = Hands(window)
        for name, state in states():
            if only not in name:
                continue
            shown = state(hands)
            QTest.qWait(420)  # plans that wait for the hand to pause, tables that wait for them
            picture = (shown or window).grab()
            picture.save(str(folder / f"{name}-{look}-{scale}x.png"))
            _tidy(hands, shown)
        window.bench.document.undo_stack.setClean()
        window.close()


def _window(settings: Path, look: str) -> "MainWindow":
    from spring_layout.gui.main_window import MainWindow
    from spring_layout.gui.settings import Settings
    from spring_layout.gui.starting import application
    from spring_layout.gui.theme.look import wear
    from spring_layout.gui.workbench import Workbench

    app = application()
    kept = Settings(settings)
    kept.keep("look", look)
    kept.keep("motion", False)
    bench = Workbench(kept)
    wear(app, bench.palette)
    window = MainWindow(bench)
    window.placing.work_here()
    window.routing.works_here = True
    window.papering.helper.works_here = True
    window.resize(*SIZE)
    window.show()
    return window


def _tidy(hands: "Hands", shown: object) -> None:
    if shown is not None:
        shown.close()  # type: ignore[attr-defined]  # a dialog
    if hands.view.tool is not None:
        hands.view.tool.cancel()
    hands.view.deck_scene.hover(None)
    hands.view.deck_scene.show_step(None)
    hands.view.note.hide()
    hands.bench.document.drop_preview()
    hands.bench.selection.clear()
    hands.bench.document.undo_stack.setClean()
    hands.window.acts["panels"].setChecked(False)
    hands.window.tabs.setCurrentIndex(0)


State = Callable[["Hands"], object]


def states() -> Iterator[tuple[str, State]]:
    """The states by name; each shows itself and may give the dialog to take the picture of."""
    from spring_layout.resources import sample_decks

    yield "start", _start
    yield "tracing", _tracing
    for path in sample_decks():
        name = path.name.removesuffix(".deck.json")
        for stage in ("frame", "height", "springs", "base", "ties", "paper"):
            yield f"{name}-{stage}", lambda hands, p=path, s=stage: _open(hands, p, s)
    yield from _on_paper()
    yield from _in_the_hand()
    yield from _dialogs()


def _sample(name: str) -> Path:
    from spring_layout.resources import sample_decks_folder

    return sample_decks_folder() / f"{name}.deck.json"


def _open(hands: "Hands", path: Path, stage: str) -> None:
    hands.window.filing.open_sample(path)
    hands.bench.choose_stage(stage)  # type: ignore[arg-type]  # a stage by its name
    hands.view.fit()


def _start(hands: "Hands") -> None:
    hands.bench.document.replace(None, None)


def _tracing(hands: "Hands") -> None:
    hands.bench.document.replace(None, None)
    hands.window.start.trace.emit()
    for place in ((0, 0), (430, 0), (470, 420)):
        hands.click(place)
    hands.move((120, 425), held=False)


def _in_the_hand() -> Iterator[tuple[str, State]]:
    yield "hand-dragging", _dragging
    yield "hand-settled", _settled
    yield "hand-several", _several
    yield "hand-corner", _corner
    yield "hand-bow", _bow
    yield "hand-side", _side
    yield "hand-tie", _tie
    yield "hand-anchor", _anchor
    yield "hand-order", _order
    yield "hand-join", _join
    yield "hand-spring-table", lambda hands: _table(hands, 1)
    yield "hand-tie-table", lambda hands: _table(hands, 2)
    yield "hand-strip", _strip
    yield "hand-cut", _cut
    yield "hand-stack", _stack
    yield "hand-buy", lambda hands: _scrolled(hands, "height", 760)
    yield "hand-sewing", lambda hands: _scrolled(hands, "base", 2000)
    yield "hand-twine", lambda hands: _scrolled(hands, "ties", 2000)
    yield "hand-finding", _finding
    yield "hand-full", _full


def _on_paper() -> Iterator[tuple[str, State]]:
    from spring_layout.drawing.orders import KINDS

    for sheet in KINDS:
        yield f"sheet-{sheet}", lambda hands, s=sheet: _sheet(hands, s)
    yield "sheet-busy", _busy
    yield "sheet-stopped", _stopped
    yield "sheet-too-small", _too_small


def _sheet(hands: "Hands", sheet: str, sample: str = "bow-fronted-easy-chair") -> None:
    _open(hands, _sample(sample), "paper")
    hands.window.paper_page.sheet_choice.choose(sheet)
    hands.window.papering.turn(1)


def _busy(hands: "Hands") -> None:
    _sheet(hands, "template")
    hands.window.paper.turner.show_busy("Drawing: full-size template…")


def _stopped(hands: "Hands") -> None:
    _sheet(hands, "template")
    hands.window.paper.turner.show_stopped("Stopped.")


def _too_small(hands: "Hands") -> None:
    _sheet(hands, "template", "square-stool")
    hands.window.paper_page.way_choice.choose("upright")
    hands.type(hands.window.paper_page.margin, "30 mm")
    hands.type(hands.window.paper_page.across, "90")


def _dragging(hands: "Hands") -> None:
    from PySide6.QtCore import Qt

    _open(hands, _sample("tapered-dining-chair"), "springs")
    start = hands.place_of(hands.deck.springs[4].id)
    hands.press(start)
    hands.move((start[0] + 20, start[1] + 12), Qt.KeyboardModifier.AltModifier)


def _settled(hands: "Hands") -> None:
    _open(hands, _sample("square-stool"), "springs")
    start = hands.place_of(hands.deck.springs[4].id)
    hands.press(start)
    hands.move((start[0] + 20, start[1] + 12))
    hands.move((start[0] + 2, start[1] + 2))


def _several(hands: "Hands") -> None:
    _open(hands, _sample("hall-bench"), "springs")
    hands.bench.selection.pick_springs(s.id for s in hands.deck.springs[:8])
    hands.act("keep")


def _corner(hands: "Hands") -> None:
    _open(hands, _sample("square-stool"), "frame")
    x, y = hands.deck.frame.corners[2]
    hands.press((x, y))
    hands.move((x + 26, y + 18))


def _bow(hands: "Hands") -> None:
    _open(hands, _sample("square-stool"), "frame")
    (x0, y0), (x1, _) = hands.deck.frame.corners[3], hands.deck.frame.corners[2]
    hands.press(((x0 + x1) / 2, y0))
    hands.move(((x0 + x1) / 2, y0 + 30))


def _side(hands: "Hands") -> None:
    _open(hands, _sample("bow-fronted-easy-chair"), "frame")
    from spring_layout.gui.selection import Picked

    hands.bench.selection.pick(Picked(side=2))


def _tie(hands: "Hands") -> None:
    _open(hands, _sample("bow-fronted-easy-chair"), "ties")
    line = hands.bench.line(3)
    assert line is not None
    (x0, y0), (x1, y1) = line.path[1], line.path[2]
    hands.click((x0 + 0.6 * (x1 - x0), y0 + 0.6 * (y1 - y0)))
    hands.move((x0 + 0.6 * (x1 - x0), y0 + 0.6 * (y1 - y0)), held=False)


def _strip(hands: "Hands") -> None:
    from PySide6.QtCore import Qt

    _open(hands, _sample("hall-bench"), "base")
    hands.window.tabs.setCurrentWidget(hands.window.strip_table)
    plan = hands.bench.planner.plan
    assert plan is not None
    strip = plan.parts.webbing.of("front-to-back")[3]
    hands.press((strip.at, strip.start + 8))
    hands.move((strip.at + 20, strip.start + 8), Qt.KeyboardModifier.AltModifier)


def _cut(hands: "Hands") -> None:
    _open(hands, _sample("round-ottoman"), "height")
    x, y = hands.place_of(hands.deck.springs[0].id)
    hands.drag([(x - 150, y + 200), (x, y + 160), (x + 250, y + 60)])


def _stack(hands: "Hands") -> None:
    _open(hands, _sample("bow-fronted-easy-chair"), "height")
    hands.window.height_page.follows.choose("tied_height")
    hands.type(hands.window.height_page.fields["finished_height"], "18")


def _scrolled(hands: "Hands", stage: str, down: int) -> None:
    from PySide6.QtTest import QTest

    _open(hands, _sample("bow-fronted-easy-chair"), stage)
    QTest.qWait(50)
    hands.window.particulars.page.verticalScrollBar().setValue(down)


def _anchor(hands: "Hands") -> None:
    _open(hands, _sample("square-stool"), "ties")
    line = hands.bench.line(1)
    assert line is not None
    assert line.anchors[0] is not None
    x, y = line.anchors[0]
    hands.press((x, y))
    hands.move((x + 10, y))
    hands.move((x + 25, y))


def _order(hands: "Hands") -> None:
    _open(hands, _sample("tapered-dining-chair"), "ties")
    hands.window.particulars.ties_page.steps.slider.setValue(5)


def _join(hands: "Hands") -> None:
    _open(hands, _sample("square-stool"), "ties")
    hands.tool("join")
    hands.press(hands.place_of(hands.deck.springs[0].id))
    hands.move(hands.place_of(hands.deck.springs[4].id))


def _table(hands: "Hands", tab: int) -> None:
    _open(hands, _sample("bow-fronted-easy-chair"), "ties" if tab == 2 else "springs")
    hands.window.tabs.setCurrentIndex(tab)
    hands.bench.selection.pick_springs([hands.deck.springs[2].id])


def _finding(hands: "Hands") -> None:
    _open(hands, _sample("deliberate-faults"), "springs")
    hands.window.findings.selectRow(0)


def _full(hands: "Hands") -> None:
    _open(hands, _sample("big-settee"), "ties")
    hands.window.acts["panels"].setChecked(True)
    hands.view.fit()


def _dialogs() -> Iterator[tuple[str, State]]:
    for shape in ("straight", "tapered", "bowed", "round", "notched", "measured"):
        yield f"dialog-shape-{shape}", lambda hands, s=shape: _shape(hands, s)
    yield "dialog-layouts", _layouts
    yield "dialog-sizes", _sizes
    yield "dialog-help", _help
    yield "menu-deck", lambda hands: _menu(hands, 0)
    yield "menu-work", lambda hands: _menu(hands, 2)


def _shape(hands: "Hands", shape: str) -> object:
    from spring_layout.gui.panels.shape_dialog import ShapeDialog

    dialog = ShapeDialog(hands.bench, hands.window, begins=True)
    dialog.show()
    fields = dialog.choose(shape)
    if shape == "measured":
        hands.type(fields["falling"], "640 mm")
    return dialog


def _layouts(hands: "Hands") -> object:
    from spring_layout.gui.panels.layouts_dialog import LayoutsDialog

    _open(hands, _sample("tapered-dining-chair"), "springs")
    dialog = LayoutsDialog(hands.bench, hands.window.placing.helper, hands.window)
    dialog.show()
    return dialog


def _sizes(hands: "Hands") -> object:
    from spring_layout.gui.panels.sizes_dialog import SizesDialog

    _open(hands, _sample("tapered-dining-chair"), "springs")
    dialog = SizesDialog(hands.bench, hands.window)
    dialog.show()
    return dialog


def _help(hands: "Hands") -> object:
    from spring_layout.gui.help import HelpPage

    dialog = HelpPage(hands.bench.words, hands.window)
    dialog.show()
    return dialog


def _menu(hands: "Hands", number: int) -> object:
    _open(hands, _sample("square-stool"), "springs")
    menu = hands.window.menuBar().actions()[number].menu()
    menu.popup(hands.window.mapToGlobal(hands.window.rect().topLeft()))  # type: ignore[union-attr]  # it has one
    return menu


if __name__ == "__main__":
    sys.exit(main())
