"""The menus: every action in its place, the tools, the recent decks and the samples."""

from typing import TYPE_CHECKING

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu

from spring_layout.gui.canvas.tools import TOOLS
from spring_layout.gui.panels.stages import STAGES
from spring_layout.gui.panels.start import readable
from spring_layout.resources import sample_decks

if TYPE_CHECKING:
    from spring_layout.gui.main_window import MainWindow

_LOOKS = (("system", "As the system"), ("light", "Light"), ("dark", "Dark"))
_WORDS = (("auto", "By the units"), ("us", "American"), ("uk", "British"))


def fill_menus(window: "MainWindow") -> None:
    """Builds the menu bar of ``window``."""
    _fill_deck_menu(window)
    _fill_edit_menu(window)
    _fill_work_menu(window)
    _fill_look_menu(window)
    helping = window.menuBar().addMenu("&Help")
    _add(window, helping, "help", "about")


def _add(window: "MainWindow", menu: QMenu, *keys: str) -> None:
    for key in keys:
        if key:
            menu.addAction(window.acts[key])
        else:
            menu.addSeparator()


def _fill_deck_menu(window: "MainWindow") -> None:
    menu = window.menuBar().addMenu("&Deck")
    _add(window, menu, "new", "open")
    recent = menu.addMenu("Open &recent")
    recent.aboutToShow.connect(lambda: _fill_recent(window, recent))
    _fill_recent(window, recent)
    samples = menu.addMenu("Sa&mple decks")
    samples.aboutToShow.connect(lambda: _fill_samples(window, samples))
    _add(window, menu, "", "save", "save-as", "", "export", "print", "", "quit")


def _fill_recent(window: "MainWindow", menu: QMenu) -> None:
    menu.clear()
    paths = window.bench.settings.recent
    for path in paths:
        action = menu.addAction(f"{path.name.removesuffix('.deck.json')}  ({path.parent})")
        action.triggered.connect(lambda _=False, p=path: window.filing.open_path(p))
    menu.addSeparator()
    forget = menu.addAction("&Forget these")
    forget.setEnabled(bool(paths))
    forget.triggered.connect(lambda: window.bench.settings.forget_recent())


def _fill_samples(window: "MainWindow", menu: QMenu) -> None:
    if menu.actions():
        return
    for path, deck in readable(sample_decks()):
        action = menu.addAction(deck.name)
        action.triggered.connect(lambda _=False, p=path: window.filing.open_sample(p))


def _fill_edit_menu(window: "MainWindow") -> None:
    menu = window.menuBar().addMenu("&Edit")
    _add(window, menu, "undo", "redo", "", "cut", "copy", "paste", "delete", "", "select-all")
    menu.addSeparator()
    words = menu.addMenu("&Words")
    _choices(window, words, "words", _WORDS)
    _add(window, menu, "inches", "millimetres")


def _fill_work_menu(window: "MainWindow") -> None:
    menu = window.menuBar().addMenu("&Work")
    for i, (stage, words, _) in enumerate(STAGES, start=1):
        action = menu.addAction(words)
        window.words_in_menus.append((action, words))
        action.setShortcut(f"Alt+{i}")
        action.triggered.connect(lambda _=False, s=stage: window.bench.choose_stage(s))
    menu.addSeparator()
    for name in TOOLS:
        menu.addAction(window.strip.tools[name])
    _add(window, menu, "", "suggest", "even", "stop", "keep", "mirror")


def _fill_look_menu(window: "MainWindow") -> None:
    menu = window.menuBar().addMenu("&Look")
    _add(window, menu, "fit", "zoom-in", "zoom-out", "true-size", "", "panels", "")
    tables = (
        ("&Checks", 0, "Ctrl+Shift+1"),
        ("S&prings", 1, "Ctrl+Shift+2"),
        ("{Ties}", 2, "Ctrl+Shift+3"),
        ("Side view", 3, "Ctrl+Shift+4"),
        ("{Webbing}", 4, "Ctrl+Shift+5"),
    )
    for words, tab, keys in tables:
        action = menu.addAction(words)
        window.words_in_menus.append((action, words))
        action.setShortcut(keys)
        action.triggered.connect(lambda _=False, t=tab: _turn_to(window, t))
    menu.addSeparator()
    _choices(window, menu.addMenu("C&olours"), "look", _LOOKS)
    motion = menu.addAction("&Motion")
    motion.setCheckable(True)
    motion.setChecked(window.bench.moves)
    motion.toggled.connect(lambda on: window.bench.settings.keep("motion", on))


def _turn_to(window: "MainWindow", tab: int) -> None:
    window.tabs.setCurrentIndex(tab)
    window.tabs.currentWidget().setFocus()


def _choices(
    window: "MainWindow", menu: QMenu, key: str, options: tuple[tuple[str, str], ...]
) -> None:
    made: list[QAction] = []
    chosen = window.bench.settings.text(key, options[0][0])
    for value, words in options:
        action = menu.addAction(words)
        action.setCheckable(True)
        action.setChecked(value == chosen)
        action.triggered.connect(
            lambda _=False, v=value, a=action: _choose(window, key, v, a, made)
        )
        made.append(action)


def _choose(
    window: "MainWindow", key: str, value: str, chosen: QAction, made: list[QAction]
) -> None:
    for action in made:
        action.setChecked(action is chosen)
    window.bench.settings.keep(key, value)
    window.restyle()
