"""The blocks of a sheet's margin: each so wide, so high, and drawn at a place.

A block is a heading with rows under it, or the title block, the scale bar, a paragraph. Blocks
know their height before they are drawn, so that a column can be set out.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from spring_layout.drawing import lettering, look
from spring_layout.drawing.primitives import Circle, Item, Path, Place, Stroke, Text, polyline

LINE = 3.9
"""mm from line to line in the smaller lettering."""
KEY_LINE = 4.5
HEADING = 5.8
"""mm from a heading's top to its first row."""


@dataclass(frozen=True)
class Block:
    """Something of ``height`` mm; ``draw`` gives its items for an upper left corner.

    ``need``: the higher, the sooner it is left out where there is no room; 0 stays.
    """

    name: str
    height: float
    draw: Callable[[Place], list[Item]]
    need: int = 0


def written(place: Place, words: str, height: float = look.SMALL, soft: bool = False) -> Text:
    """Words whose capitals' tops stand at ``place``."""
    x, y = place
    colour = look.SOFT_INK if soft else look.INK
    return lettering.lettered((x, y + height), words, height, colour)


def heading(place: Place, words: str) -> Text:
    """A block's heading, its capitals' tops at ``place``."""
    x, y = place
    return lettering.lettered((x, y + look.NORMAL), words, look.NORMAL, look.INK, weight="bold")


def paragraph(name: str, words: str, room: float, need: int = 0, head: str = "") -> Block:
    """Words wrapped into lines ``room`` mm wide, under a heading where one is given."""
    lines = lettering.wrapped(words, look.SMALL, room)
    top = HEADING if head else 0.0

    def draw(place: Place) -> list[Item]:
        x, y = place
        items: list[Item] = [heading(place, head)] if head else []
        items += [written((x, y + top + i * LINE), line) for i, line in enumerate(lines)]
        return items

    return Block(name, top + len(lines) * LINE - (LINE - look.SMALL), draw, need)


def table(
    name: str, head: str, rows: Sequence[tuple[str, str]], room: float, tab: float, need: int = 0
) -> Block:
    """Rows of (what, how much); the second column begins at ``tab`` mm and is wrapped."""
    cells: list[tuple[str, str]] = []
    for what, value in rows:
        for i, line in enumerate(lettering.wrapped(value, look.SMALL, room - tab)):
            cells.append(("" if i else what, line))

    def draw(place: Place) -> list[Item]:
        x, y = place
        items: list[Item] = [heading(place, head)]
        for i, (what, value) in enumerate(cells):
            line = y + HEADING + i * LINE
            if what:
                items.append(written((x, line), what, soft=True))
            items.append(written((x + tab, line), value))
        return items

    return Block(name, HEADING + len(cells) * LINE - (LINE - look.SMALL), draw, need)


@dataclass(frozen=True)
class KeyRow:
    """One row of the key: a sample drawn about a place, and what it stands for."""

    sample: Callable[[Place], list[Item]]
    words: str


def key(
    name: str, head: str, rows: Sequence[KeyRow], room: float, tab: float, need: int = 0
) -> Block:
    """The key: samples and, from ``tab`` mm on, their words."""
    step = KEY_LINE
    cells: list[tuple[KeyRow | None, str]] = []
    for row in rows:
        for i, line in enumerate(lettering.wrapped(row.words, look.SMALL, room - tab)):
            cells.append((None if i else row, line))

    tops: list[float] = []
    y = HEADING
    for row_or_none, _ in cells:
        y += 0.0 if not tops else (step if row_or_none else 3.4)
        tops.append(y)

    def draw(place: Place) -> list[Item]:
        x, y = place
        items: list[Item] = [heading(place, head)]
        for (row, words), top in zip(cells, tops, strict=True):
            if row:
                items += row.sample((x + tab / 2 - 1.5, y + top + look.SMALL / 2))
            items.append(written((x + tab, y + top), words))
        return items

    return Block(name, tops[-1] + look.SMALL, draw, need)


def line_sample(stroke: Stroke, long: float) -> Callable[[Place], list[Item]]:
    """A piece of line for the key."""

    def draw(place: Place) -> list[Item]:
        x, y = place
        return [Path(polyline(((x - long / 2, y), (x + long / 2, y))), stroke)]

    return draw


def disc_sample(words: str) -> Callable[[Place], list[Item]]:
    """A numbered disc for the key."""

    def draw(place: Place) -> list[Item]:
        x, y = place
        edge = Stroke(look.INK, 0.3)
        number = lettering.lettered(
            (x, y + look.SMALL / 2), words, look.SMALL, look.INK, anchor="middle", weight="bold"
        )
        return [Circle(x, y, 2.0, edge, look.PAPER), number]

    return draw
