"""The window: puts the canvas and the panels together and connects them with the actions."""

from pathlib import Path

from PySide6.QtCore import QMimeData, QSize, Qt, QTimer
from PySide6.QtGui import (
    QAction,
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
    QKeySequence,
)
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QMainWindow,
    QSplitter,
    QStackedWidget,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from spring_layout.gui.actions import Actions
from spring_layout.gui.base_work import BaseWork
from spring_layout.gui.canvas.rulers import RuledView
from spring_layout.gui.canvas.tools import TOOLS, first_tool
from spring_layout.gui.canvas.view import DeckView
from spring_layout.gui.editing import Editing
from spring_layout.gui.filing import Filing
from spring_layout.gui.help import HelpPage, about_words
from spring_layout.gui.menus import fill_menus
from spring_layout.gui.panels.findings import FindingTable
from spring_layout.gui.panels.pages.base import BasePage
from spring_layout.gui.panels.pages.height import HeightPage
from spring_layout.gui.panels.pages.paper import PaperPage
from spring_layout.gui.panels.particulars import WIDTH, Particulars
from spring_layout.gui.panels.side_view import SideView
from spring_layout.gui.panels.spring_table import SpringTable
from spring_layout.gui.panels.stages import StageColumn
from spring_layout.gui.panels.start import StartPage
from spring_layout.gui.panels.status import StatusLine
from spring_layout.gui.panels.strip import ToolStrip
from spring_layout.gui.panels.strip_table import StripTable
from spring_layout.gui.panels.tie_table import TieTable
from spring_layout.gui.paper_view import PaperView
from spring_layout.gui.papering import Papering
from spring_layout.gui.placing import Placing
from spring_layout.gui.routing import Routing
from spring_layout.gui.side_saving import SideSaving
from spring_layout.gui.theme.icons import app_icon
from spring_layout.gui.theme.look import wear
from spring_layout.gui.turning import Turning
from spring_layout.gui.workbench import Workbench

LEAST = QSize(1100, 700)
PAPER_HINT = "Page up and Page down turn the pages; the wheel looks closer, F shows the whole page."
START_HINT = "Measure or trace the frame to begin, or open a deck."


class MainWindow(QMainWindow):
    """Everything the user sees."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__()
        self.bench = bench
        bench.setParent(self)
        self.setWindowIcon(app_icon())
        self.setMinimumSize(800, 560)
        self.resize(LEAST)
        geometry = bench.settings.blob("window")
        if geometry is not None:
            self.restoreGeometry(geometry)
        self.setAcceptDrops(True)
        self.acts = Actions(self)
        self.words_in_menus: list[tuple[QAction, str]] = []
        self.view = DeckView(bench)
        self._build()
        self.editing = Editing(bench, self.view, self.acts, self)
        self.placing = Placing(bench, self.acts, self)
        self.filing = Filing(bench, self.acts, self)
        self.papering = Papering(bench, self.acts, self.paper_page, self.paper, self)
        self.side_saving = SideSaving(self)
        fill_menus(self)
        self._connect()
        self.acts.restyle(bench.palette)
        self._follow_document()
        self._bring_tool(bench.stage)

    # building ---------------------------------------------------------------------------------

    def _build(self) -> None:
        bench = self.bench
        self.stages = StageColumn(bench)
        self.strip = ToolStrip(bench, self.acts)
        self.particulars = Particulars(bench)
        self.start = StartPage(bench)
        self.tabs = self._tables()
        self.middle = QStackedWidget()
        self.middle.addWidget(self.start)
        self.middle.addWidget(RuledView(bench, self.view))
        self.paper = PaperView(bench)
        self.middle.addWidget(self.paper)
        self.paper_page = PaperPage(bench)
        self.particulars.add_stage("paper", self.paper_page)
        self.routing = Routing(bench, self)
        self.base_work = BaseWork(bench, self.view, self.routing, self)
        self.height_page, self.base_page = HeightPage(bench), BasePage(bench, self.routing)
        self.particulars.add_stage("height", self.height_page)
        self.particulars.add_stage("base", self.base_page)
        self.particulars.retell()
        self.stacked = QSplitter(Qt.Orientation.Vertical)
        self.stacked.addWidget(self._with_strip())
        self.stacked.addWidget(self.tabs)
        self.stacked.setStretchFactor(0, 1)
        self.stacked.setSizes([500, 190])
        self.turning = Turning(bench, self.tabs, self.side_view, self.stacked)
        self.across = QSplitter(Qt.Orientation.Horizontal)
        self.across.addWidget(self.stacked)
        self.across.addWidget(self.particulars)
        self.across.setStretchFactor(0, 1)
        self.across.setSizes([700, WIDTH])
        for splitter in (self.stacked, self.across):
            splitter.setChildrenCollapsible(False)
            splitter.setHandleWidth(4)
        whole = QWidget()
        row = QHBoxLayout(whole)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.stages)
        row.addWidget(self.across, 1)
        self.setCentralWidget(whole)
        self.status = StatusLine(bench, self.view)
        self.setStatusBar(self.status)

    def _with_strip(self) -> QWidget:
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.strip)
        column.addWidget(self.middle, 1)
        return holder

    def _tables(self) -> QTabWidget:
        bench = self.bench
        self.findings = FindingTable(bench)
        self.spring_table = SpringTable(bench)
        self.tie_table = TieTable(bench)
        tabs = QTabWidget()
        tabs.setObjectName("sheet")
        tabs.setProperty("side", "bottom")
        tabs.setDocumentMode(True)
        tabs.setMinimumHeight(110)
        tabs.addTab(self.findings, "Checks")
        tabs.addTab(self.spring_table, "Springs")
        tabs.addTab(self.tie_table, "")
        self.side_view, self.strip_table = SideView(bench), StripTable(bench)
        tabs.addTab(self.side_view, "Side view")
        tabs.addTab(self.strip_table, "")
        return tabs

    def _connect(self) -> None:
        bench, acts = self.bench, self.acts
        bench.words_changed.connect(self._retell)
        self._retell()
        bench.tool_wanted.connect(self.take_tool)
        bench.stage_changed.connect(self._bring_tool)
        self.findings.counted.connect(self._count_findings)
        bench.document.decided_changed.connect(self._follow_document)
        bench.document.path_changed.connect(self._follow_title)
        bench.document.undo_stack.cleanChanged.connect(lambda _: self._follow_title())
        self.particulars.ties_page.steps.stepped.connect(
            lambda number: self.view.deck_scene.show_step(number or None)
        )
        # elsewhere, as in a drop-down, the key means something else or nothing
        tables = (self.findings, self.spring_table, self.tie_table, self.strip_table)
        acts.only_at("delete", self.view, *tables)
        acts.does("fit", lambda: self._looking().fit())
        acts.does("zoom-in", lambda: self._looking().zoom_by(1.25))
        acts.does("zoom-out", lambda: self._looking().zoom_by(0.8))
        acts.does("true-size", self._true_size)
        acts.does("help", self._help)
        acts.does("about", lambda: self.filing.tell("Spring Layout", about_words()))
        # a desktop that turns dark in the evening takes the window with it
        QGuiApplication.styleHints().colorSchemeChanged.connect(self.restyle)
        acts["panels"].toggled.connect(self._hide_panels)
        springs = self.particulars.springs_page
        springs.suggest.clicked.connect(acts["suggest"].trigger)
        springs.sizes.clicked.connect(self.placing.sizes)
        springs.even.clicked.connect(acts["even"].trigger)
        self.start.measure.connect(self.filing.new)
        self.start.trace.connect(self._begin_tracing)
        self.start.open_file.connect(self.filing.open)
        self.start.open_path.connect(self.filing.open_sample)

    # following --------------------------------------------------------------------------------

    def _follow_document(self) -> None:
        has_deck = self.bench.document.deck is not None
        tracing = self._tool_name() == "trace"
        self.middle.setCurrentIndex(self._middle(has_deck, tracing))
        shown = has_deck and not self.acts["panels"].isChecked()
        self.particulars.setVisible(shown)
        self.tabs.setVisible(shown)
        self.strip.setVisible(has_deck or tracing)
        self.stages.setVisible((has_deck or tracing) and not self.acts["panels"].isChecked())
        if self.middle.currentIndex() == 0:
            self.bench.set_hint(START_HINT)
            if self.start.first is not None:
                self.start.first.setFocus()
        elif self.bench.hint == START_HINT and self.view.tool is not None:
            self.bench.set_hint(self.view.tool.hint)
        self._follow_title()

    def _middle(self, has_deck: bool, tracing: bool) -> int:
        """Which page is in the middle: the start, the deck, the paper."""
        if not has_deck:
            return 1 if tracing else 0
        return 2 if self.bench.stage == "paper" else 1

    def _follow_title(self) -> None:
        document = self.bench.document
        name = document.deck.name if document.deck else ""
        place = f" – {document.path.name}" if document.path else ""
        self.setWindowTitle(f"{name}[*]{place} – Spring Layout" if name else "Spring Layout[*]")
        self.setWindowModified(document.is_modified)

    def _count_findings(self, title: str) -> None:
        if title != self.tabs.tabText(0):
            self.tabs.setTabText(0, title)

    def _retell(self) -> None:
        """Puts tabs and menus into the words in use."""
        words = self.bench.words
        self.tabs.setTabText(2, words.fill("{Ties}"))
        self.tabs.setTabText(4, words.fill("{Webbing}"))
        for action, text in self.words_in_menus:
            action.setText(words.fill(text))

    # tools ------------------------------------------------------------------------------------

    def take_tool(self, name: str) -> None:
        """Puts the tool in hand, and turns to its stage."""
        kind = TOOLS[name]
        if self.bench.stage != kind.stage:
            self.bench.choose_stage(kind.stage)  # type: ignore[arg-type]  # a stage by its name
        if self._tool_name() != name:
            self.view.take(kind.make(self.bench, self.view))
        self.strip.show_tool(name)
        self._follow_document()
        if self.middle.currentIndex() == 1:
            self.view.setFocus()

    def _tool_name(self) -> str | None:
        tool = self.view.tool
        return next((n for n, k in TOOLS.items() if tool and type(tool) is k.make), None)

    def _bring_tool(self, stage: str) -> None:
        self._follow_document()
        name = first_tool(stage)
        current = self._tool_name()
        if name is not None and (current is None or TOOLS[current].stage != stage):
            self.take_tool(name)
        if stage == "paper":
            self.bench.set_hint(PAPER_HINT)
        elif self.bench.hint == PAPER_HINT and self.view.tool is not None:
            self.bench.set_hint(self.view.tool.hint)

    def _begin_tracing(self) -> None:
        self.view.setSceneRect(-1500, -1500, 4000, 4000)
        self.take_tool("trace")
        self.view.zoom_by(1.0 / self.view.zoom)
        self.view.centerOn(250, 250)

    # looking ----------------------------------------------------------------------------------

    def _looking(self) -> DeckView | PaperView:
        return self.paper if self.middle.currentIndex() == 2 else self.view

    def _help(self) -> None:
        page = HelpPage(self.bench.words, self)
        page.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        page.show()

    def _true_size(self) -> None:
        screen = self.screen()
        view = self._looking()
        view.zoom_by(screen.physicalDotsPerInch() / 25.4 / view.transform().m11())

    def _hide_panels(self, _hidden: bool) -> None:
        self._follow_document()

    def keys_of(self, key: str) -> str:
        """The keys of an action as text."""
        return self.acts[key].shortcut().toString(QKeySequence.SequenceFormat.NativeText)

    # a deck file dropped on the window --------------------------------------------------------

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if dropped_path(event.mimeData()) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        path = dropped_path(event.mimeData())
        if path is not None:
            event.acceptProposedAction()
            # the other program waits until the drop is over; a question must not hold it up
            QTimer.singleShot(0, self, lambda: self.filing.open_path(path))

    def closeEvent(self, event: QCloseEvent) -> None:
        if self.filing.may_close():
            self.filing.closing()
            self.bench.settings.keep("window", self.saveGeometry())
            self.end()
            # a stack that is being destroyed still signals; nobody is there to hear it
            self.bench.document.undo_stack.blockSignals(True)
            event.accept()
        else:
            event.ignore()

    def end(self) -> None:
        """Ends the helper processes."""
        self.bench.planner.stop_helper()
        self.placing.end()
        self.routing.end()
        self.papering.end()

    def restyle(self, *_: object) -> None:
        """Takes the look and the words that are chosen now."""
        app = QApplication.instance()
        if isinstance(app, QApplication):
            wear(app, self.bench.palette)
        self.acts.restyle(self.bench.palette)
        self.bench.look_changed.emit()
        self.bench.follow()


def dropped_path(data: QMimeData) -> Path | None:
    """The one file that is being dropped; None for anything else."""
    paths = [Path(url.toLocalFile()) for url in data.urls() if url.isLocalFile()]
    return paths[0] if len(paths) == 1 and paths[0].suffix == ".json" else None
