"""The measure that even spacing is judged by.

A spacing is as good as its worst distance. Each gap between two top coils counts as a share of
the wished gap, each distance from a top coil to a side as a share of the wished clearance. Of two
spacings the better one has the larger smallest share; where those are equal, the larger next
smallest, and so on. A wish of 0 leaves that distance out; then it only counts, in mm, where rings
overlap or pass the edge, which no wish allows.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spring_layout.geometry.outline import Outline
from spring_layout.geometry.spacing import joined_pairs, side_feet
from spring_layout.planning.parts import Array
from spring_layout.tolerances import EVEN_TOLERANCE, SAME_PLACE

Index = NDArray[np.intp]

ALL_PAIRS_MOST = 40
"""springs. Up to so many every pair is looked at; beyond, those two steps apart or nearer in the
triangulation: a pair farther apart has others between its springs."""


@dataclass(frozen=True)
class Wish:
    """The wished gap between top coils and distance from the rail, mm; 0 leaves it out."""

    gap: float
    clearance: float

    def __post_init__(self) -> None:
        for name, value in (("gap", self.gap), ("distance from the rail", self.clearance)):
            if not (math.isfinite(value) and value >= 0):
                raise ValueError(f"The wished {name} must be 0 or more, not {value:g} mm.")


@dataclass(frozen=True, eq=False)
class Shares:
    """Every distance at some places as a share of its wish, as arrays of k.

    ``value``: the share, or the distance itself in mm where nothing is wished; ``wished``: which
    of them it is; ``first`` the spring, ``second`` the other spring or -1 for a side, ``side``
    the side or -1; ``gradient``: (k, 2) the change of the value for each mm that the first
    spring moves in x and y (the second spring's is the opposite).
    """

    value: Array
    wished: NDArray[np.bool_]
    first: Index
    second: Index
    side: Index
    gradient: Array

    def counted(self) -> Array:
        """(k,) the values as the measure counts them: infinite where nothing is amiss or wished."""
        return np.where(self.wished | (self.value < -SAME_PLACE), self.value, np.inf)


def shares_of(outline: Outline, centres: Array, radii: Array, wish: Wish) -> Shares:
    """The shares of all gaps and clearances, with how they change.

    ``centres``: (n, 2) mm; ``radii``: (n,) mm.
    """
    pairs = close_pairs(centres)
    gap, apart = _gaps_and_ways(centres, radii, pairs)
    clearance, inward = side_feet(outline, centres, radii)
    rows, sides = np.indices(clearance.shape).reshape(2, -1)
    scale = np.repeat([wish.gap or 1.0, wish.clearance or 1.0], [len(gap), len(rows)])
    none = np.full(len(gap) + len(rows), -1)
    second, side = none.copy(), none
    second[: len(gap)], side[len(gap) :] = pairs[:, 1], sides
    return Shares(
        value=np.concatenate([gap, clearance.ravel()]) / scale,
        wished=np.repeat([wish.gap > 0, wish.clearance > 0], [len(gap), len(rows)]),
        first=np.concatenate([pairs[:, 0], rows]),
        second=second,
        side=side,
        gradient=np.concatenate([apart, inward.reshape(-1, 2)]) / scale[:, None],
    )


def _gaps_and_ways(centres: Array, radii: Array, pairs: Index) -> tuple[Array, Array]:
    """(k,) gaps and (k, 2) unit ways from the second centre to the first; x for one place."""
    apart = centres[pairs[:, 0]] - centres[pairs[:, 1]]
    distance = np.hypot(apart[:, 0], apart[:, 1])
    gap = distance - radii[pairs[:, 0]] - radii[pairs[:, 1]]
    apart[distance == 0] = (1.0, 0.0)
    return gap, apart / np.where(distance == 0, 1.0, distance)[:, None]


TANGENTS = (-1.0, -0.5, 0.5, 1.0)
"""steps to either hand of a spring at which an arc's tangents are taken as well."""


def with_tangents(
    shares: Shares, outline: Outline, centres: Array, radii: Array, reach: float
) -> Shares:
    """``shares`` and, for springs near an arc, the clearances from its tangents near by.

    Inside an arc the clearance falls faster than its linear form as the spring moves sideways;
    it is the least of the clearances from all tangents. ``reach``: the longest move, mm.
    """
    arcs = [i for i, side in enumerate(outline.sides) if side.curvature > 0]
    near = np.flatnonzero(np.isin(shares.side, arcs))
    if len(near) == 0:
        return shares
    return joined(
        shares,
        *(_tangents(shares, outline, centres, radii, near, reach * turn) for turn in TANGENTS),
    )


def _tangents(
    shares: Shares, outline: Outline, centres: Array, radii: Array, rows: Index, along: float
) -> Shares:
    """The clearance shares ``rows`` from the tangents ``along`` mm on from the springs."""
    sides = [outline.sides[i] for i in shares.side[rows]]
    radius = np.array([1 / side.curvature for side in sides])
    arm = centres[shares.first[rows]] - np.array([side.centre for side in sides])
    size = np.maximum(np.hypot(arm[:, 0], arm[:, 1]), SAME_PLACE)
    turn = np.clip(1.5 * along / size, -0.5, 0.5)
    cos, sin = np.cos(turn), np.sin(turn)
    out = np.stack([cos * arm[:, 0] - sin * arm[:, 1], sin * arm[:, 0] + cos * arm[:, 1]], axis=1)
    out /= size[:, None]
    scale = np.hypot(*shares.gradient[rows].T)
    clearance = radius - np.sum(arm * out, axis=1) - radii[shares.first[rows]]
    inside = clearance * scale >= shares.value[rows]
    return Shares(
        value=np.where(inside, clearance * scale, shares.value[rows]),
        wished=shares.wished[rows],
        first=shares.first[rows],
        second=shares.second[rows],
        side=shares.side[rows],
        gradient=np.where(inside[:, None], -out * scale[:, None], shares.gradient[rows]),
    )


def joined(*parts: Shares) -> Shares:
    """Several sets of shares as one."""
    names = ("value", "wished", "first", "second", "side", "gradient")
    return Shares(*(np.concatenate([getattr(part, name) for part in parts]) for name in names))


def close_pairs(centres: Array) -> Index:
    """(k, 2) pairs of springs, first < second, whose gap may count."""
    count = len(centres)
    if count <= ALL_PAIRS_MOST:
        return np.stack(np.triu_indices(count, 1), axis=1)
    from scipy.sparse import coo_array

    pairs, _ = joined_pairs(centres)
    ones = np.ones(len(pairs))
    one_way = coo_array((ones, (pairs[:, 0], pairs[:, 1])), shape=(count, count)).tocsr()
    step = one_way + one_way.T
    two_steps = (step + step @ step).tocoo()
    rows, columns = two_steps.coords
    upper = rows < columns
    return np.stack([rows[upper], columns[upper]], axis=1).astype(np.intp)


def measure(outline: Outline, centres: Array, radii: Array, wish: Wish) -> Array:
    """All shares, the smallest first: what two spacings are compared by, entry for entry."""
    return np.sort(shares_of(outline, centres, radii, wish).counted())


def compare(first: Array, second: Array, tolerance: float = EVEN_TOLERANCE) -> int:
    """1 where the first measure is the better one, -1 where the second is, 0 where equal.

    Shares that differ by no more than ``tolerance`` are equal.
    """
    count = min(len(first), len(second))
    both = np.isfinite(first[:count]) | np.isfinite(second[:count])
    with np.errstate(invalid="ignore"):
        differ = np.flatnonzero(both & (np.abs(first[:count] - second[:count]) > tolerance))
    if len(differ) == 0:
        return 0
    return 1 if first[differ[0]] > second[differ[0]] else -1
