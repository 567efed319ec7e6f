"""The record: one page to staple under the bottom cloth, for the next person who opens the seat.

The diagram small, the sizes, the heights, the twine, and room to write in what was measured once
the seat was tied. Heights that the user has entered are printed in.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from spring_layout.checks.words import length, opened, side_named
from spring_layout.drawing import lettering, look
from spring_layout.drawing.bench_blocks import row
from spring_layout.drawing.columns import Rect
from spring_layout.drawing.flow import Flow
from spring_layout.drawing.paper import MARGIN, Paper, PaperError, scale_words, scales
from spring_layout.drawing.picture import LESS, Picture, Pictures
from spring_layout.drawing.primitives import (
    Drawing,
    Item,
    Path,
    Place,
    Stroke,
    moved,
    polyline,
    rectangle,
)
from spring_layout.drawing.wording import number_rows
from spring_layout.plan import Plan
from spring_layout.planning.parts import Parts
from spring_layout.units import format_length

_TEXT = 2.6
_NAME = 5.0
_HEADER = 17.0
_BESIDE = 104.0
"""Width that the diagram has beside the facts, and its most height there, mm."""
_LOWEST, _UNDER = 60.0, 9.0
_ROW_GAP = 0.8
_TABLE_HEAD = 13.0
_GAP = 6.0
_TAB = 25.0
_ROW = 6.6
_CELL = 37.0
_FOOT = 30.0
_LEAST = (180.0, 230.0)
_WAYS = {way.manner: way for ways in LESS for way in reversed(ways)}
_NUMBERED, _BARE = _WAYS["numbers"], _WAYS[None]
_WORTH = 1.7
"""So many times smaller the diagram may be for the sake of the ties' numbers."""
_BLANK = Stroke(look.HAIR, 0.2)


def record_sheet(plan: Plan, paper: Paper) -> tuple[Drawing, ...]:
    """The record on one page. Raises PaperError where the paper is too small."""
    upright = paper.portrait()
    larger = upright.lettering
    page = Paper(paper.name, upright.width / larger, upright.height / larger)
    if page.width < _LEAST[0] or page.height < _LEAST[1]:
        raise PaperError(f"{paper.name} is too small for a record; use A4, letter or larger")
    drawing = _drawing(plan, page, larger)
    return (drawing.enlarged(larger) if larger > 1 else drawing,)


@dataclass(frozen=True)
class _Small:
    """The diagram as it stands on the page: at 1 : ``scale`` once the page is enlarged.

    ``numbered``: its ties have their numbers.
    """

    groups: tuple[Item, ...]
    scale: float
    numbered: bool


@dataclass(frozen=True)
class _Layout:
    """How the page is divided: the picture's box, the facts' columns, the top of the heights.

    ``facts`` are (place, flows) of each column; ``small`` is the diagram in the box.
    """

    picture: Rect
    facts: tuple[tuple[Place, tuple[Flow, ...]], ...]
    heights: float
    small: _Small


def _drawing(plan: Plan, page: Paper, larger: float) -> Drawing:
    name = plan.deck.name.strip() or plan.parts.told("Seat deck")
    room = page.width - 2 * MARGIN
    foot = page.height - MARGIN - _FOOT
    layout = _laid_out(plan, Rect(MARGIN, MARGIN + _HEADER, room, foot - MARGIN - _HEADER), larger)
    under = MARGIN, layout.heights
    items = (
        Path(rectangle(0, 0, page.width, page.height), fill=look.PAPER),
        *_header(name, page),
        *layout.small.groups,
        *_caption(layout, plan.parts),
        *(item for place, flows in layout.facts for item in _stacked(flows, place)),
        *_heights(plan.parts, under, (room, foot - layout.heights)),
        *_foot((MARGIN, foot), room),
    )
    description = plan.parts.told(
        f"The seat deck small at 1:{layout.small.scale:g}, its sizes, heights and twine, and room "
        "for the heights as measured, the date and the hand."
    )
    data = ("scale", f"{layout.small.scale:g}"), ("sheet", "1")
    return Drawing(page.width, page.height, f"Record: {name}", description, items, data)


def _laid_out(plan: Plan, room: Rect, larger: float) -> _Layout:
    """The picture beside the facts, or over them where that lets it be larger."""
    beside, over = _beside(plan, room, larger), _over(plan, room, larger)
    return over if over and over.small.scale < beside.small.scale else beside


def _beside(plan: Plan, room: Rect, larger: float) -> _Layout:
    facts = tuple(_facts(plan, room.width - _BESIDE - _GAP))
    high = max(_LOWEST, min(room.height - _table_height(plan.parts, room.width), _BESIDE))
    picture = Rect(room.x, room.y, _BESIDE, max(high, sum(f.height + _ROW_GAP for f in facts)))
    column = (room.x + _BESIDE + _GAP, room.y), facts
    heights = picture.y + picture.height
    return _Layout(picture, (column,), heights, _small(plan, picture, larger))


def _over(plan: Plan, room: Rect, larger: float) -> _Layout | None:
    """None where that leaves no room for the picture or not for every spring's height."""
    half = (room.width - _GAP) / 2
    facts = _facts(plan, half)
    cut = -(-len(facts) // 2)
    columns = tuple(facts[:cut]), tuple(facts[cut:])
    deep = max(sum(f.height + _ROW_GAP for f in column) for column in columns)
    high = room.height - _table_height(plan.parts, room.width) - deep
    if high < _LOWEST:
        return None
    picture = Rect(room.x, room.y, room.width, high)
    places = (room.x, room.y + high), (room.x + half + _GAP, room.y + high)
    told = tuple(zip(places, columns, strict=True))
    return _Layout(picture, told, room.y + high + deep, _small(plan, picture, larger))


def _table_height(parts: Parts, room: float) -> float:
    """What the heights of all springs take, mm."""
    return _TABLE_HEAD + -(-len(parts.labels) // int(room // _CELL)) * _ROW


def _small(plan: Plan, box: Rect, larger: float) -> _Small:
    """The diagram at the largest usual scale that has room in ``box``, in the middle of it.

    With the ties' numbers, unless it could be very much larger without them.
    """
    pictures, bare = Pictures(plan.parts), None
    for scale in _usual(plan, pictures, box, larger):
        numbered = pictures.at(scale * larger, _NUMBERED)
        if numbered and _fits(numbered, box):
            return _Small(_in_middle(numbered, box), scale, True)
        if bare is None:
            picture = pictures.at(scale * larger, _BARE)
            if picture and _fits(picture, box):
                bare = _Small(_in_middle(picture, box), scale, False)
        elif scale > bare.scale * _WORTH:
            return bare
    raise AssertionError("usual scales go on for ever")


def _usual(plan: Plan, pictures: Pictures, box: Rect, larger: float) -> Iterator[float]:
    """The usual scales at which the deck without its labels has room, the largest first."""
    x0, y0, x1, y1 = pictures.deck_bounds
    needed = max((x1 - x0) / box.width, (y1 - y0) / (box.height - _UNDER)) / larger
    return (scale for scale in scales(plan.deck.units) if scale >= needed)


def _fits(picture: Picture, box: Rect) -> bool:
    x0, y0, x1, y1 = picture.bounds
    return x1 - x0 <= box.width and y1 - y0 <= box.height - _UNDER


def _in_middle(picture: Picture, box: Rect) -> tuple[Item, ...]:
    x0, y0, x1, y1 = picture.bounds
    dx = box.x + (box.width - x0 - x1) / 2
    dy = box.y + (box.height - _UNDER - y0 - y1) / 2
    return tuple(moved(group, dx, dy) for group in picture.groups)


def _header(name: str, page: Paper) -> list[Item]:
    right, line = page.width - MARGIN, MARGIN + 13.0
    head = lettering.shortened(name, _NAME, right - MARGIN, "bold")
    told = "Record of this seat. Staple it under the bottom cloth, for whoever opens the seat next."
    return [
        lettering.lettered((MARGIN, MARGIN + _NAME), head, _NAME, look.INK, weight="bold"),
        lettering.lettered((MARGIN, line - 1.8), told, _TEXT, look.INK),
        Path(polyline(((MARGIN, line), (right, line))), look.SHEET_EDGE),
    ]


def _caption(layout: _Layout, parts: Parts) -> list[Item]:
    """The scale, and how ties and springs are named, under the diagram."""
    box = layout.picture
    numbered = "Ties are numbered in tying order. " if layout.small.numbered else ""
    words = parts.told(
        f"Seen from above, {scale_words(layout.small.scale, parts.deck.units)}. {numbered}"
        "Rows are lettered from the back, springs numbered from the left."
    )
    x, y = box.x + box.width / 2, box.y + box.height - _UNDER + 1.2 + look.SMALL
    lines = lettering.wrapped(words, look.SMALL, box.width)
    return [
        lettering.lettered((x, y + i * 3.4), line, look.SMALL, look.INK, anchor="middle")
        for i, line in enumerate(lines)
    ]


def _facts(plan: Plan, room: float) -> list[Flow]:
    """Sizes, springs, heights, webbing, twine."""
    parts = plan.parts
    sizes = "; ".join(_side_words(parts, side) for side in range(len(parts.deck.frame.sides)))
    rows = [("Inside edges", opened(sizes)), *number_rows(parts), *_webbing(parts)]
    return [row(what, value, room, _TAB, _TEXT) for what, value in rows]


def _side_words(parts: Parts, side: int) -> str:
    """A side's length between its corners, and its bow."""
    deck, curve = parts.deck, parts.standing.outline.sides[side]
    name = side_named(deck, side).removeprefix("the ")
    bow = f", bow {length(deck, curve.bow)}" if curve.bow else ""
    return f"{name} {length(deck, curve.chord)}{bow}"


def _webbing(parts: Parts) -> list[tuple[str, str]]:
    if not parts.webbing.strips:
        return []
    along, across = (len(parts.webbing.of(r)) for r in ("front-to-back", "side-to-side"))
    wide = length(parts.deck, parts.deck.webbing.width)
    return [(parts.told("Webbing"), f"{along} front to back, {across} side to side, {wide} wide")]


def _stacked(flows: Sequence[Flow], place: Place) -> list[Item]:
    x, y = place
    items: list[Item] = []
    for flow in flows:
        items += flow.draw((x, y))
        y += flow.height + _ROW_GAP
    return items


@dataclass(frozen=True)
class _Height:
    """One spring in the table: its label, its planned height, what it was measured at or ""."""

    label: str
    planned: str
    measured: str


def _heights(parts: Parts, place: Place, room: tuple[float, float]) -> list[Item]:
    """The table of heights: planned, and as measured or a line to write on."""
    unit = {"in": "inches", "mm": "mm"}[parts.deck.units]
    columns = int(room[0] // _CELL)
    chosen, left_out = _chosen(parts, columns * int((room[1] - _TABLE_HEAD) / _ROW + 1e-6))
    note = f"{parts.told('Webbing')} to top coil, {unit}: as planned, and as measured once tied."
    if left_out:
        note += f" {left_out} springs have no room here."
    items = _heading(place, room[0], note)
    rows = -(-len(chosen) // columns) if chosen else 0
    for i, spring in enumerate(chosen):
        column, line = divmod(i, rows)
        at = place[0] + column * room[0] / columns, place[1] + _TABLE_HEAD + line * _ROW
        items += _height_items(_height(parts, spring), at, room[0] / columns)
    return items


def _heading(place: Place, room: float, note: str) -> list[Item]:
    x, y = place
    line = y + 9.0
    return [
        lettering.lettered((x, line - 1.8), "Heights", 3.8, look.INK, weight="bold"),
        lettering.lettered((x + room, line - 1.8), note, _TEXT, look.INK, anchor="end"),
        Path(polyline(((x, line), (x + room, line))), look.RULE),
    ]


def _chosen(parts: Parts, most: int) -> tuple[list[str], int]:
    """The springs that have room in the table, and how many have none.

    Where not all have, the ends and the middle of as many rows as there are lines for.
    """
    springs = list(parts.labels)
    if len(springs) <= most:
        return springs, 0
    count = min(len(parts.rows), max(1, most // 3))
    rows = [parts.rows[round(i * (len(parts.rows) - 1) / max(1, count - 1))] for i in range(count)]
    kept = {row[i] for row in rows for i in (0, len(row) // 2, len(row) - 1)}
    told = [spring for spring in springs if spring in kept][:most]
    return told, len(springs) - len(told)


def _height(parts: Parts, spring: str) -> _Height:
    index, units = parts.standing.index[spring], parts.deck.units
    measured = parts.deck.spring(spring).measured_height
    return _Height(
        parts.labels[spring],
        format_length(float(parts.heights.tied[index]), units, unit=False),
        "" if measured is None else format_length(measured, units, "exact", unit=False),
    )


def _height_items(told: _Height, place: Place, wide: float) -> list[Item]:
    x, y = place
    base = y + _TEXT
    line = (x + 23.0, base + 0.9), (x + wide - 3.0, base + 0.9)
    items: list[Item] = [
        lettering.lettered((x, base), told.label, _TEXT, look.INK, weight="bold"),
        lettering.lettered((x + 20.0, base), told.planned, _TEXT, look.INK, anchor="end"),
        Path(polyline(line), _BLANK),
    ]
    if told.measured:
        items.append(lettering.lettered((x + 24.0, base), told.measured, _TEXT, look.INK))
    return items


def _foot(place: Place, room: float) -> list[Item]:
    """Lines to write on: who tied it, when, and what else there is to know."""
    x, y = place
    half = room / 2 - 3.0
    spots = ((x, y + 8.0, half, "Tied by"), (x + half + 6.0, y + 8.0, half, "Date"))
    notes = ((x, y + 18.0, room, "Notes"), (x, y + 28.0, room, ""))
    items: list[Item] = []
    for left, base, long, words in (*spots, *notes):
        begin = left + (lettering.width(words, _TEXT) + 2.0 if words else 0.0)
        items.append(Path(polyline(((begin, base + 0.6), (left + long, base + 0.6))), _BLANK))
        if words:
            items.append(lettering.lettered((left, base), words, _TEXT, look.SOFT_INK))
    return items
