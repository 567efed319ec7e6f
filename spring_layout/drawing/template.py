"""The full-size template: the deck at 1:1 over as many sheets as it takes.

It is laid on the webbing: feet and stitches, centres to prick through with their centre lines, the
webbing's strips, the rails with their nail lines and tack points. Sheets are named by row and
column; ``template_tiles`` says how they overlap and ``template_page`` what stands round each.
"""

from collections.abc import Sequence
from functools import partial

import numpy as np
import shapely

from spring_layout.drawing.paper import PaperError
from spring_layout.drawing.primitives import (
    Drawing,
    Group,
    Item,
    Path,
    Tag,
)
from spring_layout.drawing.template_correction import Correction, corrected
from spring_layout.drawing.template_labels import Labels
from spring_layout.drawing.template_map import PageMap
from spring_layout.drawing.template_marks import Ink, Mark, marks_of, strip_marks
from spring_layout.drawing.template_page import (
    PRINT_TRUE,
    PageFacts,
    page_items,
    picture_room,
)
from spring_layout.drawing.template_papers import TemplatePaper, pages_for
from spring_layout.drawing.template_seams import seam_items, seams_of, trim_marks
from spring_layout.drawing.template_tiles import OVERLAP, PAD, Tile, Tiling, tiling_of
from spring_layout.drawing.template_words import TemplateWords
from spring_layout.drawing.view import View
from spring_layout.plan import Plan
from spring_layout.planning.parts import Parts

_NAMED_BLANKS = 6
_KEY = (
    "Thick bars across a foot are its stitches. Numbers on a rail are ties, each with its "
    "distance from the centre mark."
)
_JOIN = (
    "Cut each sheet along its left and upper lines; lay it over the sheets to the left and above, "
    "line on line."
)


def full_size_template(
    plan: Plan, paper: TemplatePaper, correction: Correction | None = None
) -> tuple[Drawing, ...]:
    """The sheets of the template, row by row; the blank ones are left out.

    Raises PaperError where the paper is too small for the bars that every sheet carries.
    """
    correction = correction or Correction()
    ink = Ink([*strip_marks(plan.parts), *marks_of(plan.parts)])
    layout = template_layout(plan.parts, ink, paper, correction)
    sheets = _Sheets(plan, ink, layout, correction)
    return tuple(sheets.drawing(tile) for tile in sheets.layout.tiles)


def template_layout(parts: Parts, ink: Ink, paper: TemplatePaper, correction: Correction) -> Tiling:
    """How the deck is laid over sheets: the way round that takes the fewest, then least paper.

    Pages are in true mm, as the printer prints them. Raises PaperError.
    """
    x0, y0, x1, y1 = ink.bounds
    size = x1 - x0 + 2 * PAD, y1 - y0 + 2 * PAD
    tacks = [anchor for line in parts.ties.lines for anchor in line.anchors if anchor]
    avoid = np.concatenate([parts.standing.centres, np.array(tacks).reshape(-1, 2)])
    tilings, refused = [], []
    for page in pages_for(paper, size, correction):
        try:
            tilings.append(tiling_of(ink, avoid, page, picture_room(page)))
        except PaperError as error:
            refused.append(error)
    if not tilings:
        raise refused[0]
    return min(tilings, key=lambda t: (len(t.tiles), t.paper.width * t.paper.height))


class _Sheets:
    """What all sheets of one template share."""

    def __init__(self, plan: Plan, ink: Ink, layout: Tiling, correction: Correction) -> None:
        self.layout, self._ink = layout, ink
        self._plan, self._correction = plan, correction
        self._name = plan.deck.name.strip() or plan.parts.told("Seat deck")
        self._words = TemplateWords(plan.parts)
        self._map = PageMap(layout, plan.parts.standing.outline.ring.tolist())

    def drawing(self, tile: Tile) -> Drawing:
        """One sheet."""
        paper = self.layout.paper
        x0, y0, _, _ = picture_room(paper)
        view = View(1.0, x0 - tile.shows[0], y0 - tile.shows[1])
        page = page_items(paper, self._picture(tile, view), self._facts(tile))
        place = ("left", f"{-view.x:.3f}"), ("top", f"{-view.y:.3f}")
        drawing = Drawing(
            paper.width,
            paper.height,
            f"Full-size template: {self._name}, sheet {tile.name}",
            self._description(tile),
            (*page, *trim_marks(self.layout, tile, view)),
            (("scale", "1"), ("sheet", tile.name), *place),
        )
        return corrected(drawing, self._correction)

    def _picture(self, tile: Tile, view: View) -> list[Item]:
        """What the sheet shows of the deck, its labels and the lines where it is joined."""
        room = (*view.place(tile.shows[:2]), *view.place(tile.shows[2:]))
        marks = self._ink.within(tile.shows)
        seams = list(seams_of(self.layout, tile))
        lines = [mark.lines for mark in marks] + [seam.lines for seam in seams]
        labels = Labels(room, shapely.transform(lines, view.places))
        self._words.keep_clear(tile, view, labels)
        joined = [item for seam in seams for item in seam_items(seam, view, labels)]
        words = self._words.items(tile, view, labels)
        return [
            *self._deck(marks, view),
            Group(tuple(joined), Tag(id="seams")),
            Group(tuple(words), Tag(id="labels")),
        ]

    def _deck(self, marks: Sequence[Mark], view: View) -> list[Item]:
        """The marks, those of the webbing only within the opening."""
        ring = self._plan.parts.standing.outline.ring.tolist()
        webbing = [i for m in marks if m.is_webbing for i in m.draw(view)]
        others = [i for m in marks if not m.is_webbing for i in m.draw(view)]
        opening = Path(view.polyline(ring, closed=True))
        return [
            Group(tuple(webbing), Tag(id="webbing"), clip=opening),
            Group(tuple(others), Tag(id="deck")),
        ]

    def _facts(self, tile: Tile) -> PageFacts:
        count = len(self.layout.tiles)
        return PageFacts(
            f"Sheet {tile.name}",
            self._name,
            (self._blank(), _JOIN if count > 1 else ""),
            (PRINT_TRUE, self._correction.words, self._plan.parts.told(_KEY)),
            partial(self._map.draw, tile),
            f"Template, {count} {'sheet' if count == 1 else 'sheets'}.",
        )

    def _blank(self) -> str:
        blank = self.layout.blank
        if not blank:
            return ""
        if len(blank) == 1:
            return f"Sheet {blank[0]} is blank and left out."
        if len(blank) > _NAMED_BLANKS:
            return f"{len(blank)} blank sheets are left out; the map has them crossed."
        return f"Sheets {', '.join(blank[:-1])} and {blank[-1]} are blank and left out."

    def _description(self, tile: Tile) -> str:
        layout = self.layout
        return self._plan.parts.told(
            f"The seat deck at 1:1 from above, its back at the top: row {tile.row} of "
            f"{layout.rows}, column {tile.column} of {layout.columns}. Pictures overlap by "
            f"{OVERLAP:g} mm. {self._blank()}"
        ).strip()
