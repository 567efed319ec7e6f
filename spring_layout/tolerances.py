"""Every tolerance of the program: name, value, unit, reason. Nothing else holds a bare epsilon."""

import math

COORDINATE_STEP = 0.001
"""mm. Coordinates are snapped to this on reading, so that mirrored, moved and turned decks give
the same sums in floating point."""

CHORD_ERROR = 0.05
"""mm. How far a drawn chord may lie from the true arc of a bowed side; a pencil line is 0.3 mm."""

SAME_PLACE = 0.01
"""mm. Two places nearer than this are one place; also the step to which results are written."""

SMOOTH_TURN = 15.0
"""degrees. Two sides that meet with less turn than this run on into each other: no corner."""

CROSSING_REACH = 6.0
"""mm. Places where ties meet that are chained by steps of at most this are one cross knot."""

COST_STEP = 1e-6
"""pitches. Tie costs are rounded to whole steps of this, so that equal costs are exactly equal."""

SAME_GAP = 1e-6
"""mm. Gaps and distances that differ by less are equal: floating-point noise of sums on the
coordinate grid stays below 1e-9 mm, real differences are a grid step or so."""

NEIGHBOUR_ANGLE = 75.0
"""degrees. A spring that sees two others under at least this angle stands between them: midway
between 60 (equal staggered rows) and 90 (square rows), so that small moves change neither."""

EVEN_TOLERANCE = 1e-4
"""share of a wished distance. Spacings whose shares differ by less are equally even: 0.005 mm of a
50 mm gap, which is the coordinate grid and a little."""

MIRROR_PARTNER = 1.0
"""mm. A spring this near to another's mirrored place is its partner: as near as one can set it."""

ROUND_SWEEP = math.radians(90.0)
"""radians. A side that turns farther than this belongs to a round frame; a bowed front or back of a
chair turns through 20 to 60 degrees."""
