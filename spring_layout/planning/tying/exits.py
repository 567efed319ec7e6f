"""What is known of every end of every line before the ways out are chosen.

Of the clear ways that stay within ``MOST_BEND`` of a line's direction, an end takes the one
nearest to its *aim*: straight on, or turned back a little where the line has run off the course;
a line over one spring aims along the course. All runs of a deck are worked out together, since
few ends at a time take as long as many.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np

from spring_layout.planning.parts import Array
from spring_layout.planning.tying.cover import Cover
from spring_layout.planning.tying.ground import Ground
from spring_layout.planning.tying.touch import Flags, turn_between
from spring_layout.planning.tying.ways import MOST_BEND, Fan, fan_of

TOO_SHORT = 1.0
"""radians. A tack on a rail too short to keep clear of its corners is the last to be taken."""
STRAIGHT_ON = math.radians(10.0)
"""A line that is off the course by less goes straight on to the rail."""
SIDEWAYS = 1e-4
"""radians. How much nearer to the aim a tack on the left or right must be than one at the back
or front to be preferred: at a corner both may be equally near."""


@dataclass(frozen=True, eq=False)
class Exits:
    """The ends of m lines, start and finish, w ways each.

    ``fan``: (m, 2) ends; ``outward``: (m, 2) the lines' own directions at their ends, outward, nan
    over one spring; ``aims``: (m, 2) where each end would best go, radians; ``scores``: (m, 2, w)
    how far each way is from its aim, radians, ties told apart by geometry; ``allowed``: (m, 2, w)
    the clear ways within the bend allowed; ``pieces``: (m, 2, w, 4) every way as a piece of twine.
    """

    fan: Fan
    outward: Array
    aims: Array
    scores: Array
    allowed: Flags
    pieces: Array

    def part(self, rows: slice) -> "Exits":
        """Some of the lines: the arrays are these, not copies."""
        return Exits(self.fan.only(rows), *[getattr(self, name)[rows] for name in _NAMES])


_NAMES = tuple(field.name for field in fields(Exits))[1:]


def exits_of(covers: Sequence[Cover]) -> list[Exits]:
    """The ends of the lines of some runs of one deck."""
    if not covers:
        return []
    ground = covers[0].task.ground
    fan = fan_of(ground.courses, ground.nails, [(c.task.run, c.springs) for c in covers])
    every = exits_from(ground, fan, np.concatenate([cover.outward for cover in covers]))
    exits, first = [], 0
    for cover in covers:
        last = first + len(cover.chains)
        exits.append(every.part(slice(first, last)))
        first = last
    return exits


def exits_from(ground: Ground, fan: Fan, outward: Array) -> Exits:
    """The ends whose ways out are ``fan``, of lines in the directions ``outward`` (m, 2)."""
    aims = aims_of(fan.course, outward)
    bend = np.abs(turn_between(outward[..., None], fan.angle))
    return Exits(
        fan=fan,
        outward=outward,
        aims=aims,
        scores=np.abs(turn_between(aims[..., None], fan.angle)) + _preferences(ground, fan),
        allowed=fan.clear & ~(bend > MOST_BEND + 1e-9),
        pieces=fan.pieces(ground.standing.centres),
    )


def _preferences(ground: Ground, fan: Fan) -> Array:
    sides = [side.rail in ("left", "right") for side in ground.standing.deck.frame.sides]
    sideways = np.array([*sides, False])[fan.side]
    short = np.append(ground.nails.is_short, False)[fan.side]
    odds = ground.odds.at(fan.anchor.reshape(-1, 2)).reshape(fan.side.shape)
    return np.asarray(SIDEWAYS * (sideways + 0.2 * odds) + TOO_SHORT * short)


def aims_of(course: Array, outward: Array) -> Array:
    """The line's ``outward`` direction, turned toward the ``course`` by half of what it is off.

    Only what it is off beyond ``STRAIGHT_ON`` counts. The course itself where ``outward`` is nan.
    """
    off = turn_between(outward, course)
    back = np.sign(off) * np.maximum(np.abs(off) - STRAIGHT_ON, 0.0) / 2
    return np.asarray(np.where(np.isnan(outward), course, outward + back))
