"""The webbing under the springs: pale strips, woven over and under, seen through the opening."""

from spring_layout.drawing import look
from spring_layout.drawing.primitives import Group, Item, Path, Step, Tag, polyline, rectangle
from spring_layout.drawing.view import View
from spring_layout.geometry.outline import Outline
from spring_layout.planning.parts import Strip, WebbingPlan
from spring_layout.planning.webbing import goes_over


def webbing_group(webbing: WebbingPlan, outline: Outline, view: View) -> Group:
    """The strips, the front-to-back ones on top but where the others pass over them."""
    across, along = webbing.of("side-to-side"), webbing.of("front-to-back")
    items: list[Item] = [_strip(strip, view) for strip in (*across, *along)]
    for i, upright in enumerate(along):
        for j, level in enumerate(across):
            if not goes_over(i, j):
                items += _patch(upright, level, view)
    return Group(tuple(items), Tag(id="webbing"), clip=Path(_opening(outline, view)))


def _opening(outline: Outline, view: View) -> tuple[Step, ...]:
    return view.polyline(outline.ring.tolist(), closed=True)


def _strip(strip: Strip, view: View) -> Path:
    """One strip with both its edges, mm on paper."""
    long = strip.start, strip.finish
    wide = strip.at - strip.width / 2, strip.at + strip.width / 2
    xs, ys = (wide, long) if strip.run == "front-to-back" else (long, wide)
    (x0, y0), (x1, y1) = view.place((xs[0], ys[0])), view.place((xs[1], ys[1]))
    steps = rectangle(x0, y0, x1 - x0, y1 - y0)
    tag = Tag(kind="strip", data=(("run", strip.run),))
    return Path(steps, look.STRIP_EDGE, look.JUTE, tag)


def _patch(upright: Strip, level: Strip, view: View) -> list[Item]:
    """The piece of a level strip that passes over an upright one."""
    x0, y0 = view.place((upright.at - upright.width / 2, level.at - level.width / 2))
    x1, y1 = view.place((upright.at + upright.width / 2, level.at + level.width / 2))
    fill = Path(rectangle(x0, y0, x1 - x0, y1 - y0), fill=look.JUTE)
    edges = polyline(((x0, y0), (x1, y0))) + polyline(((x0, y1), (x1, y1)))
    return [fill, Path(edges, look.STRIP_EDGE)]
