"""The files that a sheet is written to: SVG, a file a page; PDF, all pages in one; DXF, no pages.

A sheet of one page has the name that is asked for. Of several, or of a template, whose pages are
tiles, each SVG is named by its page or by its row and column: OUT-2.svg, OUT-1-1.svg.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from spring_layout.cli.exits import RefusedError
from spring_layout.cli.sheets import Drawings, Sheet

if TYPE_CHECKING:
    from spring_layout.plan import Plan

Files = dict[str, bytes]
"""What to write, by the name of the file."""


@dataclass(frozen=True)
class Asked:
    """What is to be written: the sheet of which plan, how it is drawn, and under which name.

    ``tiled``: its pages are named by row and column, even a single one.
    """

    plan: "Plan"
    sheet: Sheet
    draw: "Callable[[], Drawings]"
    out: str
    tiled: bool


Writer = Callable[[Asked], Files]


def _svg(asked: Asked) -> Files:
    from spring_layout.drawing.svg import svg_bytes

    drawings = asked.draw()
    path = Path(asked.out)
    if len(drawings) == 1 and not (asked.tiled and path.suffix):
        return {asked.out: svg_bytes(drawings[0])}
    if not path.suffix:
        raise RefusedError(
            f"this sheet is {len(drawings)} pages; give -o a name that ends in .svg or .pdf"
        )
    names = (path.with_name(f"{path.stem}-{dict(d.data)['sheet']}{path.suffix}") for d in drawings)
    return {str(name): svg_bytes(d) for name, d in zip(names, drawings, strict=True)}


def _pdf(asked: Asked) -> Files:
    drawings = asked.draw()
    try:
        from spring_layout.qtrender.pdf import PdfError, pdf_bytes
    except ImportError as error:
        raise RefusedError(
            f"{asked.out}: a PDF cannot be made here: {error}; write an SVG"
        ) from error
    try:
        return {asked.out: pdf_bytes(drawings)}
    except PdfError as error:
        raise RefusedError(f"{asked.out}: {error}") from error


def _dxf(asked: Asked) -> Files:
    from spring_layout.drawing.dxf import DxfError, dxf_bytes

    if not asked.sheet.geometry:
        raise RefusedError(
            f"{asked.out}: DXF holds the geometry at full size; give --what template"
        )
    try:
        return {asked.out: dxf_bytes(asked.plan.parts)}
    except DxfError as error:
        raise RefusedError(f"{asked.out}: {error}") from error


FORMATS: dict[str, Writer] = {".svg": _svg, ".pdf": _pdf, ".dxf": _dxf}
"""The files that a sheet can be written to, by the ending of their names."""


def writer_for(out: str) -> Writer:
    """How to write a file of that name. Raises RefusedError where the ending is none of FORMATS."""
    if not out:
        raise RefusedError("-o: the name is empty; name the file to write, such as sheet.svg")
    path = Path(out)
    found = FORMATS.get(path.suffix.lower())
    if found:
        return found
    if out == "-" or (path.exists() and not path.is_file() and not path.is_dir()):
        # standard output or a device has no ending
        return FORMATS[".svg"]
    *first, last = FORMATS
    endings = f"{', '.join(first)} or {last}"
    raise RefusedError(f"{out}: the name of a sheet must end in {endings}")
