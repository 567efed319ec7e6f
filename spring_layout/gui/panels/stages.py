"""The work in its order: a column of stages strung on a twine, a knot for each that is clear."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QFrame, QSizePolicy, QVBoxLayout, QWidget

from spring_layout.gui.canvas.items import diamond
from spring_layout.gui.theme.icons import pixmap
from spring_layout.gui.theme.look import SMALL, TEXT, font
from spring_layout.gui.words import counted
from spring_layout.gui.workbench import Workbench
from spring_layout.planning.finding import Finding, Stage

STAGES: tuple[tuple[Stage, str, str], ...] = (
    ("frame", "Frame", "The shape of the opening and its rails"),
    ("height", "Height", "How high the seat comes out, and which springs to buy"),
    ("springs", "Springs", "How many springs, and where each one stands"),
    ("base", "Base", "The {webbing} strip by strip, and the sewing-in of the springs"),
    ("ties", "{Ties}", "Which {ties} run where, and in what order they are tied"),
    ("paper", "Paper", "The diagram as it will print"),
)
"""Stage, its word, its tooltip; only those that work."""

WIDTH, HEIGHT = 104, 76
TWINE = 15.0
"""px from the left edge to the twine on which the stages are strung."""


class StageButton(QAbstractButton):
    """One stage: its icon and word, and on the twine its mark."""

    def __init__(self, bench: Workbench, stage: Stage, words: str, tip: str) -> None:
        super().__init__()
        self._bench = bench
        self.stage = stage
        self.is_first = self.is_last = False
        self._words, self._tip = words, tip
        self._looks: object = None
        self.setCheckable(True)
        self.setAutoExclusive(True)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.follow()

    def sizeHint(self) -> QSize:
        return QSize(WIDTH, HEIGHT)

    def follow(self) -> None:
        """Takes up the stage's findings."""
        self.setText(self._bench.words.fill(self._words))
        self.setToolTip(self._bench.words.fill(self._tip))
        serious = self._serious()
        clear = "clear" if self.is_begun else "nothing yet"
        told = counted(len(serious), "check") if serious else clear
        name = f"{self.text()}, {told}"
        looks = (name, self._bench.palette.name, self._bench.deck is None)
        if looks != self._looks:
            self._looks = looks
            self.setAccessibleName(name)
            self.setAccessibleDescription(self.toolTip())
            self.update()

    @property
    def is_begun(self) -> bool:
        """Whether there is anything to check: without springs only the frame and the height."""
        deck = self._bench.deck
        return deck is not None and (bool(deck.springs) or self.stage in ("frame", "height"))

    def _serious(self) -> list[Finding]:
        return [f for f in self._bench.findings(self.stage) if f.severity != "note"]

    def paintEvent(self, event: QPaintEvent) -> None:
        palette = self._bench.palette
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        card = QRectF(self.rect()).adjusted(2 * TWINE - 4, 4, -6, -4)
        if self.isChecked():
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(palette.accent_wash))
            painter.drawRoundedRect(card, 6, 6)
        if self.hasFocus() or self.underMouse():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            focused = self.hasFocus()
            painter.setPen(QPen(QColor(palette.accent if focused else palette.hair), 1 + focused))
            painter.drawRoundedRect(card, 6, 6)
        self._paint_card(painter, card)
        self._paint_mark(painter)
        painter.end()

    def _paint_card(self, painter: QPainter, card: QRectF) -> None:
        palette = self._bench.palette
        colour = palette.accent if self.isChecked() else palette.ink
        picture = pixmap(f"stage-{self.stage}", 28, self.devicePixelRatioF(), colour, palette.paper)
        painter.drawPixmap(QPointF(card.center().x() - 14, card.top() + 8), picture)
        painter.setFont(font(TEXT, self.isChecked()))
        painter.setPen(QColor(palette.ink))
        painter.drawText(card.adjusted(0, 38, 0, -4), Qt.AlignmentFlag.AlignCenter, self.text())

    def _paint_mark(self, painter: QPainter) -> None:
        """The twine, and on it a filled knot when clear, else how many findings there are."""
        palette, middle = self._bench.palette, QPointF(TWINE, self.height() / 2)
        painter.setPen(QPen(QColor(palette.rail_edge), 1.5))
        top = middle.y() if self.is_first else 0.0
        bottom = middle.y() if self.is_last else float(self.height())
        painter.drawLine(QPointF(TWINE, top), QPointF(TWINE, bottom))
        serious = self._serious()
        painter.translate(middle)
        if not serious and not self.is_begun:
            self._knot(painter, diamond(5), palette.paper, palette.rail_edge)
        elif not serious:
            self._knot(painter, diamond(5), palette.rail_edge, palette.rail_edge)
        else:
            self._knot(painter, diamond(11), palette.mark_wash, palette.mark)
            painter.setFont(font(SMALL, bold=True))
            painter.setPen(QColor(palette.mark))
            box = QRectF(-11, -11, 22, 22)
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(min(len(serious), 99)))

    def _knot(self, painter: QPainter, path: QPainterPath, fill: str, edge: str) -> None:
        painter.setPen(QPen(QColor(edge), 1.5))
        painter.setBrush(QColor(fill))
        painter.drawPath(path)


class StageColumn(QFrame):
    """The column at the left; choosing a stage brings its tools and its page."""

    def __init__(self, bench: Workbench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("sheet")
        self.setProperty("side", "left")
        self._bench = bench
        self.buttons = {
            stage: StageButton(bench, stage, words, tip) for stage, words, tip in STAGES
        }
        self.setFixedWidth(WIDTH)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 8, 0, 8)
        layout.setSpacing(0)
        for stage, button in self.buttons.items():
            button.clicked.connect(lambda _=False, s=stage: bench.choose_stage(s))
            layout.addWidget(button)
        ends = list(self.buttons.values())
        ends[0].is_first = ends[-1].is_last = True
        layout.addStretch(1)
        bench.planner.plan_changed.connect(self.follow)
        bench.stage_changed.connect(self._choose)
        bench.look_changed.connect(self.follow)
        bench.words_changed.connect(self.follow)
        self._choose(bench.stage)

    def follow(self) -> None:
        """Takes up the findings of the plan."""
        for button in self.buttons.values():
            button.follow()

    def _choose(self, stage: str) -> None:
        for name, button in self.buttons.items():
            button.setChecked(name == stage)
