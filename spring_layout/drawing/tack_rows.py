"""The tack points' labels: a row outside each rail, none upon a rail, a leader or another row.

A row that would be is lifted further out, then moved along its rail away from a notch, and where
neither helps the rows are set out again with that one first.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from spring_layout.drawing.columns import Rect
from spring_layout.drawing.rails import rail_shapes
from spring_layout.drawing.tack_row import (
    AFTER,
    KINK,
    LEAST,
    LEAVE,
    TWO_ROWS,
    Manner,
    Row,
    TackLabels,
    TackLettering,
    label_length,
)
from spring_layout.drawing.tacks import Tack, tacks_of
from spring_layout.drawing.view import View
from spring_layout.planning.parts import Parts

__all__ = ["LEAST", "Manner", "TackLabels", "TackLettering", "band_depth", "labels_of_sides"]

_DIAGONAL = ("diagonal-rising", "diagonal-falling")
_LIFTS = tuple(4.0 * i for i in range(20))
"""mm by which a row of labels is lifted out of the way of others, tried in turn."""
_INSETS, _LOW_LIFTS = (5.0, 10.0, 15.0), (0.0, 4.0, 8.0)
"""mm by which it is then moved away from a notch, and lifted as well."""
_MOST_TURNS = 4
"""So many times the rows are set out in another order."""


def band_depth(parts: Parts, manner: Manner, lettering: TackLettering = LEAST) -> float:
    """How far the labels reach outward from the rails' outer edges at most, mm on paper."""
    tacks = [tack for row in tacks_of(parts).values() for tack in row]
    longest = max((label_length(t, parts, manner, lettering) for t in tacks), default=0.0)
    rows = 2 if manner in TWO_ROWS else 1
    return LEAVE + KINK + rows * (longest + AFTER)


def labels_of_sides(
    parts: Parts,
    view: View,
    manner: Manner,
    room: Rect | None = None,
    size: TackLettering = LEAST,
    spare: int = 0,
) -> list[TackLabels] | None:
    """The labels of every side in one manner, or None where some rail has no room for them.

    They stay in ``room`` (mm on paper) where one is given. Rails of which no more than ``spare``
    labels in all find no room go without them.
    """
    rows = _Rows(parts, view, manner, room, size)
    order = sorted(rows.tacks)
    for _ in range(_MOST_TURNS):
        placed, failed = rows.placed_in(order)
        if failed is None:
            return [placed[side] for side in sorted(placed)]
        others = [side for side in order if side != failed]
        if len(rows.tacks[failed]) <= spare:
            spare -= len(rows.tacks[failed])
            order = others
        elif failed == order[0]:
            return None
        else:
            order = [failed, *others]
    return None


@dataclass(frozen=True)
class _Ground:
    """Where no label may stand: rails and opening; and the sheet that it must stay on."""

    shape: shapely.Geometry
    sheet: shapely.Polygon | None

    def allows(self, labels: TackLabels) -> bool:
        """Whether no label of a row stands on the rails or in the opening."""
        return not shapely.intersects(self.shape, np.array(labels.shapes)).any()

    def holds(self, labels: TackLabels) -> bool:
        """Whether a row lies on the sheet."""
        return self.sheet is None or self.sheet.covers(shapely.MultiPolygon(labels.shapes))


def _ground_of(parts: Parts, view: View, room: Rect | None) -> _Ground:
    outline = parts.standing.outline
    shapes = [*rail_shapes(parts.deck.frame, outline).values(), outline.polygon]
    shape = shapely.transform(shapely.union_all(shapes), view.places)
    shapely.prepare(shape)
    if room is None:
        return _Ground(shape, None)
    sheet = shapely.box(room.x, room.y, room.x + room.width, room.y + room.height)
    return _Ground(shape, sheet)


class _Rows:
    """The rows that the sides of a deck may have in one manner."""

    def __init__(
        self, parts: Parts, view: View, manner: Manner, room: Rect | None, size: TackLettering
    ) -> None:
        self._parts, self._view, self._manner, self._size = parts, view, manner, size
        self._ground = _ground_of(parts, view, room)
        self.tacks: dict[int, list[Tack]] = {
            side: [t for t in tacks if manner != "straight" or t.line.run not in _DIAGONAL]
            for side, tacks in tacks_of(parts).items()
        }

    def placed_in(self, order: Sequence[int]) -> tuple[dict[int, TackLabels], int | None]:
        """The rows of the sides in that order, up to the first that has no room; which that is."""
        placed: dict[int, TackLabels] = {}
        for side in order:
            labels = self._free_row(side, list(placed.values()))
            if labels is None:
                return placed, side
            placed[side] = labels
        return placed, None

    def _free_row(self, side: int, placed: Sequence[TackLabels]) -> TackLabels | None:
        """The first row of a side that keeps clear of those placed; None where it has no room."""
        others = shapely.STRtree([s for row in placed for s in (*row.shapes, *row.leaders)])
        for labels in self._tries(side):
            both = [*labels.shapes, *labels.leaders]
            if self._ground.allows(labels) and not len(others.query(both, "intersects")[0]):
                return labels
        return None

    def _tries(self, side: int) -> Iterator[TackLabels]:
        """The rows that a side may have, the best first."""
        moves = [(lift, 0.0) for lift in _LIFTS]
        moves += [(lift, inset) for inset in _INSETS for lift in _LOW_LIFTS]
        for lift, inset in moves:
            row = Row(
                self._parts,
                self._view,
                side,
                self.tacks[side],
                self._manner,
                self._size,
                lift,
                inset,
            )
            labels = row.labels()
            if labels is None:
                return
            if self._ground.holds(labels):
                yield labels
