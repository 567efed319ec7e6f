"""Particulars of the frame, of one side and of one corner."""

import math

import numpy as np

from spring_layout.deck import edits
from spring_layout.deck.model import Deck
from spring_layout.deck.symmetry import is_symmetric
from spring_layout.gui.panels.fields import Choice, LengthField, NoteField, Switch, WordsField
from spring_layout.gui.panels.form import Page, button
from spring_layout.gui.words import RAIL_WORDS
from spring_layout.gui.workbench import Workbench
from spring_layout.planning.parts import Standing

MEASURES = ("Across", "Back", "Front", "Depth", "Depth over the bow", "Diagonals")
NOTE_TIP = "For whoever opens the seat next; Ctrl + Enter, or leaving the field, takes it"


ALIKE_TIP = "Corners and bows change on both sides together"
LOPSIDED_TIP = (
    "The frame is not the same on both sides, so each changes by itself; "
    "make both sides the same first"
)


class FramePage(Page):
    """The deck's name, the frame's measurements, its rails, both sides alike."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__("Frame")
        self._bench = bench
        self.name = self.area("Name", WordsField("Name of the deck"), "Stands on every sheet")
        self.note_field = self.area("Note", NoteField("Note on the deck"), NOTE_TIP)
        self.name.entered.connect(self._rename)
        self.note_field.entered.connect(
            lambda words: bench.attempt("Note", lambda deck: edits.set_note(deck, words))
        )
        self.heading("Measurements, inside edges")
        self.measures = {name: self.fact(name) for name in MEASURES}
        self.square = self.note()
        self.shape = button(
            "From measurements…", "Begin again from a plain shape with the bench's measurements"
        )
        self.put(self.shape)
        self.heading("Both sides")
        self.same = self.put(Switch("Same on both sides", ALIKE_TIP))
        self.same.switched.connect(self._switch_same)
        self.make_same = button("Make both sides the same", "Each half becomes the mean of the two")
        self.make_same.clicked.connect(
            lambda: bench.attempt("Make both sides the same", edits.make_symmetric)
        )
        self.put(self.make_same)
        self.heading("Rails")
        self.rail_width = self.row(
            "Width",
            LengthField(bench, "Width of the rails", self._set_width),
            "How broad the rails are, seen from above",
        )
        self.top = self.row(
            "Top above the {webbing}",
            LengthField(bench, "Rail top above webbing", self._set_top),
            "From the {webbing}'s upper face to the rail's upper face",
        )

    def follow(self) -> None:
        """Shows the deck as it is."""
        deck, standing = self._bench.deck, self._bench.planner.standing
        if deck is None or standing is None:
            return
        self.name.show_words(deck.name)
        self.note_field.show_words(deck.note)
        self.rail_width.show_mm(deck.frame.rail_width)
        self.top.show_mm(deck.frame.rail_top)
        alike = is_symmetric(deck.frame)
        self.same.show_on(alike and self._bench.same_both_sides)
        self.same.setEnabled(alike)
        self.same.setToolTip(ALIKE_TIP if alike else LOPSIDED_TIP)
        self.make_same.setVisible(not alike)
        self._measure(deck)

    def _measure(self, deck: Deck) -> None:
        length = self._bench.length
        standing = self._bench.planner.standing
        assert standing is not None
        x0, y0, x1, y1 = standing.outline.bounds
        told = {"Depth": length(y1 - y0, "exact")}
        if len(deck.frame.corners) < 4:  # round or half round: its sides are no straight edges
            told["Across"] = length(x1 - x0, "exact")
            if told["Across"] == told["Depth"]:
                del told["Depth"]
        else:
            told |= self._measure_edges(deck, standing) | self._measure_depth(deck, y1 - y0)
        told["Diagonals"] = self._measure_diagonals(deck)
        for name, fact in self.measures.items():
            fact.setText(told.get(name, ""))
            self.show_row(fact, bool(told.get(name)))

    def _measure_depth(self, deck: Deck, over_all: float) -> dict[str, str]:
        """The depth from corner to corner, as it is measured; with the bows where there are any."""
        down = [y for _, y in deck.frame.corners]
        depth = self._bench.length(max(down) - min(down), "exact")
        bowed = self._bench.length(over_all, "exact")
        return {"Depth": depth, "Depth over the bow": "" if bowed == depth else bowed}

    def _measure_edges(self, deck: Deck, standing: Standing) -> dict[str, str]:
        """The longest straight way along the back and along the front."""
        told = {}
        for rail in ("back", "front"):
            chords = [
                curve.chord
                for side, curve in zip(deck.frame.sides, standing.outline.sides, strict=True)
                if side.rail == rail
            ]
            if chords:
                told[rail.capitalize()] = self._bench.length(max(chords), "exact")
        return told

    def _measure_diagonals(self, deck: Deck) -> str:
        """Both diagonals of four corners, and under them whether the frame is out of square."""
        corners = deck.frame.corners
        told, words = "", ""
        if len(corners) == 4:
            first, second = math.dist(corners[0], corners[2]), math.dist(corners[1], corners[3])
            shown = [self._bench.length(d, "exact", unit=False) for d in (first, second)]
            told = f"{shown[0]} and {self._bench.length(second, 'exact')}"
            off = self._bench.length(abs(first - second), "exact")
            if shown[0] != shown[1]:
                words = f"The diagonals differ by {off}: the frame is out of square."
        self.square.setText(words)
        self.square.setVisible(bool(words))
        return told

    def _rename(self, words: str) -> None:
        if not self._bench.attempt("Rename", lambda deck: edits.set_name(deck, words)):
            self.follow()

    def _switch_same(self, on: bool) -> None:
        self._bench.same_both_sides = on

    def _set_width(self, mm: float) -> None:
        self._edit("Width of the rails", mm, "rail_width")

    def _set_top(self, mm: float) -> None:
        self._edit("Height of the rails", mm, "rail_top")

    def _edit(self, words: str, mm: float, field: str) -> None:
        deck = self._bench.document.deck
        if deck is not None:
            self._bench.document.edit(words, edits.set_rails(deck, **{field: mm}))


class SidePage(Page):
    """One side: which rail it is, its bow, its own width and height."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__("Side")
        self._bench = bench
        rails = list(RAIL_WORDS.items())
        self.rail = self.row(
            "This side is",
            Choice("Which rail this side is", rails),
            "No rail: nothing is tacked on this side",
        )
        self.rail.chosen.connect(self._set_rail)
        self.length = self.fact("Length along the edge")
        self.bow = self.row(
            "Bow",
            LengthField(bench, "Bow of this side", self._set_bow),
            "The rise above a straightedge from corner to corner; with a minus sign inward",
        )
        self.rail_width = self.row(
            "Rail width",
            LengthField(bench, "Width of this rail", self._set_width),
            "Where this rail is broader or narrower than the others",
        )
        self.top = self.row(
            "Top above the {webbing}",
            LengthField(bench, "Top of this rail", self._set_top),
            "Where this rail is higher or lower than the others",
        )
        self.insert = button("Insert a corner in its middle", "The shape stays as it is")
        self.insert.clicked.connect(self._insert)
        self.put(self.insert)

    def follow(self) -> None:
        """Shows the selected side."""
        deck, standing = self._bench.deck, self._bench.planner.standing
        number = self._bench.selection.picked.side
        if deck is None or standing is None or number is None:
            return
        side = deck.frame.sides[number]
        name = "Open" if side.rail == "none" else RAIL_WORDS[side.rail]
        self.title.setText(f"{name} side (side {number + 1})")  # sentences call it by its number
        self.rail.show_value(side.rail)
        self.length.setText(self._bench.length(standing.outline.sides[number].length, "exact"))
        self.bow.show_mm(side.bow)
        self.rail_width.show_mm(deck.frame.width_of(number))
        self.top.show_mm(deck.frame.top_of(number))

    def _side(self) -> int:
        number = self._bench.selection.picked.side
        assert number is not None
        return number

    def _set_rail(self, rail: str) -> None:
        side = self._side()
        self._bench.attempt("Name a side", lambda deck: edits.change_side(deck, side, rail=rail))

    def _set_bow(self, mm: float) -> None:
        deck, side = self._bench.document.deck, self._side()
        if deck is not None:
            both = self._bench.same_both_sides and is_symmetric(deck.frame)
            self._bench.document.edit("Bow a side", edits.bow_side(deck, side, mm, symmetric=both))

    def _set_width(self, mm: float) -> None:
        self._change("Width of a rail", rail_width=mm)

    def _set_top(self, mm: float) -> None:
        self._change("Height of a rail", rail_top=mm)

    def _change(self, words: str, **fields: float) -> None:
        deck = self._bench.document.deck
        if deck is not None:
            self._bench.document.edit(words, edits.change_side(deck, self._side(), **fields))

    def _insert(self) -> None:
        side, standing = self._side(), self._bench.planner.standing
        if standing is not None:
            along = standing.outline.sides[side].length / 2
            self._bench.attempt(
                "Insert a corner", lambda deck: edits.insert_corner(deck, side, along)
            )


class CornerPage(Page):
    """One corner: its place and its angle."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__("Corner")
        self._bench = bench
        self.across = self.row(
            "Right of the middle",
            LengthField(bench, "Right of the middle", self._set_across),
            "From the frame's middle; with a minus sign to the left",
        )
        self.down = self.row(
            "From the back",
            LengthField(bench, "From the back", self._set_down),
            "From the opening's back edge toward the front",
        )
        self.angle = self.fact("Inside angle")
        self.remove = button("Remove this corner", "Its two sides become one straight side")
        self.remove.clicked.connect(self._remove)
        self.put(self.remove)

    def follow(self) -> None:
        """Shows the selected corner."""
        deck, standing = self._bench.deck, self._bench.planner.standing
        number = self._bench.selection.picked.corner
        if deck is None or standing is None or number is None:
            return
        self.title.setText(f"Corner {number + 1}")
        origin = self._bench.origin()
        x, y = deck.frame.corners[number]
        self.across.show_mm(x - origin[0])
        self.down.show_mm(y - origin[1])
        turn = float(np.asarray(standing.outline.turns)[number])
        self.angle.setText(f"{180 - turn:.1f}°")

    def _set_across(self, mm: float) -> None:
        self._move(0, mm)

    def _set_down(self, mm: float) -> None:
        self._move(1, mm)

    def _move(self, axis: int, mm: float) -> None:
        deck, number = self._bench.document.deck, self._bench.selection.picked.corner
        if deck is None or number is None:
            return
        place = list(deck.frame.corners[number])
        place[axis] = self._bench.origin()[axis] + mm
        both = self._bench.same_both_sides and is_symmetric(deck.frame)
        after = edits.move_corner(deck, number, (place[0], place[1]), symmetric=both)
        self._bench.document.edit("Move a corner", after)

    def _remove(self) -> None:
        number = self._bench.selection.picked.corner
        if number is not None:
            self._bench.attempt("Remove a corner", lambda deck: edits.remove_corner(deck, number))
