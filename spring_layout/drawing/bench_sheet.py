"""The bench sheet: what to have, what to cut, and every tie in its order, to work down and tick.

For each tie: where it is tacked, the springs it goes over, which coil its outer hitches sit on,
how long to cut it and the cross knots to make on the way. It ends with the press test. It flows
over as many pages as it takes; paper larger than A4 is lettered larger.
"""

from collections.abc import Iterator
from dataclasses import replace

from spring_layout.checks.sewing_words import working_lengths
from spring_layout.checks.strip_words import strip_place
from spring_layout.checks.tie_words import (
    knot_words,
    knots_by_tie,
    listed_all,
    pieces_to_cut,
    ring_words,
    tack_words,
    tail_words,
)
from spring_layout.checks.words import RUN_WORDS, opened
from spring_layout.checks.work_words import CAUTIONS, bought
from spring_layout.deck.model import Run
from spring_layout.drawing import lettering, look
from spring_layout.drawing.bench_blocks import (
    BODY,
    HEAD,
    SMALLER,
    Words,
    bare,
    block,
    heading,
    lines_of,
    row,
    tick_box,
    ticked,
)
from spring_layout.drawing.flow import Flow, flowed, white
from spring_layout.drawing.paper import MARGIN, Paper, PaperError
from spring_layout.drawing.primitives import (
    Drawing,
    Item,
    Path,
    Place,
    Stroke,
    moved,
    polyline,
    rectangle,
)
from spring_layout.drawing.side_view import side_picture
from spring_layout.drawing.wording import number_rows
from spring_layout.plan import Plan
from spring_layout.planning.parts import Crossing, Line, Parts, Strip
from spring_layout.units import format_length

PRESS_TEST = (
    "Press each spring by itself: the whole deck must move. None may lean, click or touch the "
    "rail, and no tie may hang slack."
)
_TIE_TEXT, _BOX_TEXT = 27.0, 10.0
_TAB = 44.0
_RULED = Stroke(look.HAIR, 0.2)
_HEADER = 16.0
_LEAST_WIDTH = 140.0
_SIDE_VIEWS: tuple[Run, ...] = ("front-to-back", "side-to-side")
"""The first tie of these is shown from the side as well: its outer hitches sit lower down."""
_SIDE_HEIGHT, _SIDE_LARGER = 56.0, 1.3
"""mm that a picture from the side may be high; how much larger than on a sheet of its own it is
lettered, to be read from as far as the rest."""
_AFTER_TIE = 5.0
"""mm from a tie's last line to the next tie, with a rule between them."""
_ONLY_TOP = "Outer hitches on the top coil at both ends."


def bench_sheet(plan: Plan, paper: Paper) -> tuple[Drawing, ...]:
    """The pages of the bench sheet. Raises PaperError where the paper is too small."""
    upright = paper.portrait()
    larger = upright.lettering
    page = Paper(paper.name, upright.width / larger, upright.height / larger)
    if page.width < _LEAST_WIDTH:
        raise PaperError(f"{paper.name} is too small for a bench sheet; use A5 paper or larger")
    room = page.width - 2 * MARGIN
    pages = flowed(list(_blocks(plan, room)), page.height - 2 * MARGIN - _HEADER)
    drawings = (_page(plan, page, laid, i, len(pages)) for i, laid in enumerate(pages, 1))
    return tuple(d.enlarged(larger) if larger > 1 else d for d in drawings)


def _page(
    plan: Plan, page: Paper, laid: list[tuple[float, Flow]], number: int, count: int
) -> Drawing:
    name = plan.deck.name.strip() or plan.parts.told("Seat deck")
    top = MARGIN + _HEADER
    ground = Path(rectangle(0, 0, page.width, page.height), fill=look.PAPER)
    body = [item for down, flow in laid for item in flow.draw((MARGIN, top + down))]
    return Drawing(
        page.width,
        page.height,
        f"Bench sheet: {name}, page {number} of {count}",
        plan.parts.told(
            "What to have and to cut, every tie in its order with its cross knots, and the press "
            "test."
        ),
        (ground, *_header(name, page, f"{number} of {count}"), *body),
        (("sheet", str(number)),),
    )


def _header(name: str, page: Paper, number: str) -> list[Item]:
    """The deck's name, and which page this is, over a rule."""
    right, line = page.width - MARGIN, MARGIN + _HEADER - 5.0
    told = f"Bench sheet {number}"
    room = right - MARGIN - lettering.width(told, BODY) - 6.0
    head = lettering.shortened(name, HEAD, room, "bold")
    return [
        lettering.lettered((MARGIN, line - 3.0), head, HEAD, look.INK, weight="bold"),
        lettering.lettered((right, line - 3.0), told, BODY, look.INK, anchor="end"),
        Path(polyline(((MARGIN, line), (right, line))), Stroke(look.INK, 0.8)),
    ]


def _blocks(plan: Plan, room: float) -> Iterator[Flow]:
    yield from _wrong(plan, room)
    yield from _numbers(plan, room)
    yield from _cautions(room)
    yield from _materials(plan, room)
    yield from _webbing(plan.parts, room)
    yield from _sewing(plan, room)
    yield from _cut_list(plan.parts, room)
    yield from _ties(plan, room)
    if plan.parts.ties.lines:
        yield heading("When it is tied", room)
        yield ticked(lines_of(plan.parts.told(PRESS_TEST), room, left=_BOX_TEXT))


def _wrong(plan: Plan, room: float) -> Iterator[Flow]:
    """What is wrong with the deck, where something is: it must not be tied like this."""
    wrong = [finding for finding in plan.findings if finding.severity == "wrong"]
    if wrong:
        yield heading("Not sound: mend this first", room)
        for finding in wrong:
            yield block(lines_of(finding.message, room))


def _numbers(plan: Plan, room: float) -> Iterator[Flow]:
    yield heading("The numbers", room)
    for what, value in number_rows(plan.parts):
        yield row(what, value, room, _TAB)
    if plan.deck.note.strip():
        yield white(2.5)
        yield block(lines_of(plan.deck.note, room, height=SMALLER))


def _cautions(room: float) -> Iterator[Flow]:
    yield heading("Take care", room)
    for caution in CAUTIONS:
        yield block(lines_of(caution, room, height=SMALLER), after=1.5)


def _materials(plan: Plan, room: float) -> Iterator[Flow]:
    if not plan.materials:
        return
    yield heading("Have ready", room)
    for material in plan.materials:
        what = f"{opened(material.item)}: {bought(plan.deck, material)}"
        yield _to_tick(what, material.rule, room)


def _to_tick(what: str, more: str, room: float) -> Flow:
    """A thing to tick off, with more about it below in smaller letters."""
    small = lines_of(more, room, left=_BOX_TEXT, height=SMALLER, soft=True)
    return ticked([*lines_of(what, room, left=_BOX_TEXT), *small])


def _webbing(parts: Parts, room: float) -> Iterator[Flow]:
    if not parts.webbing.strips:
        return
    note = (
        "With both folds and what it takes to strain it. Each one's middle is told from the centre "
        "marks of the rails that it joins."
    )
    yield heading(parts.told("Cut the strips of webbing"), room, note)
    for words, strips in _strips_to_cut(parts).items():
        numbers = listed_all([str(number) for number, _ in strips])
        begin = "left" if words.endswith("back") else "back"
        told = f"{len(strips)} of {words}: {numbers} from the {begin}"
        where = "; ".join(f"{number}: {strip_place(parts, strip)}" for number, strip in strips)
        yield _to_tick(told, where, room)


def _strips_to_cut(parts: Parts) -> dict[str, list[tuple[int, Strip]]]:
    """The strips by length and direction, each with its number from the left or from the back."""
    cut: dict[str, list[tuple[int, Strip]]] = {}
    counts: dict[str, int] = {}
    for strip in parts.webbing.strips:
        counts[strip.run] = counts.get(strip.run, 0) + 1
        cut.setdefault(_strip_words(parts, strip), []).append((counts[strip.run], strip))
    return cut


def _strip_words(parts: Parts, strip: Strip) -> str:
    long = format_length(strip.cut_length, parts.deck.units, "cut")
    return f"{long}, {RUN_WORDS[strip.run]}"


def _sewing(plan: Plan, room: float) -> Iterator[Flow]:
    """The feet in the order they are sewn, a box to tick for each working length of twine."""
    if not plan.stitching.stitches:
        return
    note = (
        "Feet in this order, the stitches of each in this order too. Each box is one working "
        "length of stitching twine."
    )
    yield heading("Sew in the springs", room, plan.parts.told(note))
    for way in working_lengths(plan.parts, plan.stitching):
        yield ticked(lines_of(f"{way}.", room, left=_BOX_TEXT))


def _cut_list(parts: Parts, room: float) -> Iterator[Flow]:
    """The pieces of twine, longest first; each is marked with its tie's number."""
    if not parts.ties.lines:
        return
    note = parts.told("Mark each piece with the number of its tie.")
    yield heading(parts.told("Cut the spring twine"), room, note)
    for cut, numbers in pieces_to_cut(parts):
        which = f"{'tie' if len(numbers) == 1 else 'ties'} {listed_all([str(n) for n in numbers])}"
        told = parts.told(f"{len(numbers)} of {cut}: {which}")
        yield ticked(lines_of(told, room, left=_BOX_TEXT))


def _ties(plan: Plan, room: float) -> Iterator[Flow]:
    parts = plan.parts
    if not parts.ties.lines:
        return
    note = (
        "In this order. Distances along a rail are from its centre mark, on the inside edge. "
        "Knot every tie to those that it meets."
    )
    yield heading("Tie", room, parts.told(note))
    knots, seen = knots_by_tie(parts), set[Run]()
    for line in parts.ties.lines:
        shown = line.run in _SIDE_VIEWS and line.run not in seen
        told = _tie(parts, line, knots.get(line.number, []), room)
        if shown:
            yield replace(told, leads=True)
            yield _ruled(_side_view(plan, line.number, room), room)
        else:
            yield _ruled(told, room)
        seen.add(line.run)


def _side_view(plan: Plan, number: int, room: float) -> Flow:
    """The deck cut along a tie, small: on which coil each hitch sits, and the heights."""
    most = (room - _TIE_TEXT) / _SIDE_LARGER, _SIDE_HEIGHT / _SIDE_LARGER
    picture = side_picture(plan, number, most, trimmed=True).enlarged(_SIDE_LARGER)
    title = plan.parts.told(f"Tie {number} from the side, not to scale")
    told = block([Words(title, _TIE_TEXT, SMALLER, soft=True)], _AFTER_TIE)

    def draw(place: Place) -> list[Item]:
        x, y = place
        items = [bare(moved(item, x + _TIE_TEXT, y)) for item in picture.items]
        return [*items, *told.draw((x, y + picture.height))]

    return Flow(picture.height + told.height, draw, after=_AFTER_TIE)


def _ruled(flow: Flow, room: float) -> Flow:
    """The same with a rule in the white below it."""

    def draw(place: Place) -> list[Item]:
        x, y = place[0], place[1] + flow.height - _AFTER_TIE + 1.0
        return [*flow.draw(place), Path(polyline(((x, y), (x + room, y))), _RULED)]

    return replace(flow, draw=draw)


def _tie(parts: Parts, line: Line, made: list[Crossing], room: float) -> Flow:
    """One tie: its head with the piece to cut, its way, its coils and its cross knots."""
    springs = listed_all([parts.labels[spring] for spring in line.springs])
    start, finish = tack_words(parts, line, 0), tack_words(parts, line, 1)
    knots = knot_words(parts, line, made)
    cut = "Cut " + format_length(
        parts.twine.lines[line.number - 1].cut_length, parts.deck.units, "cut"
    )
    run = opened(RUN_WORDS[line.run])
    wide = room - lettering.width(cut, BODY, "bold") - 4.0
    lines = [
        *lines_of(run, wide, left=_TIE_TEXT, weight="bold"),
        *lines_of(f"From {start}{tail_words(parts, line)}", room, left=_TIE_TEXT),
        *lines_of(f"over {springs}", room, left=_TIE_TEXT, weight="bold"),
        *lines_of(f"to {finish}.", room, left=_TIE_TEXT),
        *lines_of(ring_words(parts, line) or _ONLY_TOP, room, left=_TIE_TEXT),
        *(lines_of(f"Knot {knots}.", room, left=_TIE_TEXT) if knots else ()),
    ]

    def also(place: Place) -> list[Item]:
        return _tie_marks(place, line, cut, room)

    return block(lines, _AFTER_TIE, (also,))


def _tie_marks(place: Place, line: Line, cut: str, room: float) -> list[Item]:
    """A box to tick, the tie's number, a piece of its line, and what to cut."""
    x, y = place
    right = x + room
    sample = (x + 9.0, y + BODY + 4.0), (x + 23.0, y + BODY + 4.0)
    at, number = (x + 23.0, y + HEAD - 0.7), str(line.number)
    return [
        *tick_box(place),
        lettering.lettered(at, number, HEAD, look.INK, anchor="end", weight="bold"),
        Path(polyline(sample), look.RUN_LOOKS[line.run].stroke.times(1.6)),
        lettering.lettered((right, y + BODY), cut, BODY, look.INK, anchor="end", weight="bold"),
    ]
