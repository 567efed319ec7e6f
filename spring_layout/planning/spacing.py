"""How the springs stand to each other and to the rails: gaps, clearances, evenness."""

from dataclasses import dataclass

import numpy as np

from spring_layout.geometry.spacing import (
    facing_sides,
    gaps,
    joined_pairs,
    natural_neighbours,
    nearest_rings,
    side_clearances,
)
from spring_layout.planning.parts import Array, Spaces, Standing
from spring_layout.tolerances import SAME_GAP


def spaces_of(standing: Standing) -> Spaces:
    """The gaps between the top coils and their distances from the inside edge.

    ``nearest`` has the smallest gap, then the smaller y, then the smaller x; of sides equally
    near the first in the frame counts. Natural neighbours are as in
    ``geometry.spacing.natural_neighbours``.
    """
    centres, radii = standing.centres, standing.radii
    joined = joined_pairs(centres)
    nearest, gap = nearest_rings(centres, radii, joined)
    to_sides = side_clearances(standing.outline, centres, radii)
    neighbours = natural_neighbours(standing.outline, centres, joined)
    return Spaces(
        nearest=nearest,
        gap=gap,
        nearest_side=np.round(to_sides / SAME_GAP).argmin(axis=1),
        clearance=to_sides.min(axis=1),
        side_clearances=to_sides,
        neighbours=neighbours,
        neighbour_gaps=gaps(centres, radii, neighbours),
    )


@dataclass(frozen=True)
class Evenness:
    """How even the spacing is, mm; None where there is nothing to compare.

    ``gap_least`` and ``gap_most`` are the smallest and largest gap between natural neighbours,
    ``rim_least`` and ``rim_most`` the smallest and largest distance from a top coil to a side
    that its spring faces. The spreads are most less least: 0 in a deck that is spaced evenly.
    """

    gap_least: float | None
    gap_most: float | None
    rim_least: float | None
    rim_most: float | None

    @property
    def gap_spread(self) -> float | None:
        """Largest less smallest gap between natural neighbours, mm."""
        return _spread(self.gap_least, self.gap_most)

    @property
    def rim_spread(self) -> float | None:
        """Largest less smallest distance from the rail along the rim, mm."""
        return _spread(self.rim_least, self.rim_most)


def evenness_of(standing: Standing, spaces: Spaces) -> Evenness:
    """How even the gaps between natural neighbours and the distances along the rim are.

    Natural neighbours are as in ``geometry.spacing.natural_neighbours``, the springs of the rim
    and the sides they face as in ``geometry.spacing.facing_sides``.
    """
    rim = facing_sides(standing.outline, standing.centres)
    clearances = spaces.side_clearances[rim[:, 0], rim[:, 1]]
    return Evenness(*_range(spaces.neighbour_gaps), *_range(clearances))


def _range(values: Array) -> tuple[float | None, float | None]:
    return (float(values.min()), float(values.max())) if len(values) else (None, None)


def _spread(least: float | None, most: float | None) -> float | None:
    return None if least is None or most is None else most - least
