"""The rails' names and centre marks.

A name is written on its rail as near to the middle as the leaders of the tack points leave room
for it, along the rail; where they leave none, outside the tack points' labels.
"""

import math
from collections.abc import Sequence

import numpy as np
import shapely

from spring_layout.drawing import lettering, look
from spring_layout.drawing.primitives import Item, Line, Move, Path, Place, Tag, Text, polyline
from spring_layout.drawing.view import View
from spring_layout.geometry.sides import SideCurve
from spring_layout.planning.parts import Parts

_MARK = 2.0
"""Height of the centre mark's triangle, mm."""
_CLEAR = 0.7


def rail_labels(parts: Parts, view: View, taken: Sequence[shapely.Geometry]) -> list[Item]:
    """Names on the longest side of each rail, and a centre mark on every rail.

    The names keep clear of the shapes ``taken``, mm on paper.
    """
    frame, outline = parts.deck.frame, parts.standing.outline
    longest: dict[str, int] = {}
    for i, side in enumerate(frame.sides):
        if side.rail != "none":
            best = longest.get(side.rail)
            if best is None or outline.sides[i].length > outline.sides[best].length + 0.01:
                longest[side.rail] = i
    sides = [i for i, side in enumerate(frame.sides) if side.rail != "none"]
    marks = [_centre_mark(parts, view, i) for i in sides]
    mark_shapes = [_mark_shape(mark) for mark in marks]
    tree = shapely.STRtree([*taken, *mark_shapes])
    return [*marks, *(_name(parts, view, i, rail.upper(), tree) for rail, i in longest.items())]


def _centre_mark(parts: Parts, view: View, side: int) -> Path:
    """A small triangle on the rail's outer edge that points at the middle of its inside edge."""
    curve, width = parts.standing.outline.sides[side], parts.deck.frame.width_of(side)
    middle = curve.length / 2
    out = curve.normal(middle)
    edge = view.place(curve.point(middle, width))
    return triangle((edge[0] - out[0] * _MARK, edge[1] - out[1] * _MARK), (out[0], out[1]))


def triangle(tip: Place, out: Place) -> Path:
    """The centre mark: a small triangle with its tip at ``tip``, widening the way ``out``."""
    (x, y), (ox, oy) = tip, out
    x, y, ox, oy = float(x), float(y), float(ox) * _MARK, float(oy) * _MARK
    corners = [(x, y), (x + ox - oy / 2, y + oy + ox / 2), (x + ox + oy / 2, y + oy - ox / 2)]
    return Path(polyline(corners, closed=True), fill=look.INK, tag=Tag(kind="centre-mark"))


def _mark_shape(mark: Path) -> shapely.Polygon:
    return shapely.Polygon([(s.x, s.y) for s in mark.steps if isinstance(s, Move | Line)])


def _name(parts: Parts, view: View, side: int, words: str, taken: shapely.STRtree) -> Text:
    curve, width = parts.standing.outline.sides[side], parts.deck.frame.width_of(side)
    room = width / view.scale
    height = look.NORMAL if room > look.NORMAL + 1.4 else look.SMALL
    if room > height + 0.8:
        for along in _along_from_middle(curve, view):
            text = _written(view.place(curve.point(along, width / 2)), curve, along, words, height)
            if _is_clear(text, taken):
                return text
    return _outside(curve, width, view, words, taken)


def _along_from_middle(curve: SideCurve, view: View) -> list[float]:
    """Places along the side a millimetre of paper apart, the nearest to the middle first."""
    count = int(curve.length / 2 / view.scale)
    steps = [0, *(sign * i for i in range(1, count + 1) for sign in (-1, 1))]
    return [curve.length / 2 + step * view.scale for step in steps]


def _is_clear(text: Text, taken: shapely.STRtree) -> bool:
    shape = shapely.Polygon(lettering.corners(text))
    return not len(taken.query(shape, predicate="dwithin", distance=_CLEAR))


def _outside(
    curve: SideCurve, width: float, view: View, words: str, taken: shapely.STRtree
) -> Text:
    """Outside everything at the side's middle."""
    along = curve.length / 2
    for out in np.arange(2.5, 60.0, 0.5):
        place = curve.point(along, width + float(out) * view.scale)
        text = _written(view.place(place), curve, along, words, look.NORMAL)
        if _is_clear(text, taken):
            break
    return text


def _written(place: Place, curve: SideCurve, along: float, words: str, height: float) -> Text:
    """``words`` along the side, centred on ``place``."""
    angle = math.degrees(float(curve.heading(along)))
    turned = round((angle + 90) % 180 - 90, 6)
    if turned > 60.0:
        turned -= 180.0
    radians = math.radians(turned)
    x = place[0] - math.sin(radians) * height / 2
    y = place[1] + math.cos(radians) * height / 2
    return lettering.lettered(
        (x, y),
        words,
        height,
        look.INK,
        anchor="middle",
        weight="bold",
        turned=turned,
        tag=Tag(kind="rail-name"),
    )
