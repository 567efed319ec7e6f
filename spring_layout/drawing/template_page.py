"""The page round a full-size picture: its bars, its name, how to print it.

The picture has the upper left of the page; under it and to its right run two bands that hold the
bars, the words and the page map, so that nothing of them lies over the picture. Sheets are laid
over each other's right and lower edges, which hides the bands of all but the last ones.
"""

from collections.abc import Callable
from dataclasses import dataclass

from spring_layout.drawing import lettering, look
from spring_layout.drawing.paper import MARGIN, Paper, PaperError
from spring_layout.drawing.primitives import Group, Item, Path, Place, Tag, rectangle
from spring_layout.drawing.template_bars import BAR_DEPTH, BAR_LENGTH, bars_across, bars_down
from spring_layout.drawing.template_marks import Bounds

RIGHT_BAND = BAR_DEPTH + 2.0
LOWER_BAND = 30.0
MAP_WIDTH, MAP_HEIGHT = 26.0, 25.0
_GAP = 3.0
_LEAST_TEXT = 40.0
"""mm; narrower than this the name of a sheet has no room."""
_LEAST_PICTURE = BAR_LENGTH + 4.0
_LINE = 3.6
_NAME = 5.0

PRINT_TRUE = (
    "Full size, 1 : 1. Print at 100 % (actual size), not fitted to the page. Then measure the bars "
    "across and down: 100 mm and 4 in."
)
"""What every full-size sheet says about itself."""


@dataclass(frozen=True)
class PageFacts:
    """What stands in the bands: the sheet's name, under it whose deck it is of, then ``about``.

    Under the bars stand ``notes``. ``map``: the page map, drawn for an upper left corner in
    MAP_WIDTH by MAP_HEIGHT mm. ``part``: what follows the deck's name, such as how many sheets.
    """

    name: str
    deck: str
    about: tuple[str, ...]
    notes: tuple[str, ...]
    map: Callable[[Place], list[Item]] | None = None
    part: str = ""


def picture_room(paper: Paper) -> Bounds:
    """Where the picture stands on ``paper``, mm. Raises PaperError where there is no room."""
    room = (
        MARGIN,
        MARGIN,
        paper.width - MARGIN - RIGHT_BAND,
        paper.height - MARGIN - LOWER_BAND,
    )
    text = paper.width - 2 * MARGIN - BAR_LENGTH - MAP_WIDTH - 2 * _GAP
    if text < _LEAST_TEXT or room[3] - room[1] < _LEAST_PICTURE:
        raise PaperError(
            f"{paper.name} is too small for a full-size sheet with its bars of 100 mm and 4 in; "
            "use A4, letter or larger"
        )
    return room


def least_paper(width: float, height: float) -> tuple[float, float]:
    """The smallest page, mm, that holds a picture of ``width`` by ``height`` mm and its bands."""
    bands = BAR_LENGTH + MAP_WIDTH + 2 * _GAP + _LEAST_TEXT
    return (
        2 * MARGIN + max(width + RIGHT_BAND, bands),
        2 * MARGIN + LOWER_BAND + max(height, _LEAST_PICTURE),
    )


def page_items(paper: Paper, picture: list[Item], facts: PageFacts) -> tuple[Item, ...]:
    """The whole page: ``picture``, clipped to its room, and the bands."""
    x0, y0, x1, y1 = picture_room(paper)
    edge = rectangle(x0, y0, x1 - x0, y1 - y0)
    ground = Path(rectangle(0, 0, paper.width, paper.height), fill=look.PAPER)
    shown = Group(tuple(picture), Tag(id="picture"), clip=Path(edge))
    return ground, shown, Path(edge, look.RULE), Group(tuple(_bands(paper, facts)), Tag(id="bands"))


def _bands(paper: Paper, facts: PageFacts) -> list[Item]:
    right, top = paper.width - MARGIN, paper.height - MARGIN - LOWER_BAND + _GAP
    left = MARGIN
    items = [*bars_down((right, MARGIN)), *bars_across((right - BAR_LENGTH, top))]
    if facts.map:
        items += facts.map((left, top))
        left += MAP_WIDTH + _GAP
    items += _about((left, top), right - BAR_LENGTH - _GAP - left, facts)
    items += _notes((right - BAR_LENGTH, top + BAR_DEPTH + 1.6), facts)
    return items


def _about(place: Place, room: float, facts: PageFacts) -> list[Item]:
    """The sheet's name, large, and what it belongs to; what has no room is cut off."""
    x, y = place
    end = y + LOWER_BAND - _GAP
    head = lettering.shortened(facts.name, _NAME, room, "bold")
    items: list[Item] = [lettering.lettered((x, y + _NAME), head, _NAME, look.INK, weight="bold")]
    y += _NAME + 2.0
    told = [(line, look.NORMAL) for line in _two_lines(facts.deck, facts.part, room)]
    for words in facts.about:
        told += [(line, look.SMALL) for line in lettering.wrapped(words, look.SMALL, room)]
    for line, high in told:
        if y + high <= end:
            items.append(lettering.lettered((x, y + high), line, high, look.INK))
        y += high + 1.5
    return items


def _two_lines(deck: str, part: str, room: float) -> list[str]:
    """The deck's name and the part in at most two lines, the name shortened where it is long."""
    whole, kept = f"{deck}. {part}" if part else deck, deck
    lines = lettering.wrapped(whole, look.NORMAL, room)
    while len(lines) > 2 and kept:
        kept = kept[:-1].rstrip()
        lines = lettering.wrapped(f"{kept}… {part}", look.NORMAL, room)
    return lines


def _notes(place: Place, facts: PageFacts) -> list[Item]:
    """The small print under the bars, as many lines as there is room for."""
    x, y = place
    lines = [
        line
        for words in facts.notes
        for line in lettering.wrapped(words, look.SMALL, BAR_LENGTH)
        if words
    ]
    return [
        lettering.lettered((x, y + look.SMALL + i * _LINE), line, look.SMALL, look.INK)
        for i, line in enumerate(lines[:_MOST_NOTES])
    ]


_MOST_NOTES = 4
