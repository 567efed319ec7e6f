"""The blocks of the sheets that are read at the bench: large type, set one under another.

Type is about 17 points (capitals 4.2 mm high), which is read from a metre away. ``flow`` sets the
blocks over pages.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from spring_layout.drawing import lettering, look
from spring_layout.drawing.flow import Flow
from spring_layout.drawing.primitives import (
    Group,
    Item,
    Path,
    Place,
    Stroke,
    Weight,
    polyline,
    rectangle,
)

BODY = 4.2
"""Height of the capitals of what is read while working, mm."""
SMALLER = 3.2
"""Of what is read once."""
HEAD = 5.6
LEAD = 1.72
"""From line to line, in capitals' heights."""
_UNDER_RULE = 2.4
"""mm from a heading's rule to what is said under it."""
BOX = 6.0
"""Edge of a box to tick, mm."""
_BOX_EDGE = Stroke(look.INK, 0.5)
_TICK = Stroke(look.INK, 0.7, ends="round")


@dataclass(frozen=True)
class Words:
    """A line of words in a block: its place from the block's left, its size and weight."""

    words: str
    left: float = 0.0
    height: float = BODY
    weight: Weight = "regular"
    soft: bool = False

    @property
    def pitch(self) -> float:
        """What the line takes of the block's height, mm."""
        return self.height * LEAD


def lines_of(words: str, room: float, **look_of: object) -> list[Words]:
    """``words`` wrapped into lines that end ``room`` mm from the block's left."""
    first = Words("", **look_of)  # type: ignore[arg-type]  # the fields of Words, by name
    wrapped = lettering.wrapped(words, first.height, room - first.left, first.weight)
    return [Words(line, **look_of) for line in wrapped]  # type: ignore[arg-type]  # as above


def block(
    lines: Iterable[Words], after: float = 2.0, also: Sequence[Callable[[Place], list[Item]]] = ()
) -> Flow:
    """Lines under one another, then ``after`` mm of white; ``also`` are drawn for the corner."""
    told = list(lines)

    def draw(place: Place) -> list[Item]:
        x, y = place
        items = [item for more in also for item in more(place)]
        for line in told:
            items.append(written(line, (x, y)))
            y += line.pitch
        return items

    return Flow(sum(line.pitch for line in told) + after, draw, after=after)


def written(line: Words, place: Place) -> Item:
    """A line of words with the upper left corner of its block's line at ``place``, mm."""
    x, y = place
    colour = look.SOFT_INK if line.soft else look.INK
    at = (x + line.left, y + line.height)
    return lettering.lettered(at, line.words, line.height, colour, weight=line.weight)


def heading(words: str, room: float, note: str = "") -> Flow:
    """A heading over a rule ``room`` mm long, and under it ``note`` where that says something."""
    head = Words(words, height=HEAD, weight="bold")
    under = block(lines_of(note, room, height=SMALLER) if note else [], after=2.0)
    rule = 4.0 + head.pitch - 1.2
    top = rule + (_UNDER_RULE if note else 1.2)

    def draw(place: Place) -> list[Item]:
        x, y = place
        line = Path(polyline(((x, y + rule), (x + room, y + rule))), look.SHEET_EDGE)
        return [written(head, (x, y + 4.0)), line, *under.draw((x, y + top))]

    return Flow(top + under.height, draw, leads=True, opens=True)


def tick_box(place: Place, top: float = -0.9, left: float = 0.0) -> list[Item]:
    """A box to tick, beside the first line of a block at ``place``; mm."""
    x, y = place
    return [Path(rectangle(x + left, y + top, BOX, BOX), _BOX_EDGE)]


def row(what: str, value: str, room: float, tab: float, height: float = BODY) -> Flow:
    """A line of a table: what, and from ``tab`` mm on how much."""
    lines = lines_of(value, room, left=tab, height=height)
    name = Words(what, height=height, soft=True)
    return block(lines, 0.0, (lambda place: [written(name, place)],))


def ticked(lines: Iterable[Words], after: float = 2.0) -> Flow:
    """Lines with a box to tick before the first, and ``after`` mm of white."""
    return block(lines, after, (tick_box,))


def bare(item: Item) -> Item:
    """The same thing without its ids, of which a sheet may hold each only once."""
    if isinstance(item, Group):
        item = replace(item, items=tuple(bare(inner) for inner in item.items))
    return replace(item, tag=replace(item.tag, id=""))
