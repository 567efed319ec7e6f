"""The empty window: what to do first, and the sample decks."""

from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from spring_layout.deck.errors import DeckFileError
from spring_layout.deck.files import read_deck
from spring_layout.deck.model import Deck
from spring_layout.gui.panels.fields import label
from spring_layout.gui.panels.pictures import deck_picture
from spring_layout.gui.theme.icons import icon
from spring_layout.gui.words import counted
from spring_layout.gui.workbench import Workbench
from spring_layout.resources import sample_decks

CARD = 172
"""px; the width of a sample's card."""
ACROSS = 4


class StartPage(QScrollArea):
    """Three ways to begin, then the samples with a picture each."""

    measure = Signal()
    trace = Signal()
    open_file = Signal()
    open_path = Signal(Path)

    def __init__(self, bench: Workbench) -> None:
        super().__init__()
        self._bench = bench
        self.setWidgetResizable(True)
        self.setObjectName("start")
        self.first: QPushButton | None = None
        self._icons: list[tuple[QPushButton, str]] = []
        self._pictures: list[tuple[QLabel, Deck]] = []
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(48, 32, 48, 32)
        column.setSpacing(16)
        column.addWidget(label("Lay out and tie a hand-sprung seat", "title"))
        column.addWidget(
            label(
                "Begin with the bare frame. Then the springs, then the ties; the diagram to tape "
                "to the frame comes out at the end. Any order works, and everything undoes.",
                "faint",
            )
        )
        column.addLayout(self._ways())
        column.addSpacing(8)
        column.addWidget(label("Or look at a sample first", "heading"))
        self.samples = self._samples()
        column.addLayout(self.samples)
        column.addStretch(1)
        self.setWidget(inside)
        bench.look_changed.connect(self._restyle)
        self._restyle()

    def _restyle(self) -> None:
        """Draws icons and samples in the colours in use."""
        palette = self._bench.palette
        for made, picture in self._icons:
            made.setIcon(icon(picture, palette))
        for shown, deck in self._pictures:
            shown.setPixmap(deck_picture(deck, QSize(140, 92), palette, self))

    def _ways(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setSpacing(12)
        ways: tuple[tuple[str, str, str, Callable[[], None]], ...] = (
            (
                "stage-frame",
                "Measure the frame",
                "Front, back, depth: from a plain shape",
                self.measure.emit,
            ),
            ("tool-trace", "Trace the frame", "Click corner after corner", self.trace.emit),
            ("document-open", "Open a deck", "A deck file made before", self.open_file.emit),
        )
        for i, (picture, words, tip, do) in enumerate(ways):
            made = QPushButton(f"{words}\n{tip}")
            made.setAutoDefault(True)  # Enter presses it, too
            made.setProperty("tone", "card")
            self._icons.append((made, picture))
            made.setIconSize(QSize(32, 32))
            made.setMinimumHeight(64)
            made.setAccessibleName(words)
            made.setAccessibleDescription(tip)
            made.clicked.connect(lambda _=False, d=do: d())
            self.first = self.first if i else made
            grid.addWidget(made, 0, i)
            grid.setColumnStretch(i, 1)
        return grid

    def _samples(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setSpacing(12)
        for i, (path, deck) in enumerate(readable(sample_decks())):
            made = QPushButton()
            made.setAutoDefault(True)
            made.setProperty("tone", "card")
            made.setFixedHeight(164)
            made.setMinimumWidth(CARD)
            made.setAccessibleName(f"Sample: {deck.name}")
            made.clicked.connect(lambda _=False, p=path: self.open_path.emit(p))
            face = QVBoxLayout(made)
            picture = label("")
            self._pictures.append((picture, deck))
            picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
            face.addWidget(picture, 1)
            face.addWidget(label(deck.name))
            face.addWidget(label(counted(len(deck.springs), "spring"), "small"))
            for child in made.findChildren(QWidget):
                child.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
            grid.addWidget(made, i // ACROSS, i % ACROSS)
        return grid


def readable(paths: list[Path]) -> list[tuple[Path, Deck]]:
    """The decks that can be read, with their paths."""
    decks = [(path, _read(path, path.stat().st_mtime_ns)) for path in paths]
    found = [(path, deck) for path, deck in decks if deck is not None]
    return sorted(found, key=lambda pair: len(pair[1].springs))


@lru_cache(maxsize=64)
def _read(path: Path, _changed: int) -> Deck | None:
    """The deck in ``path`` as it was at the time ``_changed``; None where it cannot be read."""
    try:
        return read_deck(path)
    except DeckFileError:
        return None
