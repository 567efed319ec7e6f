"""One way to look at decks that are the same: springs listed anew, or seen in a mirror.

Where several places are equally good, which one is found depends on the order in which springs
are listed and on left and right. Looked at in this way, a deck whose springs are listed in another
order gets the same places, and one mirrored within a symmetric frame the mirrored ones.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from spring_layout.planning.parts import Array, Standing
from spring_layout.planning.placing.keep import Constraints
from spring_layout.planning.placing.symmetry import frame_motions

FLAT = np.diag([-1.0, 1.0])
DIGITS = 9
"""Decimals of a mm to which mirrored places are rounded, so that mirrored twice is the same."""


@dataclass(frozen=True, eq=False)
class Look:
    """How a deck is looked at: ``order`` (n,) of its springs, ``axis`` x of the mirror or None."""

    order: NDArray[np.intp]
    axis: float | None

    def places(self, centres: Array) -> Array:
        """``centres`` (n, 2) of the deck as they look here."""
        return _mirrored(centres, self.axis)[self.order]

    def back(self, places: Array) -> Array:
        """Places found here, (n, 2), as they are in the deck."""
        found = np.empty_like(places)
        found[self.order] = places
        return _mirrored(found, self.axis)

    def rows(self, constraints: Constraints) -> Constraints:
        """The constraints for springs in this order."""
        number = np.empty(len(self.order), np.intp)
        number[self.order] = np.arange(len(self.order))
        rows = [tuple(int(number[spring]) for spring in row) for row in constraints.rows]
        rows = [row if row[0] <= row[-1] else row[::-1] for row in rows if row]
        return replace(constraints, rows=tuple(sorted(rows)))


def look_at(standing: Standing, held: NDArray[np.bool_]) -> Look:
    """The way to look at ``standing`` with the springs ``held`` (n,)."""
    axis = _mirror_axis(standing)
    looks = [_look(standing, held, None)]
    if axis is not None:
        looks.append(_look(standing, held, axis))
    return min(looks, key=lambda one: one[0])[1]


def _look(
    standing: Standing, held: NDArray[np.bool_], axis: float | None
) -> tuple[list[tuple[float, ...]], Look]:
    """What the deck looks like, to compare, and the look."""
    x, y = _mirrored(standing.centres, axis).T
    table = np.stack([y, x, standing.radii, held.astype(float)])
    order = np.lexsort(table[::-1])
    return [tuple(row) for row in table.T[order].tolist()], Look(order, axis)


def _mirror_axis(standing: Standing) -> float | None:
    """The x of the frame's left-and-right mirror, None for a lopsided frame."""
    for matrix, centre in frame_motions(standing.outline, np.empty((0, 2))):
        if np.allclose(matrix, FLAT):
            return float(centre[0])
    return None


def _mirrored(places: Array, axis: float | None) -> Array:
    if axis is None:
        return np.round(places, DIGITS)
    return np.round(np.array([2 * axis, 0.0]) + places * (-1.0, 1.0), DIGITS)
