"""The two palettes, by what each colour is for. Contrast is tested, not judged by eye."""

from dataclasses import dataclass

from spring_layout.deck.model import Run


@dataclass(frozen=True)
class Palette:
    """Every colour on screen, as ``#RRGGBB``.

    ``paper`` lies under the deck, ``desk`` under everything else; ``ink`` is for text and rings,
    ``faint`` for what may recede but must be read, ``hair`` for rules between things. ``accent``
    is the chalk line: what is selected and what the hand is doing. ``mark`` is for findings.
    """

    name: str
    dark: bool
    paper: str
    desk: str
    field: str
    ink: str
    faint: str
    hair: str
    rail: str
    rail_edge: str
    webbing: str
    webbing_edge: str
    steel: str
    ring_faint: str
    accent: str
    accent_wash: str
    on_accent: str
    mark: str
    mark_wash: str
    front_to_back: str
    side_to_side: str
    diagonal_rising: str
    diagonal_falling: str
    knot: str

    def run(self, run: Run) -> str:
        """The colour of the ties of ``run``."""
        return {
            "front-to-back": self.front_to_back,
            "side-to-side": self.side_to_side,
            "diagonal-rising": self.diagonal_rising,
            "diagonal-falling": self.diagonal_falling,
        }[run]


LIGHT = Palette(
    name="light",
    dark=False,
    paper="#FBF8F2",
    desk="#F1EBDF",
    field="#FFFDF9",
    ink="#2B2A27",
    faint="#655F54",
    hair="#D8CDB9",
    rail="#D9C3A3",
    rail_edge="#7A5F3A",
    webbing="#EFE7D8",
    webbing_edge="#DCCFB6",
    steel="#E3E6E8",
    ring_faint="#8C8A84",
    accent="#2457A6",
    accent_wash="#DCE6F5",
    on_accent="#FFFFFF",
    mark="#A61C55",
    mark_wash="#F7E1EA",
    front_to_back="#0B6E75",
    side_to_side="#AD4E26",
    diagonal_rising="#6B4C9A",
    diagonal_falling="#66711B",
    knot="#2B2A27",
)

DARK = Palette(
    name="dark",
    dark=True,
    paper="#23252A",
    desk="#1B1D21",
    field="#2B2E34",
    ink="#E8E4DA",
    faint="#ABA598",
    hair="#43464E",
    rail="#5B4A33",
    rail_edge="#C2A273",
    webbing="#2E2E2E",
    webbing_edge="#413E37",
    steel="#3A3E45",
    ring_faint="#85837D",
    accent="#86B4F4",
    accent_wash="#293A53",
    on_accent="#14171C",
    mark="#F08DB0",
    mark_wash="#4A2A38",
    front_to_back="#4DB8BE",
    side_to_side="#E58A5F",
    diagonal_rising="#B49AE6",
    diagonal_falling="#B7C25A",
    knot="#E8E4DA",
)

PALETTES = {palette.name: palette for palette in (LIGHT, DARK)}
