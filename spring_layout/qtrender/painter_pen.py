"""The pen that paints a drawing with a QPainter: on the screen, on a printer, into a PDF.

The painter's unit must be one millimetre; ``paint`` sets the scale.
"""

import math
from functools import lru_cache
from itertools import pairwise

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen

from spring_layout.drawing.lettering import width_at_size
from spring_layout.drawing.pen import play
from spring_layout.drawing.primitives import (
    Arc,
    Circle,
    Close,
    Drawing,
    Group,
    Line,
    Move,
    Path,
    Step,
    Stroke,
    Text,
)
from spring_layout.qtrender.fonts import PIXELS, font_of


def paint(drawing: Drawing, painter: QPainter, dots_per_mm: float) -> None:
    """Paints ``drawing`` with its upper left corner at the painter's origin."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(dots_per_mm, dots_per_mm)
    play(drawing, PainterPen(painter))
    painter.restore()


class PainterPen:
    """Paints what it is told at once."""

    def __init__(self, painter: QPainter) -> None:
        self._painter = painter

    def begin(self, drawing: Drawing) -> None:
        """Nothing to prepare: the painter is at the sheet already."""

    def begin_group(self, group: Group) -> None:
        """Clips to the group's clip, where it has one."""
        self._painter.save()
        if group.clip is not None:
            self._painter.setClipPath(path_of(group.clip.steps), Qt.ClipOperation.IntersectClip)

    def end_group(self) -> None:
        """Takes the clip back."""
        self._painter.restore()

    def path(self, path: Path) -> None:
        """Fills and strokes a path."""
        self._use(path.stroke, path.fill)
        self._painter.drawPath(path_of(path.steps))

    def circle(self, circle: Circle) -> None:
        """Fills and strokes a circle."""
        self._use(circle.stroke, circle.fill)
        self._painter.drawEllipse(QPointF(circle.x, circle.y), circle.radius, circle.radius)

    def text(self, text: Text) -> None:
        """Writes a line of words, as wide as the drawing has measured it."""
        painter = self._painter
        wide = width_at_size(text.words, text.size, text.weight)
        shift = {"start": 0.0, "middle": -wide / 2, "end": -wide}[text.anchor]
        painter.save()
        painter.translate(text.x, text.y)
        painter.rotate(text.turned)
        painter.translate(shift, 0)
        painter.scale(text.size / PIXELS, text.size / PIXELS)
        painter.setFont(font_of(text.weight))
        painter.setPen(QColor(text.colour))
        painter.drawText(QPointF(0, 0), text.words)
        painter.restore()

    def end(self) -> None:
        """Nothing is left open."""

    def _use(self, stroke: Stroke | None, fill: str | None) -> None:
        self._painter.setPen(pen_of(stroke) if stroke else QPen(Qt.PenStyle.NoPen))
        self._painter.setBrush(QBrush(QColor(fill)) if fill else QBrush(Qt.BrushStyle.NoBrush))


def pen_of(stroke: Stroke) -> QPen:
    """A stroke as Qt wants it; Qt counts dashes in line widths."""
    pen = QPen(QColor(stroke.colour), stroke.width)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    ends = {"butt": Qt.PenCapStyle.FlatCap, "round": Qt.PenCapStyle.RoundCap}
    pen.setCapStyle(ends[stroke.ends])
    if stroke.dashes:
        dashes = stroke.dashes if len(stroke.dashes) % 2 == 0 else stroke.dashes * 2
        pen.setDashPattern([dash / stroke.width for dash in dashes])
        pen.setDashOffset(stroke.offset / stroke.width)
    return pen


def path_of(steps: tuple[Step, ...]) -> QPainterPath:
    """Steps as a painter's path, filled by the even-odd rule."""
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    for step in steps:
        match step:
            case Move(x, y):
                path.moveTo(x, y)
            case Line(x, y):
                path.lineTo(x, y)
            case Arc():
                _add_arc(path, step)
            case Close():
                path.closeSubpath()
    return path


def _add_arc(path: QPainterPath, arc: Arc) -> None:
    """An arc in Bézier curves, never farther from its circle than ``_OFF`` nor than 4e-7 of it.

    Qt's own cut curves of 90 degrees down, and is 0.25 mm off on the front rail of an easy chair.
    """
    x, y = arc.x, arc.y
    for ax, ay, bx, by, ex, ey in _curves(arc.radius, arc.start, arc.sweep):
        path.cubicTo(x + ax, y + ay, x + bx, y + by, x + ex, y + ey)


Curve = tuple[float, float, float, float, float, float]
"""A Bézier curve's two handles and its end, from the arc's centre, mm."""


@lru_cache(maxsize=1024)
def _curves(radius: float, start: float, sweep: float) -> tuple[Curve, ...]:
    """The curves of an arc about 0, 0."""
    pieces = max(1, math.ceil(abs(sweep) / _most_of_a_circle(radius)))
    turn = math.radians(sweep) / pieces
    pull = 4 / 3 * math.tan(turn / 4)
    angles = [math.radians(start) + i * turn for i in range(pieces + 1)]
    ways = [(radius * math.cos(angle), radius * math.sin(angle)) for angle in angles]
    return tuple(
        (x0 - pull * y0, y0 + pull * x0, x1 + pull * y1, y1 - pull * x1, x1, y1)
        for (x0, y0), (x1, y1) in pairwise(ways)
    )


def _most_of_a_circle(radius: float) -> float:
    """The degrees that one curve may span: 30, more where a small ring stays true all the same."""
    within = _OFF / (max(radius, 1e-9) * _QUARTER_OFF)
    return max(_ARC_PIECE, min(90.0, 90.0 * math.pow(within, 1 / 6)))


_ARC_PIECE = 30.0
"""degrees."""
_OFF, _QUARTER_OFF = 2e-4, 2.73e-4
"""mm; how far a curve of 90 degrees is off its circle, of the radius. That grows with about the
sixth power of the angle, as the tests measure."""
