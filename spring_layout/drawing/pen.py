"""The pen protocol: how a drawing gets onto screen, paper or into a test.

A ``Drawing`` is one picture on one sheet: a tree of plain primitives, all in millimetres on the
paper, x to the right and y down, the sheet's upper left corner at 0, 0. It knows nothing of how it
is shown. ``play(drawing, pen)`` walks it once, in the order in which things are painted (later
ones lie on top), and tells a pen what to do:

* ``begin(drawing)`` comes first: take the sheet's size, title, description and data from it, but
  not its items, which are played in their turn; ``end()`` comes last.
* ``begin_group(group)`` and ``end_group()`` stand round what the group holds, and nest. A group
  only names its contents, and hides whatever lies outside its ``clip``, where it has one.
* ``path(path)``: subpaths of straight lines and circular arcs, each begun by a ``Move``. It is
  filled first (even-odd rule) where it has a fill, then stroked where it has a stroke.
* ``circle(circle)``: the same for a whole circle.
* ``text(text)``: one line of words at the place of its baseline, in the shipped font.

Nothing carries over from one call to the next: there is no current colour, place or transform.
Colours are ``#RRGGBB``. A stroke's dashes are lengths in mm, drawn and left by turns, begun
``offset`` mm into their pattern; its ends are "butt" or "round", its joins always round. An ``Arc``
is given by its centre, radius, the angle at which it starts and the angle that it sweeps, in
degrees, growing clockwise on paper since y is down; it starts where the pen is. Text is turned
about its place, clockwise in degrees, and is anchored at its "start", "middle" or "end".

So a pen is seven short methods. ``SvgPen`` writes a file, ``RecordingPen`` below keeps the calls
for a test, and others paint on a screen or a printer from the same calls.
"""

from typing import Protocol

from spring_layout.drawing.primitives import Circle, Drawing, Group, Item, Path, Text


class Pen(Protocol):
    """What a drawing is played onto; the module's text says what each call means."""

    def begin(self, drawing: Drawing) -> None:
        """Start the sheet; the items of ``drawing`` follow one by one."""

    def begin_group(self, group: Group) -> None:
        """Start a group; its items follow."""

    def end_group(self) -> None:
        """End the group begun last."""

    def path(self, path: Path) -> None:
        """Fill and stroke a path."""

    def circle(self, circle: Circle) -> None:
        """Fill and stroke a circle."""

    def text(self, text: Text) -> None:
        """Write one line of words."""

    def end(self) -> None:
        """End the sheet."""


def play(drawing: Drawing, pen: Pen) -> None:
    """Walk ``drawing`` once and tell ``pen`` everything in painting order."""
    pen.begin(drawing)
    for item in drawing.items:
        _play_item(item, pen)
    pen.end()


def _play_item(item: Item, pen: Pen) -> None:
    match item:
        case Group():
            pen.begin_group(item)
            for inner in item.items:
                _play_item(inner, pen)
            pen.end_group()
        case Path():
            pen.path(item)
        case Circle():
            pen.circle(item)
        case Text():
            pen.text(item)


class RecordingPen:
    """Keeps what it is told: ``calls`` is a list of (name, primitive or None), in order."""

    def __init__(self) -> None:
        self.calls: list[tuple[str, Drawing | Item | None]] = []

    def begin(self, drawing: Drawing) -> None:
        """Record the sheet."""
        self.calls.append(("begin", drawing))

    def begin_group(self, group: Group) -> None:
        """Record a group's start."""
        self.calls.append(("begin_group", group))

    def end_group(self) -> None:
        """Record a group's end."""
        self.calls.append(("end_group", None))

    def path(self, path: Path) -> None:
        """Record a path."""
        self.calls.append(("path", path))

    def circle(self, circle: Circle) -> None:
        """Record a circle."""
        self.calls.append(("circle", circle))

    def text(self, text: Text) -> None:
        """Record a text."""
        self.calls.append(("text", text))

    def end(self) -> None:
        """Record the end."""
        self.calls.append(("end", None))
