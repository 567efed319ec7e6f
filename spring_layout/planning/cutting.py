"""Cutting the pieces from hanks or balls of a given length with the least waste.

Waste is least when the fewest hanks are begun. The pieces are first laid longest first, each into
the hank where the least is left over. Where that needs more hanks than the pieces need by their
total length and by how many long ones can share a hank, a small case (at most ``MOST_PROVED``
pieces) is decided exactly as whole numbers, with the emptiest last hank. A larger one, or one that
is not decided within ``MOST_BRANCHES``, keeps the first laying, and ``fewest`` says how many hanks
it takes at the least.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from spring_layout.deck.model import Deck
from spring_layout.planning.parts import Array, TwinePlan
from spring_layout.planning.twine import steps_as_cut
from spring_layout.tolerances import COORDINATE_STEP
from spring_layout.units import step_mm, whole_steps

MOST_PROVED = 24
"""pieces. The exact choice takes well under a second up to here."""


MOST_BRANCHES = 20_000
"""cases that the exact choice may look at, some seconds at the worst."""

_CANNOT_BE = 2
"""How ``scipy.optimize.milp`` says that there is no such choice."""


@dataclass(frozen=True)
class Cutting:
    """Which pieces to cut from which hank.

    ``hanks``: for each hank the numbers (from 0) of its pieces, longest first; ``rests``: what is
    left of each, in the unit of the pieces; ``fewest``: no cutting needs fewer hanks than this;
    ``too_long``: pieces longer than a hank, which must be joined or bought longer.
    """

    hanks: tuple[tuple[int, ...], ...]
    rests: tuple[float, ...]
    fewest: int
    too_long: tuple[int, ...]

    @property
    def proved(self) -> bool:
        """Whether no cutting begins fewer hanks."""
        return len(self.hanks) == self.fewest

    @property
    def waste(self) -> float:
        """What is left of all hanks but the one with the longest rest, in the pieces' unit."""
        return math.fsum(self.rests) - max(self.rests, default=0.0)


def hanks_cut(deck: Deck, twine: TwinePlan) -> Cutting | None:
    """How to cut the deck's pieces from hanks of its ``twine.hank``; None where that is not set.

    The pieces are those of the cut list, each rounded up in the deck's units, and a hank is rounded
    down to the same step, so that who adds up what is told finds that it fits.
    """
    if deck.twine.hank is None:
        return None
    pieces = steps_as_cut(deck, twine)
    cutting = cutting_of(pieces, whole_steps(deck.twine.hank, deck.units))
    step = step_mm(deck.units, "cut")
    return replace(cutting, rests=tuple(step * rest for rest in cutting.rests))


def cutting_of(lengths: Sequence[float], hank: float) -> Cutting:
    """How to cut pieces of those ``lengths`` (over 0) from hanks of ``hank``, all in one unit."""
    fits = [i for i, length in enumerate(lengths) if length <= hank + COORDINATE_STEP]
    too_long = tuple(i for i in range(len(lengths)) if i not in set(fits))
    order = sorted(fits, key=lambda i: (-lengths[i], i))
    laid = _longest_first(order, lengths, hank)
    fewest = least_hanks([lengths[i] for i in order], hank)
    if fewest < len(laid) and len(order) <= MOST_PROVED:
        laid, fewest = _by_whole_numbers(order, lengths, hank, fewest, laid)
    rests = tuple(hank - math.fsum(lengths[i] for i in pieces) for pieces in laid)
    return Cutting(tuple(map(tuple, laid)), rests, fewest, too_long)


def _longest_first(order: Sequence[int], lengths: Sequence[float], hank: float) -> list[list[int]]:
    """Each piece into the hank that it fills best; a new hank where it fits none."""
    hanks: list[list[int]] = []
    rests: list[float] = []
    for piece in order:
        room = [(rest, i) for i, rest in enumerate(rests) if lengths[piece] <= rest + 1e-9]
        if room:
            rest, i = min(room)
            hanks[i].append(piece)
            rests[i] = rest - lengths[piece]
        else:
            hanks.append([piece])
            rests.append(hank - lengths[piece])
    return hanks


def least_hanks(lengths: Sequence[float], hank: float) -> int:
    """How many hanks those pieces (each no longer than one) take at the least.

    By total length; and, for every length up to half a hank taken as short, by the long pieces
    that cannot share with it, and what the middling ones need beyond the room beside those.
    """
    sizes = np.sort(np.asarray(lengths, float))[::-1]
    if not len(sizes):
        return 0
    shorts = [0.0, *(s for s in sizes.tolist() if s <= hank / 2)]
    return max(_hanks_with(sizes, hank, short) for short in shorts)


def _hanks_with(sizes: Array, hank: float, short: float) -> int:
    slack = COORDINATE_STEP
    alone = sizes > hank - short + slack
    halves = ~alone & (sizes > hank / 2 + slack)
    rest = ~alone & ~halves & (sizes >= short)
    room = float((hank - sizes[halves]).sum())
    beyond = math.ceil((float(sizes[rest].sum()) - room) / hank - 1e-9)
    return int(alone.sum() + halves.sum()) + max(0, beyond)


def _by_whole_numbers(
    order: Sequence[int],
    lengths: Sequence[float],
    hank: float,
    fewest: int,
    laid: list[list[int]],
) -> tuple[list[list[int]], int]:
    """The pieces in as few hanks as can be, and the fewest that it is sure to take."""
    for count in range(fewest, len(laid)):
        found = _into(order, lengths, hank, count)
        if found is not None:
            return (found or laid), count
    return laid, len(laid)


def _into(
    order: Sequence[int], lengths: Sequence[float], hank: float, count: int
) -> list[list[int]] | None:
    """The pieces in ``count`` hanks; None where they do not fit, empty where it is not decided."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    sizes = np.array([lengths[i] for i in order])
    pieces = len(sizes)
    one_each = np.kron(np.eye(pieces), np.ones(count))
    by_hank = np.kron(sizes, np.eye(count))
    # which hank is which does not matter: piece k (longest first) goes into one of the first k + 1
    most = np.array([1.0 if j <= k else 0.0 for k in range(pieces) for j in range(count)])
    found = milp(
        np.kron(sizes, np.eye(count)[-1]) / hank,
        integrality=np.ones(pieces * count, np.int64),
        bounds=Bounds(0, most),
        constraints=[LinearConstraint(one_each, 1, 1), LinearConstraint(by_hank, 0, hank + 1e-6)],
        options={"node_limit": MOST_BRANCHES},
    )
    if found.status == _CANNOT_BE:
        return None
    if found.x is None:
        return []
    chosen = found.x.reshape(pieces, count) > 0.5
    return [[order[int(k)] for k in np.flatnonzero(chosen[:, j])] for j in range(count)]
