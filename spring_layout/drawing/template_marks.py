"""The deck at full size, mark by mark: each knows what it covers, so that a sheet takes its own.

Lines only: large fills would waste ink at full size and hide the webbing's weave.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import shapely

from spring_layout.deck.model import Spring
from spring_layout.drawing import look
from spring_layout.drawing.primitives import Circle, Item, Path, Place, Stroke, Tag, polyline
from spring_layout.drawing.rail_labels import triangle
from spring_layout.drawing.rails import rail_shapes
from spring_layout.drawing.tacks import Tack, tacks_of
from spring_layout.drawing.view import View
from spring_layout.geometry.sides import Array, SideCurve
from spring_layout.planning.parts import Parts, Strip
from spring_layout.planning.stitching import foot_points
from spring_layout.planning.webbing import foot_fixing_of

Bounds = tuple[float, float, float, float]
"""Least x, least y, most x, most y, mm."""

FOOT = Stroke(look.INK, 0.4)
TOP = Stroke(look.HAIR, 0.15, (2.0, 1.5))
CENTRE_LINE = Stroke(look.INK, 0.15, (9.0, 1.5, 1.5, 1.5))
FINE = Stroke(look.INK, 0.15)
STITCH = Stroke(look.INK, 0.6)
WEB = Stroke("#A08A5C", 0.25, (5.0, 2.0))
NAIL_LINE = Stroke(look.WOOD_EDGE, 0.13, (6.0, 1.5, 1.0, 1.5))
EDGE = Stroke(look.INK, 0.5)
PRICK = 1.0
"""Radius of the ring to prick through, mm."""
_BEYOND = 6.0
"""mm that a spring's centre lines reach past its foot."""
_STITCH = 2.5
_TACK = 3.0


@dataclass(frozen=True)
class Mark:
    """Something drawn: the lines that it covers on the deck, mm, and how to draw it."""

    lines: shapely.Geometry
    draw: Callable[[View], list[Item]]
    is_webbing: bool = False


def marks_of(parts: Parts) -> list[Mark]:
    """Everything that the template shows but its labels and the webbing, in painting order."""
    return [
        *_rails(parts),
        *_middle_line(parts),
        *(_spring(parts, spring) for spring in parts.deck.springs),
        *_stitches(parts),
        *(_tack(parts, tack) for tacks in tacks_of(parts).values() for tack in tacks),
    ]


def strip_marks(parts: Parts) -> list[Mark]:
    """The edges of the webbing strips, which are shown within the opening."""
    opening = parts.standing.outline.polygon
    return [_strip(strip, opening) for strip in parts.webbing.strips]


class Ink:
    """All marks of a template, found by where they lie; where there are none it is blank."""

    def __init__(self, marks: Sequence[Mark]) -> None:
        self._marks = marks
        self._tree = shapely.STRtree([mark.lines for mark in marks])
        self.bounds: Bounds = tuple(shapely.total_bounds(self._tree.geometries).tolist())

    def within(self, shows: Bounds) -> list[Mark]:
        """The marks of which some lies within ``shows``, in painting order."""
        found = self._tree.query(shapely.box(*shows), predicate="intersects")
        return [self._marks[i] for i in sorted(found.tolist())]


def middle_of(curve: SideCurve) -> Place:
    """The place halfway along a side's inside edge, where its rail has the centre mark, mm."""
    return _place(curve.point(curve.length / 2))


def _place(point: Array) -> Place:
    return float(point[0]), float(point[1])


def _lines(*lines: Sequence[Place]) -> shapely.Geometry:
    pieces: shapely.Geometry = shapely.multilinestrings([shapely.linestrings(x) for x in lines])
    return pieces


def _ring(x: float, y: float, radius: float) -> shapely.Geometry:
    return shapely.Point(x, y).buffer(radius).exterior


def _rails(parts: Parts) -> Iterator[Mark]:
    frame, outline = parts.deck.frame, parts.standing.outline
    for band in rail_shapes(frame, outline).values():
        yield Mark(band.exterior, _rail_edge(band))
    for number, side in enumerate(frame.sides):
        yield _inside_edge(parts, number)
        if side.rail != "none":
            yield _nail_line(parts, number)
            yield _centre_mark(parts, number)


def _inside_edge(parts: Parts, side: int) -> Mark:
    curve, line = parts.standing.outline.sides[side], parts.standing.outline.lines[side]
    stroke = look.OPEN_SIDE if parts.deck.frame.sides[side].rail == "none" else EDGE
    tag = Tag(kind="inside-edge", data=(("side", str(side)),))
    return Mark(line, lambda view: [Path(view.side(curve), stroke, tag=tag)])


def _rail_edge(band: shapely.Polygon) -> Callable[[View], list[Item]]:
    ring = band.exterior.coords[:-1]
    return lambda view: [Path(view.polyline(ring, closed=True), look.RAIL_EDGE)]


def _nail_line(parts: Parts, side: int) -> Mark:
    outside = parts.deck.frame.nail_line_of(side)
    line = parts.standing.outline.sides[side].polyline(outside).tolist()
    return Mark(_lines(line), lambda view: [Path(view.polyline(line), NAIL_LINE)])


def _centre_mark(parts: Parts, side: int) -> Mark:
    """A line across the rail at the middle of its inside edge, and a triangle on it."""
    curve, width = parts.standing.outline.sides[side], parts.deck.frame.width_of(side)
    middle = curve.length / 2
    inner, outer = middle_of(curve), _place(curve.point(middle, width))
    out = _place(curve.normal(middle))

    def draw(view: View) -> list[Item]:
        ends = view.place(inner), view.place(outer)
        return [Path(polyline(ends), FINE), triangle(view.place(inner), out)]

    return Mark(_lines((inner, outer)), draw)


def _middle_line(parts: Parts) -> Iterator[Mark]:
    """The frame's own middle: from the back rail's centre mark to the front rail's."""
    sides = parts.deck.frame.sides
    backs, fronts = ([i for i, s in enumerate(sides) if s.rail == r] for r in ("back", "front"))
    if len(backs) == len(fronts) == 1:
        curves = parts.standing.outline.sides
        ends = middle_of(curves[backs[0]]), middle_of(curves[fronts[0]])
        yield Mark(_lines(ends), lambda view: [Path(view.polyline(ends), CENTRE_LINE)])


def _cross(parts: Parts, spring: Spring) -> tuple[tuple[Place, Place], tuple[Place, Place]]:
    """A spring's two centre lines."""
    reach = parts.deck.coil_of(spring).foot_diameter / 2 + _BEYOND
    x, y = spring.x, spring.y
    return ((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach))


def _spring(parts: Parts, spring: Spring) -> Mark:
    """Its foot, its top coil, its centre lines, and the place to prick through."""
    coil, label = parts.deck.coil_of(spring), parts.labels[spring.id]
    foot, top = coil.foot_diameter / 2, coil.top_radius
    lines = _cross(parts, spring)

    def draw(view: View) -> list[Item]:
        x, y = view.place((spring.x, spring.y))
        tag = Tag(id=f"foot-{spring.id}", kind="foot", title=f"Foot of spring {label}")
        centre = Tag(id=f"centre-{spring.id}", kind="centre", title=f"Centre of spring {label}")
        rings: list[Item] = [Circle(x, y, foot, FOOT, tag=tag)]
        if not math.isclose(top, foot):
            rings.append(Circle(x, y, top, TOP))
        crossed = [Path(view.polyline(line), CENTRE_LINE) for line in lines]
        return [*rings, *crossed, *_prick((x, y), centre)]

    rings = [_ring(spring.x, spring.y, radius) for radius in {foot, top}]
    return Mark(shapely.union_all([_lines(*lines), *rings]), draw)


def _prick(place: Place, tag: Tag) -> list[Item]:
    """A small cross in a small ring."""
    x, y = place
    level, upright = ((x - 3, y), (x + 3, y)), ((x, y - 3), (x, y + 3))
    return [
        *(Path(polyline(line), Stroke(look.INK, 0.25)) for line in (level, upright)),
        Circle(x, y, PRICK, Stroke(look.INK, 0.3), tag=tag),
    ]


def _stitches(parts: Parts) -> Iterator[Mark]:
    """Short bars across the feet where they are sewn down."""
    deck = parts.deck
    if not deck.springs or foot_fixing_of(deck) != "stitch":
        return
    _, points = foot_points(deck.springs, deck.coils, deck.stitching)
    for spring, places in zip(deck.springs, points, strict=True):
        for x, y in places.tolist():
            yield _stitch((x, y), (spring.x, spring.y))


def _stitch(place: Place, centre: Place) -> Mark:
    (x, y), (cx, cy) = place, centre
    far = math.hypot(x - cx, y - cy) or 1.0  # a foot may be as good as a point
    dx, dy = (x - cx) / far * _STITCH, (y - cy) / far * _STITCH
    ends = (x - dx, y - dy), (x + dx, y + dy)
    tag = Tag(kind="stitch")
    return Mark(_lines(ends), lambda view: [Path(view.polyline(ends), STITCH, tag=tag)])


def _tack(parts: Parts, tack: Tack) -> Mark:
    """A cross on the nail line, one arm of it from the inside edge."""
    curve = parts.standing.outline.sides[tack.side]
    (x, y), (dx, dy) = tack.anchor, _place(_TACK * curve.tangent(tack.along))
    outside = parts.deck.frame.nail_line_of(tack.side) + _TACK
    arm = _place(curve.point(tack.along)), _place(curve.point(tack.along, outside))
    bar = (x - dx, y - dy), (x + dx, y + dy)
    tag = Tag(kind="tack", data=(("tie", str(tack.line.number)), ("side", str(tack.side))))

    def draw(view: View) -> list[Item]:
        prick = Circle(*view.place((x, y)), PRICK, FINE, tag=tag)
        bars = Path(view.polyline(bar), look.TACK_BAR), Path(view.polyline(arm), FINE)
        return [*bars, prick]

    return Mark(_lines(bar, arm), draw)


def _edges(strip: Strip) -> tuple[tuple[Place, Place], tuple[Place, Place]]:
    """Both long edges of a strip, from inside edge to inside edge."""
    low, high = strip.at - strip.width / 2, strip.at + strip.width / 2
    begin, end = strip.start, strip.finish
    if strip.run == "front-to-back":
        return ((low, begin), (low, end)), ((high, begin), (high, end))
    return ((begin, low), (end, low)), ((begin, high), (end, high))


def _strip(strip: Strip, opening: shapely.Polygon) -> Mark:
    first, second = _edges(strip)
    tag = Tag(kind="strip", data=(("run", strip.run),))

    def draw(view: View) -> list[Item]:
        return [Path(view.polyline(first) + view.polyline(second), WEB, tag=tag)]

    return Mark(_lines(first, second).intersection(opening), draw, True)
