"""The crown: how much of it each spring takes, and what of it comes to the middle of the seat.

The deepest spring is tied ``crown`` higher than the slope, the rim springs not at all, the springs
between on a rounded rise: with u the depth of a spring as a share of the greatest depth,
crown x (1 - (1 - u)^2), the shape of a dome, steep at the rim and level in the middle. The depth of
a spring is how far it stands inside the outermost springs (the shortest distance to the straight
lines round them all), or, beside a notch or a hollow side, how much farther from the rail than the
outermost springs usually are, whichever is less. A deck of two rows, or of one, has rim springs
only and takes no crown; where no spring stands deeper than a top coil's radius the crown is taken
in proportion, so that springs moved a little never jump.
"""

from functools import lru_cache

import msgspec
import numpy as np
import shapely

from spring_layout.deck.model import Deck
from spring_layout.planning.parts import Array, Spaces, Standing
from spring_layout.planning.spacing import spaces_of
from spring_layout.planning.standing import standing_of


def crown_shares(standing: Standing, spaces: Spaces) -> Array:
    """(n,) the share of the crown that each spring takes: 0 on the rim, 1 for the deepest."""
    if standing.deck.tying.crown == 0.0 or len(standing.centres) < 3:
        return np.zeros(len(standing.centres))
    depth = depths(standing, spaces)
    greatest = max(float(depth.max()), float(standing.radii.max()))
    return np.asarray(1 - (1 - depth / greatest) ** 2)


def depths(standing: Standing, spaces: Spaces) -> Array:
    """(n,) how far each spring stands inside the rim springs, mm; 0 for a rim spring."""
    hull = shapely.MultiPoint(standing.centres).convex_hull
    if not isinstance(hull, shapely.Polygon):
        return np.zeros(len(standing.centres))
    inside = shapely.distance(hull.exterior, shapely.points(standing.centres))
    rim = inside <= standing.radii.max() / 100
    usual = float(np.median(spaces.clearance[rim]))
    return np.asarray(np.clip(np.minimum(inside, spaces.clearance - usual), 0.0, None))


def crown_taken(deck: Deck) -> float:
    """How much higher than the slope the deepest spring is tied, mm: of the crown what it takes.

    All of the crown while the deck has no springs yet.
    """
    crown = deck.tying.crown
    return crown * _greatest_share(_springs_only(deck)) if crown and deck.springs else crown


def _springs_only(deck: Deck) -> Deck:
    """The deck with all that has no say in the crown's shares as it is when absent."""
    tying = msgspec.structs.replace(deck.tying, tied_height=1.0, crown=1.0, tied_height_back=None)
    return Deck(name="", frame=deck.frame, coils=deck.coils, springs=deck.springs, tying=tying)


@lru_cache(maxsize=8)
def _greatest_share(deck: Deck) -> float:
    standing = standing_of(deck)
    return float(crown_shares(standing, spaces_of(standing)).max())
