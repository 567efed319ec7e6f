"""How the springs stand to each other and to the rails: gaps, clearances, evenness."""

import numpy as np

from spring_layout.geometry.spacing import (
    gaps,
    natural_neighbours,
    nearest_rings,
    side_clearances,
)
from spring_layout.planning.parts import Spaces, Standing
from spring_layout.tolerances import SAME_GAP


def spaces_of(standing: Standing) -> Spaces:
    """The gaps between the top coils and their distances from the inside edge.

    ``nearest`` has the smallest gap, then the smaller y, then the smaller x; of sides equally
    near the first in the frame counts. Natural neighbours are as in
    ``geometry.spacing.natural_neighbours``.
    """
    centres, radii = standing.centres, standing.radii
    nearest, gap = nearest_rings(centres, radii)
    to_sides = side_clearances(standing.outline, centres, radii)
    neighbours = natural_neighbours(standing.outline, centres)
    return Spaces(
        nearest=nearest,
        gap=gap,
        nearest_side=np.round(to_sides / SAME_GAP).argmin(axis=1),
        clearance=to_sides.min(axis=1),
        side_clearances=to_sides,
        neighbours=neighbours,
        neighbour_gaps=gaps(centres, radii, neighbours),
    )
