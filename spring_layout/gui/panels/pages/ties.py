"""Particulars of the ties: runs, order, twine; and of the tie that is selected."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QSlider, QToolButton, QVBoxLayout, QWidget

from spring_layout.checks.tie_words import knot_words, tack_words, twine_total
from spring_layout.deck import edits
from spring_layout.deck.model import End
from spring_layout.gui.panels.fields import Choice, Switch, WheelPasses, label
from spring_layout.gui.panels.form import Page, button
from spring_layout.gui.panels.pages.twine import TieCount, TwineSettings
from spring_layout.gui.panels.pages.wire_knots import WireKnots
from spring_layout.gui.theme.icons import icon
from spring_layout.gui.words import RUN_WORDS
from spring_layout.gui.workbench import Workbench
from spring_layout.planning.parts import Line
from spring_layout.planning.twine import total_as_cut

DIAGONALS = (
    ("two-or-more", "over two springs or more"),
    ("all", "with the short corner ties"),
    ("none", "none"),
)
ORDERS = (("balanced", "each way by turns"), ("by-direction", "one way after another"))
RINGS = (
    ("nearest-rail-top", "nearest the rail's top"),
    ("ring-2", "second coil down"),
    ("ring-3", "third coil down"),
    ("top", "top coil"),
)


class TiesPage(Page):
    """Which runs are tied, on which coils, in what order; the twine it takes."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__("{Ties}")
        self._bench = bench
        self.heading("Runs")
        self.front = self.put(Switch("Front to back", "Tie from the front rail to the back rail"))
        self.side = self.put(Switch("Side to side", "Tie from the left rail to the right rail"))
        self.front.switched.connect(lambda on: self._set("Front to back", front_to_back=on))
        self.side.switched.connect(lambda on: self._set("Side to side", side_to_side=on))
        self.diagonals = self.row(
            "Diagonals",
            Choice("Diagonals", DIAGONALS),
            "With all of them every spring is tied eight ways",
        )
        self.diagonals.chosen.connect(lambda value: self._set("Diagonals", diagonals=value))
        self._add_rings()
        self.heading("In the order they are tied")
        self.order = self.row(
            "Order",
            Choice("Order of tying", ORDERS),
            "Printed practice disagrees: shops follow each direction with its opposite, "
            "others finish one direction first",
        )
        self.order.chosen.connect(lambda value: self._set("Order of tying", order=value))
        self.steps = self.put(OrderSlider(bench))
        self.heading("To cut")
        self.facts = {name: self.fact(name) for name in ("Pieces", "{Twine}")}
        self.twine = TwineSettings(self, bench)
        self.knots = WireKnots(self, bench)

    def _add_rings(self) -> None:
        self.ring = self.row(
            "Outer hitch on",
            Choice("Outer hitch on", RINGS),
            "The coil that takes the first and the last hitch of a {tie}",
        )
        self.ring.chosen.connect(lambda value: self._set("Outer hitch", rim_ring=value))

    def follow(self) -> None:
        """Shows the deck as it is."""
        deck, plan = self._bench.deck, self._bench.planner.plan
        if deck is None:
            return
        tying = deck.tying
        self.front.show_on(tying.front_to_back)
        self.side.show_on(tying.side_to_side)
        self.diagonals.show_value(tying.diagonals)
        self.ring.show_value(tying.rim_ring)
        self.order.show_value(tying.order)
        self.steps.follow()
        self.twine.follow()
        if plan is not None:
            self.knots.follow(plan)
        pieces, twine = self.facts.values()
        pieces.setText(str(plan.parts.twine.pieces) if plan else "–")
        twine.setText(twine_total(deck, total_as_cut(deck, plan.parts.twine)) if plan else "–")

    def _set(self, words: str, **fields: object) -> None:
        self._bench.attempt(words, lambda deck: edits.set_tying(deck, **fields))


class OrderSlider(QWidget):
    """Walks through the tying order: what is tied so far, and the next tie."""

    stepped = Signal(int)
    """The number of the tie to make next; 0 shows everything tied."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__()
        self._bench = bench
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setAccessibleName("Step of the tying order")
        self.slider.setToolTip("What is tied so far, and what comes next")
        self.slider.setMinimumHeight(32)
        WheelPasses.over(self.slider)
        self.back, self.on = QToolButton(), QToolButton()
        for made, name, tip, step in (
            (self.back, "go-previous", "The one before", -1),
            (self.on, "go-next", "The next one", 1),
        ):
            made.setIcon(icon(name, bench.palette))
            made.setToolTip(tip)
            made.setAccessibleName(tip)
            made.clicked.connect(lambda _=False, s=step: self._step(s))
        self.words = label("", "faint")
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        for widget in (self.back, self.slider, self.on):
            row.addWidget(widget)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addLayout(row)
        column.addWidget(self.words)
        self.slider.valueChanged.connect(self._moved)
        bench.document.replaced.connect(lambda: self.slider.setValue(0))
        self.follow()

    def follow(self) -> None:
        """Takes up the ties of the plan."""
        plan = self._bench.planner.plan
        count = len(plan.parts.ties.lines) if plan else 0
        self.slider.setRange(0, count)
        self.setEnabled(count > 0)
        self._tell()

    def _step(self, step: int) -> None:
        count = self.slider.maximum()
        self.slider.setValue((self.slider.value() + step) % (count + 1))

    def _moved(self, value: int) -> None:
        self._tell()
        self.stepped.emit(value)

    def _tell(self) -> None:
        number = self.slider.value()
        line = self._bench.line(number)
        if line is None:
            self.words.setText("All tied. Slide to see one after another.")
            return
        springs = ", ".join(self._bench.label(name) for name in line.springs)
        self.words.setText(
            f"{number} of {self.slider.maximum()}: {RUN_WORDS[line.run]}, over {springs}"
        )


class TiePage(Page):
    """One tie: where it runs, what is cut, its knots; its tack points put back; springs parted."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__("{Tie}")
        self._bench = bench
        self.run = self.note(" ", "faint")
        names = ("Over", "From", "To", "Length over the springs", "Cut", "Cross knots")
        self.facts = {name: self.fact(name) for name in names}
        for fact in self.facts.values():
            fact.setWordWrap(True)
            fact.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
        self.count = TieCount(self, bench)
        self.heading("Tack points")
        self.loose: dict[End, QWidget] = {}
        ends: tuple[tuple[End, str], ...] = (("start", "first"), ("finish", "last"))
        for end, words in ends:
            made = button(f"Put the {words} tack point back", "Where it is worked out to be")
            made.clicked.connect(lambda _=False, e=end: self._put_back(e))
            self.loose[end] = self.put(made)
        self.fixed = self.note("Drag a tack point along its rail to move it.")
        self.heading("Part two springs of it")
        self.pair = self.put(Choice("Two springs one after the other"))
        self.pair.setToolTip("Which two of its springs")
        self.part = button("Part them", "This run never ties them directly after one another")
        self.part.clicked.connect(self._part)
        self.put(self.part)

    def follow(self) -> None:
        """Shows the selected tie."""
        line, plan, deck = self._bench.picked_line(), self._bench.planner.plan, self._bench.deck
        if line is None or plan is None or deck is None:
            return
        length, label_of = self._bench.length, self._bench.label
        self.title.setText(f"{self._bench.words.tie_title} {line.number}")
        self.run.setText(RUN_WORDS[line.run][0].upper() + RUN_WORDS[line.run][1:])
        self.facts["Over"].setText(", ".join(label_of(name) for name in line.springs))
        self.facts["From"].setText(tack_words(plan.parts, line, 0))
        self.facts["To"].setText(tack_words(plan.parts, line, 1))
        twine = next((t for t in plan.parts.twine.lines if t.number == line.number), None)
        drape, cut = (twine.drape, twine.cut_length) if twine else (0.0, 0.0)
        self.facts["Length over the springs"].setText(length(drape))
        self.facts["Cut"].setText(length(cut, "cut"))
        knots = [c for c in plan.parts.ties.crossings if c.tied_by == line.number]
        told = knot_words(plan.parts, line, knots)
        self.facts["Cross knots"].setText(told or "none to make")
        self.count.follow(plan, line.number)
        self._show_moved(line)
        pairs = list(zip(line.springs, line.springs[1:], strict=False))
        self.pair.offer([(f"{a} {b}", f"{label_of(a)} and {label_of(b)}") for a, b in pairs])
        self.pair.setEnabled(bool(pairs))
        self.part.setEnabled(bool(pairs))

    def _show_moved(self, line: Line) -> None:
        deck = self._bench.deck
        moved = (
            {a.end for a in deck.tying.anchors if a.run == line.run and a.spring in line.springs}
            if deck
            else set()
        )
        for end, widget in self.loose.items():
            widget.setVisible(end in moved)
        self.fixed.setVisible(not moved)

    def _put_back(self, end: End) -> None:
        line = self._bench.picked_line()
        if line is not None:
            self._bench.attempt(
                "Put a tack point back",
                lambda deck: edits.clear_anchor(deck, line.run, line.springs, end),
            )

    def _part(self) -> None:
        line = self._bench.picked_line()
        pair = str(self.pair.currentData() or "").split()
        if line is not None and len(pair) == 2:
            a, b = pair
            words = f"Part {self._bench.label(a)} and {self._bench.label(b)}"
            self._bench.attempt(words, lambda deck: edits.part_springs(deck, line.run, a, b))
