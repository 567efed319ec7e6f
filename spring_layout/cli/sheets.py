"""The sheets that can be drawn, and the files that they can be written to."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from spring_layout.cli.exits import RefusedError

if TYPE_CHECKING:
    from spring_layout.drawing.primitives import Drawing
    from spring_layout.plan import Plan


@dataclass(frozen=True)
class Sheet:
    """One thing that can be drawn: what it is, and how, given the plan and the paper's name.

    ``options``: the arguments of the command line, by name, that ``draw`` takes besides.
    """

    words: str
    draw: "Callable[..., Drawing]"
    options: tuple[str, ...] = ()


def _tie_diagram(plan: "Plan", paper: str) -> "Drawing":
    from spring_layout.drawing.paper import PaperError, paper_named
    from spring_layout.drawing.sheet import tie_diagram

    try:
        return tie_diagram(plan, paper_named(paper))
    except PaperError as error:
        raise RefusedError(f"--paper: {error}") from error


def _side_view(plan: "Plan", paper: str, line: int | None, across: str | None) -> "Drawing":
    from spring_layout.cli.sights import sight_of
    from spring_layout.drawing.paper import PaperError, paper_named
    from spring_layout.drawing.side_view import SightError, side_view

    try:
        return side_view(plan, sight_of(line, across), paper_named(paper))
    except PaperError as error:
        raise RefusedError(f"--paper: {error}") from error
    except SightError as error:
        raise RefusedError(f"{'--line' if across is None else '--across'}: {error}") from error


def _svg(drawing: "Drawing") -> bytes:
    from spring_layout.drawing.svg import svg_bytes

    return svg_bytes(drawing)


SHEETS: dict[str, Sheet] = {
    "diagram": Sheet("the tie diagram on one sheet", _tie_diagram),
    "side-view": Sheet("the deck cut along a tie", _side_view, ("line", "across")),
}
"""The sheets by the name that ``--what`` takes."""

FULL_SIZE = "template"
"""The sheet that ``--full-size`` stands for, offered once it is in SHEETS."""

FORMATS: "dict[str, Callable[[Drawing], bytes]]" = {".svg": _svg}
"""The files that a sheet can be written to, by the ending of their names."""


def format_of(out: str) -> "Callable[[Drawing], bytes]":
    """How to write a file of that name. Raises RefusedError where the ending is none of FORMATS."""
    path = Path(out)
    found = FORMATS.get(path.suffix.lower())
    if found:
        return found
    if out == "-" or (path.exists() and not path.is_file() and not path.is_dir()):
        # standard output or a device has no ending
        return FORMATS[".svg"]
    raise RefusedError(f"{out}: the name of a sheet must end in {' or '.join(FORMATS)}")
