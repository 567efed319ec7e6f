"""The checks: one sentence each, what to do beside it; choosing one shows the place."""

from PySide6.QtCore import QLocale, QModelIndex, QRect, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHeaderView, QStyledItemDelegate, QStyleOptionViewItem, QTableView

from spring_layout.gui.panels.tables import LEFT, ROW, Column, Index, Table, TableModel
from spring_layout.gui.panels.unhurried import SELDOM, Unhurried
from spring_layout.gui.selection import Picked, TieKey
from spring_layout.gui.theme.icons import pixmap
from spring_layout.gui.words import counted
from spring_layout.gui.workbench import Workbench
from spring_layout.planning.finding import Finding
from spring_layout.units import unbroken

_BESIDE = 26
"""px of a cell's width that its words do not have."""
_SHARP = 2.0
"""Device pixels a pixel: sharp up to 200 %."""
SEVERITY_WORDS = {"wrong": "Wrong", "doubtful": "Doubtful", "note": "Note"}
STAGE_WORDS = {
    "frame": "Frame",
    "height": "Height",
    "springs": "Springs",
    "base": "Base",
    "ties": "{Ties}",
    "paper": "Paper",
}


class FindingRows(TableModel):
    """A row a finding, worst first."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__(bench)
        self.columns = (
            Column("Check", "How serious it is", self._severity, is_number=False),
            Column("About", "The part of the work", self._stage, is_number=False),
            Column("What", "What, where, how far off", self._message, is_number=False),
            Column("What to do", "How it is put right", self._mend, is_number=False),
        )

    def follow(self) -> None:
        """Takes up the findings of the plan."""
        self.take(list(self.bench.findings()))

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if role == Qt.ItemDataRole.DecorationRole and index.column() == 0:
            finding = self.keys[index.row()]
            palette = self.bench.palette
            colour = palette.faint if finding.severity == "note" else palette.mark
            return pixmap(f"finding-{finding.severity}", 16, _SHARP, colour, palette.paper)
        if role == Qt.ItemDataRole.ToolTipRole:
            finding = self.keys[index.row()]
            told = self.bench.words.retold(f"{finding.message} {finding.mend}")
            return f"{told}\nLimit from: {finding.source}"
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return LEFT
        return super().data(index, role)

    def _severity(self, row: int) -> str:
        return SEVERITY_WORDS[self.keys[row].severity]

    def _stage(self, row: int) -> str:
        return self.bench.words.fill(STAGE_WORDS[self.keys[row].stage])

    def _message(self, row: int) -> str:
        return self.bench.words.retold(self.keys[row].message)

    def _mend(self, row: int) -> str:
        return self.bench.words.retold(self.keys[row].mend)


class _Wrapped(QStyledItemDelegate):
    """Cells as high as their sentences, wrapped within the column, need."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        table = self.parent()
        assert isinstance(table, QTableView)
        width = table.columnWidth(index.column()) - _BESIDE
        words = unbroken(str(index.data() or ""))
        room = QRect(0, 0, max(width, 40), 10_000)
        needed = table.fontMetrics().boundingRect(room, Qt.TextFlag.TextWordWrap, words)
        return QSize(width, max(ROW, needed.height() + 12))

    def displayText(self, value: object, locale: QLocale | QLocale.Language) -> str:
        return unbroken(str(value or ""))


class FindingTable(Table):
    """Choosing a finding selects what it is about and brings it into view."""

    counted = Signal(str)
    """How many findings there are, in words, whenever they are taken up."""

    def __init__(self, bench: Workbench) -> None:
        self._bench = bench
        self._model = FindingRows(bench)
        super().__init__("Checks", self._model, self._pick)
        self.setSelectionMode(self.SelectionMode.SingleSelection)
        self.setWordWrap(True)
        self.setIconSize(QSize(16, 16))
        self.setItemDelegateForColumn(2, _Wrapped(self))
        self.setItemDelegateForColumn(3, _Wrapped(self))
        head = self.horizontalHeader()
        head.setStretchLastSection(False)
        head.setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        head.setSectionResizeMode(3, QHeaderView.ResizeMode.Stretch)
        self._fit = QTimer(self, singleShot=True, interval=0)
        self._fit.timeout.connect(self.resizeRowsToContents)
        self._unhurried = Unhurried(bench.document, self.follow, self, SELDOM)
        bench.planner.plan_changed.connect(self._unhurried.look)
        self.activated.connect(lambda index: self._show(index))
        self.clicked.connect(lambda index: self._show(index))

    def showEvent(self, event: QShowEvent) -> None:
        QTableView.showEvent(self, event)  # it has followed all the time

    def follow(self) -> None:
        """Takes up the findings, and keeps the chosen one while it is there."""
        findings = list(self._bench.findings())
        deck = self._bench.deck
        has_springs = deck is not None and bool(deck.springs)
        self.counted.emit(findings_title(tuple(findings), has_springs))
        if self._bench.document.is_previewing and _same_rows(findings, self._model.keys):
            # in the hand a gap is another every moment: only its own row is painted anew
            for row in self._model.revise(findings):
                self.resizeRowToContents(row)
            return
        before = self._model.keys
        self._following = True
        self._model.follow()
        self._following = False
        if self._model.keys != before:
            self._fit.start()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit.start()

    def _pick(self, findings: list[Finding]) -> None:
        if findings:
            show_finding(self._bench, findings[0])

    def _show(self, index: QModelIndex) -> None:
        show_finding(self._bench, self._model.keys[index.row()])


def _same_rows(some: list[Finding], others: list[Finding]) -> bool:
    """Whether both say the same of the same things, row by row, but for figures."""
    return [_about(finding) for finding in some] == [_about(finding) for finding in others]


def _about(finding: Finding) -> tuple[object, ...]:
    return finding.code, finding.severity, finding.springs, finding.lines, finding.sides


def show_finding(bench: Workbench, finding: Finding) -> None:
    """Selects what a finding is about and brings its place into view."""
    bench.selection.pick(_picked(bench, finding))
    if finding.place is not None:
        bench.look_at.emit(*finding.place)
    bench.say(bench.words.retold(f"{finding.message} {finding.mend}"))


def _picked(bench: Workbench, finding: Finding) -> Picked:
    line = bench.line(finding.lines[0]) if finding.lines else None
    if line is not None and finding.stage == "ties":
        return Picked(tie=TieKey(line.run, line.springs[0]))
    if finding.springs:
        return Picked(springs=frozenset(finding.springs))
    if finding.sides:
        return Picked(side=finding.sides[0])
    return Picked()


def findings_title(findings: tuple[Finding, ...], has_springs: bool = True) -> str:
    """What the tab says: how many checks are wrong, doubtful or notes."""
    serious = [f for f in findings if f.severity != "note"]
    notes = len(findings) - len(serious)
    if not findings:
        return "Checks: all clear" if has_springs else "Checks: no springs yet"
    told = counted(len(serious), "check") if serious else "Checks: clear"
    return f"{told}, {counted(notes, 'note')}" if notes else told
