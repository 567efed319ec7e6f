"""Suggest layouts: two to four small pictures with what speaks for each, one to choose."""

import msgspec
from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from spring_layout.deck.model import Deck, Spring
from spring_layout.gui.evening import ANY
from spring_layout.gui.helper import Helper
from spring_layout.gui.panels.fields import Choice, label
from spring_layout.gui.panels.pages.springs import coil_options
from spring_layout.gui.panels.pictures import deck_picture
from spring_layout.gui.placing_work import layouts_for
from spring_layout.gui.workbench import Workbench
from spring_layout.planning.placing.layouts import Layout

PICTURE = QSize(224, 168)
CARD = QSize(PICTURE.width() + 32, PICTURE.height() + 150)
MOST = 4
"""How many layouts are shown at most."""


class LayoutCard(QPushButton):
    """One layout: its picture, its title, its gaps, why."""

    def __init__(self, bench: Workbench, deck: Deck, layout: Layout) -> None:
        super().__init__()
        self.layout_shown = layout
        self.setCheckable(True)
        self.setAutoExclusive(True)
        self.setProperty("tone", "card")
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)
        reason = bench.words.retold(layout.why)
        self.setAccessibleName(layout.title)
        self.setAccessibleDescription(reason)
        column = QVBoxLayout(self)
        column.setSpacing(6)
        picture = QLabel()
        picture.setPixmap(deck_picture(deck, PICTURE, bench.palette, self))
        picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
        title = label(layout.title, "heading")
        title.setWordWrap(True)
        why = label(reason, "small")
        for widget in (picture, title, why):
            widget.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
            column.addWidget(widget)
        column.addStretch(1)

    def sizeHint(self) -> QSize:
        return CARD

    def minimumSizeHint(self) -> QSize:
        return CARD


class LayoutsDialog(QDialog):
    """Works layouts out in the helper; ``chosen`` is the deck with the layout that was chosen."""

    def __init__(self, bench: Workbench, helper: Helper, parent: QWidget) -> None:
        super().__init__(parent)
        deck = bench.document.deck
        assert deck is not None
        self._bench, self._deck, self._helper = bench, deck, helper
        self._ticket = 0
        self._layouts: tuple[Layout, ...] = ()
        self.chosen: Deck | None = None
        self.setWindowTitle("Suggest layouts")
        self.coil = Choice("Spring size", coil_options(bench, deck))
        known = [coil.id for coil in deck.coils]
        self.coil.show_value(bench.coil if bench.coil in known else known[0] if known else "")
        self.coil.setMinimumContentsLength(26)
        self.coil.chosen.connect(lambda _: self._ask())
        self.words = label("", "faint")
        self.progress = QProgressBar()
        self.progress.setTextVisible(False)
        self.cards: list[LayoutCard] = []
        self._lay_out()
        helper.told.connect(self._told)
        helper.answered.connect(self._answered)
        helper.failed.connect(self._failed)
        self._ask()

    def _lay_out(self) -> None:
        kinds = QDialogButtonBox.StandardButton
        self.answers = QDialogButtonBox(kinds.Ok | kinds.Cancel)
        self.ok = self.answers.button(kinds.Ok)
        self.ok.setText("Set these springs")
        self.ok.setProperty("tone", "main")
        self.ok.setEnabled(False)
        self.answers.accepted.connect(self.accept)
        self.answers.rejected.connect(self.reject)
        top = QHBoxLayout()
        top.addWidget(label("Spring size", buddy=self.coil))
        top.addWidget(self.coil)
        top.addStretch(1)
        wished = self._deck.spacing
        length = self._bench.length
        top.addWidget(
            label(f"Wished: gaps of {length(wished.gap)}, {length(wished.clearance)} to the rail")
        )
        shelf = QWidget()  # takes the room below the words while there is no card yet
        self._grid = QGridLayout(shelf)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(12)
        self._grid.setColumnStretch(MOST, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 16, 16, 16)
        column.setSpacing(12)
        column.addLayout(top)
        column.addWidget(self.progress)
        column.addWidget(self.words)
        column.addWidget(shelf, 1)
        column.addWidget(self.answers)
        column.setSizeConstraint(QVBoxLayout.SizeConstraint.SetNoConstraint)
        self.resize(MOST * (CARD.width() + 12) + 24, CARD.height() + 170)

    def _ask(self) -> None:
        self._helper.stop()
        for card in self.cards:
            card.hide()
            card.deleteLater()
        self.cards = []
        self.ok.setEnabled(False)
        coil = str(self.coil.currentData() or "")
        if not coil:
            self.words.setText("The deck has no spring size yet; add one first.")
            return
        self.progress.setRange(0, 0)
        self.progress.show()
        self.words.setText("Trying rows square and staggered …")
        self._ticket = ANY
        self._ticket = self._helper.ask(layouts_for, self._deck, coil)

    def _is_mine(self, ticket: int) -> bool:
        # a question answered at once is answered before its ticket is known
        return self._ticket in (ANY, ticket)

    def _told(self, ticket: int, progress: tuple[int, int]) -> None:
        if self._is_mine(ticket):
            done, of = progress
            self.progress.setRange(0, of)
            self.progress.setValue(done)

    def _answered(self, ticket: int, layouts: tuple[Layout, ...]) -> None:
        if not self._is_mine(ticket):
            return
        self.progress.hide()
        self.words.setText(
            "Choose one; the springs that stand there now make way, and it can be undone."
            if layouts
            else "No layout fits as wished; try another spring size or smaller wishes."
        )
        coil = str(self.coil.currentData())
        for i, layout in enumerate(layouts):
            deck = with_layout(self._deck, layout, coil)
            card = LayoutCard(self._bench, deck, layout)
            card.clicked.connect(lambda _=False: self.ok.setEnabled(True))
            self._grid.addWidget(card, 0, i, Qt.AlignmentFlag.AlignTop)
            self.cards.append(card)
        if self.cards:
            self.cards[0].setChecked(True)
            self.cards[0].setFocus()
            self.ok.setEnabled(True)

    def _failed(self, ticket: int, why: str) -> None:
        if self._is_mine(ticket):
            self.progress.hide()
            self.words.setText(why)

    def accept(self) -> None:
        """Takes the chosen layout."""
        card = next((card for card in self.cards if card.isChecked()), None)
        if card is not None:
            coil = str(self.coil.currentData())
            self.chosen = with_layout(self._deck, card.layout_shown, coil)
        self.done(QDialog.DialogCode.Accepted)

    def done(self, result: int) -> None:
        """Stops what is being worked out before it closes."""
        if self.progress.isVisible():
            self._helper.stop()
        for signal, slot in (
            (self._helper.told, self._told),
            (self._helper.answered, self._answered),
            (self._helper.failed, self._failed),
        ):
            signal.disconnect(slot)
        super().done(result)


def with_layout(deck: Deck, layout: Layout, coil: str) -> Deck:
    """``deck`` with the springs of ``layout`` instead of its own; for a picture, or to be checked.

    Joins, parts and moved tack points named springs that are gone, and go with them.
    """
    springs = tuple(
        Spring(id=f"s{i}", coil=coil, x=x, y=y, held=False)
        for i, (x, y) in enumerate(layout.places, start=1)
    )
    tying = msgspec.structs.replace(deck.tying, joins=(), parts=(), anchors=())
    return msgspec.structs.replace(deck, springs=springs, tying=tying)
