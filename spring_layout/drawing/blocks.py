"""The blocks of a sheet's margin: each so wide, so high, and drawn at a place.

A block is a heading with rows under it, or the title block, the scale bar, a paragraph. Blocks
know their height before they are drawn, so that a column can be set out.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from spring_layout.drawing import lettering, look
from spring_layout.drawing.primitives import Circle, Item, Path, Place, Stroke, Text, polyline


@dataclass(frozen=True)
class Setting:
    """How closely a margin is set, mm: height of its lettering, and steps down the column.

    ``line``: from row to row; ``wrap``: to the second line of a row; ``under``: from a run's name
    to its lengths; ``key``: from row to row of a key; ``head``: from a heading's top to its first
    row; ``gap``: between blocks at least.
    """

    body: float
    line: float
    wrap: float
    under: float
    key: float
    head: float
    gap: float


USUAL = Setting(body=look.BODY, line=4.1, wrap=3.6, under=4.1, key=4.8, head=6.0, gap=4.0)
CLOSE = Setting(body=look.SMALL, line=3.3, wrap=3.0, under=3.0, key=3.7, head=4.8, gap=2.6)


@dataclass(frozen=True)
class Block:
    """Something of ``height`` mm; ``draw`` gives its items for an upper left corner."""

    name: str
    height: float
    draw: Callable[[Place], list[Item]]


def written(place: Place, words: str, height: float = look.SMALL, soft: bool = False) -> Text:
    """Words with capitals ``height`` mm high, whose tops stand at ``place``, mm."""
    x, y = place
    colour = look.SOFT_INK if soft else look.INK
    return lettering.lettered((x, y + height), words, height, colour)


def heading(place: Place, words: str) -> Text:
    """A block's heading, its capitals' tops at ``place``, mm."""
    x, y = place
    return lettering.lettered((x, y + look.NORMAL), words, look.NORMAL, look.INK, weight="bold")


def paragraph(setting: Setting, name: str, words: str, room: float, head: str = "") -> Block:
    """Words wrapped into lines ``room`` mm wide, under a heading where one is given."""
    lines = lettering.wrapped(words, setting.body, room)
    top = setting.head if head else 0.0

    def draw(place: Place) -> list[Item]:
        x, y = place
        items: list[Item] = [heading(place, head)] if head else []
        for i, line in enumerate(lines):
            items.append(written((x, y + top + i * setting.wrap), line, setting.body))
        return items

    return Block(name, top + (len(lines) - 1) * setting.wrap + setting.body, draw)


def table(
    setting: Setting, name: str, head: str, rows: Sequence[tuple[str, str]], room: float
) -> Block:
    """Rows of (what, how much); the second column is wrapped."""
    tab = max((lettering.width(what, setting.body) for what, _ in rows), default=0.0) + 3.0
    cells: list[tuple[float, str, str]] = []
    top = setting.head
    for what, value in rows:
        for i, line in enumerate(lettering.wrapped(value, setting.body, room - tab)):
            top += 0.0 if not cells else setting.wrap if i else setting.line
            cells.append((top, "" if i else what, line))

    def draw(place: Place) -> list[Item]:
        x, y = place
        items: list[Item] = [heading(place, head)]
        for down, what, value in cells:
            if what:
                items.append(written((x, y + down), what, setting.body, soft=True))
            items.append(written((x + tab, y + down), value, setting.body))
        return items

    return Block(name, top + setting.body, draw)


@dataclass(frozen=True)
class KeyRow:
    """One row of the key: a sample drawn about a place, and what it stands for."""

    sample: Callable[[Place], list[Item]]
    words: str


def key(
    setting: Setting, name: str, head: str, rows: Sequence[KeyRow], room: float, tab: float
) -> Block:
    """The key: samples and, from ``tab`` mm on, their words."""
    cells: list[tuple[float, KeyRow | None, str]] = []
    top = setting.head
    for row in rows:
        for i, line in enumerate(lettering.wrapped(row.words, setting.body, room - tab)):
            top += 0.0 if not cells else setting.wrap if i else setting.key
            cells.append((top, None if i else row, line))

    def draw(place: Place) -> list[Item]:
        x, y = place
        items: list[Item] = [heading(place, head)]
        for down, row, words in cells:
            if row:
                items += row.sample((x + tab / 2 - 1.5, y + down + setting.body / 2))
            items.append(written((x + tab, y + down), words, setting.body))
        return items

    return Block(name, top + setting.body, draw)


def line_sample(stroke: Stroke, long: float) -> Callable[[Place], list[Item]]:
    """A piece of line for the key, ``long`` mm long."""

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
            (x, y + look.BODY / 2), words, look.BODY, look.INK, anchor="middle", weight="bold"
        )
        return [Circle(x, y, 2.0, edge, look.PAPER), number]

    return draw
