"""Which pieces of twine pass over springs that they are not tied to."""

import numpy as np
import shapely

from spring_layout.planning.parts import Array, Standing
from spring_layout.planning.tying.course import DENSE
from spring_layout.planning.tying.touch import Rows, near


def springs_passed(standing: Standing, pieces: Array, own: Rows, slack: float) -> Rows:
    """(k,) how many springs each of ``pieces`` (k, 4) passes over, its ``own`` (k, any) aside.

    A piece passes over a spring when nearer to its centre than its top coil's radius less
    ``slack``, mm.
    """
    centres, radii = standing.centres, standing.radii
    if not len(pieces):
        return np.zeros(0, np.intp)
    if len(centres) <= DENSE:
        over = near(pieces, centres, np.maximum(radii - slack, 0.0))
        over[np.arange(len(pieces))[:, None], own] = False
        return np.asarray(over.sum(axis=1))
    lines, points = shapely.linestrings(pieces.reshape(-1, 2, 2)), shapely.points(centres)
    piece, spring = shapely.STRtree(points).query(
        lines, predicate="dwithin", distance=float(radii.max())
    )
    far = shapely.distance(lines[piece], points[spring])
    bad = (far < radii[spring] - slack) & ~(spring[:, None] == own[piece]).any(axis=1)
    return np.bincount(piece[bad], minlength=len(pieces)).astype(np.intp)
