"""Opens the window. ``main`` is what the command line calls."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from spring_layout.gui.screen import NO_SCREEN, has_screen

if TYPE_CHECKING:
    from spring_layout.deck.model import Deck

UNUSABLE = 2


def main(deck: str | None = None, given: "Deck | None" = None) -> int:
    """Opens the window, with the deck file ``deck`` where one is given; the exit status.

    ``given`` is a deck that stands in no file: it opens as work that is not saved yet.

    On a machine without a screen one sentence on standard error, and 2.
    """
    if not has_screen():
        print(NO_SCREEN, file=sys.stderr)
        return UNUSABLE
    from spring_layout.gui.starting import open_window

    app, window = open_window(Path(deck) if deck else None, given)
    if window is None:
        return UNUSABLE
    status = int(app.exec())
    window.end()
    return status
