"""The right-hand side: what is selected, else the stage's own page."""

from PySide6.QtWidgets import QFrame, QStackedWidget, QVBoxLayout

from spring_layout.gui.panels.form import Page
from spring_layout.gui.panels.pages.frame import CornerPage, FramePage, SidePage
from spring_layout.gui.panels.pages.springs import SpringPage, SpringsPage
from spring_layout.gui.panels.pages.ties import TiePage, TiesPage
from spring_layout.gui.panels.unhurried import Unhurried
from spring_layout.gui.workbench import Workbench

WIDTH = 320
"""px."""
WORKED_ON = {
    "frame": ("side", "corner"),
    "springs": ("springs",),
    "base": ("strip",),
    "ties": ("tie", "springs"),
}
"""What each stage works on: what else is still selected from the stage before does not keep its
page when another stage is chosen."""


class Particulars(QFrame):
    """Shows the page that fits the selection and the stage, and keeps it in step."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__()
        self.setObjectName("sheet")
        self.setProperty("side", "right")
        self.setMinimumWidth(280)
        self._bench = bench
        self.frame_page = FramePage(bench)
        self.side_page = SidePage(bench)
        self.corner_page = CornerPage(bench)
        self.springs_page = SpringsPage(bench)
        self.spring_page = SpringPage(bench)
        self.ties_page = TiesPage(bench)
        self.tie_page = TiePage(bench)
        self.stages: dict[str, Page] = {
            "frame": self.frame_page,
            "springs": self.springs_page,
            "ties": self.ties_page,
        }
        self._stack = QStackedWidget()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._stack)
        for page in self._pages():
            self._stack.addWidget(page)
        self._unhurried = Unhurried(bench.document, self.follow, self)
        bench.planner.spaces_changed.connect(self._unhurried.look)
        bench.planner.plan_changed.connect(self._unhurried.look)
        self._is_of_stage = False
        bench.selection.changed.connect(lambda: self._turn(of_stage=False))
        bench.stage_changed.connect(self._begin)
        bench.words_changed.connect(self.retell)
        self.retell()
        self.follow()

    def _begin(self, stage: str) -> None:
        """Another stage: its page, where nothing is selected that is worked on there."""
        picked = self._bench.selection.picked
        works_on = WORKED_ON.get(stage, ())
        worked_on = [getattr(picked, kind) for kind in works_on]
        self._turn(of_stage=all(it is None or it == frozenset() for it in worked_on))

    def _turn(self, of_stage: bool) -> None:
        """To the page of the stage that was chosen, or of what was selected, whichever was last."""
        self._is_of_stage = of_stage
        self.follow()

    def retell(self) -> None:
        """Puts every page into the words in use."""
        for i in range(self._stack.count()):
            page = self._stack.widget(i)
            assert isinstance(page, Page)
            page.retell(self._bench.words)

    def add_stage(self, stage: str, page: Page) -> None:
        """Gives another stage its page."""
        self.stages[stage] = page
        self._stack.addWidget(page)

    @property
    def page(self) -> Page:
        """The page on show."""
        shown = self._stack.currentWidget()
        assert isinstance(shown, Page)
        return shown

    def follow(self) -> None:
        """Turns to the right page and shows what it is about."""
        page = self._fitting()
        if self._stack.currentWidget() is not page:
            self._stack.setCurrentWidget(page)
        follow = getattr(page, "follow", None)
        if follow is not None and self._bench.deck is not None:
            follow()

    def _pages(self) -> list[Page]:
        selected = [self.side_page, self.corner_page, self.spring_page, self.tie_page]
        return [*self.stages.values(), *selected]

    def _fitting(self) -> Page:
        picked, stage = self._bench.selection.picked, self._bench.stage
        if self._is_of_stage or stage == "paper":
            return self.stages.get(stage, self.frame_page)
        if picked.springs:
            return self.spring_page
        if picked.tie is not None and self._bench.picked_line() is not None:
            return self.tie_page
        if picked.side is not None:
            return self.side_page
        if picked.corner is not None:
            return self.corner_page
        return self.stages.get(stage, self.frame_page)
