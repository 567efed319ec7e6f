"""The tools of the stage, in a strip above the deck."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction, QActionGroup, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QToolButton

from spring_layout.gui.actions import Actions
from spring_layout.gui.canvas.tools import TOOLS
from spring_layout.gui.theme.icons import icon
from spring_layout.gui.workbench import Workbench

_BESIDE: dict[str, tuple[str, ...]] = {
    "springs": ("suggest", "even", "stop", "keep", "mirror"),
    "paper": ("export", "print"),
}
"""Actions that stand beside the tools of a stage."""


_SPACING, _SPARE = 4, 40
"""px between two buttons; round them and between the tools and the rest."""


class _Button(QToolButton):
    """A button that comes and goes with its action."""

    def follow(self) -> None:
        """Shown while the action is."""
        self.setVisible(self.defaultAction().isVisible())


class ToolStrip(QFrame):
    """Buttons for the tools of the stage and for what is done with them."""

    def __init__(self, bench: Workbench, actions: Actions) -> None:
        super().__init__()
        self.setObjectName("toolStrip")
        self._bench, self._actions = bench, actions
        self.tools: dict[str, QAction] = {}
        self._group = QActionGroup(self)
        self._make_tools()
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(8, 4, 8, 4)
        self._row.setSpacing(_SPACING)
        self.setMinimumWidth(1)
        self._buttons: list[QToolButton] = []
        bench.stage_changed.connect(lambda _: self.follow())
        bench.document.replaced.connect(self.follow)
        bench.document.decided_changed.connect(self.follow)
        bench.look_changed.connect(self.restyle)
        bench.words_changed.connect(self.retell)
        self.retell()
        self.restyle()
        self.follow()

    def _make_tools(self) -> None:
        for name, kind in TOOLS.items():
            action = QAction(self._group)
            action.setCheckable(True)
            action.setShortcut(kind.key)
            action.triggered.connect(lambda _=False, n=name: self._bench.take_tool(n))
            self._group.addAction(action)
            self.tools[name] = action

    def retell(self) -> None:
        """Puts the tools into the words in use."""
        words = self._bench.words
        for name, action in self.tools.items():
            kind = TOOLS[name]
            action.setText(words.fill(kind.make.name))
            action.setToolTip(f"{words.fill(kind.make.hint)} ({kind.key})")

    def restyle(self) -> None:
        """Tints the icons."""
        for name, action in self.tools.items():
            action.setIcon(icon(TOOLS[name].icon, self._bench.palette))

    def show_tool(self, name: str) -> None:
        """Shows which tool is in hand."""
        self.tools[name].setChecked(True)

    def follow(self) -> None:
        """Shows the tools of the stage."""
        stage = self._bench.stage
        names = [name for name, kind in TOOLS.items() if kind.stage == stage]
        has_deck = self._bench.deck is not None
        wanted = [self.tools[name] for name in names]
        for name, action in self.tools.items():
            action.setEnabled(has_deck or name == "trace")
        wanted += [self._actions[key] for key in _BESIDE.get(stage, ())]
        if [made.defaultAction() for made in self._buttons] == wanted:
            return
        self._clear()
        for i, action in enumerate(wanted):
            if i == len(names) and names:
                self._row.addSpacing(16)
            self._add(action)
        self._row.addStretch(1)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Where the strip is short the last buttons keep their icons and lose their words."""
        style = Qt.ToolButtonStyle
        shown = [made for made in self._buttons if not made.isHidden()]
        for made in shown:
            made.setToolButtonStyle(style.ToolButtonTextBesideIcon)
        room = self.width() - _SPARE
        for made in reversed(shown):
            if sum(other.sizeHint().width() + _SPACING for other in shown) <= room:
                return
            made.setToolButtonStyle(style.ToolButtonIconOnly)

    def _add(self, action: QAction) -> None:
        made = _Button()
        made.setDefaultAction(action)
        made.setAccessibleName(action.text().replace("&", "").rstrip("…"))
        made.setIconSize(QSize(20, 20))
        made.setMinimumHeight(32)
        made.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self._row.addWidget(made)
        made.setVisible(action.isVisible())
        action.visibleChanged.connect(made.follow)
        self._buttons.append(made)

    def _clear(self) -> None:
        self._buttons = []
        while self._row.count():
            item = self._row.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
