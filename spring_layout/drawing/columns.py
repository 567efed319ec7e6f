"""A sheet divided between the picture and the margin, and the margin set out in columns."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from spring_layout.drawing import look
from spring_layout.drawing.blocks import Block
from spring_layout.drawing.paper import MARGIN, Paper
from spring_layout.drawing.primitives import Item, Path, Place, polyline

_WIDE_GAP = 6.5
"""mm between two blocks of a column where there is room."""
_PAD = 4.0
"""mm of white inside the border and beside a rule."""
_WIDTHS = tuple(58.0 + 4.0 * i for i in range(10))
"""mm, the widths that a column beside the picture may have."""
_LEAST_WIDTH, _MOST_WIDTH = 56.0, 110.0
"""mm, the widths that a column under the picture may have."""
_MOST_BAND = 0.5
"""The margin takes at most this share of the sheet's height or width."""
_BLANK = 0.3
"""How much a mm of blank column weighs against a mm of uneven white round the picture."""
_ANYWHERE, _AFTER_BLOCK = ("note", "caution"), "marks"
"""Blocks that may also stand after the marks where that makes the columns more even."""
Size = tuple[float, float]
Blocks = Callable[[float], Sequence[Block]]


@dataclass(frozen=True)
class Rect:
    """An upright rectangle, mm."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True)
class Column:
    """A column's place and its blocks, set from the top, the last ``footed`` from the bottom."""

    rect: Rect
    blocks: tuple[Block, ...]
    footed: int = 0


@dataclass(frozen=True)
class Layout:
    """A sheet divided: its border, the room for the picture, the margin's columns and rules.

    ``waste``: how unevenly it uses its white, in mm; the less the better.
    """

    paper: Paper
    border: Rect
    room: Rect
    columns: tuple[Column, ...]
    rules: tuple[tuple[Place, Place], ...]
    waste: float


def may_hold(paper: Paper, picture: Size) -> bool:
    """Whether ``paper`` may have room for a picture of that size and a margin, either way up."""
    beside, below = _WIDTHS[0] + 2 * _PAD, 2 * _PAD
    return any(
        (picture[0] + beside <= wide and picture[1] <= high)
        or (picture[0] <= wide and picture[1] + below <= high)
        for wide, high in (
            (turned.width - 2 * MARGIN, turned.height - 2 * MARGIN)
            for turned in (paper.landscape(), paper.portrait())
        )
    )


def layouts(paper: Paper, picture: Size, make: Blocks, gap: float) -> Iterator[Layout]:
    """The ways to divide ``paper``, either way up, round a picture of that size.

    The margin stands beside it in one or two columns, or under it in up to four; ``make`` gives
    its blocks for a width, ``gap`` mm apart at least.
    """
    for turned in {paper.landscape(), paper.portrait()}:
        border = Rect(MARGIN, MARGIN, turned.width - 2 * MARGIN, turned.height - 2 * MARGIN)
        for count in (1, 2):
            for width in _WIDTHS:
                yield from _beside(turned, border, picture, make, gap, count, width)
        for count in (1, 2, 3, 4):
            yield from _below(turned, border, picture, make, gap, count)


def margin_items(layout: Layout, gap: float) -> list[Item]:
    """The rules and the columns, blocks ``gap`` mm apart at least."""
    items: list[Item] = [Path(polyline(ends), look.RULE) for ends in layout.rules]
    for column in layout.columns:
        items += _column_items(column, gap)
    return items


def _column_items(column: Column, gap: float) -> list[Item]:
    rect, items = column.rect, list[Item]()
    between = max(len(column.blocks) - 1, 1)
    spare = rect.height - height_of(column.blocks, gap)
    step = min(_WIDE_GAP, gap + spare / between)
    used = height_of(column.blocks, step)
    at = rect.y
    for i, block in enumerate(column.blocks):
        if i == len(column.blocks) - column.footed:
            at += rect.height - used
        items += block.draw((rect.x, at))
        at += block.height + step
    return items


def height_of(blocks: Sequence[Block], gap: float) -> float:
    """The height of a column with these blocks, mm."""
    return sum(block.height for block in blocks) + gap * max(len(blocks) - 1, 0)


def _beside(
    paper: Paper,
    border: Rect,
    picture: Size,
    make: Blocks,
    gap: float,
    count: int,
    width: float,
) -> Iterator[Layout]:
    """The margin at the right, ``count`` columns ``width`` mm wide, where that has room."""
    wide, most = count * (width + 2 * _PAD), border.height - 2 * _PAD
    left = border.width - wide
    if left < picture[0] or wide > border.width * _MOST_BAND or border.height < picture[1]:
        return
    height, parts = split(make(width), count, gap)
    if height > most:
        return
    first = border.x + left
    rules = [
        ((x, border.y), (x, border.y + border.height))
        for x in (first + i * (width + 2 * _PAD) for i in range(len(parts)))
    ]
    columns = tuple(
        Column(
            Rect(x + _PAD, border.y + _PAD, width, most), part, _footed(part, i == len(parts) - 1)
        )
        for i, (part, ((x, _), _)) in enumerate(zip(parts, rules, strict=True))
    )
    room = Rect(border.x, border.y, left, border.height)
    yield Layout(paper, border, room, columns, tuple(rules), _waste(room, picture, columns, gap))


def _below(
    paper: Paper, border: Rect, picture: Size, make: Blocks, gap: float, count: int
) -> Iterator[Layout]:
    """The margin under the picture in ``count`` columns, where that has room."""
    width = border.width / count - 2 * _PAD
    if not _LEAST_WIDTH <= width <= _MOST_WIDTH or border.width < picture[0]:
        return
    height, parts = split(make(width), count, gap)
    left = border.height - height - 2 * _PAD
    if left < picture[1] or left < border.height * (1 - _MOST_BAND):
        return
    top = border.y + left
    starts = [border.x + i * border.width / len(parts) for i in range(len(parts))]
    columns = tuple(
        Column(Rect(x + _PAD, top + _PAD, width, height), part, _footed(part, i == len(parts) - 1))
        for i, (part, x) in enumerate(zip(parts, starts, strict=True))
    )
    rules = (
        ((border.x, top), (border.x + border.width, top)),
        *(((x, top), (x, border.y + border.height)) for x in starts[1:]),
    )
    room = Rect(border.x, border.y, border.width, left)
    yield Layout(paper, border, room, columns, rules, _waste(room, picture, columns, gap))


def _footed(blocks: Sequence[Block], is_last: bool) -> int:
    """How many blocks stand at a column's foot: in the last one the scale bar and the title."""
    return min(2, len(blocks)) if is_last else 0


def _waste(room: Rect, picture: Size, columns: Sequence[Column], gap: float) -> float:
    across, down = (room.width - picture[0]) / 2, (room.height - picture[1]) / 2
    blank = sum(column.rect.height - height_of(column.blocks, gap) for column in columns)
    return abs(across - down) + _BLANK * (across + down + blank / len(columns))


def split(blocks: Sequence[Block], count: int, gap: float) -> tuple[float, list[tuple[Block, ...]]]:
    """The blocks over ``count`` columns, as low as may be; the height, mm."""
    best: tuple[float, list[tuple[Block, ...]]] | None = None
    for order in _orders(blocks):
        for cuts in combinations(range(1, len(order)), min(count, len(order)) - 1):
            edges = [0, *cuts, len(order)]
            parts = [tuple(order[a:b]) for a, b in pairwise(edges)]
            height = max(height_of(part, gap) for part in parts)
            if best is None or height < best[0] - 1e-9:
                best = height, parts
    assert best is not None
    return best


def _orders(blocks: Sequence[Block]) -> list[list[Block]]:
    """The blocks in order, and with one of those moved that may stand elsewhere."""
    orders = [list(blocks)]
    for name in _ANYWHERE:
        loose = [block for block in blocks if block.name == name]
        rest = [block for block in blocks if block.name != name]
        after = next((i for i, block in enumerate(rest) if block.name == _AFTER_BLOCK), None)
        if loose and after is not None:
            orders.append([*rest[: after + 1], *loose, *rest[after + 1 :]])
    return orders
