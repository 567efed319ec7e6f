"""Panels that follow a hand's movement a few times a second, and everything else at once."""

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer

from spring_layout.gui.document import Document

OFTEN_ENOUGH = 100
"""ms between two looks while something is in the hand; figures that change faster are not read."""
SELDOM = 300
"""ms between two looks at what is read as a sentence."""


class Unhurried(QObject):
    """Calls ``follow`` at once when the deck is decided, seldom while it is tried out."""

    def __init__(
        self,
        document: Document,
        follow: Callable[[], None],
        parent: QObject,
        interval: int = OFTEN_ENOUGH,
    ) -> None:
        super().__init__(parent)
        self._document, self._follow = document, follow
        self._timer = QTimer(self, singleShot=True, interval=interval)
        self._timer.timeout.connect(follow)

    def look(self) -> None:
        """Something may have changed."""
        if not self._document.is_previewing:
            self._timer.stop()
            self._follow()
        elif not self._timer.isActive():
            self._timer.start()
