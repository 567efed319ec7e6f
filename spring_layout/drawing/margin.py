"""What stands beside the plan view on a tie diagram: key, numbers, cautions, scale, title block."""

from dataclasses import dataclass

from spring_layout.drawing import lettering, look
from spring_layout.drawing.blocks import (
    LINE,
    Block,
    KeyRow,
    disc_sample,
    key,
    line_sample,
    paragraph,
    table,
    written,
)
from spring_layout.drawing.plan_view import bar_sample, diamond
from spring_layout.drawing.primitives import Circle, Item, Path, Place, Stroke, polyline, rectangle
from spring_layout.drawing.rail_labels import triangle
from spring_layout.drawing.wording import CAUTION, number_rows, runs_present
from spring_layout.plan import Plan
from spring_layout.units import MM_PER_INCH, Units

KEY_TAB = 16.0
NUMBER_TAB = 22.0
_TITLE_HEIGHT = 30.0


@dataclass(frozen=True)
class SheetFacts:
    """What the margin tells about the sheet.

    ``scale``: the 5 of 1:5; ``drawn_scale``: the same before the sheet is enlarged; ``paper``:
    its name; ``left_out``: what the sheet had no room for, in words.
    """

    scale: float
    drawn_scale: float
    paper: str
    left_out: str = ""


def margin_blocks(plan: Plan, facts: SheetFacts, room: float) -> list[Block]:
    """All blocks of the margin from the top down, each ``room`` mm wide."""
    return [
        *key_blocks(plan, room),
        numbers_block(plan, room),
        *note_block(plan, room),
        caution_block(room),
        *wrong_block(plan, room),
        *left_out_block(facts.left_out, room),
        scale_block(facts, plan.deck.units, room),
        title_block(plan, facts, room),
    ]


def key_blocks(plan: Plan, room: float) -> list[Block]:
    """The key: the runs that the deck has, then the marks."""
    runs = [
        KeyRow(line_sample(look.RUN_LOOKS[run].stroke, 11.0), f"Tie, {look.RUN_LOOKS[run].words}")
        for run in runs_present(plan.parts)
    ]
    marks = [
        KeyRow(_ring_sample, "Top coil of a spring"),
        KeyRow(_knots_sample, "Cross knot at a spring; between springs"),
        KeyRow(bar_sample, "Tack point"),
        KeyRow(disc_sample("7"), "Number of the tie, in tying order"),
        KeyRow(triangle_sample, "Centre mark: the middle of the rail"),
        KeyRow(_distance_sample, _distance_words(plan.deck.units)),
    ]
    if plan.parts.webbing.strips:
        marks.append(KeyRow(_webbing_sample, "Webbing"))
    blocks = [key("key", "Ties", runs, room, KEY_TAB, need=3)] if runs else []
    return [*blocks, key("marks", "Marks", marks, room, KEY_TAB, need=3)]


def _knots_sample(place: Place) -> list[Item]:
    x, y = place
    return [diamond((x - 2.0, y), at_spring=True), diamond((x + 2.0, y), at_spring=False)]


def _distance_words(units: Units) -> str:
    unit = "inches" if units == "in" else "mm"
    return (
        f"Tack point from the centre mark, {unit} along the inside edge, "
        "to the left, right, back or front"
    )


def triangle_sample(place: Place) -> list[Item]:
    """The centre mark, for the key."""
    x, y = place
    return [triangle((x, y + 1.0), (0.0, -1.0))]


def _ring_sample(place: Place) -> list[Item]:
    x, y = place
    return [
        Circle(x, y, 1.55, Stroke(look.STEEL, 0.5)),
        Circle(x, y, 1.8, look.TOP_RING),
    ]


def _webbing_sample(place: Place) -> list[Item]:
    x, y = place
    return [Path(rectangle(x - 4, y - 1.2, 8, 2.4), look.STRIP_EDGE, look.JUTE)]


def _distance_sample(place: Place) -> list[Item]:
    x, y = place
    words = lettering.lettered(
        (x, y + look.SMALL / 2), "5 L", look.SMALL, look.INK, anchor="middle"
    )
    return [words]


def numbers_block(plan: Plan, room: float) -> Block:
    """The numbers that matter."""
    return table("numbers", "The numbers", number_rows(plan.parts), room, NUMBER_TAB, need=2)


def note_block(plan: Plan, room: float) -> list[Block]:
    """The deck's own note, where it has one."""
    note = plan.deck.note.strip()
    return [paragraph("note", note, room, need=4, head="Note")] if note else []


def caution_block(room: float) -> Block:
    """The cautions."""
    return paragraph("caution", CAUTION, room, head="Take care")


def wrong_block(plan: Plan, room: float) -> list[Block]:
    """A warning that the deck is not sound, where it is not."""
    count = sum(finding.severity == "wrong" for finding in plan.findings)
    if not count:
        return []
    things = "1 thing is" if count == 1 else f"{count} things are"
    words = f"{things} wrong with this deck. Read the checks in the plan before you tie."
    return [paragraph("wrong", words, room, head="Not sound")]


def left_out_block(words: str, room: float) -> list[Block]:
    """What the sheet had no room for, where that is so."""
    return [paragraph("left-out", words, room, head="Left out")] if words else []


def scale_block(facts: SheetFacts, units: Units, room: float) -> Block:
    """The scale as a bar in the deck's units; the title block has it in figures."""

    def draw(place: Place) -> list[Item]:
        return _bar_items(place, facts.drawn_scale, units, room)

    return Block("scale", _BAR_HEIGHT + 1.2 + look.SMALL, draw)


_BAR_HEIGHT = 1.4
_BAR_STEPS: dict[Units, tuple[float, ...]] = {
    "in": tuple(MM_PER_INCH * n for n in (0.25, 0.5, 1, 2, 3, 6, 12, 24, 36, 60, 120)),
    "mm": (5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000),
}


def _bar_items(place: Place, scale: float, units: Units, room: float) -> list[Item]:
    """A bar of four steps, black and white by turns, as long as the room lets it be."""
    x, y = place
    longest = (room - 12) / 4 * scale
    step = max((s for s in _BAR_STEPS[units] if s <= longest), default=_BAR_STEPS[units][0])
    long = step / scale
    items: list[Item] = []
    for i in range(4):
        fill = look.INK if i % 2 == 0 else look.PAPER
        items.append(Path(rectangle(x + i * long, y, long, _BAR_HEIGHT), look.RULE, fill))
    for i in (0, 1, 2, 4):
        number = f"{step * i / (MM_PER_INCH if units == 'in' else 1):g}"
        items.append(
            _bar_number((x + i * long, y + _BAR_HEIGHT + 1.2), number, units if i == 4 else "")
        )
    return items


def _bar_number(place: Place, number: str, unit: str) -> Item:
    x, y = place
    if unit:
        shift = lettering.width(number, look.SMALL) / 2
        return written((x - shift, y), f"{number} {unit}")
    return lettering.lettered((x, y + look.SMALL), number, look.SMALL, look.INK, anchor="middle")


def title_block(plan: Plan, facts: SheetFacts, room: float) -> Block:
    """The title block: what, whose deck, scale, paper, and room for hand and date."""
    names = _two_lines(plan.deck.name.strip() or "Seat deck", room)
    top = len(names) * 5.6 + 5.4
    height = top + 10.5

    def draw(place: Place) -> list[Item]:
        x, y = place
        items: list[Item] = [
            lettering.lettered(
                (x, y + look.HEAD + i * 5.6), name, look.HEAD, look.INK, weight="bold"
            )
            for i, name in enumerate(names)
        ]
        sub = "Tie diagram, seen from above"
        items.append(written((x, y + len(names) * 5.6), sub, look.NORMAL, soft=True))
        return items + _title_cells((x, y + top), facts, room)

    return Block("title", height, draw)


def _two_lines(name: str, room: float) -> list[str]:
    """A name in at most two lines, shortened where it is longer."""
    lines = lettering.wrapped(name, look.HEAD, room, "bold")
    if len(lines) <= 2:
        return lines
    rest = " ".join(lines[1:])
    return [lines[0], lettering.shortened(rest, look.HEAD, room, "bold")]


def _title_cells(place: Place, facts: SheetFacts, room: float) -> list[Item]:
    """Scale, paper, and blanks for the hand and the date, in ruled cells."""
    x, y = place
    edges = (0.0, 0.2, 0.47, 0.74, 1.0)
    cells = (("Scale", f"1 : {facts.scale:g}"), ("Paper", facts.paper), ("Drawn", ""), ("Date", ""))
    items: list[Item] = [Path(polyline(((x, y), (x + room, y))), look.RULE)]
    for i, ((what, value), begin) in enumerate(zip(cells, edges, strict=False)):
        left = x + begin * room
        if i:
            items.append(Path(polyline(((left, y), (left, y + 10.5))), look.RULE))
        inset = left + (1.5 if i else 0.0)
        items.append(written((inset, y + 1.6), what, soft=True))
        if value:
            items.append(written((inset, y + 1.6 + LINE + 0.6), value))
    return items
