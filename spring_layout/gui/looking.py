"""Which way the side view looks: along a tie, or straight across the deck."""

from PySide6.QtCore import QObject, Signal

from spring_layout.drawing.side_view import Across, Sight
from spring_layout.gui.selection import TieKey
from spring_layout.plan import Plan

FROM_THE_FRONT, FROM_THE_LEFT = 270.0, 0.0
"""degrees: a cut front to back, its front at the left; a cut side to side."""


class Looking(QObject):
    """What the side view shows; the panel, the canvas and the pages share it."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.at: TieKey | Across | None = None

    def look(self, at: TieKey | Across | None) -> None:
        """Looks along that tie or cut; None goes back to what is shown at first."""
        if at != self.at:
            self.at = at
            self.changed.emit()

    def sight(self, plan: Plan) -> Sight:
        """What to draw of ``plan``: a tie that is gone gives way to the first, or to a cut."""
        if isinstance(self.at, Across):
            return self.at
        lines = plan.parts.ties.lines
        if self.at is not None:
            for line in lines:
                if line.run == self.at.run and self.at.spring in line.springs:
                    return line.number
        return lines[0].number if lines else middle_cut(plan, FROM_THE_FRONT)


def middle_cut(plan: Plan, angle: float) -> Across:
    """A cut through the middle of the opening."""
    x0, y0, x1, y1 = plan.parts.standing.outline.bounds
    return Across(((x0 + x1) / 2, (y0 + y1) / 2), angle)
