"""The tie diagram on one sheet: the largest usual scale that fits, the sheet turned to suit.

The plan view stands in the larger part of the sheet, the margin (key, numbers, cautions, scale,
title block) beside or under it, whichever lets the deck be larger. No capital or figure is lower
than 2 mm. Where a big deck on small paper has no room for everything, the less needed goes first,
in this order: the discs round the ties' numbers, the tack points' distances, the springs' labels
that find no place, the deck's note, the key, the numbers. The sheet says what was left out and
names the paper that would hold it all.
"""

from dataclasses import dataclass

from spring_layout.drawing import look
from spring_layout.drawing.columns import Layout, layouts, margin_items
from spring_layout.drawing.margin import SheetFacts, margin_blocks
from spring_layout.drawing.paper import Paper, larger_papers, scale_to_fit
from spring_layout.drawing.plan_view import Labelled, deck_bounds, label_springs, plan_view
from spring_layout.drawing.primitives import Drawing, Group, Item, Path, Tag, rectangle
from spring_layout.drawing.tacks import MANNERS, Manner, band_depth, labels_of_sides
from spring_layout.drawing.view import View
from spring_layout.plan import Plan

_LEAST_WHITE = 3.0
"""mm between the plan view with its labels and the border."""
_BLOCK_WORDS = {"note": "the note", "key": "the key", "numbers": "the numbers"}


@dataclass(frozen=True)
class _Set:
    """A sheet set out but not drawn: how it is divided, the view, the labels.

    ``scale`` is the 5 of 1:5 on the finished sheet.
    """

    layout: Layout
    scale: float
    view: View
    labelled: Labelled

    @property
    def left_out(self) -> list[str]:
        """What found no room, in words."""
        words = []
        if self.labelled.tacks is None:
            words.append("the numbers and distances of the tack points")
        elif self.labelled.manner == "numbers":
            words.append("the tack points' distances from the centre marks")
        missing = sum(place is None for place in self.labelled.springs)
        if missing:
            words.append("the label of 1 spring" if missing == 1 else f"{missing} springs' labels")
        return words + [_BLOCK_WORDS[name] for name in self.layout.dropped]


def tie_diagram(plan: Plan, paper: Paper) -> Drawing:
    """The tie diagram of ``plan`` on one sheet of ``paper``, turned to fit."""
    sheet = _set_out(plan, paper, "")
    words = ""
    if sheet.left_out:
        words = _left_out_words(plan, paper, sheet.left_out)
        sheet = _set_out(plan, paper, words)
    drawing = _drawn(plan, paper, sheet)
    return drawing.enlarged(paper.lettering) if paper.lettering != 1 else drawing


def _set_out(plan: Plan, paper: Paper, left_out: str) -> _Set:
    """The sheet in the fullest manner of labels that it has room for."""
    for manner in MANNERS:
        layout, scale, view = _best_division(plan, paper, manner, left_out)
        tacks = labels_of_sides(plan.parts, view, manner)
        if tacks is not None:
            break
    height, springs = label_springs(plan.parts, view)
    placed = None if tacks is None else tuple(tacks)
    return _Set(layout, scale, view, Labelled(height, springs, manner, placed))


def _best_division(
    plan: Plan, paper: Paper, manner: Manner, left_out: str
) -> tuple[Layout, float, View]:
    """The division with the least left out, then the largest scale, then the most white."""
    k = paper.lettering
    drawn = Paper(paper.name, paper.width / k, paper.height / k)
    x0, y0, x1, y1 = deck_bounds(plan.parts)
    band = band_depth(plan.parts, manner) + _LEAST_WHITE

    def divisions(scale: float) -> list[Layout]:
        facts = SheetFacts(scale, scale * k, paper.name, left_out)
        return layouts(drawn, lambda room: margin_blocks(plan, facts, room))

    best = None
    for index, layout in enumerate(divisions(1)):
        room = layout.room.width - 2 * band, layout.room.height - 2 * band
        if min(room) <= 0:
            continue
        scale = scale_to_fit(((x1 - x0) / k, (y1 - y0) / k), room)
        size = (x1 - x0) / k / scale, (y1 - y0) / k / scale
        white = min(room[0] - size[0], room[1] - size[1])
        rank = (len(layout.dropped), scale, -white, index)
        best = rank if best is None else min(best, rank)
    assert best is not None
    scale, layout = best[1], divisions(best[1])[best[3]]
    return layout, scale, _view(layout, scale * k, (x0, y0, x1, y1))


def _view(layout: Layout, scale: float, bounds: tuple[float, float, float, float]) -> View:
    """The view that sets the deck in the middle of its room."""
    x0, y0, x1, y1 = bounds
    room = layout.room
    x = room.x + room.width / 2 - (x0 + x1) / 2 / scale
    y = room.y + room.height / 2 - (y0 + y1) / 2 / scale
    return View(scale, x, y)


def _left_out_words(plan: Plan, paper: Paper, left_out: list[str]) -> str:
    """What was left out, and the paper that would hold it all."""
    words = "For want of room: " + ", ".join(left_out) + "."
    for larger in larger_papers(paper):
        if not _set_out(plan, larger, "").left_out:
            return f"{words} {larger.name} paper holds everything."
    return f"{words} No sheet up to {larger.name} holds everything."


def _drawn(plan: Plan, paper: Paper, sheet: _Set) -> Drawing:
    layout = sheet.layout
    border = layout.border
    name = plan.deck.name.strip() or "Seat deck"
    ground = Path(rectangle(0, 0, layout.paper.width, layout.paper.height), fill=look.PAPER)
    edge = Path(rectangle(border.x, border.y, border.width, border.height), look.SHEET_EDGE)
    items: tuple[Item, ...] = (
        ground,
        *plan_view(plan.parts, sheet.view, sheet.labelled),
        Group((edge, *margin_items(layout)), Tag(id="margin")),
    )
    return Drawing(
        layout.paper.width,
        layout.paper.height,
        f"Tie diagram: {name}",
        _description(plan, sheet, paper),
        items,
        (("scale", f"{sheet.scale:g}"),),
    )


def _description(plan: Plan, sheet: _Set, paper: Paper) -> str:
    ties = plan.parts.ties
    return (
        f"The seat deck from above at 1:{sheet.scale:g} on {paper.name}, its back at the top: "
        f"{len(plan.deck.springs)} springs, {len(ties.lines)} ties numbered in tying order, "
        f"{len(ties.crossings)} cross knots, and where each tie is tacked to the rails."
    )
