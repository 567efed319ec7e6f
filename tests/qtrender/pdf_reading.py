"""Reads PDF pages back with pdfium: paths' points and words' boxes, mm from the upper left."""

import ctypes
import re
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium

MM_PER_POINT = 25.4 / 72


@dataclass(frozen=True)
class PdfPath:
    """One path: its points (n, 2) in the order they are drawn, control points too, mm."""

    points: np.ndarray
    stroked: bool

    @property
    def middle(self) -> np.ndarray:
        """The middle of its bounds."""
        return (self.points.min(axis=0) + self.points.max(axis=0)) / 2

    @property
    def size(self) -> np.ndarray:
        """Width and height."""
        return np.ptp(self.points, axis=0)


def paths_of(page: pypdfium2.PdfPage) -> list[PdfPath]:
    """Every path on the page, in painting order."""
    kinds = [pdfium.FPDF_PAGEOBJ_PATH]
    return [_path(page, item) for item in page.get_objects(filter=kinds)]


def _path(page: pypdfium2.PdfPage, item: pypdfium2.PdfObject) -> PdfPath:
    raw = item.raw
    count = pdfium.FPDFPath_CountSegments(raw)
    x, y = ctypes.c_float(), ctypes.c_float()
    points = []
    for i in range(count):
        segment = pdfium.FPDFPath_GetPathSegment(raw, i)
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        points.append(item.get_matrix().on_point(x.value, y.value))
    fill, stroke = ctypes.c_int(), ctypes.c_int()
    pdfium.FPDFPath_GetDrawMode(raw, fill, stroke)
    return PdfPath(_from_upper_left(page, np.array(points)), bool(stroke.value))


def _from_upper_left(page: pypdfium2.PdfPage, points: np.ndarray) -> np.ndarray:
    left, _, _, top = page.get_mediabox()
    return (points - (left, top)) * (MM_PER_POINT, -MM_PER_POINT)


def circles_of(page: pypdfium2.PdfPage, diameter: float) -> list[np.ndarray]:
    """The centres of the stroked circles of that diameter, mm."""
    return [
        path.middle
        for path in paths_of(page)
        if path.stroked and len(path.points) > 12 and np.allclose(path.size, diameter, atol=0.05)
    ]


def word_boxes(page: pypdfium2.PdfPage) -> Iterator[tuple[str, np.ndarray]]:
    """Each run of words with its box: left, top, right, bottom, mm."""
    text = page.get_textpage()
    for i in range(text.count_rects()):
        left, bottom, right, top = text.get_rect(i)
        corners = _from_upper_left(page, np.array([(left, top), (right, bottom)]))
        yield text.get_text_bounded(left, bottom, right, top), corners.ravel()


def undated(data: bytes) -> bytes:
    """The file without what Qt stamps into it: dates and identifiers."""
    data = re.sub(rb"/(Creation|Mod)Date \(D:[^)]*\)", b"", data)
    data = re.sub(rb' xmp:\w+Date="[^"]*"', b"", data)
    data = re.sub(rb"uuid:[0-9a-f-]{36}", b"", data)
    return re.sub(rb"/ID \[[^\]]*\]", b"", data)
