"""The plain things that drawings are made of: immutable values in millimetres on the paper.

``pen`` tells what they mean when they are drawn.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

Place = tuple[float, float]
TextAnchor = Literal["start", "middle", "end"]
Weight = Literal["regular", "bold"]


@dataclass(frozen=True, slots=True)
class Tag:
    """What a thing is called, for those who look a drawing's parts up or have it read out.

    ``id`` is unique in the drawing; ``kind`` is its class, which many share; ``title`` tells in
    words what it is; ``data`` are names and values such as ("run", "side-to-side").
    """

    id: str = ""
    kind: str = ""
    title: str = ""
    data: tuple[tuple[str, str], ...] = ()


NO_TAG = Tag()


@dataclass(frozen=True, slots=True)
class Stroke:
    """How a line is drawn: colour, width (mm), dashes drawn and left by turns (mm), line ends.

    The dashes begin ``offset`` mm into their pattern.
    """

    colour: str
    width: float
    dashes: tuple[float, ...] = ()
    ends: Literal["butt", "round"] = "butt"
    offset: float = 0.0

    def times(self, factor: float) -> "Stroke":
        """The same stroke with width and dashes ``factor`` times as large."""
        dashes = tuple(dash * factor for dash in self.dashes)
        return Stroke(self.colour, self.width * factor, dashes, self.ends, self.offset * factor)


@dataclass(frozen=True, slots=True)
class Move:
    """Begin a subpath at a place, mm."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line to a place, mm."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc from where the pen is: centre and radius, mm; angles in degrees.

    ``start`` is the angle at which it starts, 0 to the right and growing clockwise on paper;
    ``sweep`` how far it goes from there, + clockwise, less than a full circle.
    """

    x: float
    y: float
    radius: float
    start: float
    sweep: float

    @property
    def finish(self) -> Place:
        """Where the arc ends, mm."""
        angle = math.radians(self.start + self.sweep)
        return self.x + self.radius * math.cos(angle), self.y + self.radius * math.sin(angle)


@dataclass(frozen=True, slots=True)
class Close:
    """Straight back to where the subpath began."""


Step = Move | Line | Arc | Close


@dataclass(frozen=True, slots=True)
class Path:
    """Subpaths of lines and arcs, filled (even-odd) and then stroked."""

    steps: tuple[Step, ...]
    stroke: Stroke | None = None
    fill: str | None = None
    tag: Tag = NO_TAG


@dataclass(frozen=True, slots=True)
class Circle:
    """A whole circle: centre and radius, mm."""

    x: float
    y: float
    radius: float
    stroke: Stroke | None = None
    fill: str | None = None
    tag: Tag = NO_TAG


@dataclass(frozen=True, slots=True)
class Text:
    """One line of words, its baseline's ``anchor`` at x, y; ``size`` is the font's size, mm.

    ``turned`` is degrees clockwise about that place. ``lettering`` measures it.
    """

    x: float
    y: float
    words: str
    size: float
    colour: str
    anchor: TextAnchor = "start"
    weight: Weight = "regular"
    turned: float = 0.0
    tag: Tag = NO_TAG


@dataclass(frozen=True, slots=True)
class Group:
    """Things that belong together, in painting order; what lies outside ``clip`` is hidden."""

    items: tuple["Item", ...]
    tag: Tag = NO_TAG
    clip: Path | None = None


Item = Group | Path | Circle | Text


@dataclass(frozen=True, slots=True)
class Drawing:
    """One picture on one sheet of ``width`` by ``height`` mm, with what it shows in words.

    ``data`` are names and values about the whole sheet, such as ("scale", "5") for 1:5.
    """

    width: float
    height: float
    title: str
    description: str
    items: tuple[Item, ...]
    data: tuple[tuple[str, str], ...] = ()

    def enlarged(self, factor: float) -> "Drawing":
        """The same picture, line widths and sheet too, ``factor`` times as large."""
        items = tuple(_enlarged(item, factor) for item in self.items)
        return replace(self, width=self.width * factor, height=self.height * factor, items=items)


def moved(item: Item, dx: float, dy: float) -> Item:
    """The same thing ``dx`` mm further right and ``dy`` mm further down."""
    match item:
        case Group():
            clip = item.clip and _moved_path(item.clip, dx, dy)
            return replace(item, items=tuple(moved(i, dx, dy) for i in item.items), clip=clip)
        case Path():
            return _moved_path(item, dx, dy)
        case Circle() | Text():
            return replace(item, x=item.x + dx, y=item.y + dy)


def polyline(places: Iterable[Place], closed: bool = False) -> tuple[Step, ...]:
    """The steps of straight lines through ``places`` (mm), back to the first one if ``closed``."""
    (x, y), *rest = places
    steps: list[Step] = [Move(x, y), *(Line(*place) for place in rest)]
    if closed:
        steps.append(Close())
    return tuple(steps)


def rectangle(x: float, y: float, width: float, height: float) -> tuple[Step, ...]:
    """The steps round a rectangle whose upper left corner is at x, y, mm."""
    right, bottom = x + width, y + height
    return polyline(((x, y), (right, y), (right, bottom), (x, bottom)), closed=True)


def _enlarged(item: Item, k: float) -> Item:
    match item:
        case Group():
            clip = item.clip and _enlarged_path(item.clip, k)
            return replace(item, items=tuple(_enlarged(i, k) for i in item.items), clip=clip)
        case Path():
            return _enlarged_path(item, k)
        case Circle():
            stroke = _enlarged_stroke(item.stroke, k)
            return replace(item, x=item.x * k, y=item.y * k, radius=item.radius * k, stroke=stroke)
        case Text():
            return replace(item, x=item.x * k, y=item.y * k, size=item.size * k)


def _enlarged_path(path: Path, k: float) -> Path:
    steps = tuple(_enlarged_step(step, k) for step in path.steps)
    return replace(path, steps=steps, stroke=_enlarged_stroke(path.stroke, k))


def _enlarged_step(step: Step, k: float) -> Step:
    match step:
        case Move(x, y) | Line(x, y):
            return type(step)(x * k, y * k)
        case Arc(x, y, radius, start, sweep):
            return Arc(x * k, y * k, radius * k, start, sweep)
    return step


def _moved_path(path: Path, dx: float, dy: float) -> Path:
    steps = tuple(
        step if isinstance(step, Close) else replace(step, x=step.x + dx, y=step.y + dy)
        for step in path.steps
    )
    return replace(path, steps=steps)


def _enlarged_stroke(stroke: Stroke | None, k: float) -> Stroke | None:
    return stroke and stroke.times(k)
