"""Builds the application: font, look, window; opens the deck that was asked for."""

import sys
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtGui import QFont, QFontDatabase
from PySide6.QtWidgets import QApplication

from spring_layout import __version__
from spring_layout.deck.errors import DeckFileError
from spring_layout.deck.files import read_deck
from spring_layout.deck.model import Deck
from spring_layout.drawing.lettering import FONT_FAMILY, FONT_FOLDER
from spring_layout.gui.main_window import MainWindow
from spring_layout.gui.settings import Settings
from spring_layout.gui.theme.look import TEXT, wear
from spring_layout.gui.workbench import Workbench


def application() -> QApplication:
    """The one application, in the program's own font."""
    running = QApplication.instance()
    app = running if isinstance(running, QApplication) else QApplication(sys.argv[:1])
    app.setApplicationName("spring-layout")
    app.setApplicationDisplayName("Spring Layout")
    app.setApplicationVersion(__version__)
    app.setDesktopFileName("spring-layout")
    app.setStyle("Fusion")
    use_font(app)
    return app


def use_font(app: QApplication) -> None:
    """The font that is also on the printed sheets."""
    for weight in ("regular", "bold"):
        QFontDatabase.addApplicationFont(str(FONT_FOLDER / f"{weight}.ttf"))
    chosen = QFont(FONT_FAMILY)
    chosen.setPointSizeF(TEXT)
    app.setFont(chosen)


def open_window(
    path: Path | None, given: Deck | None = None
) -> tuple[QApplication, MainWindow | None]:
    """The application and its window; no window where ``path`` cannot be opened.

    Without a ``path`` it opens with the deck ``given``, not saved yet, or empty.
    """
    app = application()
    bench = Workbench(Settings())
    wear(app, bench.palette)
    if path is not None:
        try:
            deck = read_deck(path)
        except DeckFileError as error:
            print(f"spring-layout: {path}: {error}", file=sys.stderr)
            return app, None
        window = MainWindow(bench)
        bench.document.replace(deck, path)
        bench.settings.opened(path)
    else:
        window = MainWindow(bench)
        if given is not None:
            bench.document.replace(given, None, modified=True)
    window.show()
    QTimer.singleShot(0, bench.planner.start_helper)
    QTimer.singleShot(0, window.filing.offer_recovery)
    return app, window
