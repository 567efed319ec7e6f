"""Particulars of the springs: sizes, wishes and counts; and of the springs that are selected."""

from spring_layout.deck import edits
from spring_layout.deck.model import RUNS, Deck, Run, Spring
from spring_layout.gui.canvas.tools.tying import run_between
from spring_layout.gui.panels.fields import Choice, LengthField, Switch
from spring_layout.gui.panels.form import Page, button
from spring_layout.gui.words import RUN_WORDS, counted
from spring_layout.gui.workbench import Workbench
from spring_layout.planning.parts import Spaces, Standing
from spring_layout.planning.spacing import evenness_of


class SpringsPage(Page):
    """How the springs are to stand, and how they do."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__("Springs")
        self._bench = bench
        self.coil = self.row(
            "Spring size", Choice("Spring size for new springs"), "The size that new springs get"
        )
        self.coil.chosen.connect(self._choose_coil)
        self.sizes = button("Spring sizes…", "Measure, add and change the sizes of this deck")
        self.put(self.sizes)
        self.heading("Wishes")
        self.gap = self.row(
            "Gap",
            LengthField(bench, "Wished gap", self._set_gap, "place"),
            "About 2 in in a handbook of 1961, almost touching in France; 0 leaves it out",
        )
        self.clearance = self.row(
            "To the rail",
            LengthField(bench, "Wished distance", self._set_far, "place"),
            "From a top coil to the rail's inside edge; 0 leaves it out",
        )
        self.suggest = button("Suggest layouts…", "See layouts for this frame and choose", True)
        self.even = button("Space evenly", "As equal as they can be; springs kept here stay")
        self.buttons(self.suggest, self.even)
        self.heading("As they stand")
        self.facts = {
            name: self.fact(name) for name in ("Springs", "Gaps", "To the rail", "Kept here")
        }

    def follow(self) -> None:
        """Shows the deck as it is."""
        deck = self._bench.deck
        standing, spaces = self._bench.planner.standing, self._bench.planner.spaces
        if deck is None or standing is None or spaces is None:
            return
        self.coil.offer(coil_options(self._bench, deck))
        self.coil.show_value(self._bench.coil or _usual(deck))
        self.gap.show_mm(deck.spacing.gap)
        self.clearance.show_mm(deck.spacing.clearance)
        even = evenness_of(standing, spaces)
        self.facts["Springs"].setText(str(len(deck.springs)))
        self.facts["Gaps"].setText(self._range(even.gap_least, even.gap_most))
        self.facts["To the rail"].setText(self._range(even.rim_least, even.rim_most))
        self.facts["Kept here"].setText(str(sum(spring.held for spring in deck.springs)))
        self.even.setEnabled(bool(deck.springs))

    def _range(self, least: float | None, most: float | None) -> str:
        if least is None or most is None:
            return "–"
        low, high = self._bench.length(least), self._bench.length(most)
        if low == high:
            return low
        return f"{self._bench.length(least, unit=False)} to {high}"

    def _choose_coil(self, coil: str) -> None:
        self._bench.coil = coil

    def _set_gap(self, mm: float) -> None:
        self._wish("Wished gap", gap=mm)

    def _set_far(self, mm: float) -> None:
        self._wish("Wished distance from the rail", clearance=mm)

    def _wish(self, words: str, **fields: float) -> None:
        deck = self._bench.document.deck
        if deck is not None:
            self._bench.document.edit(words, edits.set_spacing(deck, **fields))


class SpringPage(Page):
    """The selected springs: place, size, kept here, their gaps; two of them joined or parted."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__("Spring")
        self._bench = bench
        self.across = self.row(
            "Right of the middle",
            LengthField(bench, "Right of the middle", self._set_across),
            "From the frame's middle to the spring's centre; with a minus sign to the left",
        )
        self.down = self.row(
            "From the back",
            LengthField(bench, "From the back", self._set_down),
            "From the opening's back edge to the spring's centre",
        )
        self.coil = self.row(
            "Spring size", Choice("Spring size of these springs"), "Another size for these springs"
        )
        self.coil.chosen.connect(self._set_coil)
        self.keep = self.put(Switch("Keep here", "Spacing evenly leaves this spring in place"))
        self.keep.switched.connect(self._set_keep)
        self.facts_heading = self.heading("From here")
        self.facts = {
            name: self.fact(name)
            for name in ("Nearest gap", "To the rail", "Tied height", "{Ties} on it")
        }
        self.measured = self.row(
            "Measured height",
            LengthField(bench, "Measured height", self._set_measured),
            "From the {webbing} to its top coil, measured once it is tied; the record prints it",
        )
        self.measured.can_be_empty = True
        self.measured.setPlaceholderText("not yet")
        self.measured.emptied.connect(lambda: self._set_measured(None))
        self._add_pairing()

    def _add_pairing(self) -> None:
        self.pair_heading = self.heading("These two on a {tie}")
        self.run = self.put(Choice("Which run", [(run, RUN_WORDS[run]) for run in RUNS]))
        self.run.setToolTip("The run on which the two are joined or parted")
        self.join = button("Join", "Tie these two springs directly after one another")
        self.part = button("Part", "Never tie these two springs directly after one another")
        self.clear = button("Neither", "Leave it to be worked out")
        self.join.clicked.connect(lambda: self._pair("Join two springs", edits.join_springs))
        self.part.clicked.connect(lambda: self._pair("Part two springs", edits.part_springs))
        self.clear.clicked.connect(lambda: self._pair("Neither join nor part", edits.clear_pairing))
        for made in (self.join, self.part, self.clear):
            self.put(made)

    def follow(self) -> None:
        """Shows the selected springs."""
        deck, chosen = self._bench.deck, self._bench.selection.springs
        springs = [s for s in deck.springs if s.id in chosen] if deck else []
        if deck is None or not springs:
            return
        one = springs[0] if len(springs) == 1 else None
        title = f"Spring {self._bench.label(one.id)}" if one else counted(len(springs), "spring")
        self.title.setText(title)
        self._show_place(springs)
        self.coil.offer(coil_options(self._bench, deck))
        coils = {spring.coil for spring in springs}
        self.coil.show_value(coils.pop() if len(coils) == 1 else "")
        self.keep.show_on(all(spring.held for spring in springs))
        heights = {spring.measured_height for spring in springs}
        self.measured.show_mm(heights.pop() if len(heights) == 1 else None)
        self._show_facts(one)
        self._show_pairing(springs)

    def _show_place(self, springs: list[Spring]) -> None:
        origin = self._bench.origin()
        for field, axis in ((self.across, 0), (self.down, 1)):
            values = {(s.x, s.y)[axis] for s in springs}
            field.show_mm(values.pop() - origin[axis] if len(values) == 1 else None)
            field.setPlaceholderText("differ")

    def _show_facts(self, one: Spring | None) -> None:
        spaces, standing = self._bench.planner.spaces, self._bench.planner.standing
        told = {}
        if one is not None and spaces is not None and standing is not None:
            told = self._distances(spaces, standing, one.id) | self._tied(one.id)
        self.facts_heading.setVisible(one is not None)
        for name, fact in self.facts.items():
            fact.setText(told.get(name, "–"))
            self.show_row(fact, one is not None)

    def _distances(self, spaces: Spaces, standing: Standing, spring: str) -> dict[str, str]:
        row, length = standing.index[spring], self._bench.length
        told = {"To the rail": length(float(spaces.clearance[row]))}
        nearest = int(spaces.nearest[row])
        if nearest >= 0:
            other = self._bench.label(standing.ids[nearest])
            told["Nearest gap"] = f"{length(float(spaces.gap[row]))} to {other}"
        return told

    def _tied(self, spring: str) -> dict[str, str]:
        plan = self._bench.planner.plan
        if plan is None or spring not in plan.parts.standing.index:
            return {}
        row = plan.parts.standing.index[spring]
        on_it = [str(k.number) for k in plan.parts.ties.lines if spring in k.springs]
        return {
            "Tied height": self._bench.length(float(plan.parts.heights.tied[row])),
            "{Ties} on it": ", ".join(on_it) or "none",
        }

    def _show_pairing(self, springs: list[Spring]) -> None:
        two = len(springs) == 2
        for widget in (self.pair_heading, self.run, self.join, self.part, self.clear):
            widget.setVisible(two)
        if two:
            a, b = springs
            self.run.show_value(run_between((a.x, a.y), (b.x, b.y)))

    def _pair(self, words: str, edit: object) -> None:
        chosen = sorted(self._bench.selection.springs)
        run: Run = self.run.currentData()
        if len(chosen) == 2 and callable(edit):
            self._bench.attempt(words, lambda deck: edit(deck, run, *chosen))

    def _set_across(self, mm: float) -> None:
        self._move(0, mm)

    def _set_down(self, mm: float) -> None:
        self._move(1, mm)

    def _move(self, axis: int, mm: float) -> None:
        deck, chosen = self._bench.document.deck, self._bench.selection.springs
        if deck is None:
            return
        value = self._bench.origin()[axis] + mm
        places = {
            s.id: (value, s.y) if axis == 0 else (s.x, value)
            for s in deck.springs
            if s.id in chosen
        }
        self._bench.document.edit("Place springs", edits.place_springs(deck, places))

    def _set_coil(self, coil: str) -> None:
        chosen = self._bench.selection.springs
        self._bench.attempt("Spring size", lambda deck: edits.recoil_springs(deck, chosen, coil))

    def _set_measured(self, mm: float | None) -> None:
        """Raises ValueError, with a sentence, for what no spring can measure."""
        deck, chosen = self._bench.document.deck, self._bench.selection.springs
        if deck is not None:
            after = edits.measure_springs(deck, chosen, mm)
            self._bench.document.edit("Measured height", after)

    def _set_keep(self, on: bool) -> None:
        chosen = self._bench.selection.springs
        words = "Keep here" if on else "Let go"
        self._bench.attempt(words, lambda deck: edits.hold_springs(deck, chosen, on))


def coil_options(bench: Workbench, deck: Deck) -> list[tuple[str, str]]:
    """The deck's spring sizes: (id, words)."""
    return [(coil.id, coil_words(bench, deck, coil.id)) for coil in deck.coils]


def coil_words(bench: Workbench, deck: Deck, coil_id: str) -> str:
    """A spring size in words: height, wire."""
    coil = next(coil for coil in deck.coils if coil.id == coil_id)
    wire = coil.gauge or bench.length(coil.wire, "wire")
    return f"{coil.id}: {bench.length(coil.free_height)} high, {wire}"


def _usual(deck: Deck) -> str:
    used = [spring.coil for spring in deck.springs]
    return max(deck.coils, key=lambda coil: used.count(coil.id)).id if deck.coils else ""
