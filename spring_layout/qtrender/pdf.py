"""Drawings as one PDF file: real page sizes, one drawing a page, words that can be selected."""

from collections.abc import Sequence

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QSizeF
from PySide6.QtGui import QGuiApplication, QPageLayout, QPageSize, QPainter, QPdfWriter

from spring_layout.drawing.primitives import Drawing
from spring_layout.qtrender.painter_pen import paint

DOTS_PER_INCH = 1200
MM_PER_INCH = 25.4


def pdf_bytes(drawings: Sequence[Drawing]) -> bytes:
    """The PDF file of ``drawings``, a page each. At least one drawing."""
    application = QGuiApplication.instance() or QGuiApplication(["spring-layout"])
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setTitle(drawings[0].title)
    writer.setCreator("Spring Layout")
    writer.setResolution(DOTS_PER_INCH)
    writer.setPageLayout(layout_for(drawings[0]))
    painter = QPainter(writer)
    for number, drawing in enumerate(drawings):
        if number:
            writer.setPageLayout(layout_for(drawing))
            writer.newPage()
        paint(drawing, painter, DOTS_PER_INCH / MM_PER_INCH)
    painter.end()
    buffer.close()
    assert application is not None
    return bytes(data.data())


def layout_for(drawing: Drawing) -> QPageLayout:
    """A page as large as the drawing, without margins, the drawing's scale left alone."""
    size = QPageSize(
        QSizeF(drawing.width, drawing.height),
        QPageSize.Unit.Millimeter,
        "",
        QPageSize.SizeMatchPolicy.ExactMatch,
    )
    layout = QPageLayout(
        size, QPageLayout.Orientation.Portrait, QMarginsF(), QPageLayout.Unit.Millimeter
    )
    layout.setMode(QPageLayout.Mode.FullPageMode)
    return layout
