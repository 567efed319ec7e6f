"""One row of tack points' labels outside a rail.

The labels stand outside the rail, square to it; where they would fall upon each other they are
spread with a kink in the leader (``spread``). Where a rail has no room for that, the row gets
closer in steps (``Manner``).
"""

import math
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
    Stroke,
    Tag,
    Text,
    Weight,
    polyline,
)
from spring_layout.drawing.spread import spread_between
from spring_layout.drawing.tacks import Tack, distance_words
from spring_layout.drawing.view import Array, View
from spring_layout.geometry.sides import SideCurve
from spring_layout.planning.parts import Parts

Manner = Literal["discs", "turned", "numbers", "straight"]
"""``discs``: the number upright in a disc, then the distance. ``turned``: number and distance in
one line square to the rail, which takes less of the rail. ``numbers``: without the distances, in
two rows. ``straight``: the same without the diagonals' numbers."""
TWO_ROWS = ("numbers", "straight")

LEAVE = 0.8
"""mm from the rail's outer edge to where a leader may kink."""
KINK = 2.2
"""mm over which it kinks."""
AFTER, _AFTER_NUMBER, _BEFORE = 1.0, 1.7, 0.6
"""mm between a disc and the distance; between a bare number and the distance; between a leader and
a bare number."""
_APART = 0.9
"""mm between neighbours in a row."""
_NEARLY = math.sin(math.radians(13.0))
_FLIP_FROM, _FLIP_TO = 60.0, 240.0
"""Degrees of the way out between which words read toward the rail, so that they are read from the
bottom or the right edge of the sheet, as on any technical drawing."""
_STEEPEST = -105.0
"""Degrees: words that read upward lean back no further than this; where the way out does, they
turn out of it by up to 15 degrees."""


@dataclass(frozen=True)
class TackLettering:
    """How high the ties' numbers and the distances are lettered, mm.

    A label may stand at most ``aside`` mm along the rail from where it belongs.
    """

    number: float
    distance: float
    aside: float


ROOMY = TackLettering(3.0, 2.5, 3.0)
USUAL = TackLettering(2.5, 2.2, 4.5)
LEAST = TackLettering(2.2, 2.0, math.inf)
"""The numbers' figures are never lower than 2.2 mm: they are read at arm's length."""


@dataclass(frozen=True)
class TackLabels:
    """The labels of one side: things to draw, the shapes they cover, and the leaders, mm."""

    items: tuple[Item, ...]
    shapes: tuple[shapely.Polygon, ...]
    leaders: tuple[shapely.LineString, ...]


def _number_width(tack: Tack, size: TackLettering) -> float:
    return lettering.width(str(tack.line.number), size.number, "bold")


def _disc_size(tack: Tack, size: TackLettering) -> float:
    """The diameter of the disc that holds the tie's number, mm."""
    wide = _number_width(tack, size)
    return max(2.0 * size.number, math.hypot(wide, size.number) + 0.9)


def _size_along(tack: Tack, manner: Manner, size: TackLettering) -> float:
    """How much of the rail's length the label takes, mm on paper."""
    return _disc_size(tack, size) if manner == "discs" else size.number + 0.3


class Row:
    """The labels along one side, set out in a manner and ``lifted`` mm further out.

    ``inset``: how much further, in mm, they keep from corners that point inward; the leaders then
    run there straight from the tack points.
    """

    def __init__(
        self,
        parts: Parts,
        view: View,
        side: int,
        tacks: Sequence[Tack],
        manner: Manner,
        size: TackLettering,
        lifted: float = 0.0,
        inset: float = 0.0,
    ) -> None:
        self.parts, self.view, self.manner, self.size = parts, view, manner, size
        self.tacks = tacks
        self.curve: SideCurve = parts.standing.outline.sides[side]
        self.width = parts.deck.frame.width_of(side)
        self.start = self.width / view.scale + LEAVE + KINK + lifted
        """mm on paper from the inside edge to where the labels start."""
        self.stretch = (1 + self.start * view.scale * self.curve.curvature) / view.scale
        """mm of the row for each mm of the inside edge."""
        self.direct = inset > 0
        self.ends = _row_ends(parts, side, self.stretch, view, inset)

    def labels(self) -> TackLabels | None:
        """The labels, or None where the row has no room for them."""
        places = self._places()
        if places is None:
            return None
        starts, leaders = self._ways(np.array(places))
        along = self.curve.length / 2 + np.array(places) / self.stretch
        ways = _squared(self.curve.normal(along))
        items: list[Item] = []
        shapes: list[shapely.Polygon] = []
        for tack, start, way, leader in zip(self.tacks, starts, ways, leaders, strict=True):
            words = self._words(tack, start, way)
            items.append(Group((Path(polyline(leader), look.HAIRLINE), *words), _tack_tag(tack)))
            shapes += _shapes_of(words)
        lines = tuple(shapely.LineString(leader) for leader in leaders)
        return TackLabels(tuple(items), tuple(shapes), lines)

    def _places(self) -> list[float] | None:
        """Where the labels stand along the row, from its middle, mm on paper."""
        wished = [tack.distance * self.stretch for tack in self.tacks]
        sizes = [_size_along(tack, self.manner, self.size) for tack in self.tacks]
        if self.manner in TWO_ROWS:
            sizes = [size * 0.6 for size in sizes]
        places = spread_between(wished, sizes, _APART, *self.ends)
        if places is None or any(
            abs(place - wish) > self.size.aside for place, wish in zip(places, wished, strict=True)
        ):
            return None
        return places

    def _ways(self, places: Array) -> tuple[Array, list[list[Place]]]:
        """Where each label starts, (n, 2), and its leader from the tack point over the rail."""
        wished = np.array([tack.distance * self.stretch for tack in self.tacks])
        over = self._at(wished, self.width / self.view.scale + LEAVE)
        kinked = self._at(places, self.start)
        starts = kinked
        if self.manner in TWO_ROWS:
            further = max((_number_width(tack, self.size) for tack in self.tacks), default=0.0)
            further += AFTER
            second = np.arange(len(places)) % 2 == 1
            starts = np.where(second[:, None], self._at(places, self.start + further), kinked)
        anchors = self.view.places(np.array([t.anchor for t in self.tacks]).reshape(-1, 2))
        bends = [kinked, starts] if self.direct else [over, kinked, starts]
        points = np.stack([anchors, *bends], axis=1).tolist()
        return starts, [_without_repeats(leader) for leader in points]

    def _at(self, u: Array, out: float) -> Array:
        """(n, 2) places ``out`` mm (paper) from the inside edge, ``u`` along the row."""
        along = self.curve.length / 2 + u / self.stretch
        return self.view.places(self.curve.point(along, out * self.view.scale))

    def _words(self, tack: Tack, start: Array, way: Array) -> list[Item]:
        """The number, in a disc or not, and the distance, from ``start`` outward."""
        number, size = str(tack.line.number), self.size
        if self.manner == "discs":
            wide = _disc_size(tack, size)
            words = _disc(tack, start + way * wide / 2, wide / 2, size.number)
            reach = wide + AFTER
        else:
            words = [_square_text(start + way * _BEFORE, way, number, size.number, "bold")]
            reach = _BEFORE + _number_width(tack, size) + _AFTER_NUMBER
        if self.manner not in TWO_ROWS:
            distance = distance_words(tack, self.parts)
            words.append(_square_text(start + way * reach, way, distance, size.distance, "regular"))
        return words


def _tack_tag(tack: Tack) -> Tag:
    number = str(tack.line.number)
    return Tag(kind="tack-point", data=(("line", number), ("from-centre", _mm(tack.distance))))


def _without_repeats(points: list[list[float]]) -> list[Place]:
    """The points as places, without those that repeat the one before."""
    places = [(x, y) for x, y in points]
    return [p for i, p in enumerate(places) if i == 0 or p != places[i - 1]]


def _row_ends(
    parts: Parts, side: int, stretch: float, view: View, inset: float
) -> tuple[float, float]:
    """How far the row may reach from the middle both ways, mm on paper.

    Past a corner that points outward as far as the rails do, and ``inset`` mm more; before one
    that points inward, where the next rail stands in the way, as far as that rail, and ``inset``
    mm less.
    """
    frame, outline = parts.deck.frame, parts.standing.outline
    half = outline.sides[side].length / 2 * stretch
    after = (side + 1) % len(outline.sides)
    more = []
    for corner, other in ((side, side - 1), (after, after)):
        turn = float(outline.turns[corner]) if outline.is_corner(corner) else 0.0
        if turn > 0:
            more.append(view.length(frame.width_of(side)) + inset)
        elif turn < 0:
            next_rail = 0.0 if frame.sides[other].rail == "none" else frame.width_of(other)
            more.append(-view.length(next_rail) - _APART - inset)
        else:
            more.append(0.0)
    return -half - more[0], half + more[1]


def _squared(ways: Array) -> Array:
    """The ways out of a row (n, 2), made level or upright where all are nearly so.

    So words stand calmly at the sides of a tapered frame and at a slightly bowed front.
    """
    for axis in (0, 1):
        if (np.abs(ways[:, axis]) < _NEARLY).all():
            squared = np.sign(ways)
            squared[:, axis] = 0.0
            return np.asarray(squared)
    return ways


def _disc(tack: Tack, centre: Array, radius: float, height: float) -> list[Item]:
    x, y = _place(centre)
    edge = Stroke(look.RUN_LOOKS[tack.line.run].stroke.colour, 0.35)
    number = lettering.lettered(
        (x, y + height / 2),
        str(tack.line.number),
        height,
        look.INK,
        anchor="middle",
        weight="bold",
        tag=Tag(kind="tie-number"),
    )
    return [Circle(x, y, radius, edge, look.PAPER), number]


def _square_text(place: Array, way: Array, words: str, height: float, weight: Weight) -> Text:
    """Words square to the rail from ``place`` outward, turned so that they can be read."""
    angle = math.degrees(math.atan2(way[1], way[0])) % 360
    flipped = _FLIP_FROM < angle <= _FLIP_TO
    turned = max(_STEEPEST, angle - (180 if flipped else 360 if angle > _FLIP_TO else 0))
    radians = math.radians(turned)
    down = np.array([-math.sin(radians), math.cos(radians)])
    kind = "tie-number" if weight == "bold" else "distance"
    return lettering.lettered(
        _place(place + down * height / 2),
        words,
        height,
        look.INK,
        anchor="end" if flipped else "start",
        weight=weight,
        turned=round(turned, 6) + 0.0,
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
