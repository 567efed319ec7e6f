"""The files that a sheet is exported to: SVG, a file a page; PDF, all pages; DXF, the geometry."""

from pathlib import Path

from spring_layout.drawing.dxf import dxf_bytes
from spring_layout.drawing.orders import Order, drawn
from spring_layout.drawing.primitives import Drawing
from spring_layout.drawing.svg import svg_bytes
from spring_layout.plan import Plan
from spring_layout.qtrender.pdf import pdf_bytes

FILTERS = {
    ".svg": "Pictures, a file a page (*.svg)",
    ".pdf": "For printing (*.pdf)",
    ".dxf": "Geometry for a plotter or cutter (*.dxf)",
}

Files = dict[str, bytes]
"""What to write, by the path of the file."""


def filters_for(sheet: str) -> dict[str, str]:
    """The kinds of file that a sheet can be exported as, by ending."""
    return {end: words for end, words in FILTERS.items() if end != ".dxf" or sheet == "template"}


def files_of(plan: Plan, order: Order, path: str) -> Files:
    """The files of a sheet under a name, which says by its ending what they are.

    Raises PaperError, SightError, PdfError and DxfError, each with a sentence.
    """
    ending = Path(path).suffix.lower()
    if ending == ".dxf":
        return {path: dxf_bytes(plan.parts)}
    pages = drawn(plan, order)
    if ending == ".pdf":
        return {path: pdf_bytes(pages)}
    return {named: svg_bytes(page) for named, page in zip(names(path, pages), pages, strict=True)}


def names(path: str, pages: tuple[Drawing, ...]) -> list[str]:
    """A name for each page: the one that is asked for, of several each with its page's own."""
    if len(pages) == 1:
        return [path]
    whole = Path(path)
    return [str(whole.with_name(f"{whole.stem}-{page_name(p)}{whole.suffix}")) for p in pages]


def page_name(page: Drawing) -> str:
    """The page's own name, such as 2, or 1-3 of a template; empty where it has none."""
    return dict(page.data).get("sheet", "")
