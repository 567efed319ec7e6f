"""Any of the sheets as somebody orders it: which, on what paper, which way round, what margins.

A sheet is drawn with ``paper.MARGIN`` all round. For other margins it is drawn for paper that is
larger or smaller by the difference, and laid onto the true sheet: its scale stays what it says.
"""

from dataclasses import dataclass, replace

from spring_layout.drawing.bench_sheet import bench_sheet
from spring_layout.drawing.paper import MARGIN, Paper, PaperError, Way, paper_named
from spring_layout.drawing.primitives import Drawing, moved
from spring_layout.drawing.rail_strips import rail_strips
from spring_layout.drawing.record import record_sheet
from spring_layout.drawing.sheet import tie_diagram
from spring_layout.drawing.side_view import side_view
from spring_layout.drawing.steps import tying_steps
from spring_layout.drawing.template import full_size_template
from spring_layout.drawing.template_correction import Correction
from spring_layout.drawing.template_papers import Roll, TemplatePaper, template_paper_named
from spring_layout.plan import Plan
from spring_layout.words import words_for

LEAST_MARGIN, MOST_MARGIN = 5.0, 40.0
"""mm; home printers leave 4 to 7 mm blank (printer manuals), wider ones eat the drawing."""


AS_IT_IS = Correction()


@dataclass(frozen=True)
class Kind:
    """What a sheet allows: ``turns``: either way round; ``full_size``: 1:1, on rolls as well.

    ``has_scale``: it is drawn to one; ``way``: how it lies where it does not turn.
    """

    turns: bool = False
    full_size: bool = False
    has_scale: bool = True
    way: Way = "upright"


KINDS: dict[str, Kind] = {
    "diagram": Kind(turns=True),
    "bench": Kind(has_scale=False),
    "template": Kind(turns=True, full_size=True),
    "rail-strips": Kind(full_size=True, way="lying"),
    "record": Kind(),
    "steps": Kind(turns=True, has_scale=False),
    "side-view": Kind(way="lying"),
}
"""The sheets by name."""


@dataclass(frozen=True)
class Order:
    """One sheet as it is wanted; ``margin`` in mm, ``line`` the tie that a side view is cut along.

    ``correction``: of the printer, for full-size sheets. ``words``: "us", "uk", or "auto" for those
    of the deck's units.
    """

    sheet: str
    paper: str = "a4"
    way: Way = "either"
    margin: float = MARGIN
    correction: Correction = AS_IT_IS
    line: int = 1
    words: str = "auto"


def drawn(plan: Plan, order: Order) -> tuple[Drawing, ...]:
    """The pages of the sheet.

    Raises PaperError, and SightError for a side view, with a sentence.
    """
    extra = order.margin - MARGIN
    if plan.parts.words is None:
        plan = plan.in_words(words_for(plan.deck.units, order.words))
    try:
        pages = _drawn(plan, order, extra)
    except PaperError as error:
        if extra <= 0:
            raise
        small = str(error).partition(";")[0]
        raise PaperError(
            f"{small} with these margins; choose narrower margins or larger paper"
        ) from error
    return tuple(_laid(page, extra) for page in pages) if extra else pages


def drawn_all(plan: Plan, orders: tuple[Order, ...]) -> dict[Order, tuple[Drawing, ...]]:
    """The pages of several sheets. Raises as ``drawn`` does."""
    return {order: drawn(plan, order) for order in orders}


def _drawn(plan: Plan, order: Order, extra: float) -> tuple[Drawing, ...]:
    if KINDS[order.sheet].full_size:
        paper = _inner(template_paper_named(order.paper), order.way, extra)
        draw = full_size_template if order.sheet == "template" else rail_strips
        return draw(plan, paper, order.correction)
    sheet = _inner_sheet(paper_named(order.paper), order.way, extra)
    match order.sheet:
        case "diagram":
            return (tie_diagram(plan, sheet),)
        case "bench":
            return bench_sheet(plan, sheet)
        case "record":
            return record_sheet(plan, sheet)
        case "steps":
            return tying_steps(plan, sheet)
    return (side_view(plan, order.line, sheet),)


def _inner(paper: TemplatePaper, way: Way, extra: float) -> TemplatePaper:
    """The paper without what its margins take more than they usually do."""
    if isinstance(paper, Paper):
        return _inner_sheet(paper, way, extra)
    return replace(paper, width=paper.width - 2 * extra) if isinstance(paper, Roll) else paper


def _inner_sheet(paper: Paper, way: Way, extra: float) -> Paper:
    width, height = paper.width - 2 * extra, paper.height - 2 * extra
    return replace(paper, width=width, height=height, way=way)


def _laid(page: Drawing, extra: float) -> Drawing:
    """The page on its whole sheet, ``extra`` mm wider all round."""
    items = tuple(moved(item, extra, extra) for item in page.items)
    return replace(page, width=page.width + 2 * extra, height=page.height + 2 * extra, items=items)
