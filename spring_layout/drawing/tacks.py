"""The tack points: where each tie ends on a rail, told by running distances.

Each tack point is told by the number of its tie and its distance along the inside edge from the
middle of its side, where the rail has a centre mark, since posts hide the corners. The labels
stand outside the rail, square to it, one row a side; where they would fall upon each other they
are spread with a kink in the leader (``spread``). Where a rail has no room for that, the row gets
closer in steps (``MANNERS``).
"""

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely

from spring_layout.drawing import lettering, look
from spring_layout.drawing.primitives import (
    Circle,
    Group,
    Item,
    Path,
    Place,
    Tag,
    Text,
    Weight,
    polyline,
)
from spring_layout.drawing.spread import spread_between
from spring_layout.drawing.view import Array, View
from spring_layout.geometry.sides import SideCurve
from spring_layout.planning.parts import Line, Parts
from spring_layout.units import format_length

Manner = Literal["discs", "turned", "numbers"]
MANNERS: tuple[Manner, ...] = ("discs", "turned", "numbers")
"""``discs``: the number upright in a disc, then the distance. ``turned``: number and distance in
one line square to the rail, which takes less of the rail. ``numbers``: without the distances, in
two rows."""

_LEAVE = 0.8
"""mm from the rail's outer edge to where a leader may kink."""
_KINK = 2.2
"""mm over which it kinks."""
_AFTER = 0.7
"""mm between a disc or number and the distance."""
_APART = 0.5
"""mm between neighbours in a row."""
_FLIP_FROM, _FLIP_TO = 60.0, 240.0
"""Degrees of the way out between which words read toward the rail, so as not to stand on their
head."""


@dataclass(frozen=True)
class Tack:
    """One tack point: its tie's number and run, its place, and where along its side, mm.

    ``distance`` is measured along the inside edge from the middle of the side, + clockwise.
    """

    line: Line
    side: int
    along: float
    anchor: Place
    toward: Place
    distance: float


def tacks_of(parts: Parts) -> dict[int, list[Tack]]:
    """The tack points of each side that has any, in order along the side."""
    sides = parts.standing.outline.sides
    found: dict[int, list[Tack]] = defaultdict(list)
    for line in parts.ties.lines:
        inner = (line.centres[0], line.centres[-1])
        for side, along, anchor, toward in zip(
            line.sides, line.along, line.anchors, inner, strict=True
        ):
            if side is not None and along is not None and anchor is not None:
                distance = along - sides[side].length / 2
                found[side].append(Tack(line, side, along, anchor, toward, distance))
    return {side: sorted(found[side], key=lambda t: (t.along, t.line.number)) for side in found}


def distance_words(tack: Tack, parts: Parts) -> str:
    """The distance from the centre mark and which way, such as "5 1/2 L", "3 F" or "0"."""
    words = format_length(abs(tack.distance), parts.deck.units, unit=False)
    return words if words == "0" else f"{words} {way_words(tack, parts)}"


def way_words(tack: Tack, parts: Parts) -> str:
    """Which way from the centre mark: L or R along back and front, B or F along left and right."""
    curve = parts.standing.outline.sides[tack.side]
    dx, dy = np.asarray(curve.point(tack.along)) - curve.point(curve.length / 2)
    if parts.deck.frame.sides[tack.side].rail in ("back", "front"):
        return "L" if dx < 0 else "R"
    return "B" if dy < 0 else "F"


@dataclass(frozen=True)
class TackLabels:
    """The labels of one side: things to draw, the shapes they cover, and the leaders, mm."""

    items: tuple[Item, ...]
    shapes: tuple[shapely.Polygon, ...]
    leaders: tuple[shapely.LineString, ...]


def band_depth(parts: Parts, manner: Manner) -> float:
    """How far the labels reach outward from the rails' outer edges at most, mm on paper."""
    longest = max(
        (_label_length(t, parts, manner) for row in tacks_of(parts).values() for t in row),
        default=0.0,
    )
    rows = 2 if manner == "numbers" else 1
    return _LEAVE + _KINK + rows * (longest + _AFTER)


def _label_length(tack: Tack, parts: Parts, manner: Manner) -> float:
    if manner == "numbers":
        return _number_width(tack)
    distance = lettering.width(distance_words(tack, parts), look.SMALL)
    number = _disc_size(tack) if manner == "discs" else _number_width(tack)
    return number + _AFTER + distance


def _number_width(tack: Tack) -> float:
    return lettering.width(str(tack.line.number), look.SMALL, "bold")


def _disc_size(tack: Tack) -> float:
    """The diameter of the disc that holds the tie's number, mm."""
    return max(4.0, _number_width(tack) + 1.5)


def _size_along(tack: Tack, manner: Manner) -> float:
    """How much of the rail's length the label takes, mm on paper."""
    return _disc_size(tack) if manner == "discs" else look.SMALL + 0.3


class Row:
    """The labels along one side, set out in a manner and ``lifted`` mm further out."""

    def __init__(
        self,
        parts: Parts,
        view: View,
        side: int,
        tacks: Sequence[Tack],
        manner: Manner,
        lifted: float = 0.0,
    ) -> None:
        self.parts, self.view, self.manner = parts, view, manner
        self.tacks = tacks
        self.curve: SideCurve = parts.standing.outline.sides[side]
        self.width = parts.deck.frame.width_of(side)
        self.start = self.width / view.scale + _LEAVE + _KINK + lifted
        """mm on paper from the inside edge to where the labels start."""
        self.stretch = (1 + self.start * view.scale * self.curve.curvature) / view.scale
        """mm of the row for each mm of the inside edge."""
        self.ends = _row_ends(parts, side, self.stretch, self.width / view.scale)

    def labels(self) -> TackLabels | None:
        """The labels, or None where the row has no room for them."""
        places = self._places()
        if places is None:
            return None
        items: list[Item] = []
        shapes: list[shapely.Polygon] = []
        leaders: list[shapely.LineString] = []
        for index, (tack, u) in enumerate(zip(self.tacks, places, strict=True)):
            out = self._second_row(index)
            group, covered = self._label(tack, u, out)
            items.append(group)
            shapes.extend(covered)
            leaders.append(shapely.LineString(self._leader(tack, u, out)))
        return TackLabels(tuple(items), tuple(shapes), tuple(leaders))

    def _second_row(self, index: int) -> float:
        """How much further out this label stands, mm."""
        if self.manner != "numbers" or index % 2 == 0:
            return 0.0
        return max(_number_width(tack) for tack in self.tacks) + _AFTER

    def _places(self) -> list[float] | None:
        wished = [tack.distance * self.stretch for tack in self.tacks]
        sizes = [_size_along(tack, self.manner) for tack in self.tacks]
        if self.manner == "numbers":
            sizes = [size * 0.6 for size in sizes]
        return spread_between(wished, sizes, _APART, *self.ends)

    def _at(self, u: float, out: float) -> tuple[Array, Array]:
        """The place ``out`` mm (paper) from the inside edge, ``u`` along the row; the way out."""
        along = self.curve.length / 2 + u / self.stretch
        place = self.curve.point(along, out * self.view.scale)
        return np.array(self.view.place(place), float), self.curve.normal(along)

    def _label(self, tack: Tack, u: float, out: float) -> tuple[Group, list[shapely.Polygon]]:
        leader = self._leader(tack, u, out)
        place, way = self._at(u, self.start + out)
        words: list[Item] = [Path(polyline(leader), look.HAIRLINE)]
        if self.manner == "discs":
            size = _disc_size(tack)
            words += _disc(tack, place + way * size / 2, size / 2)
            reach = size + _AFTER
        else:
            words.append(_square_text(place, way, str(tack.line.number), tack, "bold"))
            reach = _number_width(tack) + _AFTER
        if self.manner != "numbers":
            distance = distance_words(tack, self.parts)
            words.append(_square_text(place + way * reach, way, distance, tack, "regular"))
        number = str(tack.line.number)
        tag = Tag(kind="tack-point", data=(("line", number), ("from-centre", _mm(tack.distance))))
        return Group(tuple(words), tag), _shapes_of(words)

    def _leader(self, tack: Tack, u: float, out: float) -> list[Place]:
        """From the tack point over the rail's outer edge to the label."""
        leave = self.width / self.view.scale + _LEAVE
        straight = tack.distance * self.stretch
        first = self._at(straight, leave)[0]
        second = self._at(u, self.start)[0]
        last = self._at(u, self.start + out)[0]
        points = [self.view.place(tack.anchor), _place(first), _place(second)]
        return [*points, _place(last)] if out else points


def _row_ends(parts: Parts, side: int, stretch: float, width: float) -> tuple[float, float]:
    """How far the row may reach from the middle both ways, mm on paper."""
    outline = parts.standing.outline
    half = outline.sides[side].length / 2 * stretch
    corners = (side, (side + 1) % len(outline.sides))
    begin, finish = (
        width if outline.is_corner(c) and float(outline.turns[c]) > 0 else 0.0 for c in corners
    )
    return -half - begin, half + finish


def _disc(tack: Tack, centre: Array, radius: float) -> list[Item]:
    x, y = _place(centre)
    stroke = look.RUN_LOOKS[tack.line.run].stroke
    edge = type(stroke)(stroke.colour, 0.3)
    number = lettering.lettered(
        (x, y + look.SMALL / 2),
        str(tack.line.number),
        look.SMALL,
        look.INK,
        anchor="middle",
        weight="bold",
        tag=Tag(kind="tie-number"),
    )
    return [Circle(x, y, radius, edge, look.PAPER), number]


def _square_text(place: Array, way: Array, words: str, tack: Tack, weight: Weight) -> Text:
    """Words square to the rail from ``place`` outward, turned so that they can be read."""
    angle = math.degrees(math.atan2(way[1], way[0]))
    flipped = _FLIP_FROM <= angle % 360 < _FLIP_TO
    turned = round((angle + 180 if flipped else angle) + 180, 6) % 360 - 180
    radians = math.radians(turned)
    down = np.array([-math.sin(radians), math.cos(radians)])
    kind = "tie-number" if weight == "bold" else "distance"
    return lettering.lettered(
        _place(place + down * look.SMALL / 2),
        words,
        look.SMALL,
        look.INK,
        anchor="end" if flipped else "start",
        weight=weight,
        turned=turned,
        tag=Tag(kind=kind),
    )


def _shapes_of(items: Sequence[Item]) -> list[shapely.Polygon]:
    shapes: list[shapely.Polygon] = []
    for item in items:
        if isinstance(item, Circle):
            shapes.append(shapely.Point(item.x, item.y).buffer(item.radius))
        elif isinstance(item, Text):
            shapes.append(shapely.Polygon(lettering.corners(item)))
    return shapes


def _place(point: Array) -> Place:
    return float(point[0]), float(point[1])


def _mm(value: float) -> str:
    return f"{value + 0.0:.2f}"


def labels_of_sides(parts: Parts, view: View, manner: Manner) -> list[TackLabels] | None:
    """The labels of every side in one manner, or None where some rail has no room for them.

    A row that would fall upon another rail or another row is lifted further out.
    """
    placed: list[TackLabels] = []
    taken: list[shapely.Polygon] = []
    for side, tacks in sorted(tacks_of(parts).items()):
        labels = _free_row(parts, view, side, tacks, manner, taken)
        if labels is None:
            return None
        placed.append(labels)
        taken.extend(labels.shapes)
    return placed


def _free_row(
    parts: Parts,
    view: View,
    side: int,
    tacks: Sequence[Tack],
    manner: Manner,
    taken: list[shapely.Polygon],
) -> TackLabels | None:
    tree = shapely.STRtree(taken)
    for lifted in (0.0, 4.0, 8.0, 12.0, 16.0, 20.0):
        labels = Row(parts, view, side, tacks, manner, lifted).labels()
        if labels is None:
            return None
        if not len(tree.query(list(labels.shapes), predicate="intersects")[0]):
            return labels
    return None
