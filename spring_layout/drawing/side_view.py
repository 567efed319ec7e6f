"""The side view: the deck cut along a tie, or straight across, with the heights written in.

``side_view`` is a sheet at a usual scale, which it states; ``side_picture`` is the bare picture, as
large as the room for it allows, for a screen or a corner of another sheet. Both are millimetres
on paper like every drawing.
"""

from spring_layout.checks.tie_words import ring_words
from spring_layout.checks.twine import RULE_NAMES
from spring_layout.drawing import lettering, look
from spring_layout.drawing.paper import MARGIN, Paper, scale_to_fit
from spring_layout.drawing.primitives import Drawing, Group, Item, Path, Tag, rectangle
from spring_layout.drawing.side_view_coil import Upright, coil_behind, coil_items
from spring_layout.drawing.side_view_cut import Across, Section, Sight, SightError, SpringCut
from spring_layout.drawing.side_view_labels import ABOVE, BELOW, label_items, side_room
from spring_layout.drawing.side_view_look import LIGHT, SideColours
from spring_layout.drawing.side_view_parts import (
    base_items,
    floor_depth,
    hitch_items,
    knot_items,
    rail_items,
    rails_behind,
    tie_items,
)
from spring_layout.drawing.side_view_section import line_named, section_of
from spring_layout.plan import Plan
from spring_layout.planning.parts import Parts
from spring_layout.units import format_length

__all__ = [
    "Across",
    "Sight",
    "SightError",
    "line_named",
    "side_picture",
    "side_view",
    "sight_words",
    "twine_words",
]

_LEAST_ROOM = (40.0, 24.0)
"""mm; a picture smaller than this cannot be read."""
_HEAD, _FOOT = 16.0, 34.0
"""mm of a sheet over and under the picture."""
_LINE = 3.9
"""mm from line to line."""


def side_picture(
    plan: Plan,
    sight: Sight,
    room: tuple[float, float],
    colours: SideColours = LIGHT,
    trimmed: bool = False,
) -> Drawing:
    """The deck cut as ``sight`` says, as large as ``room`` (width, height, mm) allows.

    ``trimmed``: no higher than what is drawn. Raises SightError, with a sentence, where there is
    nothing to see.
    """
    section = section_of(plan.parts, sight)
    width, height = max(room[0], _LEAST_ROOM[0]), max(room[1], _LEAST_ROOM[1])
    view = _fitted(section, width, height)
    if trimmed:
        height = min(height, _height(section, view.scale) + 2.0)
        view = _placed(section, view.scale, (1.0, 1.0), (width - 2.0, height - 2.0))
    items: tuple[Item, ...] = (
        _ground(width, height, colours),
        *_items(section, plan.parts, view, colours),
    )
    title, told = sight_words(plan, sight), _description(section, plan.parts)
    return Drawing(width, height, title, told, items)


def side_view(plan: Plan, sight: Sight, paper: Paper, colours: SideColours = LIGHT) -> Drawing:
    """The same as a sheet of its own at a usual scale, lying; with what the tie takes under it.

    Raises SightError where there is nothing to see.
    """
    section, sheet = section_of(plan.parts, sight), paper.landscape()
    width, height = sheet.width / paper.lettering, sheet.height / paper.lettering
    room = (width - 2 * MARGIN - 8.0, height - 2 * MARGIN - _HEAD - _FOOT)
    size, inner = _size(section), _inner_room(section, *room)
    enlarged = paper.lettering
    scale = scale_to_fit((size[0] / enlarged, size[1] / enlarged), inner)
    view = _placed(section, scale * enlarged, (MARGIN + 4.0, MARGIN + _HEAD), room)
    items: tuple[Item, ...] = (
        _ground(width, height, colours),
        *_items(section, plan.parts, view, colours),
        *_sheet_words(plan, sight, scale, (width, height), colours),
    )
    drawing = Drawing(
        width,
        height,
        f"{sight_words(plan, sight)}: {plan.deck.name.strip() or plan.parts.told('seat deck')}",
        _description(section, plan.parts),
        items,
        (("scale", f"{scale:g}"),),
    )
    return drawing if enlarged == 1 else drawing.enlarged(enlarged)


def sight_words(plan: Plan, sight: Sight) -> str:
    """What is looked at, as a title: "Side view along tie 3, side to side"."""
    if isinstance(sight, Across):
        return "Side view across the deck"
    line = line_named(plan.parts, sight)
    return plan.parts.told(f"Side view along tie {line.number}, {look.RUN_LOOKS[line.run].words}")


# setting out --------------------------------------------------------------------------------------


def _size(section: Section) -> tuple[float, float]:
    """How wide and how high the cut is, mm of the deck, its base left out."""
    return section.reach[1] - section.reach[0], max(section.top, 1.0) * 1.06


def _inner_room(section: Section, width: float, height: float) -> tuple[float, float]:
    """The room that is left for the cut itself, mm on paper."""
    return width - 2 * side_room(section), height - ABOVE - BELOW - 2.0


def _fitted(section: Section, width: float, height: float) -> Upright:
    """The largest view of the section that fits; any scale will do."""
    size, room = _size(section), _inner_room(section, width - 2.0, height - 2.0)
    scale = max(size[0] / max(room[0], 10.0), size[1] / max(room[1], 6.0))
    for _ in range(3):  # the base below the webbing is drawn no thinner than a line on paper
        under = floor_depth(section, Upright(scale, 0, 0))
        scale = max(scale, (size[1] + under) / max(room[1], 6.0))
    return _placed(section, scale, (1.0, 1.0), (width - 2.0, height - 2.0))


def _placed(
    section: Section, scale: float, corner: tuple[float, float], room: tuple[float, float]
) -> Upright:
    """The view in the middle of a room whose upper left corner is ``corner``, mm."""
    middle = sum(section.reach) / 2 / scale
    under = floor_depth(section, Upright(scale, 0, 0)) / scale
    high = _height(section, scale)
    y = corner[1] + (room[1] - high) / 2 + high - under - BELOW
    return Upright(scale, corner[0] + room[0] / 2 - middle, y)


def _height(section: Section, scale: float) -> float:
    """How high the cut is with its words over and under it, mm on paper."""
    under = floor_depth(section, Upright(scale, 0, 0)) / scale
    return ABOVE + _size(section)[1] / scale + under + BELOW


def _ground(width: float, height: float, colours: SideColours) -> Path:
    return Path(rectangle(0, 0, width, height), fill=colours.paper)


def _items(section: Section, parts: Parts, view: Upright, colours: SideColours) -> list[Group]:
    """The groups of the picture in painting order."""
    springs = [_spring_item(spring, parts, view, colours) for spring in section.springs]
    beyond = [item for item, s in zip(springs, section.springs, strict=True) if not s.is_cut]
    groups: dict[str, list[Item]] = {
        "beyond": [*rails_behind(section, view, colours), *beyond],
        **_base_and_frame(section, view, colours),
        "springs": [item for item in springs if item not in beyond],
        "ties": [tie_items(tie, view, colours) for tie in section.ties],
        "hitches": hitch_items(section.hitches, view, colours),
        "crossings": knot_items(section, view, colours),
        "labels": label_items(section, parts, view, colours),
    }
    return [Group(tuple(items), Tag(id=name)) for name, items in groups.items()]


def _base_and_frame(section: Section, view: Upright, colours: SideColours) -> dict[str, list[Item]]:
    """The groups of the base and of the frame; webbing that goes over the rails covers them."""
    base = {"base": base_items(section, view, colours)}
    frame: dict[str, list[Item]] = {"frame": rail_items(section, view, colours)}
    over = section.deck.webbing.fixed == "over-rails"
    return {**frame, **base} if over else {**base, **frame}


def _spring_item(spring: SpringCut, parts: Parts, view: Upright, colours: SideColours) -> Item:
    name = spring.spring
    tag = Tag(id=f"spring-{name}", kind="spring", title=f"Spring {parts.labels[name]}")
    if spring.is_cut:
        return coil_items(spring.rings, spring.wire, spring.u, view, colours, tag=tag)
    # rows that stand farther off appear a little higher, so that they part
    return coil_behind(spring.rings, spring.u, min(spring.away, 150.0) * 0.04, view, colours, tag)


def _description(section: Section, parts: Parts) -> str:
    cut = [parts.labels[s.spring] for s in section.springs if s.is_cut]
    ends = " and ".join(name.lower() for name in section.ends if name)
    between = f" between the {ends} rails" if len([n for n in section.ends if n]) == 2 else ""
    over = f" through {', '.join(cut)}" if cut else ""
    return parts.told(
        f"The deck cut upright{over}{between}: rails, webbing, springs as they stand tied, the "
        "twine with its hitches, and the tied heights."
    )


# the sheet's words --------------------------------------------------------------------------------


def _sheet_words(
    plan: Plan, sight: Sight, scale: float, size: tuple[float, float], colours: SideColours
) -> list[Item]:
    width, height = size
    left, right = MARGIN + 4.0, width - MARGIN - 4.0
    room, told = right - left, f"Scale 1 : {scale:g}"
    beside = room - lettering.width(told, look.NORMAL) - 6.0
    name = lettering.shortened(
        plan.deck.name.strip() or plan.parts.told("Seat deck"), look.HEAD, beside, "bold"
    )
    top = MARGIN + 2.0
    items: list[Item] = [
        lettering.lettered((left, top + look.HEAD), name, look.HEAD, colours.ink, weight="bold"),
        lettering.lettered(
            (left, top + look.HEAD + 5.4), sight_words(plan, sight), look.NORMAL, colours.soft
        ),
        lettering.lettered((right, top + look.HEAD), told, look.NORMAL, colours.ink, anchor="end"),
    ]
    y = height - MARGIN - _FOOT + 6.0
    for line in _told(plan, sight, room - 40.0):
        items.append(lettering.lettered((left, y), line, look.SMALL, colours.ink))
        y += _LINE
    return items


def _told(plan: Plan, sight: Sight, room: float) -> list[str]:
    """What is said of the tie under the picture."""
    if isinstance(sight, Across):
        return []
    sentences = [ring_words(plan.parts, line_named(plan.parts, sight)), *twine_words(plan, sight)]
    return [
        line for told in sentences if told for line in lettering.wrapped(told, look.SMALL, room)
    ]


def twine_words(plan: Plan, number: int) -> list[str]:
    """What the tie takes, counted and by the rule of thumb: a sentence each."""
    deck = plan.deck
    row, count = plan.parts.twine.lines[number - 1], plan.parts.counts[number - 1]
    counted = count.total - count.allowance
    over = format_length(row.drape, deck.units)
    cut = format_length(row.cut_length, deck.units, "cut")
    spare = format_length(count.allowance, deck.units)
    rule = format_length(row.rule_length, deck.units)
    return [
        f"Over the springs {over}. Counted from its hitches and knots "
        f"{format_length(counted, deck.units)}; with {spare} to work with, cut {cut}.",
        f"{RULE_NAMES[deck.twine.rule]} would be {rule}.",
    ]
