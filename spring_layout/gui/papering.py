"""The sheets onto paper: shown as they will print, exported, printed.

A sheet is drawn in a helper process, and only when it is looked at, exported or printed; so the
window stays quick. What was drawn of a plan is kept until there is another plan.
"""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QFileDialog

from spring_layout.deck.errors import OutputError
from spring_layout.deck.files import write_atomically
from spring_layout.drawing.orders import KINDS, Order, drawn_all
from spring_layout.drawing.primitives import Drawing
from spring_layout.drawing.svg import svg_bytes
from spring_layout.gui.actions import Actions
from spring_layout.gui.helper import Helper
from spring_layout.gui.panels.pages.paper import PaperPage
from spring_layout.gui.paper_files import Files, files_of, filters_for, page_name
from spring_layout.gui.paper_view import PaperView
from spring_layout.gui.words import counted
from spring_layout.gui.workbench import Workbench
from spring_layout.plan import Plan
from spring_layout.qtrender.pdf import pdf_bytes

if TYPE_CHECKING:
    from spring_layout.gui.main_window import MainWindow

PATIENCE = 500
"""ms that something may take before it is told."""
ANY = -1
"""Stands for the ticket of a question that is just being asked."""

Pages = tuple[Drawing, ...]


class Papering(QObject):
    """Draws one thing at a time; to look at a sheet waits for an export or a print."""

    def __init__(
        self,
        bench: Workbench,
        acts: Actions,
        page: PaperPage,
        view: PaperView,
        window: "MainWindow",
    ) -> None:
        super().__init__(window)
        self._bench, self._page, self._view, self._window = bench, page, view, window
        self.helper = Helper(self)
        self._plan: Plan | None = None
        self._made: dict[Order, Pages] = {}
        self._shown: Order | None = None
        self._number = 0
        self._ticket = 0
        self._words = ""
        self._then: Callable[[Any], None] | None = None
        self._failed_then: Callable[[str], None] | None = None
        self._is_looking = False
        self._busy = QTimer(self, singleShot=True, interval=PATIENCE)
        self._busy.timeout.connect(lambda: view.turner.show_busy(self._words))
        self.helper.answered.connect(self._answered)
        self.helper.failed.connect(self._failed)
        acts.does("export", self.export)
        acts.does("print", self.print_out)
        page.export.clicked.connect(self.export)
        page.print.clicked.connect(self.print_out)
        page.print_set.clicked.connect(self.print_set)
        page.order_changed.connect(self.follow)
        view.turned.connect(self.turn)
        view.turner.turned.connect(self.turn)
        view.turner.stopped.connect(self.stop)
        view.turner.again.connect(self.follow)
        bench.planner.plan_changed.connect(self.follow)
        bench.words_changed.connect(page.follow)
        bench.words_changed.connect(self.follow)
        bench.stage_changed.connect(self._follow_stage)

    # looking --------------------------------------------------------------------------------------

    def follow(self) -> None:
        """Shows the sheet as it is now wished, while it is looked at."""
        plan = self._bench.planner.plan
        if self._bench.stage != "paper" or plan is None:
            return
        self._take_up(plan)
        self._page.follow()
        order = self._page.order
        if order in self._made:
            self._drop_looking()
            self._show(order)
        elif self._then is None or self._is_looking:
            words = f"Drawing: {self._page.sheet_name().lower()}…"
            self._ask(
                words, self._look_at, self._look_failed, drawn_all, plan, (order,), looking=True
            )

    def turn(self, by: int) -> None:
        """Shows another page of the sheet, so many on or back."""
        pages = self._made.get(self._shown) if self._shown else None
        if pages:
            self._number = min(max(self._number + by, 0), len(pages) - 1)
            self._show_page(pages)

    def stop(self) -> None:
        """Stops what is being drawn."""
        if self._then is None:
            return
        was_looking = self._is_looking
        self._forget()
        self.helper.stop()
        self._view.turner.show_stopped("Stopped.")
        if not was_looking:
            self._bench.say("Stopped; nothing is written or printed.")
            self.follow()

    def end(self) -> None:
        """Ends the helper process."""
        self._forget()
        self.helper.stop()

    def _follow_stage(self, stage: str) -> None:
        if stage == "paper":
            self._view.setFocus()
        self.follow()

    def _take_up(self, plan: Plan) -> None:
        if plan is not self._plan:
            self._plan, self._made = plan, {}

    def _look_at(self, made: dict[Order, Pages]) -> None:
        self._made.update(made)
        if self._page.order in self._made:
            self._show(self._page.order)

    def _look_failed(self, why: str) -> None:
        self._shown = None
        self._view.show_nothing(_sentence(why))
        self._page.show_nothing()

    def _drop_looking(self) -> None:
        if self._is_looking:
            self._forget()

    def _show(self, order: Order) -> None:
        if self._shown is None or self._shown.sheet != order.sheet:
            self._number = 0
        self._shown = order
        pages = self._made[order]
        self._number = min(self._number, len(pages) - 1)
        self._show_page(pages)

    def _show_page(self, pages: Pages) -> None:
        page = pages[self._number]
        self._view.show_drawing(page)
        name = page_name(page)
        own = name if "-" in name else ""
        self._view.turner.show_page(self._number, len(pages), own)
        self._page.show_pages(pages, self._number)

    # asking the helper ----------------------------------------------------------------------------

    def _ask(
        self,
        words: str,
        then: Callable[[Any], None],
        failed: Callable[[str], None],
        work: Callable[..., Any],
        *arguments: object,
        looking: bool = False,
    ) -> None:
        self._words, self._then, self._failed_then = words, then, failed
        self._is_looking, self._ticket = looking, ANY
        self._busy.start()
        ticket = self.helper.ask(work, *arguments)
        if self._ticket == ANY:  # not answered already
            self._ticket = ticket

    def _answered(self, ticket: int, value: object) -> None:
        if self._then is not None and self._ticket in (ANY, ticket):
            then = self._then
            self._forget()
            then(value)

    def _failed(self, ticket: int, why: str) -> None:
        if self._failed_then is not None and self._ticket in (ANY, ticket):
            failed = self._failed_then
            self._forget()
            failed(why)

    def _forget(self) -> None:
        self._busy.stop()
        self._then = self._failed_then = None
        self._ticket, self._is_looking = 0, False

    def _is_free(self) -> bool:
        if self._then is not None and not self._is_looking:
            self._bench.say("Another sheet is still being drawn; wait for it or stop it.")
            return False
        return True

    # exporting ------------------------------------------------------------------------------------

    def export(self) -> None:
        """Asks for a name and writes the sheet there, as its ending says."""
        plan, deck = self._bench.planner.catch_up(), self._bench.document.deck
        if plan is None or deck is None or not self._is_free():
            return
        order, filters = self._page.order, filters_for(self._page.wishes.sheet)
        path = self._bench.document.path
        stem = path.name.removesuffix(".deck.json") if path else deck.name
        folder = path.parent if path else Path.home()
        name, kind = QFileDialog.getSaveFileName(
            self._window,
            f"Export: {self._page.sheet_name().lower()}",
            str(folder / f"{stem}-{order.sheet}.svg"),
            ";;".join(filters.values()),
        )
        if name:
            asked = _with_ending(Path(name), kind, filters)
            self._ask(
                f"Exporting {asked.name}…",
                lambda files: self._write(files, asked),
                self._not_exported,
                files_of,
                plan,
                order,
                str(asked),
            )

    def _write(self, files: Files, asked: Path) -> None:
        self.follow()
        taken = [Path(path).name for path in files if path != str(asked) and Path(path).exists()]
        if taken and not self._may_replace(taken):
            return
        self._write_all(files, self._page.sheet_name())

    def export_to(self, path: Path, drawing: Drawing) -> bool:
        """Writes one drawing to ``path``; says why where that cannot be."""
        data = pdf_bytes([drawing]) if path.suffix.lower() == ".pdf" else svg_bytes(drawing)
        return self._write_all({str(path): data}, "drawing")

    def _write_all(self, files: Files, name: str) -> bool:
        for path, data in files.items():
            try:
                write_atomically(Path(path), data)
            except OutputError as error:
                self._window.filing.tell(f"The {name.lower()} is not exported.", str(error))
                return False
        first = Path(next(iter(files))).name
        more = f" and {len(files) - 1} more" if len(files) > 1 else ""
        self._bench.say(f"Exported as {first}{more}")
        return True

    def _may_replace(self, taken: list[str]) -> bool:
        return self._window.filing.agrees(
            f"{counted(len(taken), 'page')} of the same name {'is' if len(taken) == 1 else 'are'} "
            "there already.",
            f"Replace {taken[0]}{' and the others' if len(taken) > 1 else ''}?",
        )

    def _not_exported(self, why: str) -> None:
        self.follow()
        name = self._page.sheet_name().lower()
        self._window.filing.tell(f"The {name} is not exported.", _sentence(why))

    # printing -------------------------------------------------------------------------------------

    def print_out(self) -> None:
        """Asks for a printer and prints the sheet that is looked at."""
        wishes = self._page.wishes
        self._print([(self._page.order, wishes.copies(wishes.sheet))])

    def print_set(self) -> None:
        """Asks for a printer and prints every sheet of the set."""
        self._print(self._page.orders_of_set())

    def _print(self, wanted: list[tuple[Order, int]]) -> None:
        plan = self._bench.planner.catch_up()
        if plan is None or not wanted or not self._is_free():
            return
        self._take_up(plan)
        missing = tuple(order for order, _ in wanted if order not in self._made)
        made = dict(self._made)
        if not missing:
            self._print_pages(wanted, made)
            return
        self._ask(
            "Drawing what is to be printed…",
            lambda more: self._print_pages(wanted, made | more),
            self._not_printed,
            drawn_all,
            plan,
            missing,
        )

    def _print_pages(self, wanted: list[tuple[Order, int]], made: dict[Order, Pages]) -> None:
        # QtPrintSupport is slow to load and most evenings nobody prints
        from spring_layout.gui.printing import print_drawings

        self.follow()
        pages = [page for order, copies in wanted for page in made[order] * copies]
        told = print_drawings(pages, self._window)
        if told.startswith("Sent") and any(KINDS[order.sheet].full_size for order, _ in wanted):
            told += " Measure the 100 mm bars on it before it is used."
        if told:
            self._bench.say(told)

    def _not_printed(self, why: str) -> None:
        self.follow()
        self._window.filing.tell("Nothing is printed.", _sentence(why))


def _with_ending(path: Path, kind: str, filters: dict[str, str]) -> Path:
    if path.suffix.lower() in filters:
        return path
    endings = [ending for ending, words in filters.items() if words == kind] or [".svg"]
    return path.with_name(path.name + endings[0])


def _sentence(why: str) -> str:
    """``why`` with a capital and a full stop."""
    return f"{why[:1].upper()}{why[1:].rstrip('.')}."
