"""The ties: one item for each stretch, so that a moved spring repaints only what it pulls."""

from dataclasses import dataclass, field

from PySide6.QtCore import QLineF
from PySide6.QtWidgets import QGraphicsLineItem, QGraphicsScene

from spring_layout.deck.model import Run
from spring_layout.gui.canvas.items import TIE
from spring_layout.gui.canvas.pens import Pens
from spring_layout.gui.selection import TieKey
from spring_layout.planning.parts import Line

Place = tuple[float, float]
TieName = tuple[Run, tuple[str, ...]]


@dataclass
class TieItem:
    """A tie on the canvas: its line in the plan and an item for each stretch."""

    line: Line
    spans: list[QGraphicsLineItem] = field(default_factory=list)
    drawn: list[Place] = field(default_factory=list)


@dataclass(frozen=True)
class TieLooks:
    """Which ties stand out: quiet in the background, picked, under the pointer, tied so far.

    ``step`` is the number of the tie to make next in the tying order (None: all as usual).
    """

    quiet: bool = False
    picked: TieKey | None = None
    hovered: TieKey | None = None
    step: int | None = None


class TieLayer:
    """Keeps the stretches of all ties in step with the plan and with springs in the hand."""

    def __init__(self, scene: QGraphicsScene, pens: Pens) -> None:
        self._scene = scene
        self._pens = pens
        self.ties: dict[TieName, TieItem] = {}
        self._of_spring: dict[str, list[TieItem]] = {}
        self.looks = TieLooks()

    def restyle(self, pens: Pens) -> None:
        """Takes another palette."""
        self._pens = pens
        for tie in self.ties.values():
            self._wear(tie)

    def show(self, lines: tuple[Line, ...]) -> None:
        """Shows the ties of a plan."""
        now: dict[TieName, TieItem] = {}
        for line in lines:
            name = (line.run, line.springs)
            tie = self.ties.pop(name, None) or TieItem(line)
            is_as_before = bool(tie.spans) and tie.line.number == line.number
            tie.line = line
            now[name] = tie
            self._draw(tie, list(line.path))
            if not is_as_before:
                self._wear(tie)
        for gone in self.ties.values():
            self._resize(gone, 0)
        self.ties = now
        self._of_spring = {}
        for tie in now.values():
            for spring in tie.line.springs:
                self._of_spring.setdefault(spring, []).append(tie)

    def pull(self, places: dict[str, Place]) -> None:
        """Moves the ties of these springs with them, before the plan has caught up."""
        pulled = {id(tie): tie for name in places for tie in self._of_spring.get(name, ())}
        for tie in pulled.values():
            line = tie.line
            centres = [
                places.get(name, place)
                for name, place in zip(line.springs, line.centres, strict=True)
            ]
            start, finish = line.anchors
            path = [*([start] if start else []), *centres, *([finish] if finish else [])]
            self._draw(tie, path)

    def show_as(self, looks: TieLooks) -> None:
        """Emphasises ties as ``looks`` says."""
        if looks == self.looks:
            return
        self.looks = looks
        for tie in self.ties.values():
            self._wear(tie)

    def clear(self) -> None:
        """Shows no ties."""
        self.show(())

    def _draw(self, tie: TieItem, path: list[Place]) -> None:
        if path == tie.drawn:
            return
        if len(tie.spans) != max(len(path) - 1, 0):
            self._resize(tie, len(path) - 1)
            self._wear(tie)
        old = tie.drawn if len(tie.drawn) == len(path) else None
        for i, span in enumerate(tie.spans):
            if old is None or old[i : i + 2] != path[i : i + 2]:
                span.setLine(QLineF(*path[i], *path[i + 1]))
        tie.drawn = path

    def _wear(self, tie: TieItem) -> None:
        looks, line, pens = self.looks, tie.line, self._pens
        key = looks.picked
        is_picked = key is not None and _is(line, key)
        is_hovered = looks.hovered is not None and _is(line, looks.hovered)
        pen = (pens.ties_quiet if looks.quiet else pens.ties)[line.run]
        if looks.step is not None and line.number > looks.step:
            pen = pens.ties_waiting
        if is_picked or is_hovered or line.number == looks.step:
            pen = pens.ties_strong[line.run]
        for span in tie.spans:
            if span.pen() != pen:
                span.setPen(pen)

    def _resize(self, tie: TieItem, count: int) -> None:
        while len(tie.spans) > max(count, 0):
            self._scene.removeItem(tie.spans.pop())
        while len(tie.spans) < count:
            span = QGraphicsLineItem()
            span.setZValue(TIE)
            self._scene.addItem(span)
            tie.spans.append(span)
        if count <= 0:
            tie.drawn = []


def _is(line: Line, key: TieKey) -> bool:
    return line.run == key.run and key.spring in line.springs
