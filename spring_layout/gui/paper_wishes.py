"""What the user wishes of each sheet: its paper, way round, margins; which sheets are a set."""

from PySide6.QtCore import QLocale

from spring_layout.drawing.orders import (
    AS_IT_IS,
    KINDS,
    LEAST_MARGIN,
    MOST_MARGIN,
    Order,
)
from spring_layout.drawing.paper import MARGIN, PAPERS, Way
from spring_layout.drawing.template_correction import Correction, CorrectionError, correction_from
from spring_layout.gui.settings import Settings

SHEET_WORDS: dict[str, str] = {
    "diagram": "{Tie_diagram}",
    "bench": "Bench sheet",
    "template": "Full-size template",
    "rail-strips": "Rail strips",
    "record": "Record",
    "steps": "Tying steps",
    "side-view": "Side view",
}
"""What each sheet is called, to be filled with the words in use."""

LONG_PAPERS = (
    ("roll-610", "Roll, 610 mm"),
    ("roll-914", "Roll, 914 mm"),
    ("roll-24in", "Roll, 24 in"),
    ("roll-36in", "Roll, 36 in"),
    ("none", "One sheet, as large as need be"),
)
"""What full-size sheets can be put on besides sheets of paper."""

USUAL_SET = ("diagram", "bench", "record")
"""The sheets that most decks are tied from."""
MOST_COPIES = 20


class Wishes:
    """Kept in the settings, for each sheet; what is not wished is as usual."""

    def __init__(self, settings: Settings) -> None:
        self._settings = settings
        self.sheet = "diagram"
        """The sheet that is looked at."""
        self.line = 1
        """The tie that the side view is cut along."""

    def order(self, sheet: str = "") -> Order:
        """The order for a sheet, the one that is looked at if none is told."""
        sheet = sheet or self.sheet
        kind = KINDS[sheet]
        return Order(
            sheet,
            self.paper(sheet),
            self.way(sheet) if kind.turns else kind.way,
            self.margin(sheet),
            self.correction() if kind.full_size else AS_IT_IS,
            self.line if sheet == "side-view" else 1,
            self._settings.text("words", "auto"),
        )

    def paper(self, sheet: str) -> str:
        """The name of its paper."""
        kept = self._get(sheet, "paper", "")
        known = [*PAPERS, *(name for name, _ in LONG_PAPERS if KINDS[sheet].full_size)]
        return kept if kept in known else local_paper()

    def way(self, sheet: str) -> Way:
        """Which way round it is wanted."""
        ways: dict[str, Way] = {"upright": "upright", "lying": "lying"}
        return ways.get(self._get(sheet, "way", ""), "either")

    def margin(self, sheet: str) -> float:
        """Its margin, mm."""
        try:
            kept = float(self._get(sheet, "margin", ""))
        except ValueError:
            return MARGIN
        return kept if LEAST_MARGIN <= kept <= MOST_MARGIN else MARGIN

    def copies(self, sheet: str) -> int:
        """How many copies of it are printed."""
        kept = self._get(sheet, "copies", "1")
        return min(max(int(kept), 1), MOST_COPIES) if kept.isdigit() else 1

    def in_set(self, sheet: str) -> bool:
        """Whether it is printed with the set."""
        return self._get(sheet, "in-set", "yes" if sheet in USUAL_SET else "no") == "yes"

    def bars(self) -> tuple[str, str]:
        """What the 100 mm bars measured across and down, as written; empty: not measured."""
        return self._settings.text("bar-across"), self._settings.text("bar-down")

    def correction(self) -> Correction:
        """The correction of the printer for what its bars measured."""
        try:
            return correction_of(*self.bars())
        except CorrectionError:  # somebody wrote into the settings file
            return AS_IT_IS

    def keep(self, name: str, value: str, sheet: str = "") -> None:
        """Keeps one wish for a sheet, the one that is looked at if none is told."""
        self._settings.keep(f"paper-{sheet or self.sheet}-{name}", value)

    def keep_bars(self, across: str, down: str) -> None:
        """Keeps what the bars measured."""
        self._settings.keep("bar-across", across)
        self._settings.keep("bar-down", down)

    def _get(self, sheet: str, name: str, default: str) -> str:
        return self._settings.text(f"paper-{sheet}-{name}", default)


def correction_of(across: str, down: str) -> Correction:
    """The correction for the two bars; an empty one measured right. Raises CorrectionError."""
    return correction_from(across or "100 mm", down or "100 mm")


def local_paper() -> str:
    """Letter where letter is bought (the United States, Canada, Mexico), else A4."""
    lands = QLocale.Country
    here = QLocale.system().territory()
    return "letter" if here in (lands.UnitedStates, lands.Canada, lands.Mexico) else "a4"
