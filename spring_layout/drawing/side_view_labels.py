"""What is written into an upright cut: springs and their tied heights, rails, coils, end names.

Heights stand over the springs, with the unit where there is room for it; where springs stand too
close on the paper for all of them, those of the outer springs and of the highest stay. Beside an
outer hitch that is not on the top coil stands the coil's number, counted from the top.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from spring_layout.drawing import lettering, look
from spring_layout.drawing.obstacles import Boxes, Pieces
from spring_layout.drawing.primitives import (
    Item,
    Path,
    Place,
    Stroke,
    Tag,
    Text,
    Weight,
    polyline,
    rectangle,
)
from spring_layout.drawing.side_view_coil import EYE, Upright
from spring_layout.drawing.side_view_cut import HitchCut, RailCut, Section, SpringCut
from spring_layout.drawing.side_view_look import SideColours
from spring_layout.planning.parts import Parts
from spring_layout.units import format_length

ABOVE = 11.0
"""mm on paper over the highest coil: a height and a label."""
BELOW = 5.5
"""mm on paper under the base: the names of the ends."""
_APART = 1.0
_ARROW = 1.3
_NEAR_CUT = 3.0
"""mm; only hitches this near to the cut have their coil's number beside them."""
_OFF = 3.0
"""mm from a rail to the line that measures it."""


def side_room(section: Section) -> float:
    """The room that the rails' heights take at either side of the picture, mm on paper."""
    words = [word for rail in _outer_rails(section) for word in _rail_words(section, rail)]
    return max((lettering.width(w, look.SMALL) + _OFF + 2.5 for w in words), default=4.0)


def label_items(section: Section, parts: Parts, view: Upright, colours: SideColours) -> list[Item]:
    """All words and numbers of the cut."""
    return [
        *_springs(section, parts, view, colours),
        *_rails(section, view, colours),
        *_names(section, view, colours),
        *_ring_numbers(section, view, colours),
    ]


# the springs ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Wish:
    """A spring to be lettered: where, its label, its height in words."""

    x: float
    y: float
    label: str
    height: str
    tied: float
    size: float

    @property
    def half(self) -> float:
        """Half the width that the words take, mm."""
        wide = lettering.width(self.height, self.size)
        return max(wide, lettering.width(self.label, look.NORMAL, "bold")) / 2


def _springs(section: Section, parts: Parts, view: Upright, colours: SideColours) -> list[Item]:
    cut = sorted((s for s in section.springs if s.is_cut), key=lambda s: s.u)
    items: list[Item] = []
    for wish in _chosen(section, parts, cut, view):
        base = view.place(0.0, 0.0)[1]
        items += measured((wish.x, base), (wish.x, view.place(0.0, wish.tied)[1]), colours.soft)
        head = wish.y - wish.size - 1.6 - look.NORMAL
        items.append(_ground((wish.x, wish.y), wish.half, wish.y - head, colours))
        items += [
            _written((wish.x, wish.y), wish.height, wish.size, colours.ink, "tied-height"),
            _written(
                (wish.x, wish.y - wish.size - 1.6), wish.label, look.NORMAL, colours.ink, "spring"
            ),
        ]
    return items


def _ground(place: Place, half: float, high: float, colours: SideColours) -> Path:
    """Plain paper under words ``high`` mm high, over springs that stand farther off."""
    x, y = place
    steps = rectangle(x - half - 0.4, y - high - 0.4, 2 * half + 0.8, high + 0.9)
    return Path(steps, None, colours.paper, Tag(kind="ground"))


def _chosen(section: Section, parts: Parts, cut: Sequence[SpringCut], view: Upright) -> list[_Wish]:
    """The springs that are lettered, in the fullest way that has room for all."""
    tries = ((look.NORMAL, True), (look.NORMAL, False), (look.SMALL, False))
    wishes: list[_Wish] = []
    for size, unit in tries:
        wishes = [_wish(section, parts, spring, view, size, unit) for spring in cut]
        if all(_clear(a, b) for a, b in pairwise(wishes)):
            return wishes
    return _thinned(wishes)


def _wish(
    section: Section, parts: Parts, spring: SpringCut, view: Upright, size: float, unit: bool
) -> _Wish:
    x, top = view.place(spring.u, spring.tied + EYE * spring.rings[0].radius)
    words = format_length(spring.tied, section.deck.units, unit=unit)
    return _Wish(x, top - 2.2, parts.labels[spring.spring], words, spring.tied, size)


def _clear(one: _Wish, other: _Wish) -> bool:
    return abs(one.x - other.x) >= one.half + other.half + _APART


def _thinned(wishes: list[_Wish]) -> list[_Wish]:
    """The outer ones, the highest, then from the left those that find room."""
    highest = max(wishes, key=lambda w: w.tied)
    kept: list[_Wish] = []
    for wish in (wishes[0], wishes[-1], highest, *wishes):
        if all(_clear(wish, other) for other in kept):
            kept.append(wish)
    return kept


# rails and ends -----------------------------------------------------------------------------------


def _outer_rails(section: Section) -> list[RailCut]:
    """The first and the last rail of the cut, where they stand above the webbing."""
    rails = section.rails
    outer = [*rails[:1], *(rails[-1:] if len(rails) > 1 else ())]
    return [rail for rail in outer if rail.top > 0]


def _rail_words(section: Section, rail: RailCut) -> tuple[str, str]:
    return "rail", format_length(rail.top, section.deck.units)


def _rails(section: Section, view: Upright, colours: SideColours) -> list[Item]:
    """The height of the rails' tops above the webbing, outside them."""
    items: list[Item] = []
    middle = sum(section.reach) / 2
    for rail in _outer_rails(section):
        left = (rail.start + rail.finish) / 2 < middle
        way = -1 if left else 1
        x = view.place(rail.start if left else rail.finish, 0.0)[0] + way * _OFF
        base, top = view.place(0.0, 0.0)[1], view.place(0.0, rail.top)[1]
        items += measured((x, base), (x, top), colours.soft)
        edge = x - way * (_OFF - 0.6)
        items += [
            Path(polyline(((edge, y), (x + way * 0.8, y))), Stroke(colours.soft, 0.13))
            for y in (base, top)
        ]
        items += _rail_height(section, rail, (x + way * 1.2, (base + top) / 2), way, colours)
    return items


def _rail_height(
    section: Section, rail: RailCut, place: Place, way: int, colours: SideColours
) -> list[Item]:
    """ "rail" over its height, beside a place, outward."""
    name, height = _rail_words(section, rail)
    wide = max(lettering.width(name, look.SMALL), lettering.width(height, look.SMALL)) / 2
    middle, low = place[0] + way * wide, place[1] + look.SMALL + 0.6
    return [
        _ground((middle, low), wide, 2 * look.SMALL + 1.2, colours),
        _written((middle, place[1] - 0.6), name, look.SMALL, colours.soft, "rail"),
        _written((middle, low), height, look.SMALL, colours.soft, "rail-top"),
    ]


def _names(section: Section, view: Upright, colours: SideColours) -> list[Item]:
    """FRONT and BACK, LEFT and RIGHT, under the ends."""
    items: list[Item] = []
    lowest = min((view.place(0.0, min(0.0, r.top - 25.0))[1] for r in section.rails), default=0.0)
    base = max(view.place(0.0, 0.0)[1], lowest)
    for name, u in zip(section.ends, section.reach, strict=True):
        if name:
            wide = lettering.width(name, look.SMALL, "bold") / 2
            inward = 1 if u == section.reach[0] else -1
            x = view.place(u, 0.0)[0] + inward * wide
            words = lettering.lettered(
                (x, base + BELOW - 0.8),
                name,
                look.SMALL,
                colours.ink,
                anchor="middle",
                weight="bold",
                tag=Tag(kind="end"),
            )
            items.append(words)
    return items


def measured(start: Place, finish: Place, colour: str) -> list[Item]:
    """An upright line with an arrowhead at each end, from ``start`` up to ``finish``, mm."""
    (x, low), (_, high) = start, finish
    stroke = Stroke(colour, 0.15)
    if low - high < 2.5 * _ARROW:
        return [Path(polyline(((x, low), (x, high))), stroke)]
    heads = (
        *polyline(((x, high), (x - 0.4, high + _ARROW), (x + 0.4, high + _ARROW)), closed=True),
        *polyline(((x, low), (x - 0.4, low - _ARROW), (x + 0.4, low - _ARROW)), closed=True),
    )
    return [Path(polyline(((x, low), (x, high))), stroke), Path(heads, None, colour)]


# the coils ----------------------------------------------------------------------------------------

_AROUND = tuple(
    (dx, dy)
    for reach in (2.1, 2.9, 3.9)
    for dx, dy in (
        (-reach, reach * 0.7),
        (-reach, 0.0),
        (-reach, -reach * 0.7),
        (0.0, reach),
        (0.0, -reach),
    )
)
"""Where a coil's number may stand about its hitch, from the better to the worse, outward to the
left."""


def _ring_numbers(section: Section, view: Upright, colours: SideColours) -> list[Item]:
    """The number of each coil below the top one that takes a hitch, beside the hitch."""
    twine = _twine_pieces(section, view)
    items: list[Item] = []
    for hitch in section.hitches:
        if hitch.ring > 1 and abs(hitch.away) <= _NEAR_CUT:
            items.append(_ring_number(hitch, view, twine, colours))
    return items


def _twine_pieces(section: Section, view: Upright) -> Pieces:
    ends = [
        (view.place(*a), view.place(*b))
        for tie in section.ties
        for a, b in (*pairwise(tie.way), *tie.returns)
    ]
    return Pieces(np.array(ends, float).reshape(-1, 2, 2), 0.45)


def _ring_number(hitch: HitchCut, view: Upright, twine: Pieces, colours: SideColours) -> Text:
    x, y = view.place(*hitch.place)
    words = str(hitch.ring)
    half = np.array([lettering.width(words, look.SMALL, "bold"), look.SMALL]) / 2
    middles = np.array([(x - hitch.side * dx, y + dy) for dx, dy in _AROUND])
    hit = set(twine.hits(Boxes(middles - half, middles + half)).tolist())
    best = next((i for i in range(len(middles)) if i not in hit), 0)
    place = (float(middles[best][0]), float(middles[best][1]) + look.SMALL / 2)
    tag = Tag(kind="ring-number")
    return lettering.lettered(
        place, words, look.SMALL, colours.ink, anchor="middle", weight="bold", tag=tag
    )


def _written(place: Place, words: str, size: float, colour: str, kind: str) -> Text:
    weight: Weight = "bold" if kind == "spring" else "regular"
    return lettering.lettered(
        place, words, size, colour, anchor="middle", weight=weight, tag=Tag(kind=kind)
    )
