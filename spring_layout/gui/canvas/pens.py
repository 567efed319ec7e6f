"""The pens and brushes of the canvas, built once for a palette."""

from functools import lru_cache

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QPen

from spring_layout.deck.model import RUNS, Run
from spring_layout.gui.theme.palettes import Palette

_DASHES: dict[Run, tuple[float, ...]] = {
    "front-to-back": (),
    "side-to-side": (6.0, 2.5),
    "diagonal-rising": (5.0, 2.5, 1.0, 2.5),
    "diagonal-falling": (1.0, 2.0),
}
"""In line widths: drawn, left, drawn, left."""


def mix(colour: str, ground: str, share: float) -> str:
    """``colour`` laid over ``ground`` with ``share`` of it left, both ``#RRGGBB``."""
    parts = [
        round(int(colour[i : i + 2], 16) * share + int(ground[i : i + 2], 16) * (1 - share))
        for i in (1, 3, 5)
    ]
    return "#{:02X}{:02X}{:02X}".format(*parts)


def steady(colour: str, width: float, dashes: tuple[float, ...] = ()) -> QPen:
    """A pen as wide on screen at every zoom, px."""
    pen = QPen(QColor(colour), width)
    pen.setCosmetic(True)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if dashes:
        pen.setDashPattern(list(dashes))
    return pen


def true_width(colour: str, width: float) -> QPen:
    """A pen as wide as the thing itself, mm."""
    pen = QPen(QColor(colour), width)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    return pen


class Pens:
    """Every pen and brush that the canvas needs, for one palette."""

    def __init__(self, palette: Palette) -> None:
        p = palette
        self.palette = p
        self.none = QPen(Qt.PenStyle.NoPen)
        self.paper = QBrush(QColor(p.paper))
        self.desk = QBrush(QColor(p.desk))
        self.webbing = QBrush(QColor(p.webbing))
        self.webbing_edge = steady(p.webbing_edge, 1.0)
        self.rail = QBrush(QColor(p.rail))
        self.rail_edge = steady(p.rail_edge, 1.0)
        self.inside_edge = steady(p.rail_edge, 2.5)
        self.open_edge = steady(p.rail_edge, 1.5, (4.0, 3.0))
        self.picked_edge = steady(p.accent, 4.0)
        self.steel = QBrush(QColor(p.steel))
        self.picked_steel = QBrush(QColor(p.accent_wash))
        self.ring_faint = steady(p.ring_faint, 1.0)
        self.halo = steady(p.accent, 3.5)
        self.ink = QBrush(QColor(p.ink))
        self.accent = QBrush(QColor(p.accent))
        self.mark = QBrush(QColor(p.mark))
        self.mark_edge = steady(p.mark, 2.0)
        self.accent_edge = steady(p.accent, 1.5)
        self.dimension = steady(p.accent, 1.25)
        self.guide = steady(p.accent, 1.0, (5.0, 4.0))
        self.field = QBrush(QColor(p.field))
        self.hair = steady(p.hair, 1.0)
        self.knot = steady(p.knot, 1.25)
        self.ties = {run: steady(p.run(run), 2.0, _DASHES[run]) for run in RUNS}
        self.ties_quiet = {
            run: steady(mix(p.run(run), p.paper, 0.55), 1.25, _DASHES[run]) for run in RUNS
        }
        self.ties_strong = {run: steady(p.run(run), 4.0, _DASHES[run]) for run in RUNS}
        self.ties_waiting = steady(p.hair, 1.5, (2.0, 3.0))
        self.anchor = {run: steady(p.run(run), 3.0) for run in RUNS}

    def wire(self, diameter: float, quiet: bool = False) -> QPen:
        """The pen for a top coil of that wire, mm."""
        colour = mix(self.palette.ink, self.palette.paper, 0.4) if quiet else self.palette.ink
        return true_width(colour, max(diameter, 1.5))


@lru_cache(maxsize=4)
def pens_for(palette: Palette) -> Pens:
    """The pens of a palette."""
    return Pens(palette)
