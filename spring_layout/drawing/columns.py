"""The margin of a sheet set out in columns, and the sheet divided between it and the picture."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import partial
from itertools import combinations, pairwise

from spring_layout.drawing import look
from spring_layout.drawing.blocks import Block
from spring_layout.drawing.paper import MARGIN, Paper
from spring_layout.drawing.primitives import Item, Path, Place, polyline

BLOCK_GAP, WIDE_GAP = 3.4, 6.0
"""mm between two blocks of a column: at least, and where there is room."""
_PAD = 4.0
"""mm of white inside the border and beside a rule."""
_WIDTHS = (62.0, 70.0, 78.0)
"""mm, the widths that a column beside the picture may have."""
_LEAST_WIDTH = 56.0
"""mm, the least width of a column under the picture."""
_MOST_BAND = 0.45
"""The margin under the picture takes at most this share of the sheet's height."""
Blocks = Callable[[float], list[Block]]


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

    ``dropped`` are the names of the blocks that found no room.
    """

    paper: Paper
    border: Rect
    room: Rect
    columns: tuple[Column, ...]
    rules: tuple[tuple[Place, Place], ...]
    dropped: tuple[str, ...] = field(default=())


def ways_to_divide(paper: Paper) -> list[Callable[[Blocks], Layout | None]]:
    """The ways to divide ``paper``, either way up, with the margin at the right or below.

    Each makes the layout for blocks of any width, or None where they find no room that way.
    """
    ways: list[Callable[[Blocks], Layout | None]] = []
    for turned in (paper.landscape(), paper.portrait()):
        ways += [partial(_beside, turned, width) for width in _WIDTHS]
        most = max(1, int((turned.width - 2 * MARGIN) // (_LEAST_WIDTH + 2 * _PAD)))
        counts = sorted({most, max(1, most - 1)})
        ways += [partial(_below, turned, count) for count in counts]
    return ways


def height_of(blocks: Sequence[Block]) -> float:
    """The height of a column with these blocks, mm."""
    return sum(block.height for block in blocks) + BLOCK_GAP * max(len(blocks) - 1, 0)


def without_least(blocks: list[Block]) -> list[Block] | None:
    """The blocks without the one least needed; None where all must stay."""
    most = max(blocks, key=lambda block: block.need)
    return [block for block in blocks if block is not most] if most.need else None


def margin_items(layout: Layout) -> list[Item]:
    """The border, the rules and the columns."""
    items: list[Item] = [Path(polyline(ends), look.RULE) for ends in layout.rules]
    for column in layout.columns:
        items += _column_items(column)
    return items


def _column_items(column: Column) -> list[Item]:
    rect, items = column.rect, list[Item]()
    spare = rect.height - height_of(column.blocks)
    gap = min(WIDE_GAP, BLOCK_GAP + spare / max(len(column.blocks) - 1, 1))
    split = len(column.blocks) - column.footed
    used = sum(block.height for block in column.blocks) + gap * max(len(column.blocks) - 1, 0)
    at = rect.y
    for i, block in enumerate(column.blocks):
        if i == split:
            at += rect.height - used
        items += block.draw((rect.x, at))
        at += block.height + gap
    return items


def _border(paper: Paper) -> Rect:
    return Rect(MARGIN, MARGIN, paper.width - 2 * MARGIN, paper.height - 2 * MARGIN)


def _beside(paper: Paper, width: float, make: Blocks) -> Layout | None:
    border = _border(paper)
    width = min(width, border.width / 2 - 2 * _PAD)
    height = border.height - 2 * _PAD
    blocks = make(width)
    kept = _kept(blocks, lambda some: height_of(some) <= height)
    if kept is None:
        return None
    rule = border.x + border.width - width - 2 * _PAD
    rect = Rect(rule + _PAD, border.y + _PAD, width, height)
    return Layout(
        paper,
        border,
        Rect(border.x, border.y, rule - border.x, border.height),
        (Column(rect, tuple(kept), footed=2),),
        (((rule, border.y), (rule, border.y + border.height)),),
        _dropped(blocks, kept),
    )


def _below(paper: Paper, count: int, make: Blocks) -> Layout | None:
    border = _border(paper)
    width = border.width / count - 2 * _PAD
    most = border.height * _MOST_BAND - 2 * _PAD
    blocks = make(width)
    kept = _kept(blocks, lambda some: _split(some, count)[0] <= most)
    if kept is None:
        return None
    height, parts = _split(kept, count)
    top = border.y + border.height - height - 2 * _PAD
    columns, rules = [], [((border.x, top), (border.x + border.width, top))]
    for i, part in enumerate(parts):
        left = border.x + i * border.width / count
        footed = (2 if len(part) > 2 else len(part)) if i == count - 1 else 0
        columns.append(Column(Rect(left + _PAD, top + _PAD, width, height), part, footed))
        if i:
            rules.append(((left, top), (left, border.y + border.height)))
    return Layout(
        paper,
        border,
        Rect(border.x, border.y, border.width, top - border.y),
        tuple(columns),
        tuple(rules),
        _dropped(blocks, kept),
    )


def _kept(blocks: list[Block], fits: Callable[[list[Block]], bool]) -> list[Block] | None:
    """The blocks, without the least needed ones until they fit; None where they never do."""
    kept: list[Block] | None = blocks
    while kept is not None and not fits(kept):
        kept = without_least(kept)
    return kept


def _dropped(blocks: Sequence[Block], kept: Sequence[Block]) -> tuple[str, ...]:
    names = {block.name for block in kept}
    return tuple(block.name for block in blocks if block.name not in names)


def _split(blocks: list[Block], count: int) -> tuple[float, list[tuple[Block, ...]]]:
    """The blocks in order over ``count`` columns, as low as may be; the height, mm."""
    best: tuple[float, list[tuple[Block, ...]]] | None = None
    inner = range(1, len(blocks))
    for cuts in combinations(inner, min(count, len(blocks)) - 1):
        edges = [0, *cuts, len(blocks)]
        parts = [tuple(blocks[a:b]) for a, b in pairwise(edges)]
        height = max(height_of(part) for part in parts)
        if best is None or height < best[0] - 1e-9:
            best = height, parts
    assert best is not None
    return best
