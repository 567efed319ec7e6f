"""The deck in plan: puts the layers together and keeps them in step with the workbench."""

from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QGraphicsScene

from spring_layout.gui.canvas.hits import middle_of
from spring_layout.gui.canvas.layers.frame import FrameLayer
from spring_layout.gui.canvas.layers.guides import GuideLayer, HandleLayer
from spring_layout.gui.canvas.layers.knots import AnchorLayer, KnotLayer
from spring_layout.gui.canvas.layers.springs import SpringLayer
from spring_layout.gui.canvas.layers.ties import TieLayer, TieLooks
from spring_layout.gui.canvas.layers.webbing import WebbingLayer
from spring_layout.gui.canvas.pens import pens_for
from spring_layout.gui.selection import TieKey
from spring_layout.gui.workbench import Workbench
from spring_layout.tolerances import SAME_PLACE

ROOM = 3.0
"""How much larger than the frame the scene is, so that it can be panned anywhere useful."""


class DeckScene(QGraphicsScene):
    """Shows the deck, its plan and the selection; decides nothing."""

    def __init__(self, bench: Workbench) -> None:
        super().__init__(bench)
        self._bench = bench
        pens = pens_for(bench.palette, bench.ratio)
        self.frame = FrameLayer(self, pens)
        self.webbing = WebbingLayer(self, pens)
        self.springs = SpringLayer(self, pens)
        self.ties = TieLayer(self, pens)
        self.knots = KnotLayer(self, pens)
        self.anchors = AnchorLayer(self, pens)
        self.guides = GuideLayer(self, pens)
        self.handles = HandleLayer(self, pens)
        self.hovered: TieKey | None = None
        self.step: int | None = None
        self.with_handles = False
        self._reach = QRectF()
        bench.planner.spaces_changed.connect(self.follow_deck)
        bench.planner.plan_changed.connect(self.follow_plan)
        bench.selection.changed.connect(self.follow_selection)
        bench.stage_changed.connect(lambda _: self.follow_selection())
        bench.look_changed.connect(self.restyle)
        self.restyle()

    def restyle(self) -> None:
        """Takes the palette in use."""
        pens = pens_for(self._bench.palette, self._bench.ratio)
        self.setBackgroundBrush(pens.desk)
        layers = (self.frame, self.webbing, self.springs, self.ties, self.knots)
        for layer in (*layers, self.anchors, self.guides, self.handles):
            layer.restyle(pens)
        self.follow_deck()
        self.follow_plan()

    def follow_deck(self) -> None:
        """Shows the deck as it stands; ties are pulled along until their plan comes."""
        deck, standing = self._bench.deck, self._bench.planner.standing
        if deck is None or standing is None:
            self.frame.clear()
            self.springs.clear()
            self.handles.clear()
            return
        picked = self._bench.selection.picked
        self.frame.clear_rails(self._bench.stage in ("ties", "paper"))
        self.frame.show(deck.frame, standing.outline, picked.side)
        self.springs.show(deck, picked.springs, self._is_frame_stage)
        self._pull_ties()
        self._show_handles()
        self._grow()

    def follow_plan(self) -> None:
        """Shows what was planned: ties, knots, tack points, labels, marks."""
        plan = self._bench.planner.plan
        if plan is None or self._bench.deck is None:
            for layer in (self.ties, self.guides, self.webbing, self.anchors):
                layer.clear()
            self.knots.show(())
            return
        parts = plan.parts
        self.ties.show(parts.ties.lines)
        self.knots.show(parts.ties.crossings)
        self.anchors.show(parts.deck, parts.standing.outline, parts.ties)
        if self._bench.stage != "springs" or not self._bench.document.is_previewing:
            # strips that follow a spring in the hand would have the whole deck painted anew
            self.webbing.show(parts.webbing, parts.standing.outline)
        self.springs.write(parts.labels)
        self._mark_findings()
        if self._bench.planner.is_behind:
            self._pull_ties()
        self._emphasise()

    def follow_selection(self) -> None:
        """Shows what is selected and what the stage brings forward."""
        self.follow_deck()
        self._emphasise()

    def hover(self, tie: TieKey | None) -> None:
        """Emphasises the tie under the pointer."""
        if tie != self.hovered:
            self.hovered = tie
            self._emphasise()

    def show_step(self, step: int | None) -> None:
        """Shows what is tied so far, tie number ``step`` being the next; None shows all."""
        if step != self.step:
            self.step = step
            self._emphasise()

    def show_handles(self, visible: bool) -> None:
        """Whether corners and sides can be taken hold of."""
        self.with_handles = visible
        self._show_handles()

    def keep_size(self, zoom: float) -> None:
        """Keeps labels and signs as large as they are at ``zoom`` px/mm."""
        layers = (self.springs, self.knots, self.anchors, self.guides, self.handles)
        for layer in layers:
            layer.keep_size(zoom)
        for item in self.frame.steady():
            item.keep_size(zoom)

    @property
    def _is_frame_stage(self) -> bool:
        return self._bench.stage == "frame"

    def _pull_ties(self) -> None:
        """Takes the ties of springs that stand elsewhere than in the plan along with them."""
        plan, standing = self._bench.planner.plan, self._bench.planner.standing
        if plan is None or standing is None:
            return
        planned = plan.parts.standing
        if planned.ids == standing.ids:
            apart = abs(planned.centres - standing.centres).max(axis=1) > SAME_PLACE
            moved = (
                {
                    standing.ids[i]: (float(x), float(y))
                    for i, (x, y) in enumerate(standing.centres)
                    if apart[i]
                }
                if apart.any()
                else {}
            )
            self.ties.pull(moved)

    def _mark_findings(self) -> None:
        marked: dict[str, set[str]] = {"wrong": set(), "doubtful": set(), "note": set()}
        for finding in self._bench.findings():
            if finding.stage == "springs" or len(finding.springs) <= 2:
                marked[finding.severity].update(finding.springs)
        wrong = frozenset(marked["wrong"])
        self.springs.mark(wrong, frozenset(marked["doubtful"]) - wrong)

    def _emphasise(self) -> None:
        step = self.step if self._bench.stage == "ties" else None
        in_front = self._bench.stage in ("ties", "paper")
        picked = self._bench.selection.picked.tie
        self.ties.show_as(TieLooks(not in_front, picked, self.hovered, step))
        self.knots.show_as(in_front, step)
        self.anchors.show_as(in_front, step)

    def _show_handles(self) -> None:
        deck, standing = self._bench.deck, self._bench.planner.standing
        if not self.with_handles or deck is None or standing is None:
            self.handles.clear()
            return
        outline = standing.outline
        middles = [middle_of(outline, i) for i in range(len(outline.sides))]
        picked = self._bench.selection.picked.corner
        self.handles.show(deck.frame.corners, middles, picked)

    def _grow(self) -> None:
        """The scene reaches well past the frame; it never shrinks under the hand."""
        standing = self._bench.planner.standing
        if standing is None:
            return
        x0, y0, x1, y1 = standing.outline.bounds
        wide, deep = (x1 - x0) * ROOM, (y1 - y0) * ROOM
        wanted = QRectF(x0 - wide, y0 - deep, x1 - x0 + 2 * wide, y1 - y0 + 2 * deep)
        frame = QRectF(x0, y0, x1 - x0, y1 - y0)
        if not self._reach.contains(frame) or self._reach.width() > 3 * wanted.width():
            self._reach = wanted
            self.setSceneRect(wanted)
