"""What an upright cut is drawn of: rails with their hatching, webbing, twine, hitches, knots."""

import math
from collections.abc import Iterable

from spring_layout.drawing.primitives import (
    Circle,
    Group,
    Item,
    Path,
    Step,
    Stroke,
    Tag,
    polyline,
    rectangle,
)
from spring_layout.drawing.side_view_coil import EYE, Upright
from spring_layout.drawing.side_view_cut import HitchCut, RailCut, Section, TwineCut
from spring_layout.drawing.side_view_look import SideColours
from spring_layout.drawing.side_view_webbing import StripCut
from spring_layout.planning.webbing import on_rail

WEB = 1.5
"""mm, one layer of webbing. Common practice, no source."""
PLYWOOD = 12.0
"""mm, a plywood floor. Common practice, no source."""
_LEAST_WEB = 0.55
"""mm on paper; thinner webbing is drawn so thick."""
_LEAST_RAIL = 25.0
"""mm; as much of a rail is drawn at least, however low its top stands above the webbing."""
_HATCH = 1.5
"""mm on paper between the lines that mark cut wood."""
_SLOPE = 6.0
"""mm over which a strip passes from one level to another."""
HITCH = 0.75
"""mm on paper, half a hitch's width."""
_KNOT = 0.95


def web_thickness(view: Upright) -> float:
    """How thick one layer of webbing is drawn, mm of the deck."""
    return max(WEB, _LEAST_WEB * view.scale)


def floor_depth(section: Section, view: Upright) -> float:
    """How far the base and the rails reach below the webbing's upper face, mm of the deck."""
    if section.deck.webbing.fixed == "plywood":
        return PLYWOOD
    lowest = max((_LEAST_RAIL - rail.top for rail in section.rails), default=0.0)
    return max(2 * web_thickness(view), lowest)


def rail_items(section: Section, view: Upright, colours: SideColours) -> list[Item]:
    """The rails cut through, hatched as cut wood is."""
    return [_rail(rail, view, colours) for rail in section.rails]


def rails_behind(section: Section, view: Upright, colours: SideColours) -> list[Item]:
    """The rails that stand farther off, pale and not hatched."""
    found: list[Item] = []
    for rail in section.beyond:
        bottom = min(0.0, rail.top - _LEAST_RAIL)
        (left, top), (right, low) = (
            view.place(rail.start, rail.top),
            view.place(rail.finish, bottom),
        )
        found.append(
            Path(
                rectangle(left, top, right - left, low - top),
                Stroke(colours.wood_edge, 0.18),
                fill=colours.soft_fill,
                tag=Tag(kind="rail", title="Rail beyond the cut"),
            )
        )
    return found


def _rail(rail: RailCut, view: Upright, colours: SideColours) -> Group:
    bottom = min(0.0, rail.top - _LEAST_RAIL)
    corners = (
        (rail.start, rail.top),
        (rail.finish, rail.top),
        (rail.finish, bottom),
        (rail.start, bottom),
    )
    body = Path(view.line(corners, closed=True), None, colours.wood)
    edge = Path(view.line(corners, closed=True), Stroke(colours.wood_edge, 0.35))
    mark = Stroke(colours.wood_edge, 0.13)
    hatch = Path(_hatching(rail, bottom, view), mark, tag=Tag(kind="hatching"))
    clipped = Group((hatch,), clip=Path(view.line(corners, closed=True)))
    return Group((body, clipped, edge), Tag(kind="rail", title="Rail, cut through"))


def _hatching(rail: RailCut, bottom: float, view: Upright) -> tuple[Step, ...]:
    left, top = view.place(rail.start, rail.top)
    right, low = view.place(rail.finish, bottom)
    high = low - top
    count = math.ceil((right - left + high) / _HATCH)
    steps: tuple[Step, ...] = ()
    for i in range(1, count):
        x = left + i * _HATCH
        steps += polyline(((x, top), (x - high, low)))
    return steps


def base_items(section: Section, view: Upright, colours: SideColours) -> list[Item]:
    """The webbing, or the plywood floor."""
    if section.deck.webbing.fixed == "plywood":
        return [_plywood(section, view, colours)]
    return [Group(tuple(_webbing(section, view, colours)), Tag(id="webbing"))]


def _plywood(section: Section, view: Upright, colours: SideColours) -> Item:
    start, finish = section.opening
    corners = ((start, 0.0), (finish, 0.0), (finish, -PLYWOOD), (start, -PLYWOOD))
    edge = Stroke(colours.wood_edge, 0.3)
    return Path(view.line(corners, closed=True), edge, colours.wood, Tag(id="webbing"))


def _webbing(section: Section, view: Upright, colours: SideColours) -> Iterable[Item]:
    thick = web_thickness(view)
    width = view.length(thick)
    start, finish = section.opening
    yield Path(view.line(((start, -thick), (finish, -thick))), Stroke(colours.jute_edge, 0.13))
    for strip in sorted(section.strips, key=lambda s: -_long(s)):
        steps = view.line(_woven(section, strip, thick))
        yield Path(steps, Stroke(colours.jute_edge, width))
        yield Path(steps, Stroke(colours.jute, max(width - 0.2, width * 0.5)))


def _long(strip: StripCut) -> float:
    return strip.finish - strip.start


def _woven(section: Section, strip: StripCut, thick: float) -> list[tuple[float, float]]:
    """The middle of a strip's thickness, over and under the others and on to the rails."""
    if section.deck.webbing.fixed == "over-rails":
        inner = _level_by_level(strip, strip.start, strip.finish, thick)
        before, after = _over_rails(section, strip, thick)
        return [*before, *inner, *after]
    start, finish = _under_rails(section, strip)
    return _level_by_level(strip, start, finish, thick)


def _level_by_level(
    strip: StripCut, start: float, finish: float, thick: float
) -> list[tuple[float, float]]:
    if not strip.levels:
        return [(start, -thick / 2), (finish, -thick / 2)]
    places: list[tuple[float, float]] = []
    for low, high, level in strip.levels:
        z = -thick / 2 if level > 0 else -1.5 * thick
        places += [(low - _SLOPE / 2, z), (high + _SLOPE / 2, z)]
    places = [(min(max(u, start), finish), z) for u, z in places]
    return [(start, places[0][1]), *places, (finish, places[-1][1])]


def _under_rails(section: Section, strip: StripCut) -> tuple[float, float]:
    """From where to where a strip goes that is fixed under the rails it comes to."""
    start, finish = strip.start, strip.finish
    for end, rail in _rails_met(section, strip):
        on = on_rail(section.deck.webbing, rail.finish - rail.start)
        start, finish = (start - on, finish) if end == 0 else (start, finish + on)
    return start, finish


def _over_rails(
    section: Section, strip: StripCut, thick: float
) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """The ends of a strip that goes over the rails it comes to, on their upper faces."""
    before: list[tuple[float, float]] = []
    after: list[tuple[float, float]] = []
    for end, rail in _rails_met(section, strip):
        on = on_rail(section.deck.webbing, rail.finish - rail.start)
        z = rail.top + thick / 2
        if end == 0:
            before = [(strip.start - on, z), (strip.start, z)]
        else:
            after = [(strip.finish, z), (strip.finish + on, z)]
    return before, after


def _rails_met(section: Section, strip: StripCut) -> Iterable[tuple[int, RailCut]]:
    """The rails that a strip comes to, each with the strip's end there: 0 left, 1 right."""
    for rail in section.rails:
        if abs(rail.finish - strip.start) < 1.0:
            yield 0, rail
        if abs(rail.start - strip.finish) < 1.0:
            yield 1, rail


def tie_items(tie: TwineCut, view: Upright, colours: SideColours) -> Group:
    """A tie's way from tack point over its hitches to tack point, and its return ties."""
    items: list[Item] = [
        Path(
            view.line(pair), Stroke(colours.runs[tie.run], 0.3, (1.2, 0.8)), tag=Tag(kind="return")
        )
        for pair in tie.returns
    ]
    tag = Tag(id=f"line-{tie.number}", kind="tie", data=(("run", tie.run),))
    items.append(Path(view.line(tie.way), colours.run(tie.run, 0.5), tag=tag))
    items += [_tack(u, z, view, colours) for u, z in tie.tacks]
    return Group(tuple(items), Tag(kind="ways"))


def _tack(u: float, z: float, view: Upright, colours: SideColours) -> Path:
    """A tack driven into the rail's top: its head and its shank."""
    x, y = view.place(u, z)
    steps = polyline(((x - 0.9, y), (x + 0.9, y))) + polyline(((x, y), (x, y + 1.8)))
    return Path(steps, Stroke(colours.ink, 0.4), tag=Tag(kind="tack"))


def hitch_items(hitches: Iterable[HitchCut], view: Upright, colours: SideColours) -> list[Item]:
    """Each hitch as a small wrapping on its ring."""
    return [_hitch(hitch, view, colours) for hitch in hitches]


def _hitch(hitch: HitchCut, view: Upright, colours: SideColours) -> Item:
    x, y = view.place(hitch.place[0], hitch.place[1] + EYE * hitch.away)
    data = (("ring", str(hitch.ring)), ("end", hitch.end))
    edge = Stroke(colours.paper, 0.2)
    return Circle(x, y, HITCH, edge, colours.runs[hitch.run], Tag(kind="hitch", data=data))


def knot_items(section: Section, view: Upright, colours: SideColours) -> list[Item]:
    """The cross knots on the tie: diamonds, filled at a spring."""
    items: list[Item] = []
    for (u, z), at_spring in section.knots:
        x, y = view.place(u, z)
        corners = ((x, y - _KNOT), (x + _KNOT, y), (x, y + _KNOT), (x - _KNOT, y))
        fill = colours.ink if at_spring else colours.paper
        steps = polyline(corners, closed=True)
        items.append(Path(steps, Stroke(colours.ink, 0.22), fill, Tag(kind="crossing")))
    return items
