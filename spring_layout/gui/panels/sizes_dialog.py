"""Spring sizes: the kinds of springs of this deck, measured, added, changed, removed."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QVBoxLayout,
    QWidget,
)

from spring_layout.deck import edits
from spring_layout.deck.coils import (
    GAUGES,
    STOCK,
    STOCK_NOTE,
    SYSTEMS,
    GaugeError,
    gauge_note,
    parse_gauge,
    with_gauge,
)
from spring_layout.deck.model import Coil, Deck
from spring_layout.gui.panels.fields import Choice, LengthField, WordsField, label
from spring_layout.gui.panels.form import Page, button
from spring_layout.gui.panels.pages.springs import coil_words
from spring_layout.gui.workbench import Workbench

SHAPES = (
    ("double-cone", "narrow in the middle"),
    ("single-cone", "narrow below"),
    ("cylinder", "the same all the way"),
)
ENDS = (
    ("knotted-both", "knotted above and below"),
    ("knotted-foot", "knotted below"),
    ("open", "open"),
)
MEASURED = "measured"


class SizesDialog(QDialog):
    """Works on a copy of the deck; ``deck`` is the outcome, one step when it is taken."""

    def __init__(self, bench: Workbench, parent: QWidget) -> None:
        super().__init__(parent)
        deck = bench.document.deck
        assert deck is not None
        self._bench = bench
        self.deck: Deck = deck
        self.setWindowTitle("Spring sizes")
        self.list = QListWidget()
        self.list.setAccessibleName("Spring sizes of this deck")
        self.list.setMinimumWidth(250)
        self.stock = Choice("Size to add", [(coil.id, _stock_words(bench, coil)) for coil in STOCK])
        self.add = button("Add this size")
        self.remove = button("Remove the size", "Only a size that no spring has")
        self.words = label("", "wrong")
        self.page = Page("Measurements")
        self._add_fields()
        self._lay_out()
        self.add.clicked.connect(self._add)
        self.remove.clicked.connect(self._remove)
        self.list.currentRowChanged.connect(lambda _: self.follow())
        self._relist(0)

    def _add_fields(self) -> None:
        page, bench = self.page, self._bench
        self.name = page.row("Name", WordsField("Name of the size"), "Letters, figures, - and _")
        self.name.entered.connect(lambda words: self._change(id=words))
        self.lengths: dict[str, LengthField] = {}
        for field, words, tip in (
            ("free_height", "Free height", "Standing loose on the bench"),
            ("top_diameter", "Top coil across", "Outside of the wire"),
            ("waist_diameter", "Waist across", "Outside of the wire, at the narrowest"),
            ("foot_diameter", "Bottom coil across", "Outside of the wire"),
        ):
            self.lengths[field] = page.row(words, LengthField(bench, words, self._set(field)), tip)
        self.turns = page.row("Turns", QLineEdit(), "Counted round the whole spring")
        self.turns.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.turns.editingFinished.connect(self._set_turns)
        gauges = [(f"{s} {n}", f"{s} {n}") for s in SYSTEMS for n in GAUGES]
        self.gauge = page.row(
            "Wire gauge",
            Choice("Wire gauge", [(MEASURED, "measured with a caliper"), *gauges]),
            "Nine gauge is not one wire: the American and the British tables differ",
        )
        self.gauge.chosen.connect(self._set_gauge)
        self.lengths["wire"] = page.row(
            "Wire", LengthField(bench, "Wire", self._set("wire"), "wire"), "Its thickness"
        )
        self.about_gauge = page.note()
        self.shape = page.row("Shape", Choice("Shape", SHAPES))
        self.shape.chosen.connect(lambda value: self._change(shape=value))
        self.ends = page.row("Ends", Choice("Ends", ENDS))
        self.ends.chosen.connect(lambda value: self._change(ends=value))

    def _lay_out(self) -> None:
        kinds = QDialogButtonBox.StandardButton
        answers = QDialogButtonBox(kinds.Ok | kinds.Cancel)
        answers.button(kinds.Ok).setText("Use these sizes")
        answers.button(kinds.Ok).setProperty("tone", "main")
        answers.accepted.connect(self.accept)
        answers.rejected.connect(self.reject)
        left = QVBoxLayout()
        left.addWidget(self.list, 1)
        left.addWidget(self.remove)
        left.addWidget(label("From the short list", "heading"))
        left.addWidget(self.stock)
        left.addWidget(self.add)
        left.addWidget(label(STOCK_NOTE, "small"))
        row = QHBoxLayout()
        row.setSpacing(16)
        row.addLayout(left)
        row.addWidget(self.page, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 16, 16, 16)
        column.addLayout(row, 1)
        column.addWidget(self.words)
        column.addWidget(answers)
        column.setSizeConstraint(QVBoxLayout.SizeConstraint.SetNoConstraint)
        self.setMinimumSize(560, 480)
        self.resize(660, 660)

    @property
    def coil(self) -> Coil | None:
        """The size that is being looked at."""
        row = self.list.currentRow()
        return self.deck.coils[row] if 0 <= row < len(self.deck.coils) else None

    def follow(self) -> None:
        """Shows the measurements of the size."""
        coil = self.coil
        self.page.setEnabled(coil is not None)
        self.remove.setEnabled(coil is not None)
        if coil is None:
            return
        self.name.show_words(coil.id)
        for field, shown in self.lengths.items():
            shown.show_mm(getattr(coil, field))
        self.turns.setText(f"{coil.turns:g}")
        self.gauge.show_value(coil.gauge or MEASURED)
        self.about_gauge.setText(self._gauge_words(coil))
        self.about_gauge.setVisible(bool(coil.gauge))
        self.shape.show_value(coil.shape)
        self.ends.show_value(coil.ends)

    def _gauge_words(self, coil: Coil) -> str:
        if not coil.gauge:
            return ""
        return gauge_note(parse_gauge(coil.gauge).number, self._bench.units)

    def _relist(self, row: int) -> None:
        self.list.blockSignals(True)
        self.list.clear()
        self.list.addItems([coil_words(self._bench, self.deck, c.id) for c in self.deck.coils])
        self.list.setCurrentRow(min(row, len(self.deck.coils) - 1))
        self.list.blockSignals(False)
        self.follow()

    def _try(self, edit: Callable[[Deck], Deck]) -> bool:
        """Edits the copy; says why where that cannot be."""
        row = self.list.currentRow()
        try:
            self.deck = edit(self.deck)
        except (ValueError, GaugeError) as error:
            self.words.setText(str(error))
            self.follow()
            return False
        self.words.setText("")
        self._relist(row)
        return True

    def _set(self, field: str) -> Callable[[float], None]:
        def accept(mm: float) -> None:
            coil = self.coil
            if coil is not None:
                self.deck = edits.change_coil(self.deck, coil.id, **{field: mm})
                self._relist(self.list.currentRow())

        return accept

    def _change(self, **fields: object) -> None:
        coil = self.coil
        if coil is not None:
            self._try(lambda deck: edits.change_coil(deck, coil.id, **fields))

    def _set_turns(self) -> None:
        text = self.turns.text().replace(",", ".")
        coil = self.coil
        if coil is None or text == f"{coil.turns:g}":
            return
        try:
            turns = float(text)
        except ValueError:
            self.words.setText(f"“{text}” is no number of turns; write it like 6 or 6.5.")
            self.follow()
            return
        self._change(turns=turns)

    def _set_gauge(self, gauge: str) -> None:
        coil = self.coil
        if coil is None:
            return
        if gauge == MEASURED:
            self._change(gauge=None)
            return
        wire = with_gauge(coil, gauge)
        self._change(gauge=wire.gauge, wire=wire.wire)

    def _add(self) -> None:
        chosen = next(c for c in STOCK if c.id == self.stock.currentData())
        if self._try(lambda deck: edits.add_coil(deck, chosen)):
            self._relist(len(self.deck.coils) - 1)

    def _remove(self) -> None:
        coil = self.coil
        if coil is not None:
            self._try(lambda deck: edits.remove_coil(deck, coil.id))

    def accept(self) -> None:
        """Takes the sizes; where a length cannot be read its field waits."""
        for field in self.lengths.values():
            field.take()
        bad = next((field for field in self.lengths.values() if field.fault), None)
        if bad is None:
            super().accept()
            return
        self.words.setText(f"{bad.accessibleName()}: {bad.fault}")
        bad.setFocus()
        bad.selectAll()


def _stock_words(bench: Workbench, coil: Coil) -> str:
    return f"{bench.length(coil.free_height)} high, {coil.gauge}"
