"""What stands beside the plan view on a tie diagram: keys, numbers, cautions, title block."""

from dataclasses import dataclass

from spring_layout.drawing import lettering, look
from spring_layout.drawing.blocks import (
    CLOSE,
    USUAL,
    Block,
    KeyRow,
    Setting,
    disc_sample,
    key,
    paragraph,
    table,
)
from spring_layout.drawing.primitives import Circle, Item, Path, Place, Stroke, rectangle
from spring_layout.drawing.rail_labels import triangle
from spring_layout.drawing.tie_key import tie_key
from spring_layout.drawing.tie_view import bar_sample, diamond
from spring_layout.drawing.title_block import scale_block, title_block
from spring_layout.drawing.wording import CAUTION, number_rows
from spring_layout.plan import Plan
from spring_layout.units import Units

KEY_TAB = 16.0


@dataclass(frozen=True)
class Contents:
    """What the margin holds and how closely: what to cut or not, and what is left out."""

    setting: Setting = USUAL
    cuts: bool = True
    without: tuple[str, ...] = ()


WITH_CUTS = (Contents(USUAL), Contents(CLOSE))
WITHOUT_CUTS = (Contents(USUAL, cuts=False), Contents(CLOSE, cuts=False))
"""The contents that leave out nothing needed, the best first."""


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


def margin_blocks(plan: Plan, facts: SheetFacts, contents: Contents, room: float) -> list[Block]:
    """All blocks of the margin from the top down, each ``room`` mm wide."""
    setting, units = contents.setting, plan.deck.units
    blocks = [
        *tie_key(plan, setting, room, contents.cuts),
        marks_block(plan, setting, room),
        numbers_block(plan, contents, room),
        *note_block(plan, setting, room),
        paragraph(setting, "caution", CAUTION, room, head="Take care"),
        *wrong_block(plan, setting, room),
        *left_out_block(facts.left_out, setting, room),
        scale_block(facts.drawn_scale, units, room),
        title_block(_names(plan), facts.scale, units, facts.paper, room),
    ]
    return [block for block in blocks if block.name not in contents.without]


def _names(plan: Plan) -> tuple[str, str]:
    """Whose sheet it is, and what it shows."""
    told = plan.parts.told
    return plan.deck.name.strip() or told("Seat deck"), told("Tie diagram, seen from above")


def marks_block(plan: Plan, setting: Setting, room: float) -> Block:
    """The key to the marks, ``room`` mm wide."""
    told = plan.parts.told
    marks = [
        KeyRow(_ring_sample, "Top coil of a spring"),
        KeyRow(_knots_sample, "Cross knot at a spring; between springs"),
        KeyRow(bar_sample, "Tack point"),
        KeyRow(disc_sample("7"), told("Number of the tie, in tying order")),
        KeyRow(triangle_sample, "Centre mark: the middle of the rail"),
        KeyRow(_distance_sample, _distance_words(plan.deck.units)),
    ]
    if plan.parts.webbing.strips:
        marks.append(KeyRow(_webbing_sample, told("Webbing")))
    return key(setting, "marks", "Marks", marks, room, KEY_TAB)


def _knots_sample(place: Place) -> list[Item]:
    x, y = place
    return [diamond((x - 2.0, y), at_spring=True), diamond((x + 2.0, y), at_spring=False)]


def _distance_words(units: Units) -> str:
    unit = "Inches" if units == "in" else "Millimetres"
    return f"{unit} from the centre mark along the inside edge: left, right, back or front"


def triangle_sample(place: Place) -> list[Item]:
    """The centre mark, for the key."""
    x, y = place
    return [triangle((x, y + 1.0), (0.0, -1.0))]


def _ring_sample(place: Place) -> list[Item]:
    x, y = place
    return [
        Circle(x, y, 1.45, Stroke(look.STEEL, 0.5)),
        Circle(x, y, 1.7, look.TOP_RING),
    ]


def _webbing_sample(place: Place) -> list[Item]:
    x, y = place
    return [Path(rectangle(x - 4, y - 1.2, 8, 2.4), look.STRIP_EDGE, look.JUTE)]


def _distance_sample(place: Place) -> list[Item]:
    x, y = place
    words = lettering.lettered((x, y + look.BODY / 2), "5 L", look.BODY, look.INK, anchor="middle")
    return [words]


def numbers_block(plan: Plan, contents: Contents, room: float) -> Block:
    """The numbers that matter, and where the cut lengths are if not here; ``room`` mm wide."""
    rows = number_rows(plan.parts)
    if plan.parts.twine.pieces and not contents.cuts:
        rows.append(("Cut lengths", "on the bench sheet"))
    return table(contents.setting, "numbers", "The numbers", rows, room)


def note_block(plan: Plan, setting: Setting, room: float) -> list[Block]:
    """The deck's own note, where it has one, ``room`` mm wide."""
    note = plan.deck.note.strip()
    return [paragraph(setting, "note", note, room, head="Note")] if note else []


def wrong_block(plan: Plan, setting: Setting, room: float) -> list[Block]:
    """A warning that the deck is not sound, where it is not, ``room`` mm wide."""
    count = sum(finding.severity == "wrong" for finding in plan.findings)
    if not count:
        return []
    things = "1 thing is" if count == 1 else f"{count} things are"
    words = f"{things} wrong with this deck. Read the checks in the plan before you tie."
    return [paragraph(setting, "wrong", words, room, head="Not sound")]


def left_out_block(words: str, setting: Setting, room: float) -> list[Block]:
    """What the sheet had no room for, where that is so, ``room`` mm wide."""
    return [paragraph(setting, "left-out", words, room, head="Left out")] if words else []
