"""The pen that paints a drawing with a QPainter: on the screen, on a printer, into a PDF.

The painter's unit must be one millimetre; ``paint`` sets the scale.
"""

import math

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
    """An arc in Bézier curves of at most 30 degrees, which lie within 4e-7 of its radius.

    Qt's own cut curves of 90 degrees down, and is 0.25 mm off on the front rail of an easy chair.
    """
    pieces = max(1, math.ceil(abs(arc.sweep) / _ARC_PIECE))
    turn = math.radians(arc.sweep) / pieces
    pull = arc.radius * 4 / 3 * math.tan(turn / 4)
    angle = math.radians(arc.start)
    for _ in range(pieces):
        (x0, y0), (x1, y1) = (_on_arc(arc, a) for a in (angle, angle + turn))
        first = QPointF(x0 - pull * math.sin(angle), y0 + pull * math.cos(angle))
        angle += turn
        last = QPointF(x1 + pull * math.sin(angle), y1 - pull * math.cos(angle))
        path.cubicTo(first, last, QPointF(x1, y1))


def _on_arc(arc: Arc, angle: float) -> tuple[float, float]:
    return arc.x + arc.radius * math.cos(angle), arc.y + arc.radius * math.sin(angle)


_ARC_PIECE = 30.0
"""degrees."""
