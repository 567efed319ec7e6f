"""The PDF, read back with pypdf and pdfium: page size, words, distances, the same every time."""

import io

import numpy as np
import pypdf
import pypdfium2
import pytest
from PySide6.QtGui import QPainter

from spring_layout.drawing import look
from spring_layout.drawing.paper import PAPERS
from spring_layout.drawing.primitives import Drawing, Move, Path, Stroke, Text
from spring_layout.drawing.primitives import Line as Straight
from spring_layout.drawing.sheet import tie_diagram
from spring_layout.plan import make_plan
from spring_layout.qtrender.pdf import pdf_bytes
from tests.decks import grid_deck
from tests.qtrender.pdf_reading import undated

POINTS_PER_MM = 72 / 25.4


def bars() -> Drawing:
    """Two upright bars exactly 100 mm apart, with words."""
    stroke = Stroke(look.INK, 0.5)
    left = Path((Move(40, 50), Straight(40, 150)), stroke)
    right = Path((Move(140, 50), Straight(140, 150)), stroke)
    return Drawing(210, 297, "Bars", "Two bars", (left, right, Text(40, 40, "100 mm", 4, look.INK)))


@pytest.mark.parametrize("paper", ["a4", "a3", "letter", "tabloid"])
def test_the_page_has_the_papers_size(qapp: object, paper: str) -> None:
    # ISO 216 (A4 210 x 297 mm) and ASME Y14.1 (letter 8.5 x 11 in), in PDF points of 1/72 in
    drawing = tie_diagram(make_plan(grid_deck()), PAPERS[paper])
    page = pypdf.PdfReader(io.BytesIO(pdf_bytes([drawing]))).pages[0]
    size = float(page.mediabox.width), float(page.mediabox.height)
    wanted = drawing.width * POINTS_PER_MM, drawing.height * POINTS_PER_MM
    assert size == pytest.approx(wanted, abs=0.5)


def test_a_hundred_millimetres_are_a_hundred_millimetres(qapp: object) -> None:
    page = pypdfium2.PdfDocument(pdf_bytes([bars()]))[0]
    dots = 20  # a millimetre
    picture = page.render(scale=dots / POINTS_PER_MM, grayscale=True)
    grey = picture.to_numpy().astype(float).squeeze()
    row = 255 - grey[100 * dots]
    dark = np.flatnonzero(row > 100)
    split = int(np.argmax(np.diff(dark))) + 1
    left, right = dark[:split].mean(), dark[split:].mean()
    assert (right - left) / dots == pytest.approx(100, abs=0.05)
    assert left / dots == pytest.approx(40, abs=0.06)


def test_the_words_can_be_selected_and_the_title_is_set(qapp: object) -> None:
    reader = pypdf.PdfReader(io.BytesIO(pdf_bytes([bars()])))
    assert "100 mm" in " ".join(reader.pages[0].extract_text().split())
    assert reader.metadata is not None
    assert reader.metadata.title == "Bars"
    assert not reader.metadata.author


def test_one_drawing_a_page(qapp: object) -> None:
    wide = Drawing(420, 297, "Wide", "An empty sheet", ())
    pages = pypdf.PdfReader(io.BytesIO(pdf_bytes([bars(), wide]))).pages
    widths = [float(page.mediabox.width) / POINTS_PER_MM for page in pages]
    assert widths == pytest.approx([210, 420], abs=0.2)


def test_the_same_drawing_gives_the_same_file_but_for_the_date(qapp: object) -> None:
    first, second = (undated(pdf_bytes([bars()])) for _ in range(2))
    assert first == second


def test_a_drawing_that_cannot_be_painted_leaves_no_open_page(
    qapp: object, monkeypatch: pytest.MonkeyPatch
) -> None:
    painters = []

    def tear(_drawing: Drawing, painter: QPainter, _scale: float) -> None:
        painters.append(painter)
        raise RuntimeError("torn")

    monkeypatch.setattr("spring_layout.qtrender.pdf.paint", tear)
    with pytest.raises(RuntimeError, match="torn"):
        pdf_bytes([bars()])
    assert not painters[0].isActive()
