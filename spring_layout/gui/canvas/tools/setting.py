"""Set springs: a click puts one where the pointer is, settled like a spring in the hand."""

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QKeyEvent

from spring_layout.deck import edits
from spring_layout.gui.canvas.hits import spring_at
from spring_layout.gui.canvas.settling import Settled, settle
from spring_layout.gui.canvas.tools.base import FREE, Pointer
from spring_layout.gui.canvas.tools.measuring import dimensions_of
from spring_layout.gui.canvas.tools.moving import MoveTool


class SetTool(MoveTool):
    """A click on empty cloth sets a spring; on a spring it picks it, and it can be dragged on."""

    name = "Set springs"
    hint = (
        "Click where a spring is to stand, or press Enter and move it with the arrows. "
        "Alt keeps it from settling."
    )
    cursor = Qt.CursorShape.CrossCursor

    def press(self, at: Pointer) -> None:
        standing = self.bench.planner.standing
        if standing is None:
            return
        if spring_at(standing, at.place, 0.0) is not None:
            super().press(at)
        else:
            self._set(at)

    def key(self, event: QKeyEvent) -> bool:
        if Qt.Key(event.key()) in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._set_in_the_middle()
            return True
        return super().key(event)

    def _set_in_the_middle(self) -> None:
        """Without a pointer: a spring in the middle of what is shown, for the arrows to move."""
        viewport = self.view.viewport()
        centre = QPointF(viewport.rect().center())
        place = self.view.mapToScene(centre.toPoint())
        self._set(Pointer((place.x(), place.y()), centre, FREE, self.view.reach))
        self.view.note.hide()

    def _settled(self, at: Pointer) -> Settled:
        deck = self.bench.deck
        if deck is None or not deck.coils or at.has(FREE):
            return Settled(at.place)
        self.bench.selection.clear()
        radius = self._coil_radius()
        return settle(at.place, radius, self._others(), at.reach * 0.75)

    def _coil_radius(self) -> float:
        deck = self.bench.deck
        assert deck is not None
        chosen = self.bench.coil
        return next((c.top_radius for c in deck.coils if c.id == chosen), deck.coils[0].top_radius)

    def _set(self, at: Pointer) -> None:
        place = self._settled(at).place
        known = {coil.id for coil in self.bench.deck.coils} if self.bench.deck else set()
        coil = self.bench.coil if self.bench.coil in known else None
        if self.attempt("Set a spring", lambda deck: edits.add_spring(deck, *place, coil), at):
            deck = self.bench.deck
            assert deck is not None
            new = deck.springs[-1].id
            self.bench.selection.pick_springs([new])
            measures = dimensions_of(self.bench, new, frozenset([new]))
            self.view.deck_scene.guides.measure(measures)

    def move(self, at: Pointer) -> None:
        if self._drag is not None or self._band is not None:
            super().move(at)
            return
        standing = self.bench.planner.standing
        if standing is None:
            return
        over = spring_at(standing, at.place, 0.0)
        shape = Qt.CursorShape.OpenHandCursor if over else Qt.CursorShape.CrossCursor
        self.view.viewport().setCursor(shape)
