"""Keeps the base on the canvas in step: strips in the hand, the picked one, the route."""

from PySide6.QtCore import QObject

from spring_layout.gui.canvas.layers.base import BaseLayer
from spring_layout.gui.canvas.pens import pens_for
from spring_layout.gui.canvas.view import DeckView
from spring_layout.gui.routing import Routing
from spring_layout.gui.strips import parts_of
from spring_layout.gui.workbench import Workbench
from spring_layout.planning.parts import WebbingPlan
from spring_layout.planning.webbing import webbing_of


class BaseWork(QObject):
    """The base's part of the canvas."""

    def __init__(self, bench: Workbench, view: DeckView, routing: Routing, parent: QObject) -> None:
        super().__init__(parent)
        self._bench, self._view, self.routing = bench, view, routing
        self.layer = BaseLayer(view.deck_scene, pens_for(bench.palette, bench.ratio))
        self._in_front = False
        bench.planner.plan_changed.connect(self.follow)
        bench.planner.spaces_changed.connect(self.follow)
        bench.selection.changed.connect(self.follow)
        bench.stage_changed.connect(lambda _: self.follow())
        bench.look_changed.connect(self.restyle)
        routing.changed.connect(self.follow)
        view.zoomed.connect(lambda zoom: self.layer.keep_size(zoom))

    def restyle(self) -> None:
        """Takes the palette in use."""
        self.layer.restyle(pens_for(self._bench.palette, self._bench.ratio))

    def follow(self) -> None:
        """Shows strips, the picked strip and the route as they are now."""
        bench, plan = self._bench, self._bench.planner.plan
        self._bring_forward(bench.stage == "base")
        if bench.stage != "base" or plan is None or bench.planner.standing is None:
            self.layer.show_picked(())
            self.layer.show_route(None, {})
            return
        webbing = self.webbing()
        if webbing is not None:
            if bench.document.is_previewing:
                self._view.deck_scene.webbing.show(webbing, bench.planner.standing.outline)
            self.layer.show_picked(parts_of(webbing, bench.selection.picked.strip))
        self._show_route()

    def _bring_forward(self, in_front: bool) -> None:
        """Takes the ties away and pales the springs while the base is worked on."""
        if not in_front and not self._in_front:
            return
        self._in_front = in_front
        scene = self._view.deck_scene
        for tie in scene.ties.ties.values():
            for span in tie.spans:
                span.setVisible(not in_front)
        quiet = in_front or self._bench.stage == "frame"
        for ring in scene.springs.rings.values():
            ring.show_as(ring.is_picked, ring.is_held, quiet)

    def webbing(self) -> WebbingPlan | None:
        """The strips of the deck on show; while one is in the hand the plan of them would lag."""
        return shown_webbing(self._bench)

    def _show_route(self) -> None:
        deck, route = self._bench.deck, self.routing.route
        if deck is None or route is None or self._bench.document.is_previewing:
            self.layer.show_route(None, {})
            return
        centres = {spring.id: (spring.x, spring.y) for spring in deck.springs}
        known = all(stitch.spring in centres for stitch in route.stitches)
        self.layer.show_route(route if known else None, centres)


def shown_webbing(bench: Workbench) -> WebbingPlan | None:
    """The strips of the deck on show."""
    plan, standing = bench.planner.plan, bench.planner.standing
    if plan is None or standing is None:
        return None
    return webbing_of(standing) if bench.planner.is_behind else plan.parts.webbing
