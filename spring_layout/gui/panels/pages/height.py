"""Particulars of the height: the stack, what follows in it, slope and crown, rails, springs."""

from collections.abc import Callable

from PySide6.QtCore import QSize

from spring_layout.deck import edits
from spring_layout.deck.model import Deck
from spring_layout.drawing.primitives import Drawing
from spring_layout.drawing.stack_view import stack_view
from spring_layout.gui.panels.drawn import DrawnPicture
from spring_layout.gui.panels.fields import Choice, LengthField, label
from spring_layout.gui.panels.fold import Fold
from spring_layout.gui.panels.form import Page, button
from spring_layout.gui.panels.pages.rail_tops import RailTops
from spring_layout.gui.panels.pages.spring_advice import SpringAdvice
from spring_layout.gui.stacking import (
    CAN_BE_OPEN,
    FOLLOWERS,
    is_known,
    let_follow,
    part_of,
    stacked,
    with_part,
)
from spring_layout.gui.theme.side_colours import side_colours
from spring_layout.gui.workbench import Workbench
from spring_layout.planning.height_stack import StackPart, following
from spring_layout.planning.sitters import KNEES, SHOE, share_with_feet_down

SETTING = "follows"
OTHER_FOLLOWER: dict[StackPart, StackPart] = {
    "finished_height": "tied_height",
    "floor_to_webbing": "finished_height",
    "tied_height": "finished_height",
    "cushion": "finished_height",
    "over_springs": "finished_height",
}
"""What follows once the part that followed is typed."""
PICTURE = QSize(240, 268)
MEASURED = (("front", "at the front"), ("middle", "in the middle"))

_ROWS: tuple[tuple[StackPart, str, str], ...] = (
    (
        "finished_height",
        "Finished height",
        "From the floor to the top of the seat, with nobody on it",
    ),
    ("cushion", "Cushion", "Thickness of a loose cushion; 0 without one"),
    ("over_springs", "Over the springs", "Cloth and stuffing between springs and cushion"),
    (
        "floor_to_webbing",
        "Floor to {webbing}",
        "From the floor to the {webbing}'s upper face, legs and castors included",
    ),
    (
        "tied_height",
        "Tied height",
        "From the {webbing}'s upper face to the top coil, along the front rim",
    ),
)
_SITTERS = (
    "Knees, in shoes, are no lower than the seat for about {men} of men and {women} of women: they "
    "sit with their feet down. What counts is the height with somebody sitting."
)
_SITTERS_SOURCE = (
    "ANSUR II (US Army, 2012, report TR-15/007, public data): the hollow of the knee of 4,082 men "
    "and 1,986 women, soldiers all; {shoe} for shoes is from memory. A note, never a rule."
)


class HeightPage(Page):
    """The stack from the floor up; any part of it can follow from the others."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__("Height")
        self._bench = bench
        self.picture = self.put(
            DrawnPicture(bench, "The height of the seat, layer by layer", self._draw, PICTURE)
        )
        self.picture.setFixedHeight(PICTURE.height())
        self.follows = self.row(
            "What follows from the rest",
            Choice("What follows from the rest"),
            "Set the others; this one is worked out from them",
        )
        self.follows.chosen.connect(self._let_follow)
        self.fields = {part: self._add_part(part, words, tip) for part, words, tip in _ROWS}
        self.missing = self.note()
        self._add_measuring()
        self._add_tied()
        self.rails = RailTops(self, bench)
        self.advice = SpringAdvice(self, bench, self._tie_to)
        self._add_sitters()

    # building ---------------------------------------------------------------------------------

    def _add_part(self, part: StackPart, words: str, tip: str) -> LengthField:
        field = LengthField(self._bench, words.format(webbing="webbing"), self._setter(part))
        if part in CAN_BE_OPEN:
            field.can_be_empty = True
            field.emptied.connect(lambda: self._leave_open(part))
            tip += "; empty: not decided"
        return self.row(words, field, tip)

    def _leave_open(self, part: StackPart) -> None:
        """That part of the stack is not decided any more."""
        name = self._bench.words.fill(next(words for key, words, _ in _ROWS if key == part))
        self._bench.attempt(f"{name}: not decided", lambda deck: with_part(deck, part, None))
        self.follow()

    def _add_measuring(self) -> None:
        self.measured = self.row(
            "Measured",
            Choice("Where the height is measured", MEASURED),
            "Where on the seat its finished height is taken",
        )
        self.measured.chosen.connect(self._measure_at)
        self.sink = self.row(
            "Cushion sinks by",
            LengthField(self._bench, "Cushion sinks by", self._set_sink),
            "How far it goes down where the height is measured",
        )

    def _add_tied(self) -> None:
        self.heading("How high the springs are tied")
        self.back = self.row(
            "Tied height at the back",
            LengthField(self._bench, "Tied height at the back", self._set_back),
            "Lower than in front lets the seat fall to the back, straight between",
        )
        self.level = button("The same at the back", "No fall to the back")
        self.level.clicked.connect(lambda: self._set_back(None))
        self.put(self.level)
        self.crown = self.row(
            "{Crown}",
            LengthField(self._bench, "Crown", self._set_crown),
            "How much higher the middle is tied than the rim, rising smoothly",
        )
        self.facts = {name: self.fact(name) for name in ("Tied down by", "Springs stand at")}

    def _add_sitters(self) -> None:
        self.sitters = label("", "small")
        self.fold = self.put(Fold(self._bench, "Whose feet reach the floor", self.sitters))

    # following --------------------------------------------------------------------------------

    @property
    def follower(self) -> StackPart:
        """The part that follows from the others."""
        known = [part for part, _ in FOLLOWERS]
        kept = self._bench.settings.text(SETTING, known[0])
        return next((part for part in known if part == kept), known[0])

    def follow(self) -> None:
        """Shows the deck as it is."""
        deck = self._bench.deck
        if deck is None:
            return
        words = self._bench.words
        self.follows.offer([(part, words.fill(told)) for part, told in FOLLOWERS])
        self.follows.show_value(self.follower)
        self._show_stack(deck)
        self.measured.show_value(deck.seat.measured_at)
        self.sink.show_mm(deck.seat.cushion_sink)
        back = deck.tying.tied_height_back
        self.back.show_mm(back)
        self.back.setPlaceholderText("as in front")
        self.level.setVisible(back is not None)
        self.crown.show_mm(deck.tying.crown)
        self._show_facts()
        self.rails.follow()
        self.advice.follow()
        self._show_sitters(deck)
        self.picture.follow()

    def _show_stack(self, deck: Deck) -> None:
        follower = self.follower
        known = is_known(deck, follower)
        for part, field in self.fields.items():
            mine = known and part == follower
            value = following(deck, part) if mine else part_of(deck, part)
            field.setEnabled(not mine)
            field.setPlaceholderText("not known" if part == follower else "not decided")
            field.show_mm(value)
        self.missing.setText("" if known else self._missing_words(deck))
        self.missing.setVisible(not known)

    def _missing_words(self, deck: Deck) -> str:
        follower = self.follower
        lacking = {
            "finished_height": "the finished height",
            "floor_to_webbing": "the floor to the {webbing}",
        }
        names = [
            told
            for part, told in lacking.items()
            if part != follower and part_of(deck, part) is None  # type: ignore[arg-type]  # a part
        ]
        told = f"Give {' and '.join(names)}; {dict(FOLLOWERS)[follower]} then follows."
        return self._bench.words.fill(told)

    def _show_facts(self) -> None:
        plan, deck = self._bench.planner.plan, self._bench.deck
        for fact in self.facts.values():
            fact.setText("–")
        if plan is None or deck is None or not deck.springs:
            return
        heights, length = plan.parts.heights, self._bench.length
        down = length(heights.free_height - heights.tied_height)
        self.facts["Tied down by"].setText(f"{down}, {heights.typical_squeeze:.0%}")
        low, high = length(float(heights.tied.min())), length(float(heights.tied.max()))
        least = length(float(heights.tied.min()), unit=False)
        self.facts["Springs stand at"].setText(high if low == high else f"{least} to {high}")

    def _show_sitters(self, deck: Deck) -> None:
        plan = self._bench.planner.plan
        finished = plan.parts.heights.finished_height if plan else None
        source = _SITTERS_SOURCE.format(shoe=self._bench.length(SHOE))
        if finished is None:
            self.sitters.setText("The seat's finished height is not known yet.")
            return
        men, women = (f"{share_with_feet_down(knees, finished):.0%}" for knees in KNEES)
        self.sitters.setText(f"{_SITTERS.format(men=men, women=women)}\n\n{source}")

    def _draw(self, room: tuple[float, float]) -> Drawing | None:
        deck = self._bench.deck
        if deck is None:
            return None
        follows = self.follower if is_known(deck, self.follower) else None
        colours = side_colours(self._bench.palette)
        return stack_view(deck, room, colours, follows, self._bench.words)

    # editing ----------------------------------------------------------------------------------

    def _setter(self, part: StackPart) -> Callable[[float], None]:
        return lambda mm: self._set(part, mm)

    def _set(self, part: StackPart, mm: float) -> None:
        deck = self._bench.document.deck
        if deck is None:
            return
        name = next(words for key, words, _ in _ROWS if key == part)
        after = with_part(deck, part, mm)
        if part == self.follower:  # what was typed is decided: another part follows
            self._bench.settings.keep(SETTING, OTHER_FOLLOWER[part])
            told = dict(FOLLOWERS)[self.follower]
            self._bench.say(
                self._bench.words.fill(f"{told.capitalize()} follows from the rest now.")
            )
        self._edit(self._bench.words.fill(name), after)

    def _edit(self, words: str, after: Deck) -> None:
        """One step, with the part that follows brought into line; raises ValueError."""
        self._bench.document.edit(words, self._stacked(after))

    def _stacked(self, deck: Deck) -> Deck:
        """The deck with the part that follows brought into line; says where a wish gives way."""
        after, wish = stacked(deck, self.follower), deck.seat.finished_height
        comes_to = following(after, "finished_height")
        if wish is not None and after.seat.finished_height is None and comes_to is not None:
            comes, wished = (self._bench.length(mm, "exact") for mm in (comes_to, wish))
            if comes != wished:
                self._bench.say(f"The finished height follows: {comes} instead of {wished}.")
        return after

    def _let_follow(self, part: str) -> None:
        self._bench.settings.keep(SETTING, part)
        told = dict(FOLLOWERS)[self.follower]
        words = self._bench.words.fill(f"Let {told} follow")
        self._bench.attempt(words, lambda deck: let_follow(deck, self.follower))
        self.follow()

    def _measure_at(self, place: str) -> None:
        self._bench.attempt(
            "Where the height is measured",
            lambda deck: stacked(edits.set_seat(deck, measured_at=place), self.follower),
        )

    def _set_sink(self, mm: float) -> None:
        deck = self._bench.document.deck
        if deck is not None:
            self._edit("Cushion sinks", edits.set_seat(deck, cushion_sink=mm))

    def _set_back(self, mm: float | None) -> None:
        deck = self._bench.document.deck
        if deck is not None:
            after = edits.set_tying(deck, tied_height_back=mm)
            self._edit("Tied height at the back", after)

    def _set_crown(self, mm: float) -> None:
        deck = self._bench.document.deck
        if deck is not None:
            self._edit(self._bench.words.fill("{Crown}"), edits.set_tying(deck, crown=mm))

    def _tie_to(self, mm: float) -> None:
        """Ties to that height; where the tied height follows it no longer does."""
        if self.follower == "tied_height":
            self._bench.settings.keep(SETTING, "finished_height")
        self._bench.attempt(
            "Tied height",
            lambda deck: self._stacked(with_part(deck, "tied_height", mm)),
        )
        self.follow()
