"""Drawings as one PDF file: real page sizes, one drawing a page, words that can be selected."""

import re
from collections.abc import Sequence

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QSizeF
from PySide6.QtGui import QGuiApplication, QPageLayout, QPageSize, QPainter, QPdfWriter

from spring_layout.drawing.primitives import Drawing
from spring_layout.qtrender.painter_pen import paint

DOTS_PER_INCH = 1200
MM_PER_INCH = 25.4
_MEDIA_BOX = re.compile(rb"/MediaBox \[0 0 \d+\.\d+ (\d+\.\d+)\]")
_WITHOUT_SCREEN = ["spring-layout", "-platform", "offscreen"]


MOST_MM = 200 * MM_PER_INCH
"""mm; a page of a PDF is at most 200 in long (ISO 32000-1, annex C: 14 400 units of 1/72 in)."""


class PdfError(ValueError):
    """A drawing cannot be a page of a PDF; the message says why, with the mend."""


def pdf_bytes(drawings: Sequence[Drawing]) -> bytes:
    """The PDF file of ``drawings``, a page each. At least one drawing.

    Needs no screen. Raises PdfError where a drawing is larger than a page can be.
    """
    if max(max(drawing.width, drawing.height) for drawing in drawings) > MOST_MM:
        raise PdfError("a page of a PDF is at most 200 in (5080 mm) long; choose smaller paper")
    application = QGuiApplication.instance() or QGuiApplication(_WITHOUT_SCREEN)
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setTitle(title_of(drawings))
    writer.setCreator("Spring Layout")
    writer.setResolution(DOTS_PER_INCH)
    writer.setPageLayout(layout_for(drawings[0]))
    painter = QPainter(writer)
    try:
        for number, drawing in enumerate(drawings):
            if number:
                writer.setPageLayout(layout_for(drawing))
                writer.newPage()
            paint(drawing, painter, DOTS_PER_INCH / MM_PER_INCH)
    finally:  # a painter left open on its page would end the program
        painter.end()
        buffer.close()
    assert application is not None
    return _with_true_pages(bytes(data.data()), drawings)


def _with_true_pages(data: bytes, drawings: Sequence[Drawing]) -> bytes:
    """The file with its pages' boxes as large as the drawings.

    Qt rounds a page to whole points, up to 0.18 mm off, and draws from its upper left corner. The
    boxes are written over in the same number of bytes, so that every offset in the file stays.
    """
    sizes = iter(drawings)

    def true_box(found: re.Match[bytes]) -> bytes:
        drawing, top = next(sizes), float(found[1])
        width, height = (mm / MM_PER_INCH * 72 for mm in (drawing.width, drawing.height))
        box = f"/MediaBox [0 {top - height:.3f} {width:.3f} {top:g}]".encode()
        return box.ljust(len(found[0]))

    return _MEDIA_BOX.sub(true_box, data)


def title_of(drawings: Sequence[Drawing]) -> str:
    """The title of one drawing; of several what their titles have in common, up to a comma."""
    first, *others = (drawing.title for drawing in drawings)
    common = first
    while others and not all(title.startswith(common) for title in others):
        common = common.rpartition(",")[0]
    return common or first


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
