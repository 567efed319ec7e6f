"""Whether pieces of twine cross, touch, or pass over a spring: arrays of straight pieces.

A piece is a row (x0, y0, x1, y1), mm. Pieces that come within ``SAME_PLACE`` of each other touch.
"""

import numpy as np
from numpy.typing import NDArray

from spring_layout.planning.parts import Array
from spring_layout.tolerances import SAME_PLACE

TABLE = 12_000
"""How large the tables are that ``near`` works through: so small that they stay close at hand."""

Flags = NDArray[np.bool_]
Rows = NDArray[np.intp]


def pieces_of(starts: Array, ends: Array) -> Array:
    """(n, 4) pieces from (n, 2) ``starts`` and ``ends``."""
    return np.concatenate([starts, ends], axis=-1)


def cross_or_touch(first: Array, second: Array) -> Flags:
    """Whether pieces meet: (..., 4) against (..., 4), broadcast, to (...) flags."""
    ax, ay, bx, by = (first[..., i] for i in range(4))
    cx, cy, dx, dy = (second[..., i] for i in range(4))
    apart = _on_one_side(ax, ay, bx, by, cx, cy, dx, dy)
    apart |= _on_one_side(cx, cy, dx, dy, ax, ay, bx, by)
    for a, b, c, d in ((ax, bx, cx, dx), (ay, by, cy, dy)):
        apart |= np.maximum(a, b) < np.minimum(c, d) - SAME_PLACE
        apart |= np.minimum(a, b) > np.maximum(c, d) + SAME_PLACE
    return np.asarray(~apart)


def meet_each_other(first: Array, second: Array) -> Flags:
    """(k, l) whether each of the pieces ``first`` (k, 4) meets each of ``second`` (l, 4)."""
    met = _boxes_meet(first, second)
    a, b = np.nonzero(met)
    if len(a):
        met[a, b] = cross_or_touch(first[a], second[b])
    return met


def _boxes_meet(first: Array, second: Array) -> Flags:
    """(k, l) whether pieces come within ``SAME_PLACE`` in each direction: most do not."""
    low, high = _box(first)
    least, most = _box(second)
    least -= SAME_PLACE
    most += SAME_PLACE
    met = high[:, 0, None] >= least[:, 0]
    met &= high[:, 1, None] >= least[:, 1]
    met &= low[:, 0, None] <= most[:, 0]
    met &= low[:, 1, None] <= most[:, 1]
    return met


def _box(pieces: Array) -> tuple[Array, Array]:
    """(n, 2) the least and the most x and y of pieces."""
    starts, ends = pieces[:, :2], pieces[:, 2:]
    return np.minimum(starts, ends), np.maximum(starts, ends)


def _on_one_side(
    ax: Array, ay: Array, bx: Array, by: Array, cx: Array, cy: Array, dx: Array, dy: Array
) -> Flags:
    """Whether c and d lie on the same side of the line through a and b, and neither on it."""
    ux, uy = bx - ax, by - ay
    off_c = ux * (cy - ay) - uy * (cx - ax)
    off_d = ux * (dy - ay) - uy * (dx - ax)
    on = SAME_PLACE * np.hypot(ux, uy)
    return np.asarray(((off_c > on) & (off_d > on)) | ((off_c < -on) & (off_d < -on)))


def near(pieces: Array, places: Array, reach: Array) -> Flags:
    """(k, n) whether each of n ``places`` (n, 2) is nearer than its ``reach`` (n,) to a piece."""
    step = max(1, TABLE // max(len(places), 1))
    rows = [_near(pieces[i : i + step], places, reach) for i in range(0, len(pieces), step)]
    return np.concatenate([*rows, np.zeros((0, len(places)), bool)])


def _near(pieces: Array, places: Array, reach: Array) -> Flags:
    sx, sy = pieces[:, 0, None], pieces[:, 1, None]
    dx, dy = pieces[:, 2, None] - sx, pieces[:, 3, None] - sy
    square = np.maximum(dx * dx + dy * dy, SAME_PLACE * SAME_PLACE)
    x, y = places[:, 0] - sx, places[:, 1] - sy
    share = x * (dx / square)
    share += y * (dy / square)
    np.maximum(share, 0.0, out=share)
    np.minimum(share, 1.0, out=share)
    x -= share * dx
    y -= share * dy
    x *= x
    y *= y
    x += y
    return np.asarray(x < reach * reach)


def turn_between(first: Array, second: Array) -> Array:
    """The turn from direction ``first`` to ``second`` (angles, radians, broadcast), -pi to pi."""
    return np.asarray((second - first + np.pi) % (2 * np.pi) - np.pi)
