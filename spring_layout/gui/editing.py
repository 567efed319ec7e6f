"""The actions that change springs and frame, and which of them can be chosen now."""

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication

from spring_layout.deck import edits
from spring_layout.deck.errors import DeckFileError
from spring_layout.deck.symmetry import is_symmetric
from spring_layout.gui.actions import Actions
from spring_layout.gui.canvas.view import DeckView
from spring_layout.gui.clipboard import MIME, springs_from, springs_to
from spring_layout.gui.words import counted
from spring_layout.gui.workbench import Workbench
from spring_layout.units import Units

BESIDE = 25.4
"""mm; how far to the right and front pasted springs stand from where they were copied."""


class Editing(QObject):
    """Undo and redo, cut, copy, paste, remove, mirror, keep, units."""

    def __init__(self, bench: Workbench, view: DeckView, acts: Actions, parent: QObject) -> None:
        super().__init__(parent)
        self._bench, self._view, self._acts = bench, view, acts
        self._pasted = 0
        does = acts.does
        does("undo", self.undo)
        does("redo", self.redo)
        does("cut", self.cut)
        does("copy", self.copy)
        does("paste", self.paste)
        does("delete", self.delete)
        does("select-all", self.select_all)
        does("mirror", self.mirror)
        does("keep", self.keep)
        does("inches", lambda: self.show_units("in"))
        does("millimetres", lambda: self.show_units("mm"))
        acts.group("inches", "millimetres")
        stack = bench.document.undo_stack
        stack.indexChanged.connect(lambda _: self.follow())
        bench.selection.changed.connect(self.follow)
        view.tool_changed.connect(lambda _: self.follow())
        view.holding_changed.connect(self.follow)
        bench.document.decided_changed.connect(self.follow)
        self.follow()

    def follow(self) -> None:
        """Which actions can be chosen, and the names of the steps in the menu."""
        stack, deck = self._bench.document.undo_stack, self._bench.document.deck
        picked = self._bench.selection.picked
        held = self._view.tool.holds if self._view.tool is not None else ""
        self._name("undo", "&Undo", bool(held) or stack.canUndo(), held or stack.undoText())
        self._name("redo", "&Redo", not held and stack.canRedo(), stack.redoText())
        for key in ("cut", "copy", "mirror", "keep"):
            self._acts[key].setEnabled(bool(picked.springs))
        self._acts["delete"].setEnabled(bool(picked.springs) or picked.corner is not None)
        for key in ("select-all", "paste", "suggest", "even", "fit", "save", "save-as"):
            self._acts[key].setEnabled(deck is not None)
        for key in ("export", "print", "zoom-in", "zoom-out", "true-size", "inches", "millimetres"):
            self._acts[key].setEnabled(deck is not None)
        kept = [s.held for s in deck.springs if s.id in picked.springs] if deck else []
        self._acts["keep"].setChecked(bool(kept) and all(kept))
        self._acts["inches" if self._bench.units == "in" else "millimetres"].setChecked(True)

    def _name(self, key: str, words: str, can: bool, step: str) -> None:
        self._acts[key].setEnabled(can)
        self._acts[key].setText(f"{words}: {step}" if can and step else words)

    def undo(self) -> None:
        """One step back: of what the hand is making, else of the deck; a drag is dropped first."""
        if self._view.tool is not None and self._view.tool.take_back():
            return
        self._put_down()
        self._bench.document.undo_stack.undo()

    def redo(self) -> None:
        """One step forward again."""
        self._put_down()
        self._bench.document.undo_stack.redo()

    def _put_down(self) -> None:
        if self._view.tool is not None:
            self._view.tool.cancel()
        self._bench.document.drop_preview()

    def copy(self) -> None:
        """Copies the selected springs."""
        deck, chosen = self._bench.deck, self._bench.selection.springs
        if deck is not None and chosen:
            self._pasted = 0
            QApplication.clipboard().setMimeData(springs_to(deck, chosen))
            self._bench.say(f"{counted(len(chosen), 'spring')} copied")

    def cut(self) -> None:
        """Copies the selected springs and removes them."""
        self.copy()
        self._remove_springs("Cut")

    def paste(self) -> None:
        """Sets copies of the copied springs, a little beside them, and selects them."""
        data = QApplication.clipboard().mimeData()
        deck = self._bench.document.deck
        if deck is None or data is None or not data.hasFormat(MIME):
            self._bench.say("There are no copied springs to paste.")
            return
        try:
            springs, coils = springs_from(data)
        except DeckFileError as error:
            self._bench.say(str(error))
            return
        self._pasted += 1
        off = self._pasted * BESIDE
        done = self._bench.attempt(
            f"Paste {counted(len(springs), 'spring')}",
            lambda d: edits.paste_springs(d, springs, off, off, coils),
        )
        after = self._bench.document.deck
        if done and after is not None:
            self._bench.selection.pick_springs(s.id for s in after.springs[-len(springs) :])

    def delete(self) -> None:
        """Removes the selected springs, or the selected corner."""
        corner, deck = self._bench.selection.picked.corner, self._bench.document.deck
        if corner is None or deck is None:
            self._remove_springs("Remove")
            return
        both = self._bench.same_both_sides and is_symmetric(deck.frame)
        self._bench.attempt(
            "Remove a corner", lambda d: edits.remove_corner(d, corner, symmetric=both)
        )

    def _remove_springs(self, verb: str) -> None:
        chosen = self._bench.selection.springs
        if chosen:
            words = f"{verb} {counted(len(chosen), 'spring')}"
            self._bench.attempt(words, lambda deck: edits.remove_springs(deck, chosen))

    def select_all(self) -> None:
        """Selects every spring."""
        deck = self._bench.deck
        if deck is not None:
            self._bench.selection.pick_springs(spring.id for spring in deck.springs)

    def mirror(self) -> None:
        """Sets a spring at the mirrored place of each selected one."""
        chosen = self._bench.selection.springs
        self._bench.attempt("Mirror springs", lambda deck: edits.add_mirrored(deck, chosen))

    def keep(self) -> None:
        """Keeps the selected springs where they are, or lets them go."""
        chosen, deck = self._bench.selection.springs, self._bench.document.deck
        if deck is None or not chosen:
            return
        on = not all(spring.held for spring in deck.springs if spring.id in chosen)
        words = "Keep here" if on else "Let go"
        self._bench.attempt(words, lambda d: edits.hold_springs(d, chosen, on))

    def show_units(self, units: Units) -> None:
        """Shows and reads lengths in ``units``."""
        words = "Show inches" if units == "in" else "Show millimetres"
        self._bench.attempt(words, lambda deck: edits.set_units(deck, units))
