"""What every tool and panel works on: the document, its plan, the selection, the settings."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QLocale, QObject, QTimer, Signal

from spring_layout.deck import edits
from spring_layout.deck.model import Deck, Frame
from spring_layout.gui.beginnings import begun
from spring_layout.gui.document import Document
from spring_layout.gui.looking import Looking
from spring_layout.gui.planner import Planner
from spring_layout.gui.selection import Selection
from spring_layout.gui.settings import Settings
from spring_layout.gui.theme.look import system_is_dark, system_moves
from spring_layout.gui.theme.palettes import DARK, LIGHT, Palette
from spring_layout.gui.words import Words, counted, words_for
from spring_layout.planning.finding import Finding, Stage
from spring_layout.planning.parts import Line
from spring_layout.units import Kind, Units, format_length, parse_length

SAY_FOR = 6000
"""ms that a passing remark stays in the status line."""


class Workbench(QObject):
    """The one object that the parts of the window share. It decides nothing itself."""

    stage_changed = Signal(str)
    hint_changed = Signal(str)
    said = Signal(str)
    look_changed = Signal()
    look_at = Signal(float, float)
    """Asks the view to show this place, mm."""
    tool_wanted = Signal(str)
    """Asks the window to put this tool in hand."""
    words_changed = Signal()
    """Other words are in use: another deck, another unit, another setting."""
    hand_down = Signal()
    """The user takes hold of something on the canvas."""

    def __init__(self, settings: Settings, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.settings = settings
        self.document = Document(self)
        self.selection = Selection(self)
        self.document.shown_changed.connect(lambda: self.selection.prune(self.deck))
        self.planner = Planner(self.document, self)  # after: panels follow it at once
        self.looking = Looking(self)
        self.stage: Stage = "frame"
        self.hint = ""
        self.remark = ""
        self.ratio = 1.0
        """Device pixels to a px on the screen that shows the deck."""
        self.coil = ""
        """The spring size for new springs, by its id; empty: the one most springs have."""
        self.same_both_sides = True
        """Whether the two sides of a frame that is the same on both sides change together."""
        self._remark = QTimer(self, singleShot=True, interval=SAY_FOR)
        self._remark.timeout.connect(lambda: self._show_remark(""))
        self._words = self.words
        self.document.shown_changed.connect(self.follow)
        self.planner.failed.connect(lambda why: self.say(f"The plan waits: {why}."))

    @property
    def deck(self) -> Deck | None:
        """The deck on show."""
        return self.document.shown

    @property
    def units(self) -> Units:
        """The units that lengths are shown in and read as."""
        deck = self.deck
        if deck is not None:
            return deck.units
        return "in" if self.settings.text("units", _local_units()) == "in" else "mm"

    @property
    def words(self) -> Words:
        """The trade's words on this side of the Atlantic."""
        return words_for(self.deck, self.settings.text("words", "auto"))

    def follow(self) -> None:
        """Tells what was let go of with the deck before; changes words where need be."""
        self.selection.tell()
        if self.words != self._words:
            self._words = self.words
            self.words_changed.emit()

    @property
    def palette(self) -> Palette:
        """The colours in use."""
        chosen = self.settings.text("look", "system")
        dark = system_is_dark() if chosen == "system" else chosen == "dark"
        return DARK if dark else LIGHT

    @property
    def moves(self) -> bool:
        """Whether motion is welcome: as the user set it here, else as the desktop has it."""
        return self.settings.flag("motion", system_moves())

    def length(self, mm: float, kind: Kind = "place", unit: bool = True) -> str:
        """``mm`` as the user reads it."""
        return format_length(mm, self.units, kind, unit=unit, point=QLocale().decimalPoint())

    def read_length(self, text: str) -> float:
        """The length that ``text`` says, mm. Raises LengthError."""
        return parse_length(text, self.units)

    def choose_stage(self, stage: Stage) -> None:
        """Brings the tools and the page of ``stage``."""
        if stage != self.stage:
            self.stage = stage
            self.stage_changed.emit(stage)

    def set_hint(self, hint: str) -> None:
        """What the tool in hand expects."""
        self.hint = self.words.fill(hint)
        self.hint_changed.emit(hint)

    def say(self, remark: str) -> None:
        """A passing remark, shown in the status line and read out."""
        self._show_remark(remark)
        self._remark.start()

    def _show_remark(self, remark: str) -> None:
        self.remark = remark
        self.said.emit(remark)

    def label(self, spring: str) -> str:
        """The label of a spring, such as B2 (its id while there is no plan of it)."""
        plan = self.planner.plan
        return plan.parts.labels.get(spring, spring) if plan else spring

    def line(self, number: int) -> Line | None:
        """The tie with that number in the current plan."""
        plan = self.planner.plan
        lines = plan.parts.ties.lines if plan else ()
        return next((line for line in lines if line.number == number), None)

    def picked_line(self) -> Line | None:
        """The selected tie as it is in the current plan."""
        key, plan = self.selection.picked.tie, self.planner.plan
        lines = plan.parts.ties.lines if key and plan else ()
        return next(
            (k for k in lines if key and k.run == key.run and key.spring in k.springs), None
        )

    def findings(self, stage: Stage | None = None) -> tuple[Finding, ...]:
        """The findings of the current plan, of one stage or of all."""
        plan = self.planner.plan
        found = plan.findings if plan else ()
        return found if stage is None else tuple(f for f in found if f.stage == stage)

    def origin(self) -> tuple[float, float]:
        """Where places are measured from: the opening's middle, at its back edge, mm."""
        standing = self.planner.standing
        if standing is None:
            return (0.0, 0.0)
        x0, y0, x1, _ = standing.outline.bounds
        return ((x0 + x1) / 2, y0)

    def attempt(self, words: str, edit: Callable[[Deck], Deck]) -> bool:
        """Makes one undoable step with ``edit``; says why where that cannot be."""
        deck = self.document.deck
        if deck is None:
            return False
        try:
            after = edit(deck)
        except ValueError as error:
            self.document.drop_preview()
            self.say(str(error))
            return False
        self.document.edit(words, after)
        return True

    def begin_with_frame(self, frame: Frame, words: str) -> bool:
        """Puts the deck in another frame, or begins a deck in it; says why where that cannot be."""
        deck = self.document.deck
        try:
            after = (
                begun(frame, self.units)
                if deck is None
                else edits.set_frame(deck, frame, drop_outside=True)
            )
        except ValueError as error:
            self.say(str(error))
            return False
        self.document.edit(words, after)
        lost = len(deck.springs) - len(after.springs) if deck else 0
        if lost:
            self.say(f"{counted(lost, 'spring')} stood outside the new frame and went with it.")
        return True

    def take_tool(self, name: str) -> None:
        """Asks for a tool by its name."""
        self.tool_wanted.emit(name)

    def recovery_folder(self) -> Path:
        """Where the recovery files of this user go."""
        return self.settings.data / "recovery"


def _local_units() -> str:
    system = QLocale().measurementSystem()
    return "mm" if system == QLocale.MeasurementSystem.MetricSystem else "in"
