"""The foot of a sheet's margin: the scale bar and the title block."""

from collections.abc import Sequence
from itertools import accumulate

from spring_layout.drawing import lettering, look
from spring_layout.drawing.blocks import Block, written
from spring_layout.drawing.paper import scale_words
from spring_layout.drawing.primitives import Item, Path, Place, polyline, rectangle
from spring_layout.units import MM_PER_INCH, Units

_BAR_HEIGHT, _UNDER_BAR = 1.4, 1.2
_BAR_STEPS: dict[Units, tuple[float, ...]] = {
    "in": tuple(MM_PER_INCH * n for n in (0.25, 0.5, 1, 2, 3, 6, 12, 24, 36, 60, 120)),
    "mm": (5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000),
}
_LONGEST_STEP = 22.0
"""mm on paper, the most that one step of the bar takes."""
_NAME_STEP, _SUBTITLE = 5.6, 5.6
_CELL = 9.4
"""mm, the height of a cell of the title block: room to write by hand."""
_INSET = 1.5
_HAND = 17.0
"""mm, the least width of a cell to be written in by hand."""
Cell = tuple[str, str, float]
"""What it is, its value ("" to be written in by hand), where it ends as a share of the width."""


def scale_block(drawn_scale: float, units: Units, room: float) -> Block:
    """The scale as a bar in the deck's units, true for a picture at 1 : ``drawn_scale``."""

    def draw(place: Place) -> list[Item]:
        return _bar_items(place, drawn_scale, units, room)

    return Block("scale", _BAR_HEIGHT + _UNDER_BAR + look.SMALL, draw)


def _bar_items(place: Place, scale: float, units: Units, room: float) -> list[Item]:
    """A bar of four steps, black and white by turns, as long as the room lets it be."""
    x, y = place
    longest = min((room - 12) / 4, _LONGEST_STEP) * scale
    step = max((s for s in _BAR_STEPS[units] if s <= longest), default=_BAR_STEPS[units][0])
    long = step / scale
    items: list[Item] = []
    for i in range(4):
        fill = look.INK if i % 2 == 0 else look.PAPER
        items.append(Path(rectangle(x + i * long, y, long, _BAR_HEIGHT), look.RULE, fill))
    for i in (0, 1, 2, 4):
        number = f"{step * i / (MM_PER_INCH if units == 'in' else 1):g}"
        under = x + i * long, y + _BAR_HEIGHT + _UNDER_BAR
        items.append(_bar_number(under, number, units if i == 4 else ""))
    return items


def _bar_number(place: Place, number: str, unit: str) -> Item:
    x, y = place
    if unit:
        shift = lettering.width(number, look.SMALL) / 2
        return written((x - shift, y), f"{number} {unit}")
    return lettering.lettered((x, y + look.SMALL), number, look.SMALL, look.INK, anchor="middle")


def title_block(
    title: tuple[str, str], scale: float, units: Units, paper: str, room: float
) -> Block:
    """The title block: whose deck and what, scale, paper, sheet, and room for hand and date."""
    name, shown = title
    names = _two_lines(name, room)
    top = len(names) * _NAME_STEP + _SUBTITLE
    rows = _rows(scale_words(scale, units), paper, room)

    def draw(place: Place) -> list[Item]:
        x, y = place
        items: list[Item] = []
        for i, line in enumerate(names):
            base = x, y + look.HEAD + i * _NAME_STEP
            items.append(lettering.lettered(base, line, look.HEAD, look.INK, weight="bold"))
        under = x, y + len(names) * _NAME_STEP
        items.append(written(under, shown, look.NORMAL, soft=True))
        for i, row in enumerate(rows):
            items += _cells((x, y + top + i * _CELL), row, room)
        return items

    return Block("title", top + len(rows) * _CELL, draw)


def _rows(scale: str, paper: str, room: float) -> list[list[Cell]]:
    """The cells in one row where that has room to write by hand, else in two."""
    told, named, sheet = (
        max(lettering.width(words, look.SMALL) for words in pair) + _INSET + 1.0
        for pair in (("Scale", scale), ("Paper", paper), ("Sheet", "1 of 1"))
    )
    hand = (room - told - named - sheet) / 2
    ends = [told, named, hand, hand, sheet]
    row = [("Scale", scale), ("Paper", paper), ("Drawn", ""), ("Date", ""), ("Sheet", "1 of 1")]
    if hand >= _HAND:
        shares = [share / room for share in accumulate(ends)]
        return [[(what, value, at) for (what, value), at in zip(row, shares, strict=True)]]
    return [
        [("Scale", scale, 0.68), ("Paper", paper, 1.0)],
        [("Drawn", "", 0.45), ("Date", "", 0.78), ("Sheet", "1 of 1", 1.0)],
    ]


def _two_lines(name: str, room: float) -> list[str]:
    """A name in at most two lines, shortened where it is longer."""
    lines = lettering.wrapped(name, look.HEAD, room, "bold")
    if len(lines) <= 2:
        return lines
    rest = " ".join(lines[1:])
    return [lines[0], lettering.shortened(rest, look.HEAD, room, "bold")]


def _cells(place: Place, cells: Sequence[Cell], room: float) -> list[Item]:
    """A row of ruled cells: what it is, and its value under that."""
    x, y = place
    items: list[Item] = [Path(polyline(((x, y), (x + room, y))), look.RULE)]
    begin = 0.0
    for what, value, end in cells:
        left = x + begin * room
        if begin:
            items.append(Path(polyline(((left, y), (left, y + _CELL))), look.RULE))
            left += _INSET
        items.append(written((left, y + 1.4), what, soft=True))
        if value:
            fits = lettering.width(value, look.BODY) <= x + end * room - left - 0.5
            items.append(written((left, y + 5.4), value, look.BODY if fits else look.SMALL))
        begin = end
    return items
