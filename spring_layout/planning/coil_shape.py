"""The rings of a coil as it stands tied: how high each turn sits and how wide it is there.

* Rings are counted from the top, 1 to the whole number of turns. Ring k of a coil of n turns sits
  at tied height x (1 - (k - 1) / (n - 1)): the turns share the tied height evenly, the top coil at
  the tied height and the bottom coil of a whole number of turns on the webbing.
* A ring's radius is half the outside diameter that the coil's profile has at that share of its
  height: a double cone narrows straight from its top coil to its waist halfway down and widens
  straight to its bottom coil; a single cone goes straight from its top to its bottom coil; a
  cylinder keeps its top coil's diameter.

This is a model. A real coil's end turns lie flatter and its wide turns give more than its waist,
by a few millimetres in an ordinary seat spring.
"""

import math
from typing import NamedTuple

from spring_layout.deck.model import Coil

FEWEST_TURNS = 2.0
"""A coil of fewer turns is taken to have its top coil and its bottom coil, and nothing between."""


class Ring(NamedTuple):
    """One turn of a tied coil: its number from the top, its height and outside radius, mm."""

    number: int
    height: float
    radius: float


def rings_of(coil: Coil, tied_height: float) -> tuple[Ring, ...]:
    """The rings of ``coil`` tied down to ``tied_height`` (mm), from the top; two or more."""
    turns = max(coil.turns, FEWEST_TURNS)
    return tuple(
        Ring(k + 1, tied_height * (1 - k / (turns - 1)), radius_at(coil, k / (turns - 1)))
        for k in range(math.floor(turns))
    )


def radius_at(coil: Coil, down: float) -> float:
    """The outside radius of ``coil``, mm, at the share ``down`` of its height from the top."""
    if coil.shape == "cylinder":
        return coil.top_diameter / 2
    if coil.shape == "single-cone":
        return _between(coil.top_diameter, coil.foot_diameter, down) / 2
    if down <= 0.5:
        return _between(coil.top_diameter, coil.waist_diameter, 2 * down) / 2
    return _between(coil.waist_diameter, coil.foot_diameter, 2 * down - 1) / 2


def _between(first: float, last: float, share: float) -> float:
    return first + (last - first) * share


def solid_height(coil: Coil) -> float:
    """The height at which the turns of ``coil`` lie on each other and nothing gives, mm.

    Turns whose radius differs from the next by a wire or more telescope and lie flat; smaller steps
    leave each turn on the shoulder of the next, sqrt(wire^2 - step^2) higher (geometry). The two
    halves of a double cone lie on each other when flat.
    """
    turns = max(coil.turns, FEWEST_TURNS)
    if coil.shape == "cylinder":
        return turns * coil.wire
    if coil.shape == "single-cone":
        rise = _rise(coil, coil.top_diameter - coil.foot_diameter, turns)
        return (turns - 1) * rise + coil.wire
    upper = _rise(coil, coil.top_diameter - coil.waist_diameter, turns / 2)
    lower = _rise(coil, coil.foot_diameter - coil.waist_diameter, turns / 2)
    return max((turns - 1) * (upper + lower) / 2 + coil.wire, 2 * coil.wire)


def _rise(coil: Coil, narrower: float, turns: float) -> float:
    """How much higher each turn lies when solid, mm, where ``turns`` narrow by a diameter, mm."""
    step = narrower / 2 / turns
    return math.sqrt(max(coil.wire**2 - step**2, 0.0))


def nearest_ring(rings: tuple[Ring, ...], height: float) -> Ring:
    """The ring nearest in height to ``height`` (mm); of two equally near ones the upper.

    The bottom coil is left out: it is stitched to the base, and a tie on it holds nothing down.
    """
    return min(rings[:-1], key=lambda ring: abs(ring.height - height))
