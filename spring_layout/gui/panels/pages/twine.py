"""The spring twine: how it is counted, the user's own ten knots, and what one tie takes."""

from collections.abc import Callable

from spring_layout.deck import edits
from spring_layout.deck.model import Deck
from spring_layout.gui.panels.fields import Choice, LengthField, Switch
from spring_layout.gui.panels.form import Page, button
from spring_layout.gui.panels.pages.counts import CountField
from spring_layout.gui.workbench import Workbench
from spring_layout.plan import Plan
from spring_layout.planning.heights import typical_coil
from spring_layout.planning.twine_geometry import hitch_twine, knot_twine, shortfall
from spring_layout.report.hanks import hanks_section

KNOTS = (("clove", "clove hitch"), ("half", "half hitch"), ("overhand", "overhand knot"))
RULES = (
    ("over-springs-3", "3 times the length over the springs"),
    ("single-1.67", "1 2/3 times the frame, single pass"),
    ("doubled-4", "4 times rail to rail, doubled"),
)
_TIPS = {
    "hitch": "How each tie is fixed where it enters and leaves a top coil",
    "cross_knot": "How one tie is fixed to another",
    "rule": "Shown beside what is counted from the hitches; shops differ",
}
_TEN = "Tie ten, untie them and measure all the twine; it then counts instead of the model"


class TwineSettings:
    """Rows of a page: the twine and its knots."""

    def __init__(self, page: Page, bench: Workbench) -> None:
        self._page, self._bench = page, bench
        page.heading("{Twine}")
        self.diameter = self._length("Thickness", "diameter", "Of the {twine}")
        self.hitch = self._choice("Hitch on the coils", "hitch", KNOTS)
        self.cross = self._choice("Knot where {ties} cross", "cross_knot", KNOTS)
        self.returns = page.put(
            Switch("Return ties", "The tail comes back from the rail to set the top coil's height")
        )
        self.returns.switched.connect(lambda on: self._set("Return ties", return_tie=on))
        self.fold = self._length("Folded back at each end", "fold_back", "Under the second tack")
        self.wraps = page.row(
            "Tail wrapped round",
            CountField(
                bench, "Turns of the tail", (0, 100), lambda n: self._set("Tail", tail_wraps=n)
            ),
            "Turns of the tail round itself where it leaves the rail, against chafing; 0 for none",
        )
        self.allowance = self._length("To work with", "allowance", "Added to every piece")
        self.step = self._length("Cut in steps of", "step", "Every piece is rounded up to this")
        self.hank = self._length("A hank holds", "hank", "How much is on a hank or ball")
        self.hank.setPlaceholderText("not known")
        self.share = button(
            "Share out over hanks", "Which pieces to cut from which hank, with the least left over"
        )
        self.share.clicked.connect(self._share_out)
        page.put(self.share)
        self.shared = page.note()
        self._shared_for: object = None
        self._add_calibration(page)
        self.rule = self._choice("Rule of thumb to compare", "rule", RULES)
        self.rule_note = page.note("The schools' rules disagree; pieces are cut as counted.")

    def _add_calibration(self, page: Page) -> None:
        page.heading("Your own ten knots")
        self.each = page.note(" ")
        self.ten_hitches = self._length("Ten hitches took", "ten_hitches", _TEN)
        self.ten_knots = self._length("Ten cross knots took", "ten_cross_knots", _TEN)
        for field in (self.ten_hitches, self.ten_knots):
            field.setPlaceholderText("by the model")
        self.by_model = button("Count by the model again", "Without your own ten")
        self.by_model.clicked.connect(
            lambda: self._set("Count by the model", ten_hitches=None, ten_cross_knots=None)
        )
        page.put(self.by_model)

    def follow(self) -> None:
        """Shows the deck as it is."""
        deck = self._bench.deck
        if deck is None:
            return
        twine = deck.twine
        for field, mm in (
            (self.diameter, twine.diameter),
            (self.fold, twine.fold_back),
            (self.allowance, twine.allowance),
            (self.step, twine.step),
            (self.hank, twine.hank),
            (self.ten_hitches, twine.ten_hitches),
            (self.ten_knots, twine.ten_cross_knots),
        ):
            field.show_mm(mm)
        self.hitch.show_value(twine.hitch)
        self.cross.show_value(twine.cross_knot)
        self.rule.show_value(twine.rule)
        self.returns.show_on(twine.return_tie)
        self.wraps.show_count(twine.tail_wraps)
        mine = twine.ten_hitches is not None or twine.ten_cross_knots is not None
        self.by_model.setVisible(mine)
        self._show_each(deck)
        self.share.setEnabled(twine.hank is not None)
        plan = self._bench.planner.plan
        if self._shared_for is not None and (plan is None or _pieces(plan) != self._shared_for):
            self._tell_shared("", None)

    def _show_each(self, deck: Deck) -> None:
        coil = typical_coil(deck)
        if coil is None:
            self.each.setText("")
            return
        hitch = self._bench.length(hitch_twine(deck.twine, coil.wire), "exact")
        knot = self._bench.length(knot_twine(deck.twine, 1), "exact")
        self.each.setText(f"A hitch now counts {hitch}, a cross knot over one other {knot}.")

    def _share_out(self) -> None:
        """Takes up to some seconds with many pieces, so only when it is asked for."""
        plan = self._bench.planner.catch_up()
        if plan is None:
            return
        told = [" ".join(line.split()) for line in hanks_section(plan.parts)]
        words = self._bench.words.retold("\n".join(line for line in told if line))
        self._tell_shared(words, _pieces(plan))

    def _tell_shared(self, words: str, pieces: object) -> None:
        self._shared_for = pieces
        self.shared.setText(words)
        self.shared.setVisible(bool(words))

    def _length(self, words: str, field: str, tip: str) -> LengthField:
        name = words.replace("{", "").replace("}", "")
        made = LengthField(self._bench, name, self._setter(name, field))
        return self._page.row(words, made, tip)

    def _choice(self, words: str, field: str, options: tuple[tuple[str, str], ...]) -> Choice:
        name = words.replace("{", "").replace("}", "")
        made = self._page.row(words, Choice(name, options), _TIPS[field])
        made.chosen.connect(lambda value: self._set(name, **{field: value}))
        return made

    def _setter(self, words: str, field: str) -> Callable[[float], None]:
        def change(mm: float) -> None:
            deck = self._bench.document.deck
            if deck is not None:
                self._bench.document.edit(words, edits.set_twine(deck, **{field: mm}))

        return change

    def _set(self, words: str, **fields: object) -> None:
        self._bench.attempt(words, lambda deck: edits.set_twine(deck, **fields))


def _pieces(plan: Plan) -> object:
    """What the sharing out over hanks depends on."""
    lengths = [line.cut_length for line in plan.parts.twine.lines]
    return plan.deck.units, plan.deck.twine.hank, lengths


class TieCount:
    """Rows of a tie's page: what its twine is made up of, and the rule of thumb beside it."""

    _PARTS = (
        ("way", "Over its hitches"),
        ("hitches", "In the hitches"),
        ("cross_knots", "In the cross knots"),
        ("returns", "Return ties"),
        ("wraps", "Tail wraps"),
        ("fold_backs", "Folded back"),
        ("allowance", "To work with"),
    )

    def __init__(self, page: Page, bench: Workbench) -> None:
        self._bench = bench
        page.heading("Counted from its hitches")
        self.facts = {name: page.fact(words) for name, words in self._PARTS}
        self.total = page.fact("All together")
        self.rule = page.fact("By the rule of thumb")
        self.short = page.note()

    def follow(self, plan: Plan, number: int) -> None:
        """Shows what tie ``number`` takes."""
        count = next((c for c in plan.parts.counts if c.number == number), None)
        row = next((r for r in plan.parts.twine.lines if r.number == number), None)
        if count is None or row is None:
            return
        length = self._bench.length
        for name, fact in self.facts.items():
            fact.setText(length(getattr(count, name)))
        self.total.setText(length(count.total))
        self.rule.setText(length(row.rule_length))
        self.short.setText(self._short_words(shortfall(row, count)))
        self.short.setVisible(bool(self.short.text()))

    def _short_words(self, short: float) -> str:
        if short <= 0:
            return ""
        tie, by = self._bench.words.tie, self._bench.length(short)
        return f"The rule of thumb would leave this {tie} {by} short."
