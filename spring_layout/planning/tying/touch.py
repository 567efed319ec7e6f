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
    a, b, c, d = first[..., :2], first[..., 2:], second[..., :2], second[..., 2:]
    apart = _side(a, b, c) * _side(a, b, d) > 0
    apart |= _side(c, d, a) * _side(c, d, b) > 0
    for axis in (0, 1):
        apart |= np.maximum(a[..., axis], b[..., axis]) < (
            np.minimum(c[..., axis], d[..., axis]) - SAME_PLACE
        )
        apart |= np.minimum(a[..., axis], b[..., axis]) > (
            np.maximum(c[..., axis], d[..., axis]) + SAME_PLACE
        )
    return np.asarray(~apart)


def _side(start: Array, end: Array, place: Array) -> NDArray[np.int8]:
    """-1, 0 or 1: on which side of the line through a piece a place lies; 0 is on it."""
    dx, dy = end[..., 0] - start[..., 0], end[..., 1] - start[..., 1]
    off = dx * (place[..., 1] - start[..., 1]) - dy * (place[..., 0] - start[..., 0])
    near = np.abs(off) <= SAME_PLACE * np.hypot(dx, dy)
    return np.where(near, 0, np.sign(off)).astype(np.int8)


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
