"""The tables under the deck: springs, ties and checks, in step with the selection.

The table of springs is the equal of the canvas: places are typed into it, springs are kept and
picked in it, and a screen reader reads it.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QItemSelection,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    Qt,
)
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView

from spring_layout.gui.workbench import Workbench

Index = QModelIndex | QPersistentModelIndex
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
ROW = 32
"""px; a row is a target."""


@dataclass(frozen=True)
class Column:
    """A column: its heading and what it means; how its cells read, and how they are changed."""

    head: str
    tip: str
    read: Callable[[int], str]
    write: Callable[[int, str], bool] | None = None
    ticked: Callable[[int], bool] | None = None
    tick: Callable[[int, bool], bool] | None = None
    is_number: bool = True


class TableModel(QAbstractTableModel):
    """Rows known by their keys; columns as ``Column`` says."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__(bench)
        self.bench = bench
        self.keys: list[Any] = []
        self.columns: Sequence[Column] = ()
        bench.words_changed.connect(self._retell)

    def _retell(self) -> None:
        last = len(self.columns) - 1
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, last)

    def follow(self) -> None:
        """Takes up what the rows are about."""

    def take(self, keys: list[Any]) -> None:
        """Shows rows for these keys."""
        if keys == self.keys:
            if keys:
                last = self.index(len(keys) - 1, len(self.columns) - 1)
                self.dataChanged.emit(self.index(0, 0), last)
            return
        self.beginResetModel()
        self.keys = keys
        self.endResetModel()

    def revise(self, keys: list[Any]) -> list[int]:
        """Shows other keys in the same rows; which rows are others now, so that only they are
        painted anew."""
        changed = [
            i for i, (old, new) in enumerate(zip(self.keys, keys, strict=True)) if old != new
        ]
        self.keys = keys
        for row in changed:
            self.dataChanged.emit(self.index(row, 0), self.index(row, len(self.columns) - 1))
        return changed

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008  # Qt's own default
        return 0 if parent.isValid() else len(self.keys)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008  # Qt's own default
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid() or index.row() >= len(self.keys):
            return None
        column, row = self.columns[index.column()], index.row()
        if role == Qt.ItemDataRole.CheckStateRole and column.ticked is not None:
            return Qt.CheckState.Checked if column.ticked(row) else Qt.CheckState.Unchecked
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            return column.read(row)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return RIGHT if column.is_number else LEFT
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{column.head}: {column.read(row)}"
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation != Qt.Orientation.Horizontal:
            return None
        column, words = self.columns[section], self.bench.words
        if role == Qt.ItemDataRole.DisplayRole:
            return words.fill(column.head)
        if role == Qt.ItemDataRole.ToolTipRole:
            return words.fill(column.tip)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return RIGHT if column.is_number else LEFT
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        column = self.columns[index.column()]
        if column.write is not None:
            flags |= Qt.ItemFlag.ItemIsEditable
        if column.tick is not None:
            flags |= Qt.ItemFlag.ItemIsUserCheckable
        return flags

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        column = self.columns[index.column()]
        if role == Qt.ItemDataRole.CheckStateRole and column.tick is not None:
            return column.tick(index.row(), Qt.CheckState(value) == Qt.CheckState.Checked)
        if role == Qt.ItemDataRole.EditRole and column.write is not None:
            return column.write(index.row(), str(value))
        return False


class Table(QTableView):
    """A table that picks whole rows, and tells which rows the user picked."""

    def __init__(self, name: str, model: TableModel, picked: Callable[[list[Any]], None]) -> None:
        super().__init__()
        self.rows = model
        self._picked = picked
        self._following = False
        self.setAccessibleName(name)
        self.setModel(model)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().setVisible(False)
        self.verticalHeader().setDefaultSectionSize(ROW)
        head = self.horizontalHeader()
        head.setHighlightSections(False)
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        head.setStretchLastSection(True)
        head.setResizeContentsPrecision(0)  # only the rows on show: long tables stay quick
        self.selectionModel().selectionChanged.connect(self._tell)

    def follow(self) -> None:
        """Takes up what the rows are about; a table that nobody sees waits until it is shown."""
        if self.isVisible():
            self._following = True
            self.rows.follow()
            self._following = False
            self.follow_selection()

    def follow_selection(self) -> None:
        """Picks the rows of what is selected elsewhere."""
        if self.isVisible():
            self.show_picked(self.chosen())

    def chosen(self) -> set[Any]:
        """The keys of the rows that the selection is about."""
        return set()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.follow()

    def show_picked(self, keys: set[Any]) -> None:
        """Selects the rows of these keys and brings the first into view."""
        wanted = [i for i, key in enumerate(self.rows.keys) if key in keys]
        if wanted == self._rows_picked():
            return
        self._following = True
        chosen = QItemSelection()
        last = len(self.rows.columns) - 1
        for row in wanted:
            chosen.select(self.rows.index(row, 0), self.rows.index(row, last))
        flag = QItemSelectionModel.SelectionFlag
        self.selectionModel().select(chosen, flag.ClearAndSelect | flag.Rows)
        if wanted and not self.hasFocus():
            self.selectionModel().setCurrentIndex(self.rows.index(wanted[0], 0), flag.NoUpdate)
            self.scrollTo(self.rows.index(wanted[0], 0))
        self._following = False

    def _rows_picked(self) -> list[int]:
        return sorted(index.row() for index in self.selectionModel().selectedRows())

    def _tell(self) -> None:
        if not self._following:
            self._picked([self.rows.keys[row] for row in self._rows_picked()])
