"""The wire knots of the top coils: how many lie under a tie or a stitch, and turned clear of them.

The turn that is suggested keeps the knot clear of every hitch and stitch, at 45 degrees to the rows
wherever that is clear.
"""

from collections.abc import Mapping

from spring_layout.deck import edits
from spring_layout.deck.model import Deck
from spring_layout.gui.panels.form import Page, button
from spring_layout.gui.words import counted
from spring_layout.gui.workbench import Workbench
from spring_layout.plan import Plan
from spring_layout.planning.wire_knots import suggested_turns

_CODES = ("KNOT-UNDER-TIE", "KNOT-TURN")
_SAME = 0.05
"""degrees; a spring this near to its suggested turn is left as it is."""


class WireKnots:
    """Rows of a page."""

    def __init__(self, page: Page, bench: Workbench) -> None:
        self._bench = bench
        page.heading("Wire knots of the top coils")
        self.under = page.fact("Under a {tie}")
        self.turn = button(
            "Turn them clear", "Turns springs so that no hitch and no stitch sits on a wire knot"
        )
        self.turn.clicked.connect(self._turn)
        page.put(self.turn)

    def follow(self, plan: Plan) -> None:
        """Shows how many knots lie under a tie."""
        found = [f for f in plan.findings if f.code in _CODES]
        springs = {name for finding in found for name in finding.springs}
        self.under.setText(counted(len(springs), "spring") if springs else "none")
        self.turn.setEnabled(bool(springs))

    def _turn(self) -> None:
        plan = self._bench.planner.catch_up()
        if plan is None:
            return
        parts = plan.parts
        turns = suggested_turns(parts.deck, parts.standing, parts.hitches)
        self._bench.attempt("Turn the wire knots clear", lambda deck: turned(deck, turns))


def turned(deck: Deck, turns: Mapping[str, float]) -> Deck:
    """The deck with each spring at its turn, degrees; those that stand so already are left."""
    now = {spring.id: spring.turned % 360 for spring in deck.springs}
    for name, degrees in turns.items():
        if abs((now[name] - degrees + 180) % 360 - 180) > _SAME:
            deck = edits.turn_springs(deck, [name], round(degrees, 1))
    return deck
