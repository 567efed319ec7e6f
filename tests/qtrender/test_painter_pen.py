"""The painter's pen against the SVG pen, whose file QtSvg renders: the same drawing, the same look.

QtSvg draws the file by a way of its own; it knows no clipping, which has a test to itself.
"""

import numpy as np
import pytest
from PySide6.QtCore import QByteArray
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtSvg import QSvgRenderer

from spring_layout.drawing import look
from spring_layout.drawing.lettering import corners
from spring_layout.drawing.primitives import (
    Arc,
    Circle,
    Drawing,
    Line,
    Move,
    Path,
    Stroke,
    Text,
    rectangle,
)
from spring_layout.drawing.svg import svg_bytes
from spring_layout.qtrender.painter_pen import paint

DOTS = 10.0


def blank(drawing: Drawing) -> QImage:
    """White paper for the drawing, ``DOTS`` a millimetre."""
    size = round(drawing.width * DOTS), round(drawing.height * DOTS)
    image = QImage(*size, QImage.Format.Format_Grayscale8)
    image.fill(QColor("white"))
    return image


def greys(image: QImage) -> np.ndarray:
    """(rows, columns) grey values of an image, 0 black to 255 white."""
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), -1)
    return rows[:, : image.width()].astype(float)


def painted(drawing: Drawing) -> np.ndarray:
    """The drawing painted by our pen."""
    image = blank(drawing)
    painter = QPainter(image)
    paint(drawing, painter, DOTS)
    painter.end()
    return greys(image)


def rastered(drawing: Drawing) -> np.ndarray:
    """The drawing's SVG file rendered by QtSvg."""
    image = blank(drawing)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    QSvgRenderer(QByteArray(svg_bytes(drawing))).render(painter)
    painter.end()
    return greys(image)


def sheet(*items: object) -> Drawing:
    return Drawing(60, 40, "A test", "Shapes", tuple(items))  # type: ignore[arg-type]  # items of a drawing


INK = Stroke(look.INK, 0.6)
SHAPES = {
    "line": Path((Move(5, 5), Line(50, 30)), INK),
    "dashes": Path((Move(5, 20), Line(55, 20)), Stroke(look.INK, 0.5, (4.2, 1.1))),
    "dots": Path((Move(5, 20), Line(55, 20)), Stroke(look.INK, 0.8, (0.01, 1.6), "round")),
    "circle": Circle(30, 20, 12, INK, look.STEEL),
    "arc clockwise": Path((Move(10, 20), Arc(30, 20, 20, 180, 120)), INK),
    "arc anticlockwise": Path((Move(10, 20), Arc(30, 20, 20, 180, -70)), INK),
    "hole": Path(rectangle(5, 5, 50, 30) + rectangle(15, 12, 20, 10), INK, look.WOOD),
}


@pytest.mark.parametrize("name", SHAPES)
def test_a_shape_looks_as_in_the_svg(qapp: object, name: str) -> None:
    drawing = sheet(SHAPES[name])
    ours, theirs = painted(drawing), rastered(drawing)
    assert ours.min() < 200  # something is there
    # the two renderers smooth edges differently; over 3 px squares they agree
    differ = np.abs(blurred(ours) - blurred(theirs))
    assert differ.max() < 60
    assert differ.mean() < 0.6


def blurred(grey: np.ndarray) -> np.ndarray:
    """Means over 3 by 3 pixels."""
    wide = np.pad(grey, 1, mode="edge")
    rows, columns = grey.shape
    return sum(wide[i : i + rows, j : j + columns] for i in range(3) for j in range(3)) / 9


@pytest.mark.parametrize(
    ("anchor", "turned"), [("start", 0), ("middle", 0), ("end", 0), ("start", 90)]
)
def test_words_cover_what_the_drawing_measured(qapp: object, anchor: str, turned: float) -> None:

    text = Text(30, 20, "HTTP 1234", 4.0, look.INK, anchor, turned=turned)  # type: ignore[arg-type]  # one of the anchors
    grey = painted(sheet(text))
    rows, columns = np.nonzero(grey < 128)
    box = np.array(corners(text)) * DOTS
    # side bearings: a letter's ink starts up to a tenth of the size inside its advance
    room = 0.12 * text.size * DOTS
    assert columns.min() == pytest.approx(box[:, 0].min(), abs=room)
    assert columns.max() == pytest.approx(box[:, 0].max(), abs=room)
    assert rows.min() == pytest.approx(box[:, 1].min(), abs=room)
    assert rows.max() == pytest.approx(box[:, 1].max(), abs=room)
