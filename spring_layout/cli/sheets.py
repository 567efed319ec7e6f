"""The sheets that can be drawn, each by a function of the plan and the paper's name."""

import contextlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from spring_layout.cli.exits import RefusedError

if TYPE_CHECKING:
    from spring_layout.drawing.primitives import Drawing
    from spring_layout.drawing.template_correction import Correction
    from spring_layout.plan import Plan

Drawings = tuple["Drawing", ...]


@dataclass(frozen=True)
class Sheet:
    """One thing that can be drawn: what it is, and how, given the plan and the paper's name.

    ``options``: the arguments of the command line, by name, that ``draw`` takes besides.
    ``tiled``: its pages are named by row and column, even where there is only one. ``geometry``:
    it can also be written as the plan's bare geometry. ``long_paper``: it is drawn at full size, on
    rolls too, or on one sheet as large as it must be.
    """

    words: str
    draw: "Callable[..., Drawings]"
    options: tuple[str, ...] = ()
    tiled: bool = False
    geometry: bool = False
    long_paper: bool = False


@contextlib.contextmanager
def _refusing_paper() -> Iterator[None]:
    """Turn what a sheet says against its paper into a RefusedError."""
    from spring_layout.drawing.paper import PaperError

    try:
        yield
    except PaperError as error:
        raise RefusedError(f"--paper: {error}") from error


def _tie_diagram(plan: "Plan", paper: str) -> Drawings:
    from spring_layout.drawing.paper import paper_named
    from spring_layout.drawing.sheet import tie_diagram

    with _refusing_paper():
        return (tie_diagram(plan, paper_named(paper)),)


def _side_view(plan: "Plan", paper: str, line: int | None, across: str | None) -> Drawings:
    from spring_layout.cli.sights import refuse_empty, sight_of
    from spring_layout.drawing.paper import paper_named
    from spring_layout.drawing.side_view import SightError, side_view

    try:
        with _refusing_paper():
            sight = sight_of(line, across)
            refuse_empty(plan, sight)
            return (side_view(plan, sight, paper_named(paper)),)
    except SightError as error:
        raise RefusedError(f"{'--line' if across is None else '--across'}: {error}") from error


def _bench(plan: "Plan", paper: str) -> Drawings:
    from spring_layout.drawing.bench_sheet import bench_sheet
    from spring_layout.drawing.paper import paper_named

    with _refusing_paper():
        return bench_sheet(plan, paper_named(paper))


def _record(plan: "Plan", paper: str) -> Drawings:
    from spring_layout.drawing.paper import paper_named
    from spring_layout.drawing.record import record_sheet

    with _refusing_paper():
        return record_sheet(plan, paper_named(paper))


def _steps(plan: "Plan", paper: str) -> Drawings:
    from spring_layout.drawing.paper import paper_named
    from spring_layout.drawing.steps import tying_steps

    with _refusing_paper():
        return tying_steps(plan, paper_named(paper))


def _template(plan: "Plan", paper: str, bars: Sequence[str] | None) -> Drawings:
    from spring_layout.drawing.template import full_size_template
    from spring_layout.drawing.template_papers import template_paper_named

    with _refusing_paper():
        return full_size_template(plan, template_paper_named(paper), _correction(bars))


def _rail_strips(plan: "Plan", paper: str, bars: Sequence[str] | None) -> Drawings:
    from spring_layout.drawing.rail_strips import rail_strips
    from spring_layout.drawing.template_papers import template_paper_named

    with _refusing_paper():
        return rail_strips(plan, template_paper_named(paper), _correction(bars))


def _correction(bars: Sequence[str] | None) -> "Correction":
    """The correction for what the two bars of a print measured."""
    from spring_layout.drawing.template_correction import (
        Correction,
        CorrectionError,
        correction_from,
    )

    try:
        return correction_from(bars[0], bars[1]) if bars else Correction()
    except CorrectionError as error:
        raise RefusedError(f"--bars: {error}") from error


SHEETS: dict[str, Sheet] = {
    "diagram": Sheet("the tie diagram on one sheet", _tie_diagram),
    "bench": Sheet("the bench sheet: what to cut and every tie in its order", _bench),
    "template": Sheet(
        "the full-size template over tiles",
        _template,
        ("bars",),
        tiled=True,
        geometry=True,
        long_paper=True,
    ),
    "rail-strips": Sheet(
        "strips at 1:1 with the tack points of each rail", _rail_strips, ("bars",), long_paper=True
    ),
    "record": Sheet("the page to staple under the bottom cloth", _record),
    "steps": Sheet("small pictures in tying order", _steps),
    "side-view": Sheet("the deck cut along a tie", _side_view, ("line", "across")),
}
"""The sheets by the name that ``--what`` takes."""

FULL_SIZE = "template"
"""The sheet that ``--full-size`` stands for."""

ONE_SHEET = "none"
"""The paper's name for one sheet as large as the drawing needs."""
