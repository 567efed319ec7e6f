"""The tie diagram on one sheet: the largest usual scale that fits, the sheet turned to suit.

The plan view stands in the larger part of the sheet, the margin (key, numbers, cautions, scale,
title block) beside or under it, whichever lets the deck be larger. Paper larger than A4 is drawn
smaller and then enlarged as a whole, so that it can be read from farther away, unless that leaves
something out. No capital or figure is lower than 2 mm.

Where a big deck on small paper has no room for everything, the less needed goes first, in this
order: the discs round the ties' numbers, the tack points' distances, the diagonal ties' numbers,
the springs' labels that find no place; and beside the picture the deck's note, the key, the
numbers. The sheet says what was left out and names the paper that would hold it all.
"""

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

from spring_layout.drawing import look
from spring_layout.drawing.blocks import Block
from spring_layout.drawing.columns import Layout, margin_items, ways_to_divide
from spring_layout.drawing.margin import SheetFacts, margin_blocks
from spring_layout.drawing.paper import Paper, PaperError, larger_papers, scale_to_fit
from spring_layout.drawing.plan_view import (
    Labelled,
    deck_bounds,
    fineness,
    label_springs,
    plan_view,
)
from spring_layout.drawing.primitives import Drawing, Group, Item, Path, Tag, rectangle
from spring_layout.drawing.spring_labels import place_spring_labels
from spring_layout.drawing.tack_rows import (
    FULL_MANNERS,
    MANNERS,
    Manner,
    band_depth,
    labels_of_sides,
)
from spring_layout.drawing.view import View
from spring_layout.plan import Plan
from spring_layout.planning.parts import Parts

_LEAST_WHITE = 3.0
"""mm between the plan view with its labels and the border."""
_MOST_NAMED = 3
"""At most so many springs are named whose labels are left out; more are counted."""
_MANNER_WORDS: dict[Manner, list[str]] = {
    "discs": [],
    "turned": [],
    "numbers": ["the tack points' distances from the centre marks"],
    "straight": ["the tack points' distances and the diagonal ties' numbers"],
}
_BLOCK_WORDS = {
    "note": "the note",
    "key": "the key to the ties",
    "marks": "the key to the marks",
    "numbers": "the numbers",
}


@dataclass(frozen=True)
class _Set:
    """A sheet set out but not drawn: how it is divided, the view, the labels.

    ``scale`` is the 5 of 1:5 on the finished sheet, which is drawn and then ``enlarged`` times.
    """

    layout: Layout
    scale: float
    enlarged: float
    view: View
    labelled: Labelled

    def left_out(self, parts: Parts) -> list[str]:
        """What found no room, in words."""
        words = []
        if self.labelled.tacks is None:
            words.append("the numbers and distances of the tack points")
        else:
            words += _MANNER_WORDS[self.labelled.manner]
        words += _missing_words(parts, self.labelled)
        return words + [_BLOCK_WORDS[name] for name in self.layout.dropped]


def _missing_words(parts: Parts, labelled: Labelled) -> list[str]:
    """Which springs' labels found no place, in words."""
    places = zip(parts.standing.ids, labelled.springs, strict=True)
    missing = [parts.labels[name] for name, place in places if place is None]
    if not missing:
        return []
    if len(missing) == len(labelled.springs):
        return ["the springs' labels"]
    if len(missing) > _MOST_NAMED:
        return [f"{len(missing)} springs' labels"]
    return [f"the label{'s' if len(missing) > 1 else ''} of {' and '.join(sorted(missing))}"]


def tie_diagram(plan: Plan, paper: Paper) -> Drawing:
    """The tie diagram of ``plan`` on one sheet of ``paper``, turned to fit.

    Raises PaperError, with a sentence, where the paper is too small for any of it.
    """
    sheet = _set_out(plan, paper, paper.lettering)
    if sheet.left_out(plan.parts) and paper.lettering > 1:
        sheet = _set_out(plan, paper, 1.0)
    if sheet.left_out(plan.parts):
        sheet = _with_left_out(plan, paper, sheet)
    return _drawn(plan, paper, sheet)


def _with_left_out(plan: Plan, paper: Paper, sheet: _Set) -> _Set:
    """The same sheet with words that tell what it leaves out.

    The words take room themselves, so that something more may have to go.
    """
    advice = _larger_paper(plan, paper)
    told: list[str] = []
    while sheet.left_out(plan.parts) != told:
        told = sheet.left_out(plan.parts)
        words = f"For want of room: {', '.join(told)}. {advice}"
        sheet = _set_out(plan, paper, sheet.enlarged, words, sheet)
    return sheet


def _set_out(
    plan: Plan, paper: Paper, enlarged: float, left_out: str = "", before: _Set | None = None
) -> _Set:
    """The sheet in the fullest manner of labels that it has room for.

    ``before`` is the sheet as set out without the words on what is left out: where those do not
    move the view, its labels stay.
    """
    for manner in MANNERS:
        layout, scale, view = _best_division(plan, paper, enlarged, manner, left_out)
        tacks = labels_of_sides(plan.parts, view, manner, layout.room)
        if tacks is not None:
            break
    if before and view == before.view and manner == before.labelled.manner:
        return replace(before, layout=layout)
    height, springs = label_springs(plan.parts, view)
    placed = None if tacks is None else tuple(tacks)
    return _Set(layout, scale, enlarged, view, Labelled(height, springs, manner, placed))


def _best_division(
    plan: Plan, paper: Paper, enlarged: float, manner: Manner, left_out: str
) -> tuple[Layout, float, View]:
    """The division with the least left out, then the largest scale, then the most white."""
    drawn = Paper(paper.name, paper.width / enlarged, paper.height / enlarged)
    x0, y0, x1, y1 = deck_bounds(plan.parts)
    band = band_depth(plan.parts, manner) + _LEAST_WHITE

    def blocks_for(scale: float) -> Callable[[float], list[Block]]:
        facts = SheetFacts(scale, scale * enlarged, paper.name, left_out)
        return cache(lambda room: margin_blocks(plan, facts, room))

    ranks = []
    ways, blocks = ways_to_divide(drawn), blocks_for(1)
    for index, way in enumerate(ways):
        layout = way(blocks)
        if layout is None:
            continue
        room = layout.room.width - 2 * band, layout.room.height - 2 * band
        if min(room) <= 0:
            continue
        scale = scale_to_fit(((x1 - x0) / enlarged, (y1 - y0) / enlarged), room)
        size = (x1 - x0) / enlarged / scale, (y1 - y0) / enlarged / scale
        white = min(room[0] - size[0], room[1] - size[1])
        ranks.append((len(layout.dropped), scale, -white, index))
    if not ranks:
        raise PaperError(f"{paper.name} is too small for a tie diagram; use A5 paper or larger")
    _, scale, _, index = min(ranks)
    layout = ways[index](blocks_for(scale))
    assert layout is not None
    view = _view(layout, scale * enlarged, (x0, y0, x1, y1))
    return layout, scale, replace(view, fine=fineness(plan.parts, scale * enlarged))


def _view(layout: Layout, scale: float, bounds: tuple[float, float, float, float]) -> View:
    """The view that sets the deck in the middle of its room."""
    x0, y0, x1, y1 = bounds
    room = layout.room
    x = room.x + room.width / 2 - (x0 + x1) / 2 / scale
    y = room.y + room.height / 2 - (y0 + y1) / 2 / scale
    return View(scale, x, y)


def _larger_paper(plan: Plan, paper: Paper) -> str:
    """The next larger paper that would hold everything, as a sentence."""
    papers = larger_papers(paper)
    index = bisect_left(papers, True, key=lambda larger: _holds_everything(plan, larger))
    if index < len(papers):
        return f"{papers[index].name} paper holds everything."
    largest = papers[-1] if papers else paper
    return f"No sheet up to {largest.name} holds everything."


def _holds_everything(plan: Plan, paper: Paper) -> bool:
    """Whether nothing is left out on ``paper`` in the least lettering."""
    for manner in FULL_MANNERS:
        layout, _, view = _best_division(plan, paper, 1.0, manner, "")
        if (
            not layout.dropped
            and labels_of_sides(plan.parts, view, manner, layout.room) is not None
        ):
            return None not in place_spring_labels(plan.parts, view, look.SMALL)
    return False


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
    drawing = Drawing(
        layout.paper.width,
        layout.paper.height,
        f"Tie diagram: {name}",
        _description(plan, sheet, paper),
        items,
        (("scale", f"{sheet.scale:g}"),),
    )
    return drawing if sheet.enlarged == 1 else drawing.enlarged(sheet.enlarged)


def _description(plan: Plan, sheet: _Set, paper: Paper) -> str:
    ties = plan.parts.ties
    return (
        f"The seat deck from above at 1:{sheet.scale:g} on {paper.name}, its back at the top: "
        f"{len(plan.deck.springs)} springs, {len(ties.lines)} ties numbered in tying order, "
        f"{len(ties.crossings)} cross knots, and where each tie is tacked to the rails."
    )
