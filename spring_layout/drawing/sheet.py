"""The tie diagram on one sheet: the largest usual scale that fits, the sheet turned to suit.

The sheet is divided between the picture and its margin (keys, numbers, what to cut, cautions,
scale, title block) in the way that lets the picture be largest, and of those in the way that uses
its white most evenly. The picture with its labels stands in the middle of its room, a little above
it, where the eye takes the middle to be. Paper larger than A4 is drawn smaller and then enlarged
as a whole, so that it can be read from farther away, unless that leaves something out.

Where there is not room for everything, the less needed goes first, in this order:

* of the picture: large lettering, the discs round the ties' numbers (the numbers stay), springs'
  labels that find no place, up to three tack points' labels, all tack points' distances, the
  diagonal ties' numbers, all ties' numbers;
* of the margin: airy setting, what to cut for each tie (the bench sheet has it as well), then
  the deck's note, the key to the marks, the numbers, the key to the ties.

What the picture tells is kept before what the margin tells. The sheet says what was left out and
names the paper that would hold it all.
"""

from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property

from spring_layout.drawing import look
from spring_layout.drawing.blocks import Block
from spring_layout.drawing.columns import Layout, layouts, margin_items, may_hold
from spring_layout.drawing.margin import (
    WITH_CUTS,
    WITHOUT_CUTS,
    Contents,
    SheetFacts,
    margin_blocks,
)
from spring_layout.drawing.paper import Paper, PaperError, larger_papers, scales
from spring_layout.drawing.picture import (
    DISCS,
    EVERYTHING,
    LESS,
    TURNED,
    Bounds,
    Picture,
    Pictures,
    Way,
)
from spring_layout.drawing.primitives import Drawing, Group, Item, Path, Tag, moved, rectangle
from spring_layout.drawing.tack_row import Manner
from spring_layout.plan import Plan
from spring_layout.planning.parts import Parts

_LEAST_WHITE = 3.5
"""mm between the picture with its labels and the border."""
_NAMES_OFF = 1.5
"""mm that rails' names outside the rails stand farther out than they must, where there is room."""
_ABOVE = 0.47
"""The share of the white above and below the picture that stands above it."""
_MOST_SMALLER = 6
"""So many scales smaller than the largest that the sheet could hold are tried."""
_LEAVES: tuple[tuple[str, ...], ...] = (
    (),
    ("note",),
    ("note", "marks"),
    ("note", "marks", "numbers"),
    ("note", "marks", "numbers", "key"),
)
"""What the margin leaves out, step by step."""
_STEPS: tuple[tuple[tuple[Way, ...], tuple[str, ...], bool], ...] = (
    (DISCS, (), True),
    (TURNED, (), True),
    *((EVERYTHING, without, True) for without in _LEAVES[1:]),
    *((ways, without, False) for ways in (EVERYTHING, *LESS) for without in _LEAVES),
)
"""From everything to the least: ways to label the tack points, what the margin leaves out, whether
every spring must have its label."""
_MOST_NAMED = 3
"""At most so many springs are named whose labels are left out; more are counted."""
_MANNER_WORDS: dict[Manner | None, list[str]] = {
    "discs": [],
    "turned": [],
    "numbers": ["the tack points' distances from the centre marks"],
    "straight": ["the tack points' distances and the diagonal ties' numbers"],
    None: ["the numbers and distances of the tack points"],
}
_BLOCK_WORDS = {
    "note": "the note",
    "key": "the key to the ties",
    "marks": "the key to the marks",
    "numbers": "the numbers",
}


@dataclass(frozen=True)
class _Set:
    """A sheet set out but not drawn; ``scale`` is the 5 of 1:5 on the finished sheet.

    It is drawn and then ``enlarged`` times.
    """

    layout: Layout
    picture: Picture
    contents: Contents
    scale: float
    enlarged: float

    def left_out(self, parts: Parts) -> list[str]:
        """What found no room, in words."""
        words = [*_MANNER_WORDS[self.picture.manner], *_missing_words(parts, self.picture)]
        tacks = self.picture.missing_tacks
        if tacks:
            words.append("1 tack point's label" if tacks == 1 else f"{tacks} tack points' labels")
        words += [_BLOCK_WORDS[name] for name in self.contents.without]
        return [parts.told(word) for word in words]


def _missing_words(parts: Parts, picture: Picture) -> list[str]:
    """Which springs' labels found no place, in words."""
    springs = picture.labelled.springs
    places = zip(parts.standing.ids, springs, strict=True)
    missing = [parts.labels[name] for name, place in places if place is None]
    if not missing:
        return []
    if len(missing) == len(springs):
        return ["the springs' labels"]
    if len(missing) > _MOST_NAMED:
        return [f"{len(missing)} springs' labels"]
    return [f"the label{'s' if len(missing) > 1 else ''} of {' and '.join(sorted(missing))}"]


def tie_diagram(plan: Plan, paper: Paper) -> Drawing:
    """The tie diagram of ``plan`` on one sheet of ``paper``, turned to fit.

    Raises PaperError, with a sentence, where the paper is too small for any of it.
    """
    sheets = _Sheets(plan, paper, 1.0, Pictures(plan.parts))
    sheet = _set_out(replace(sheets, enlarged=paper.lettering))
    if sheet.left_out(plan.parts) and paper.lettering > 1:
        sheet = _set_out(sheets)
    if sheet.left_out(plan.parts):
        sheet = _with_left_out(sheets, sheet)
    return _drawn(plan, paper, sheet)


def _with_left_out(sheets: "_Sheets", sheet: _Set) -> _Set:
    """The same sheet with words that tell what it leaves out.

    The words take room themselves, so that something more may have to go.
    """
    advice = _larger_paper(sheets)
    left_out: list[str] = []
    while sheet.left_out(sheets.plan.parts) != left_out:
        left_out = sheet.left_out(sheets.plan.parts)
        words = f"For want of room: {', '.join(left_out)}. {advice}"
        sheet = _set_out(replace(sheets, told=words))
    return sheet


@dataclass(frozen=True)
class _Sheets:
    """The ways to set out one plan's diagram on one paper, drawn and then ``enlarged`` times.

    ``told``: what the margin says is left out.
    """

    plan: Plan
    paper: Paper
    enlarged: float
    pictures: Pictures
    told: str = ""

    @cached_property
    def drawn(self) -> Paper:
        """The paper as it is drawn on before it is enlarged."""
        paper, enlarged = self.paper, self.enlarged
        return replace(paper, width=paper.width / enlarged, height=paper.height / enlarged)

    @cached_property
    def blocks(self) -> Callable[[float, Contents, float], list[Block]]:
        """The margin's blocks for a scale, contents and a width, each made once."""
        return cache(self._blocks)

    def _blocks(self, scale: float, contents: Contents, room: float) -> list[Block]:
        facts = SheetFacts(scale, scale * self.enlarged, self.paper.name, self.told)
        return margin_blocks(self.plan, facts, contents, room)

    def scales(self) -> Iterator[float]:
        """The usual scales at which the deck itself fits the sheet, largest first."""
        x0, y0, x1, y1 = self.pictures.deck_bounds
        across, down = sorted(((x1 - x0) / self.enlarged, (y1 - y0) / self.enlarged))
        short, long = sorted((self.drawn.width, self.drawn.height))
        found = 0
        for scale in scales(self.plan.deck.units):
            if across / scale <= short and down / scale <= long:
                found += 1
                yield scale
            if found > _MOST_SMALLER:
                return

    def best(
        self, ways: tuple[Way, ...], without: tuple[str, ...], every_spring: bool
    ) -> _Set | None:
        """The largest and then the best laid out sheet that leaves out only that.

        With ``every_spring`` only one that labels all springs.
        """
        for scale in self.scales():
            for choice in (WITH_CUTS, WITHOUT_CUTS):
                contents = [replace(full, without=without) for full in choice]
                pictures = (self.pictures.at(scale * self.enlarged, way) for way in ways)
                tries = (self._laid_out(p, scale, contents) for p in pictures if p)
                found = next(filter(None, tries), None)
                if found:
                    # a smaller scale has no more room for the springs' labels
                    return None if every_spring and found.picture.misses_springs else found
        return None

    def _laid_out(self, picture: Picture, scale: float, choice: Sequence[Contents]) -> _Set | None:
        """The sheet with the first of those contents that finds room, white used most evenly."""
        if not may_hold(self.drawn, _with_white(picture.least_bounds)):
            return None
        size = _with_white(picture.bounds)
        for contents in choice:

            def make(room: float, contents: Contents = contents) -> list[Block]:
                return self.blocks(scale, contents, room)

            ways = list(layouts(self.drawn, size, make, contents.setting.gap))
            if ways:
                layout = min(ways, key=lambda way: round(way.waste, 6))
                return _Set(layout, picture, contents, scale, self.enlarged)
        return None


def _with_white(bounds: Bounds) -> tuple[float, float]:
    """Width and height of a picture with the least white round it, mm."""
    x0, y0, x1, y1 = bounds
    return x1 - x0 + 2 * _LEAST_WHITE, y1 - y0 + 2 * _LEAST_WHITE


def _set_out(sheets: _Sheets) -> _Set:
    """The sheet with the least left out, in the order stated above."""
    for ways, without, every_spring in _STEPS:
        sheet = sheets.best(ways, without, every_spring)
        if sheet:
            return sheet
    small = f"{sheets.paper.name} is too small for a tie diagram; use A5 paper or larger"
    raise PaperError(sheets.plan.parts.told(small))


def _larger_paper(sheets: _Sheets) -> str:
    """The next larger paper that would hold everything, as a sentence."""
    papers = larger_papers(sheets.paper)
    index = bisect_left(papers, True, key=lambda it: _holds_everything(replace(sheets, paper=it)))
    if index < len(papers):
        return f"{papers[index].name} paper holds everything."
    largest = papers[-1] if papers else sheets.paper
    return f"No sheet up to {largest.name} holds everything."


def _holds_everything(sheets: _Sheets) -> bool:
    """Whether nothing is left out in the least lettering."""
    return any(sheets.best(ways, (), every_spring=True) for ways in (DISCS, TURNED))


def _drawn(plan: Plan, paper: Paper, sheet: _Set) -> Drawing:
    layout, border = sheet.layout, sheet.layout.border
    name = plan.deck.name.strip() or plan.parts.told("Seat deck")
    ground = Path(rectangle(0, 0, layout.paper.width, layout.paper.height), fill=look.PAPER)
    edge = Path(rectangle(border.x, border.y, border.width, border.height), look.SHEET_EDGE)
    items: tuple[Item, ...] = (
        ground,
        *_centred(sheet),
        Group((edge, *margin_items(layout, sheet.contents.setting.gap)), Tag(id="margin")),
    )
    drawing = Drawing(
        layout.paper.width,
        layout.paper.height,
        f"{plan.parts.told('Tie diagram')}: {name}",
        _description(plan, sheet, paper),
        items,
        (("scale", f"{sheet.scale:g}"),),
    )
    return drawing if sheet.enlarged == 1 else drawing.enlarged(sheet.enlarged)


def _centred(sheet: _Set) -> list[Item]:
    """The picture in its room: in the middle across, a little above the middle down.

    Where there is room for it, the rails' names stand off the tack points' labels.
    """
    room = sheet.layout.room
    wide, high = _with_white(sheet.picture.bounds)
    across, down = (max(0.0, spare) / 2 for spare in (room.width - wide, room.height - high))
    picture = sheet.picture.with_names((min(across, _NAMES_OFF), min(down, _NAMES_OFF)))
    x0, y0, x1, y1 = picture.bounds
    right = room.x + (room.width - (x1 - x0)) / 2 - x0
    below = room.y + (room.height - (y1 - y0)) * _ABOVE - y0
    return [moved(item, right, below) for item in picture.groups]


def _description(plan: Plan, sheet: _Set, paper: Paper) -> str:
    ties = plan.parts.ties
    return plan.parts.told(
        f"The seat deck from above at 1:{sheet.scale:g} on {paper.name}, its back at the top: "
        f"{len(plan.deck.springs)} springs, {len(ties.lines)} ties numbered in tying order, "
        f"{len(ties.crossings)} cross knots, and where each tie is tacked to the rails."
    )
