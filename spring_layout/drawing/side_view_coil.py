"""A tied coil seen from the side, wound as a real one: each turn a ring with a front and a back.

The front half of ring k lies level at the ring's height, from its left edge to its right, and the
wire drops to the next ring round the back; so the hitches, which sit at a ring's edges, sit on the
wire. The top coil and the bottom coil are closed rings, as they are knotted. The eye looks down a
little (``EYE``), so that front and back part; heights at a ring's left and right edges are true.
The wire is drawn to its thickness, a lighter body between two dark edges, or as one line where it
is too thin on paper for that.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from spring_layout.drawing.primitives import Group, Item, Path, Place, Step, Stroke, Tag, polyline
from spring_layout.drawing.side_view_look import SideColours
from spring_layout.planning.coil_shape import Ring

EYE = 0.09
"""How much higher on paper than it is a place appears for each millimetre that it is farther."""

_STEPS = 14
"""Pieces of a half turn."""
_LEAST_WIRE = 0.3
"""mm on paper; thinner wire is drawn so thick."""
_EDGE = 0.13
"""mm on paper, the dark edge of a wire."""


@dataclass(frozen=True)
class Upright:
    """An upright picture at 1 : ``scale``: u = 0, z = 0 stands at ``x``, ``y`` on the paper, mm."""

    scale: float
    x: float
    y: float

    def place(self, u: float, z: float) -> Place:
        """A place of the cut, mm along it and up, on the paper."""
        return self.x + u / self.scale, self.y - z / self.scale

    def line(self, places: Sequence[tuple[float, float]], closed: bool = False) -> tuple[Step, ...]:
        """Straight lines through places of the cut, mm."""
        return polyline((self.place(u, z) for u, z in places), closed)

    def length(self, mm: float) -> float:
        """A length of the deck on the paper, mm."""
        return mm / self.scale


def coil_items(
    rings: Sequence[Ring],
    wire: float,
    u: float,
    view: Upright,
    colours: SideColours,
    *,
    tag: Tag,
) -> Group:
    """The coil whose middle is at ``u`` mm: all backs, then all fronts, an item for each look."""
    levels = _levels(rings, wire)
    width = max(view.length(wire), _LEAST_WIRE)
    backs = [_half(u, level, below, back=True) for level, below in _backs(levels)]
    fronts = [_half(u, level, level, back=False) for level in levels]
    near = _steps(fronts, view)
    items: list[Item] = [
        Path(_steps(backs, view), Stroke(colours.far, width * 0.85)),
        Path(near, Stroke(colours.wire, width, (), "round")),
    ]
    if width >= 3 * _EDGE:
        items.append(Path(near, Stroke(colours.steel, width - 2 * _EDGE, (), "round")))
    return Group(tuple(items), tag)


def _steps(halves: Sequence[Sequence[tuple[float, float]]], view: "Upright") -> tuple[Step, ...]:
    """Half turns as one path of so many pieces."""
    return tuple(step for half in halves for step in view.line(half))


def coil_behind(
    rings: Sequence[Ring], u: float, lift: float, view: Upright, colours: SideColours, tag: Tag
) -> Path:
    """A coil that stands farther off, as its outline; ``lift`` raises it on paper, mm."""
    right = [(u + ring.radius, lift + ring.height) for ring in rings]
    left = [(u - ring.radius, lift + ring.height) for ring in reversed(rings)]
    top = (rings[0].height + lift, rings[0].radius)
    steps = view.line([*right, *left, *_half(u, top, top, back=False)], closed=True)
    back = view.line(_half(u, top, top, back=True))
    return Path((*steps, *back), Stroke(colours.far, 0.18), colours.soft_fill, tag)


def _levels(rings: Sequence[Ring], wire: float) -> list[tuple[float, float]]:
    """(height, radius to the wire's middle) of every level ring, from the top to the webbing."""
    levels = [(ring.height, max(ring.radius - wire / 2, 0.5)) for ring in rings]
    if levels[-1][0] > wire / 4:
        # a coil of turns and a half ends between two rings: its last half turn lies on the webbing
        levels.append((0.0, levels[-1][1]))
    return levels


def _backs(
    levels: Sequence[tuple[float, float]],
) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """From which level to which each back half goes: the top and the bottom ring are closed."""
    first, last = levels[0], levels[-1]
    return [(first, first), *pairwise(levels), (last, last)]


def _half(
    u: float, start: tuple[float, float], finish: tuple[float, float], *, back: bool
) -> list[tuple[float, float]]:
    """Half a turn as places of the cut: at the back from right to left, else left to right."""
    (z0, radius0), (z1, radius1) = start, finish
    places = []
    for share, across, away, drop in _TURN[back]:
        radius = radius0 + (radius1 - radius0) * share
        z = z0 + (z1 - z0) * drop
        places.append((u + radius * across, z + EYE * radius * away))
    return places


def _half_turn(back: bool) -> list[tuple[float, float, float, float]]:
    """Of each place of half a turn: its share of the way, across, away, its share of the drop."""
    turn = []
    for i in range(_STEPS + 1):
        share = i / _STEPS
        angle = math.pi * (share if back else 1 + share)
        # the drop comes early, or the near side would hide the wire on its way down
        turn.append((share, math.cos(angle), math.sin(angle), math.sin(math.pi / 2 * share)))
    return turn


_TURN = {back: _half_turn(back) for back in (True, False)}
