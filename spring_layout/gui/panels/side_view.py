"""The side view: the deck cut along the chosen tie or straight across, with what is said of it."""

import re

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QToolButton, QVBoxLayout, QWidget

from spring_layout.checks.tie_words import ring_words
from spring_layout.drawing.primitives import Drawing
from spring_layout.drawing.side_view import (
    Across,
    Sight,
    SightError,
    line_named,
    side_picture,
    twine_words,
)
from spring_layout.gui.looking import FROM_THE_FRONT, FROM_THE_LEFT, middle_cut
from spring_layout.gui.panels.drawn import DrawnPicture
from spring_layout.gui.panels.fields import Choice, LengthField, label
from spring_layout.gui.panels.pages.counts import CountField
from spring_layout.gui.selection import TieKey
from spring_layout.gui.theme.icons import icon
from spring_layout.gui.theme.side_colours import side_colours
from spring_layout.gui.words import RUN_WORDS
from spring_layout.gui.workbench import Workbench
from spring_layout.plan import Plan

LEAST = QSize(320, 110)
LEAST_BESIDE, MOST_BESIDE = 208, 300
"""px, the column of words at the left of the picture."""
FRONT_TO_BACK, SIDE_TO_SIDE, ELSEWHERE = "front-to-back-cut", "side-to-side-cut", "elsewhere"


class SideView(QWidget):
    """Follows the selected tie, the list of ties, and cuts drawn across the deck."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__()
        self._bench = bench
        self.setObjectName("sheet")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.along = Choice("Cut along")
        self.along.setToolTip("The tie or the line along which the deck is shown cut")
        self.along.chosen.connect(self._choose)
        self.right = LengthField(bench, "Cut right of the middle", self._set_right)
        self.down = LengthField(bench, "Cut from the back", self._set_down)
        self.turn = CountField(bench, "Direction of the cut", (0, 359), self._set_turn, "°")
        self.turn.setToolTip("0° cuts from left to right, 270° from front to back")
        self.words = label("", "small")
        self.words.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.save = QToolButton()
        self.save.setAccessibleName("Save this view…")
        self.save.setToolTip("Save this view as a picture (SVG) or for printing (PDF), to scale")
        self.save.setFixedSize(32, 32)
        self.picture = DrawnPicture(bench, "Side view", self._draw, LEAST)
        self._lay_out()
        bench.planner.plan_changed.connect(self.follow)
        bench.looking.changed.connect(self.follow)
        bench.selection.changed.connect(self._follow_selection)
        bench.words_changed.connect(self.follow)
        bench.look_changed.connect(self.restyle)
        self.restyle()
        bench.document.replaced.connect(lambda: bench.looking.look(None))

    def _lay_out(self) -> None:
        self.place = QWidget()
        fields = QHBoxLayout(self.place)
        fields.setContentsMargins(0, 0, 0, 0)
        fields.setSpacing(4)
        for field, tip in (
            (self.right, "A place of the cut, from the middle to the right"),
            (self.down, "A place of the cut, from the back"),
        ):
            field.explain(tip)
            field.setMinimumWidth(64)
            fields.addWidget(field)
        fields.addWidget(self.turn)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self._beside(), 1)
        row.addWidget(self.picture, 2)

    def _beside(self) -> QScrollArea:
        """The column of words at the left."""
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(8, 8, 4, 4)
        column.setSpacing(4)
        head = QHBoxLayout()
        head.setSpacing(4)
        head.addWidget(self.along, 1)
        head.addWidget(self.save)
        column.addLayout(head)
        for widget in (self.place, self.words):
            column.addWidget(widget)
        column.addStretch(1)
        beside = QScrollArea()
        beside.setWidget(inside)
        beside.setWidgetResizable(True)
        beside.setFrameShape(QScrollArea.Shape.NoFrame)
        beside.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        beside.setMinimumWidth(LEAST_BESIDE)
        beside.setMaximumWidth(MOST_BESIDE)
        return beside

    def restyle(self) -> None:
        """Tints the icon."""
        self.save.setIcon(icon("document-save-as", self._bench.palette))

    # following --------------------------------------------------------------------------------

    def showEvent(self, event: object) -> None:
        super().showEvent(event)  # type: ignore[arg-type]  # the event that Qt gave
        self.follow()

    def follow(self) -> None:
        """Takes up the plan and what is looked at; waits while nobody sees it."""
        plan = self._bench.planner.plan
        for widget in (self.along, self.place, self.save):
            widget.setEnabled(plan is not None)
        if plan is None or not self.isVisible():
            return
        if self._bench.document.is_previewing:
            self.picture.follow()  # words and lists wait for the hand
            return
        sight = self._bench.looking.sight(plan)
        self._offer(plan)
        self.along.show_value(self._value(plan, sight))
        self.place.setVisible(isinstance(sight, Across))
        if isinstance(sight, Across):
            self._show_place(sight)
        self.words.setText(unbroken("\n".join(self._told(plan, sight))))
        self.picture.follow()

    def _offer(self, plan: Plan) -> None:
        words, label_of = self._bench.words, self._bench.label
        ties = [
            (
                f"{line.run} {line.springs[0]}",
                f"{words.tie_title} {line.number}, {RUN_WORDS[line.run]}: "
                f"{', '.join(label_of(name) for name in line.springs)}",
            )
            for line in plan.parts.ties.lines
        ]
        cuts = [
            (FRONT_TO_BACK, "Front to back, through the middle"),
            (SIDE_TO_SIDE, "Side to side, through the middle"),
            (ELSEWHERE, "Across, as placed"),
        ]
        self.along.offer([*ties, *cuts])

    def _value(self, plan: Plan, sight: Sight) -> str:
        if not isinstance(sight, Across):
            line = plan.parts.ties.lines[sight - 1]
            return f"{line.run} {line.springs[0]}"
        for value, angle in ((FRONT_TO_BACK, FROM_THE_FRONT), (SIDE_TO_SIDE, FROM_THE_LEFT)):
            if sight == middle_cut(plan, angle):
                return value
        return ELSEWHERE

    def _show_place(self, cut: Across) -> None:
        across, down = self._bench.origin()
        self.right.show_mm(cut.point[0] - across)
        self.down.show_mm(cut.point[1] - down)
        self.turn.show_count(round(cut.angle) % 360)

    def _told(self, plan: Plan, sight: Sight) -> list[str]:
        """What is said beside the picture."""
        if isinstance(sight, Across):
            return ["Rails and springs are cut; what lies beyond is shown paler."]
        rings = ring_words(plan.parts, line_named(plan.parts, sight))
        told = [*([rings] if rings else []), *twine_words(plan, sight)]
        return [self._bench.words.retold(sentence) for sentence in told]

    def _draw(self, room: tuple[float, float]) -> Drawing | None:
        plan = self._bench.planner.plan
        if plan is None:
            return None
        sight = self._bench.looking.sight(plan)
        try:
            return side_picture(plan, sight, room, side_colours(self._bench.palette))
        except SightError as error:
            self.words.setText(f"{str(error)[0].upper()}{str(error)[1:]}.")
            return None

    def _follow_selection(self) -> None:
        tie = self._bench.selection.picked.tie
        if tie is not None:
            self._bench.looking.look(tie)

    # choosing ---------------------------------------------------------------------------------

    def _choose(self, value: str) -> None:
        plan, looking = self._bench.planner.plan, self._bench.looking
        if plan is None:
            return
        if value in (FRONT_TO_BACK, SIDE_TO_SIDE):
            angle = FROM_THE_FRONT if value == FRONT_TO_BACK else FROM_THE_LEFT
            looking.look(middle_cut(plan, angle))
        elif value == ELSEWHERE:
            looking.look(self._cut(plan))
            self.follow()
        else:
            run, spring = value.split()
            looking.look(TieKey(run, spring))  # type: ignore[arg-type]  # a run by its name

    def _cut(self, plan: Plan) -> Across:
        """The cut that is shown, or one beside the middle to begin with."""
        at = self._bench.looking.at
        if isinstance(at, Across):
            return at
        return middle_cut(plan, FROM_THE_LEFT + 45.0)

    def _set_right(self, mm: float) -> None:
        self._place_cut(x=self._bench.origin()[0] + mm)

    def _set_down(self, mm: float) -> None:
        self._place_cut(y=self._bench.origin()[1] + mm)

    def _set_turn(self, degrees: int) -> None:
        self._place_cut(angle=float(degrees))

    def _place_cut(
        self, x: float | None = None, y: float | None = None, angle: float | None = None
    ) -> None:
        plan = self._bench.planner.plan
        if plan is None:
            return
        now = self._cut(plan)
        place = (now.point[0] if x is None else x, now.point[1] if y is None else y)
        self._bench.looking.look(Across(place, now.angle if angle is None else angle))


def unbroken(sentence: str) -> str:
    """The sentence with no line broken inside a length: "5 7/8 in" stays together."""
    return _INSIDE_A_LENGTH.sub("\u00a0", sentence)


_INSIDE_A_LENGTH = re.compile(r"(?<=\d) (?=\d+/\d|in\b|mm\b|ft\b|m\b)")
