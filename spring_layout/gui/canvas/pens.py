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
    """A pen as wide on screen at every zoom, in device pixels."""
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
    """Every pen and brush that the canvas needs, for one palette and one screen.

    ``ratio``: device pixels to a px; steady pens are as wide as told in px on every screen.
    """

    def __init__(self, palette: Palette, ratio: float) -> None:
        p = palette
        self.ratio = ratio
        self.palette = p
        self.none = QPen(Qt.PenStyle.NoPen)
        self.paper = QBrush(QColor(p.paper))
        self.desk = QBrush(QColor(p.desk))
        self.webbing = QBrush(QColor(p.webbing))
        self.webbing_edge = self.steady(p.webbing_edge, 1.0)
        self.rail = QBrush(QColor(p.rail))
        self.rail_edge = self.steady(p.rail_edge, 1.0)
        self.inside_edge = self.steady(p.rail_edge, 2.5)
        self.open_edge = self.steady(p.rail_edge, 1.5, (4.0, 3.0))
        self.picked_edge = self.steady(p.accent, 4.0)
        self.steel = QBrush(QColor(p.steel))
        self.picked_steel = QBrush(QColor(p.accent_wash))
        self.ring_faint = self.steady(p.ring_faint, 1.0)
        self.halo = self.steady(p.accent, 3.5)
        self.ink = QBrush(QColor(p.ink))
        self.accent = QBrush(QColor(p.accent))
        self.mark = QBrush(QColor(p.mark))
        self.mark_edge = self.steady(p.mark, 2.0)
        self.accent_edge = self.steady(p.accent, 1.5)
        self.dimension = self.steady(p.accent, 1.25)
        self.guide = self.steady(p.accent, 1.0, (5.0, 4.0))
        self.field = QBrush(QColor(p.field))
        self.hair = self.steady(p.hair, 1.0)
        self.knot = self.steady(p.knot, 1.25)
        self.ties = {run: self.steady(p.run(run), 2.0, _DASHES[run]) for run in RUNS}
        self.ties_quiet = {
            run: self.steady(mix(p.run(run), p.paper, 0.55), 1.25, _DASHES[run]) for run in RUNS
        }
        self.ties_strong = {run: self.steady(p.run(run), 4.0, _DASHES[run]) for run in RUNS}
        self.ties_waiting = self.steady(p.hair, 1.5, (2.0, 3.0))
        self.anchor = {run: self.steady(p.run(run), 3.0) for run in RUNS}

    def steady(self, colour: str, width: float, dashes: tuple[float, ...] = ()) -> QPen:
        """A pen of ``width`` px at every zoom."""
        return steady(colour, width * self.ratio, dashes)

    def wire(self, diameter: float, quiet: bool = False) -> QPen:
        """The pen for a top coil of that wire, mm."""
        colour = mix(self.palette.ink, self.palette.paper, 0.4) if quiet else self.palette.ink
        return true_width(colour, max(diameter, 1.5))


@lru_cache(maxsize=8)
def pens_for(palette: Palette, ratio: float = 1.0) -> Pens:
    """The pens of a palette on a screen of ``ratio`` device pixels to a px."""
    return Pens(palette, ratio)
