"""The tack points' labels: a row outside each rail, none upon a rail, a leader or another row.

A row that would be is lifted further out, then moved along its rail away from a notch, and where
neither helps the rows are set out again with that one first.
"""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from spring_layout.drawing.rails import rail_shapes
from spring_layout.drawing.tack_row import (
    LEAST,
    Manner,
    Row,
    TackLabels,
    TackLettering,
)
from spring_layout.drawing.tacks import Tack, tacks_of
from spring_layout.drawing.view import View
from spring_layout.planning.parts import Parts

__all__ = ["LEAST", "Manner", "TackLabels", "TackLettering", "labels_of_sides"]

_DIAGONAL = ("diagonal-rising", "diagonal-falling")
_LIFTS = tuple(4.0 * i for i in range(20))
"""mm by which a row of labels is lifted out of the way of others, tried in turn."""
_INSETS, _LOW_LIFTS = (5.0, 10.0, 15.0), (0.0, 4.0, 8.0)
"""mm by which it is then moved away from a notch, and lifted as well."""
_MOST_TURNS = 4
"""So many times the rows are set out in another order."""


def labels_of_sides(
    parts: Parts,
    view: View,
    manner: Manner,
    size: TackLettering = LEAST,
    spare: int = 0,
) -> list[TackLabels] | None:
    """The labels of every side in one manner, or None where some rail has no room for them.

    Rails of which no more than ``spare`` labels in all find no room go without them.
    """
    rows = _Rows(parts, view, manner, size)
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


def _ground_of(parts: Parts, view: View) -> shapely.Geometry:
    """Where no label may stand: the rails and the opening, on the paper."""
    outline = parts.standing.outline
    shapes = [*rail_shapes(parts.deck.frame, outline).values(), outline.polygon]
    shape = shapely.transform(shapely.union_all(shapes), view.places)
    shapely.prepare(shape)
    return shape


class _Rows:
    """The rows that the sides of a deck may have in one manner."""

    def __init__(self, parts: Parts, view: View, manner: Manner, size: TackLettering) -> None:
        self._parts, self._view, self._manner, self._size = parts, view, manner, size
        self._ground = _ground_of(parts, view)
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
            on_ground = shapely.intersects(self._ground, np.array(labels.shapes)).any()
            if not on_ground and not len(others.query(both, "intersects")[0]):
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
            yield labels
