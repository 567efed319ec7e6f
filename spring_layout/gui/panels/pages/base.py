"""Particulars of the base: the webbing strip by strip, how feet are fixed, the sewing-in."""

from collections.abc import Callable

from PySide6.QtWidgets import QPushButton

from spring_layout.checks.tie_words import twine_total
from spring_layout.deck import edits
from spring_layout.deck.model import Deck
from spring_layout.gui.panels.fields import Choice, LengthField
from spring_layout.gui.panels.form import Page, button
from spring_layout.gui.panels.pages.counts import CountField
from spring_layout.gui.routing import Routing
from spring_layout.gui.selection import Picked, StripKey
from spring_layout.gui.strips import (
    STRIP_RUNS,
    parts_of,
    strip_words,
    with_strip_added,
    with_strip_at,
    without_strip,
)
from spring_layout.gui.words import counted
from spring_layout.gui.workbench import Workbench
from spring_layout.plan import Plan
from spring_layout.planning.parts import StripRun, WebbingPlan
from spring_layout.planning.webbing import SCHOOL_SIZES

SCHOOLS = (
    ("us", "American: {width} wide, usually {gap} apart"),
    ("uk", "British: {width} wide, usually one web apart"),
    ("fr", "French: {width} wide, usually edge to edge"),
)
FIXED = (
    ("under-rails", "under the rails"),
    ("over-rails", "over the rails"),
    ("plywood", "a plywood floor instead"),
)
FASTENINGS = (("tacks", "tacks"), ("staples", "staples"))
USUAL = "usual"
FEET = (
    (USUAL, "as is usual"),
    ("stitch", "sewn in"),
    ("clip", "clips"),
    ("staple", "staples"),
)
POINTS = (("4", "four, at the quarters"), ("3", "three, clear of the wire knot"))


class BasePage(Page):
    """The woven floor and how the springs are fixed to it."""

    def __init__(self, bench: Workbench, routing: Routing) -> None:
        super().__init__("Base")
        self._bench, self._routing = bench, routing
        self._add_webbing()
        self._add_strips()
        self._add_strip()
        self._add_sewing()
        self._add_fixing()
        routing.changed.connect(self.follow)

    # building ---------------------------------------------------------------------------------

    def _length(self, words: str, field: str, tip: str) -> LengthField:
        name = self._bench.words.fill(words)
        made = LengthField(self._bench, name, self._setter(edits.set_webbing, words, field))
        return self.row(words, made, tip)

    def _add_webbing(self) -> None:
        self.school = self.row(
            "School",
            Choice("School of webbing"),
            "Sets width and gap as that school does; both can be changed",
        )
        self.school.chosen.connect(self._set_school)
        self.broad = self._length("Width", "width", "How wide the {webbing} is")
        tip = "Sets how many strips there are; laid under the springs, they lie farther apart"
        self.gap = self._length("Usual gap", "gap", tip)
        self.fixed = self.row("Laid", Choice("How the floor is laid", FIXED), "What carries them")
        self.fixed.chosen.connect(lambda value: self._set("Floor", fixed=value))

    def _add_strips(self) -> None:
        self.heading("Strips")
        names = ("Front to back", "Side to side", "Off the roll", "Fixings")
        self.facts = {name: self.fact(name) for name in names}
        self.add: dict[StripRun, QPushButton] = {}
        self.again: dict[StripRun, QPushButton] = {}
        for run, words in STRIP_RUNS:
            add = button(f"Add one {words}", "In the widest gap")
            again = button("Lay them again", "As the program lays them, under the springs")
            again.setAccessibleName(f"Lay the strips {words} again")
            add.clicked.connect(lambda _=False, r=run: self._add_one(r))
            again.clicked.connect(lambda _=False, r=run: self._lay_again(r))
            self.add[run], self.again[run] = add, again
            self.buttons(add, again)

    def _add_strip(self) -> None:
        self.strip_heading = self.heading("Strip")
        self.place = self.row(
            "Middle at",
            LengthField(self._bench, "Middle of the strip", self._set_place),
            "From the frame's middle to the right, or from the back",
        )
        self.cut = self.fact("Cut")
        self.take_out = button("Take this strip out", "The others stay where they are")
        self.take_out.clicked.connect(self._take_out)
        self.put(self.take_out)
        self.pick_note = self.note("Pick a strip on the deck or in the table to move it.")

    def _add_sewing(self) -> None:
        self.sewing_heading = self.heading("Sewing in the springs")
        self.route = {
            name: self.fact(name)
            for name in (
                "Stitches",
                "Way of the twine",
                "Shortest possible",
                "Stitching twine",
            )
        }
        self.route_note = self.note()
        self.points = self.row(
            "Stitches at each foot",
            Choice("Stitches at each foot", POINTS),
            "Four at the quarters is usual; three is the least that handbooks allow",
        )
        self.points.chosen.connect(
            lambda value: self._sew("Stitches at each foot", points=int(value))
        )
        self.loops = self.row(
            "Loops to a stitch",
            CountField(
                self._bench,
                "Loops to a stitch",
                (1, 10),
                lambda n: self._sew("Loops", loops=n),
            ),
            "How often the twine goes round at each",
        )
        self._add_sewing_twine()

    def _add_sewing_twine(self) -> None:
        sew = edits.set_stitching
        self.twine = self.row(
            "Twine's thickness",
            LengthField(
                self._bench, "Stitching twine", self._setter(sew, "Stitching twine", "twine")
            ),
            "The thinner twine that feet are sewn with",
        )
        self.arm = self.row(
            "Working length",
            LengthField(
                self._bench,
                "Working length",
                self._setter(sew, "Working length", "working_length"),
            ),
            "As much twine as is handled at once: an arm's length or two",
        )

    def _add_fixing(self) -> None:
        self.heading("Fixing")
        self.feet = self.row(
            "Springs' feet",
            Choice("How the feet are fixed", FEET),
            "Usually sewn to {webbing} and stapled to plywood",
        )
        self.feet.chosen.connect(
            lambda value: self._set("Feet", foot_fixing=None if value == USUAL else value)
        )
        self.fastening = self.row(
            "Strips fixed with",
            Choice("Strips fixed with", FASTENINGS),
            "What holds the ends of the strips on the rails",
        )
        self.fastening.chosen.connect(lambda value: self._set("Fixing", fastening=value))
        self.tacks = self.row(
            "In each strip",
            CountField(
                self._bench,
                "Fixings in each strip",
                (0, 200),
                lambda n: self._set("Fixing", tacks=n),
            ),
            "5 + 4 + 2 = 11 in a British handbook of 1961",
        )
        self.fold = self._length("Fold at each end", "fold", "Folded over and tacked again")
        self.overlap = self._length("On the rail", "overlap", "On each rail before the fold")
        self.overlap.setPlaceholderText("half the rail")
        self.allowance = self._length("To strain with", "allowance", "Added to each strip")

    # following --------------------------------------------------------------------------------

    def follow(self) -> None:
        """Shows the deck as it is."""
        deck, plan = self._bench.deck, self._bench.planner.plan
        if deck is None:
            return
        web = deck.webbing
        self.school.offer([(school, self._school_words(school, told)) for school, told in SCHOOLS])
        self.school.show_value(web.school)
        self.broad.show_mm(web.width)
        self.gap.show_mm(web.gap)
        self.fixed.show_value(web.fixed)
        self.feet.show_value(web.foot_fixing or USUAL)
        self.fastening.show_value(web.fastening)
        self.tacks.show_count(web.tacks)
        self.fold.show_mm(web.fold)
        self.overlap.show_mm(web.overlap)
        self.allowance.show_mm(web.allowance)
        if plan is not None:
            self._show_strips(deck, plan)
            self._show_strip(plan.parts.webbing)
        self._show_sewing(deck)

    def _school_words(self, school: str, told: str) -> str:
        width, gap = (self._bench.length(mm) for mm in SCHOOL_SIZES[school])
        return told.format(width=width, gap=gap)

    def _show_strips(self, deck: Deck, plan: Plan) -> None:
        webbing = plan.parts.webbing
        for i, (run, words) in enumerate(STRIP_RUNS):
            count, usual = len(webbing.of(run)), webbing.usual[i]
            told = counted(count, "strip")
            by_gap = "" if count == usual else f"; {usual} at the usual gap"
            self.facts[words.capitalize()].setText(told + by_gap)
            by_hand = webbing.set_by_hand[i] and web_is_laid(deck)
            self.again[run].setVisible(by_hand)
            self.add[run].setEnabled(web_is_laid(deck))
        self.facts["Off the roll"].setText(twine_total(deck, webbing.total))
        self.facts["Fixings"].setText(f"{webbing.fixings} {deck.webbing.fastening}")

    def _show_strip(self, webbing: WebbingPlan) -> None:
        key = self._bench.selection.picked.strip
        parts = parts_of(webbing, key)
        shown = bool(parts) and key is not None
        for widget in (self.strip_heading, self.place, self.cut, self.take_out):
            widget.setEnabled(shown)
        self.pick_note.setVisible(not shown)
        self.strip_heading.setText(strip_words(key) if shown and key else "One strip")
        self.place.show_mm(parts[0].at - self._zero(key) if shown and key else None)
        cuts = [self._bench.length(part.cut_length, "cut") for part in parts]
        self.cut.setText(", ".join(cuts) or "–")

    def _show_sewing(self, deck: Deck) -> None:
        sewn = deck.stitching
        self.points.show_value(str(sewn.points))
        self.loops.show_count(sewn.loops)
        self.twine.show_mm(sewn.twine)
        self.arm.show_mm(sewn.working_length)
        route, note = self._routing.route, ""
        for fact in self.route.values():
            fact.setText("–")
        if self._routing.is_working:
            note = "Working out the order…"
        elif route is not None and not route.stitches:
            note = "The feet are not sewn."
        elif route is not None:
            self._show_route(deck)
            note = self._begins()
        self.route_note.setText(note)
        self.route_note.setVisible(bool(note))

    def _show_route(self, deck: Deck) -> None:
        route, length = self._routing.route, self._bench.length
        assert route is not None
        self.route["Stitches"].setText(str(len(route.stitches)))
        self.route["Way of the twine"].setText(length(route.route_length))
        least = "this is it" if route.exact else f"{length(route.least)} or more"
        self.route["Shortest possible"].setText(least)
        lengths = counted(len(route.new_lengths), "length")
        self.route["Stitching twine"].setText(f"{twine_total(deck, route.twine)} in {lengths}")

    def _begins(self) -> str:
        """Where new lengths of twine begin."""
        route = self._routing.route
        assert route is not None
        stitches = [route.stitches[i] for i in route.new_lengths[1:]]
        if not stitches:
            return "One length reaches all the way."
        told = [f"{self._bench.label(s.spring)} {s.point}" for s in stitches[:6]]
        more = f" and {len(stitches) - 6} more" if len(stitches) > 6 else ""
        return f"A new length begins at {', '.join(told)}{more}; a square marks each on the deck."

    # editing ----------------------------------------------------------------------------------

    def _setter(self, edit: Callable[..., Deck], words: str, field: str) -> Callable[[float], None]:
        def change(mm: float) -> None:
            deck = self._bench.document.deck
            if deck is not None:
                self._bench.document.edit(words, edit(deck, **{field: mm}))

        return change

    def _set(self, words: str, **fields: object) -> None:
        self._bench.attempt(words, lambda deck: edits.set_webbing(deck, **fields))

    def _sew(self, words: str, **fields: object) -> None:
        self._bench.attempt(words, lambda deck: edits.set_stitching(deck, **fields))

    def _set_school(self, school: str) -> None:
        width, gap = SCHOOL_SIZES[school]
        self._set("School of webbing", school=school, width=width, gap=gap)

    def _webbing(self) -> WebbingPlan | None:
        plan = self._bench.planner.catch_up()
        return plan.parts.webbing if plan else None

    def _add_one(self, run: StripRun) -> None:
        deck, webbing = self._bench.document.deck, self._webbing()
        if deck is None or webbing is None:
            return
        after, key = with_strip_added(deck, webbing, run)
        self._bench.document.edit("Add a strip", after)
        self._bench.selection.pick(Picked(strip=key))

    def _lay_again(self, run: StripRun) -> None:
        self._bench.attempt("Lay the strips again", lambda d: edits.set_strips(d, run, None))

    def _zero(self, key: StripKey) -> float:
        return self._bench.origin()[0 if key.run == "front-to-back" else 1]

    def _set_place(self, mm: float) -> None:
        deck, webbing = self._bench.document.deck, self._webbing()
        key = self._bench.selection.picked.strip
        if deck is not None and webbing is not None and key is not None:
            after = with_strip_at(deck, webbing, key, mm + self._zero(key))
            self._bench.document.edit("Place a strip", after)

    def _take_out(self) -> None:
        webbing, key = self._webbing(), self._bench.selection.picked.strip
        if webbing is not None and key is not None:
            self._bench.selection.clear()
            self._bench.attempt("Take out a strip", lambda d: without_strip(d, webbing, key))


def web_is_laid(deck: Deck) -> bool:
    """Whether there are strips at all."""
    return deck.webbing.fixed != "plywood"
