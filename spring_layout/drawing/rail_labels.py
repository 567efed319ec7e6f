"""The rails' names and centre marks.

The names are written on their rails as near to the middle as the leaders of the tack points leave
room for them, along the rail, and on opposite rails at the same place where that is free on both.
Where one of them finds no room within 0.6 of the way to a corner, all stand outside, beyond the
tack points' labels at the middle of each side, so that one knows where to look.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cache, partial

import shapely

from spring_layout.drawing import lettering, look
from spring_layout.drawing.primitives import Item, Line, Move, Path, Place, Tag, Text, polyline
from spring_layout.drawing.view import View
from spring_layout.geometry.sides import SideCurve
from spring_layout.planning.parts import Parts

_MARK = 2.0
"""Height of the centre mark's triangle, mm."""
_CLEAR = 0.7
_ROUND = 8 * " "
_LEAST_OUT, _MOST_OUT = 2.5, 60.0
"""mm from the rail to a name outside it."""
_REACH = 0.6
"""A name on its rail stands no further from the middle than this share of the way to a corner."""
_STEEPEST = 60.0
"""Degrees; steeper words are read from the right edge of the sheet."""
_PAIRS = (("back", "front"), ("left", "right"))
Further = tuple[float, float]
"""mm on paper: across, for left and right, and down, for back and front."""


def rail_labels(
    parts: Parts, view: View, taken: Sequence[shapely.Geometry], further: Further = (0.0, 0.0)
) -> list[Item]:
    """Names on the longest side of each rail, and a centre mark on every rail.

    The names keep clear of the shapes ``taken``, mm on paper. Where they stand outside, they stand
    ``further`` out than they must.
    """
    frame = parts.deck.frame
    sides = [i for i, side in enumerate(frame.sides) if side.rail != "none"]
    marks = [_centre_mark(parts, view, i) for i in sides]
    tree = shapely.STRtree([*taken, *map(_mark_shape, marks)])
    named = [_NamedRail(parts, view, i, rail) for rail, i in _longest(parts).items()]
    names = _on_rails(named, tree) or _outside_rails(named, tree, further)
    return [*marks, *names]


def _longest(parts: Parts) -> dict[str, int]:
    """The longest side of each rail, by the rail's name, in the order of the sides."""
    longest: dict[str, int] = {}
    outline = parts.standing.outline
    for i, side in enumerate(parts.deck.frame.sides):
        best = longest.get(side.rail)
        if side.rail != "none" and (
            best is None or outline.sides[i].length > outline.sides[best].length + 0.01
        ):
            longest[side.rail] = i
    return longest


def _centre_mark(parts: Parts, view: View, side: int) -> Path:
    """A small triangle on the rail's outer edge that points at the middle of its inside edge."""
    curve, width = parts.standing.outline.sides[side], parts.deck.frame.width_of(side)
    middle = curve.length / 2
    out = curve.normal(middle)
    edge = view.place(curve.point(middle, width))
    return triangle((edge[0] - out[0] * _MARK, edge[1] - out[1] * _MARK), (out[0], out[1]))


def triangle(tip: Place, out: Place) -> Path:
    """The centre mark: a small triangle with its tip at ``tip``, mm, widening the way ``out``."""
    (x, y), (ox, oy) = tip, out
    x, y, ox, oy = float(x), float(y), float(ox) * _MARK, float(oy) * _MARK
    corners = [(x, y), (x + ox - oy / 2, y + oy + ox / 2), (x + ox + oy / 2, y + oy - ox / 2)]
    return Path(polyline(corners, closed=True), fill=look.INK, tag=Tag(kind="centre-mark"))


def _mark_shape(mark: Path) -> shapely.Polygon:
    return shapely.Polygon([(s.x, s.y) for s in mark.steps if isinstance(s, Move | Line)])


class _NamedRail:
    """A rail that is to have its name: the places where that can stand, and the words there."""

    def __init__(self, parts: Parts, view: View, side: int, rail: str) -> None:
        self.curve = parts.standing.outline.sides[side]
        self.width = parts.deck.frame.width_of(side)
        self.view, self.rail = view, rail
        room = self.width / view.scale
        self.height = look.NORMAL if room > look.NORMAL + 1.4 else look.SMALL
        self.has_room = room > self.height + 0.8
        # steps count to the right along back and front, to the front along left and right
        dx, dy = self.curve.tangent(self.curve.length / 2)
        self.sense = 1.0 if (dx if rail in ("back", "front") else dy) >= 0 else -1.0
        self.most = int(_REACH * self.curve.length / 2 / view.scale)

    def on_rail(self, step: int) -> Text:
        """The name in the middle of the rail's width, ``step`` mm of paper from its middle."""
        along = self.curve.length / 2 + self.sense * step * self.view.scale
        place = self.view.place(self.curve.point(along, self.width / 2))
        return _written(place, self.curve, along, self.rail.upper(), self.height)

    def outside(self, out: float) -> Text:
        """The name at the rail's middle, ``out`` mm of paper outside it."""
        along = self.curve.length / 2
        place = self.view.place(self.curve.point(along, self.width + out * self.view.scale))
        return _written(place, self.curve, along, self.rail.upper(), look.NORMAL)


def _on_rails(named: Sequence[_NamedRail], taken: shapely.STRtree) -> list[Text]:
    """All names on their rails, those of opposite rails alike; none where one has no room."""
    names: list[Text] = []
    for pair in _opposite(named):
        if not all(rail.has_room for rail in pair):
            return []
        steps = _steps(min(rail.most for rail in pair))
        free = [cache(partial(_is_free, rail, taken)) for rail in pair]
        both = next((s for s in steps if all(is_free(s) for is_free in free)), None)
        for rail, is_free in zip(pair, free, strict=True):
            step = both if both is not None else next((s for s in steps if is_free(s)), None)
            if step is None:
                return []
            names.append(rail.on_rail(step))
    return names


def _is_free(rail: _NamedRail, taken: shapely.STRtree, step: int) -> bool:
    return _is_clear(rail.on_rail(step), taken)


def _steps(most: int) -> list[int]:
    """0, 1, -1, 2, -2 ... up to ``most``, by twos where that is far."""
    apart = 1 if most < 40 else 2
    return [0, *(sign * i for i in range(apart, most + 1, apart) for sign in (1, -1))]


def _outside_rails(
    named: Sequence[_NamedRail], taken: shapely.STRtree, further: Further
) -> list[Text]:
    """All names outside the tack points' labels, those of opposite rails as far out."""
    names: list[Text] = []
    for pair in _opposite(named):
        out = max(_free_out(rail, taken) for rail in pair)
        more = further[pair[0].rail in ("back", "front")]
        names += [rail.outside(out + more) for rail in pair]
    return names


def _free_out(rail: _NamedRail, taken: shapely.STRtree) -> float:
    """How far out, mm on paper, the name is clear of everything, with room before and after it.

    So it stands beyond the tack points' labels, not in a gap between two of them.
    """
    out = _LEAST_OUT
    while out < _MOST_OUT:
        text = rail.outside(out)
        if _is_clear(replace(text, words=f"{_ROUND}{text.words}{_ROUND}"), taken):
            break
        out += 0.5
    return out


def _opposite(named: Sequence[_NamedRail]) -> list[list[_NamedRail]]:
    """Back with front, left with right, as far as they are there."""
    pairs = ([r for r in named if r.rail in pair] for pair in _PAIRS)
    return [pair for pair in pairs if pair]


def _is_clear(text: Text, taken: shapely.STRtree) -> bool:
    shape = shapely.Polygon(lettering.corners(text))
    return not len(taken.query(shape, predicate="dwithin", distance=_CLEAR))


def _written(place: Place, curve: SideCurve, along: float, words: str, height: float) -> Text:
    """``words`` along the side, centred on ``place``."""
    angle = math.degrees(float(curve.heading(along)))
    turned = round((angle + 90) % 180 - 90, 6)
    if turned > _STEEPEST:
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
