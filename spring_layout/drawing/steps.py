"""The tying steps: a strip of small pictures, what is tied so far and the next tie over it.

The ties tied before are thin and grey, the next one is drawn as on the tie diagram, with its
number and the springs it goes over. With very many ties, a picture shows the next few.
"""

from dataclasses import dataclass

from spring_layout.checks.words import RUN_WORDS, opened
from spring_layout.drawing import lettering, look
from spring_layout.drawing.paper import MARGIN, Paper, PaperError
from spring_layout.drawing.plan_view import deck_bounds
from spring_layout.drawing.primitives import (
    Arc,
    Drawing,
    Group,
    Item,
    Move,
    Path,
    Place,
    Step,
    Stroke,
    Tag,
    polyline,
    rectangle,
)
from spring_layout.drawing.view import View
from spring_layout.plan import Plan
from spring_layout.planning.parts import Line, Parts

_HEADER, _CAPTION, _GAP = 15.0, 11.0, 6.0
_TEXT, _NAME = 2.6, 5.0
_WIDEST, _TALLEST, _NARROWEST = 90.0, 48.0, 56.0
_LEAST_SHARE = 0.85
"""A picture is made no lower than this to save a page."""
_MOST_PICTURES = 60
"""With more ties than this a picture shows the next few."""
_DONE = Stroke(look.FAINT_STEEL, 0.35)
_RING = Stroke(look.HAIR, 0.15)
_LEAST_WIDTH = 140.0
_SPRINGS_NAMED = 5


@dataclass(frozen=True)
class _Grid:
    """How the pictures stand on a page: columns, rows, a picture's width and height, mm."""

    columns: int
    rows: int
    width: float
    height: float


def tying_steps(plan: Plan, paper: Paper) -> tuple[Drawing, ...]:
    """The pages of small pictures; one that says so where there are no ties.

    Raises PaperError where the paper is too small.
    """
    upright = paper.portrait()
    larger = upright.lettering
    page = Paper(paper.name, upright.width / larger, upright.height / larger)
    if page.width < _LEAST_WIDTH:
        raise PaperError(f"{paper.name} is too small for tying steps; use A5 paper or larger")
    steps = _steps(plan.parts)
    grid = _grid(plan.parts, page, len(steps))
    each = grid.columns * grid.rows
    pages = [steps[i : i + each] for i in range(0, len(steps), each)] or [[]]
    drawings = (_page(plan, page, grid, told, i, len(pages)) for i, told in enumerate(pages, 1))
    return tuple(d.enlarged(larger) if larger > 1 else d for d in drawings)


def _steps(parts: Parts) -> list[tuple[Line, ...]]:
    """The ties of each picture: one, or the next few of one run where there are very many."""
    lines = parts.ties.lines
    most = -(-len(lines) // _MOST_PICTURES)
    steps: list[tuple[Line, ...]] = []
    for line in lines:
        if steps and len(steps[-1]) < most and steps[-1][0].run == line.run:
            steps[-1] = (*steps[-1], line)
        else:
            steps.append((line,))
    return steps


def _grid(parts: Parts, page: Paper, count: int) -> _Grid:
    """How the ``count`` pictures stand: a little lower where that saves a page."""
    x0, y0, x1, y1 = deck_bounds(parts)
    shape = (y1 - y0) / (x1 - x0)
    room = page.width - 2 * MARGIN
    wished = min(_WIDEST, max(_NARROWEST, _TALLEST / shape))
    columns = max(1, int((room + _GAP) // (wished + _GAP)))
    width = (room + _GAP) / columns - _GAP
    height = min(_TALLEST, width * shape)
    tall = page.height - 2 * MARGIN - _HEADER
    rows = max(1, int((tall + _GAP) // (height + _CAPTION + _GAP)))
    lower = (tall + _GAP) / (rows + 1) - _CAPTION - _GAP
    pages = -(-count // (columns * rows))
    if lower >= _LEAST_SHARE * height and -(-count // (columns * (rows + 1))) < pages:
        return _Grid(columns, rows + 1, width, lower)
    return _Grid(columns, rows, width, height)


def _page(
    plan: Plan,
    page: Paper,
    grid: _Grid,
    steps: list[tuple[Line, ...]],
    number: int,
    count: int,
) -> Drawing:
    name = plan.deck.name.strip() or plan.parts.told("Seat deck")
    items: list[Item] = [Path(rectangle(0, 0, page.width, page.height), fill=look.PAPER)]
    items += _header(name, page, f"Tying steps {number} of {count}, back at the top")
    for i, lines in enumerate(steps):
        down, right = divmod(i, grid.columns)
        x = MARGIN + right * (grid.width + _GAP)
        y = MARGIN + _HEADER + down * (grid.height + _CAPTION + _GAP)
        items.append(_picture(plan.parts, lines, (x, y), grid))
    if not steps:
        items.append(
            written_at(
                (MARGIN, MARGIN + _HEADER + 4.0), plan.parts.told("This deck has no ties yet.")
            )
        )
    return Drawing(
        page.width,
        page.height,
        f"Tying steps: {name}, page {number} of {count}",
        plan.parts.told(
            "Small pictures in tying order, not to scale: what is tied so far in grey, the next "
            "tie over it."
        ),
        tuple(items),
        (("sheet", str(number)),),
    )


def _header(name: str, page: Paper, told: str) -> list[Item]:
    right, line = page.width - MARGIN, MARGIN + 10.0
    room = right - MARGIN - lettering.width(told, _TEXT) - 6.0
    head = lettering.shortened(name, _NAME, room, "bold")
    return [
        lettering.lettered((MARGIN, line - 2.6), head, _NAME, look.INK, weight="bold"),
        lettering.lettered((right, line - 2.6), told, _TEXT, look.INK, anchor="end"),
        Path(polyline(((MARGIN, line), (right, line))), look.SHEET_EDGE),
    ]


def written_at(place: Place, words: str) -> Item:
    """A line of words, its baseline at ``place``, mm."""
    return lettering.lettered(place, words, _TEXT, look.INK)


def _picture(parts: Parts, lines: tuple[Line, ...], place: Place, grid: _Grid) -> Group:
    """One step: the frame, the springs, the ties before, the next one, and its words."""
    x0, y0, x1, y1 = deck_bounds(parts)
    scale = max((x1 - x0) / grid.width, (y1 - y0) / grid.height)
    x = place[0] + grid.width / 2 - (x0 + x1) / 2 / scale
    y = place[1] + grid.height / 2 - (y0 + y1) / 2 / scale
    view = View(scale, x, y)
    done = parts.ties.lines[: lines[0].number - 1]
    items: list[Item] = [Path(_rings(parts, view), _RING)]
    if done:
        items.append(Path(tuple(s for line in done for s in view.polyline(line.path)), _DONE))
    items += [Path(view.side(side), look.RULE) for side in parts.standing.outline.sides]
    for line in lines:
        stroke = look.RUN_LOOKS[line.run].stroke.times(1.5)
        tag = Tag(id=f"step-{line.number}", kind="next-tie", data=(("run", line.run),))
        items.append(Path(view.polyline(line.path), stroke, tag=tag))
    caption = place[0], place[1] + grid.height
    return Group((*items, *_caption(parts, lines, caption, grid.width)), Tag(kind="step"))


def _rings(parts: Parts, view: View) -> tuple[Step, ...]:
    """All top coils as one path."""
    steps: list[Step] = []
    for (x, y), radius in zip(parts.standing.centres, parts.standing.radii, strict=True):
        (px, py), r = view.place((x, y)), view.length(float(radius))
        halves = (Arc(px, py, r, 0.0, 180.0), Arc(px, py, r, 180.0, 180.0))
        steps += [Move(px + r, py), *halves]
    return tuple(steps)


def _caption(parts: Parts, lines: tuple[Line, ...], place: Place, room: float) -> list[Item]:
    """The tie's number and run, and the springs it goes over."""
    x, y = place
    first, last = lines[0].number, lines[-1].number
    number = str(first) if first == last else f"{first} to {last}"
    wide = lettering.width(number, 4.0, "bold") + 2.0
    run = opened(RUN_WORDS[lines[0].run])
    over = (
        _over(parts, lines) if first == last else parts.told(f"{len(lines)} ties, outward in turn")
    )
    return [
        lettering.lettered((x, y + 6.0), number, 4.0, look.INK, weight="bold"),
        written_at((x + wide, y + 6.0), lettering.shortened(run, _TEXT, room - wide)),
        written_at((x, y + 10.2), lettering.shortened(over, _TEXT, room)),
    ]


def _over(parts: Parts, lines: tuple[Line, ...]) -> str:
    names = [parts.labels[spring] for spring in lines[0].springs]
    if len(names) > _SPRINGS_NAMED:
        return f"over {names[0]} to {names[-1]}"
    return f"over {', '.join(names)}"
