"""Rail strips: 1:1 strips of paper to lay along each rail, with its centre mark and tack points.

A strip shows its rail unrolled along the **inside edge**: distances along it are those along the
inside edge, as everywhere in this program, on a curved rail too. Tack points stand squared out from
the edge by as much as the nail line lies outside it. A straight rail takes the strip flat on its
top, the thick line on the inside edge. A curved one takes it folded along the thick line, the lower
part standing against the rail's inside face, where paper bends, and the marks are squared out over
the top. A rail longer than the sheet has its strip in pieces that overlap by ``OVERLAP``.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from spring_layout.checks.words import length, opened, side_named
from spring_layout.drawing import look
from spring_layout.drawing.paper import Paper
from spring_layout.drawing.primitives import (
    Circle,
    Drawing,
    Group,
    Item,
    Path,
    Place,
    Stroke,
    Tag,
    polyline,
    rectangle,
)
from spring_layout.drawing.rail_labels import triangle
from spring_layout.drawing.tacks import Tack, distance_words, tacks_of
from spring_layout.drawing.template_correction import Correction, corrected
from spring_layout.drawing.template_labels import Labels, Row, Wanted, all_round
from spring_layout.drawing.template_marks import EDGE, FINE, NAIL_LINE, PRICK, Bounds
from spring_layout.drawing.template_page import (
    PRINT_TRUE,
    PageFacts,
    least_paper,
    page_items,
    picture_room,
)
from spring_layout.drawing.template_papers import OneSheet, TemplatePaper
from spring_layout.drawing.template_seams import CUT, LAY
from spring_layout.drawing.template_tiles import OVERLAP, laid_out
from spring_layout.plan import Plan
from spring_layout.planning.parts import Parts

_INSET, _BETWEEN = 2.0, 3.0
_BELOW = 12.0
"""mm of strip below the inside edge: what stands against a curved rail's inside face."""
_ABOVE_NAILS, _MORE, _MOST_TRIES = 12.0, 12.0, 4
"""mm of strip above the nail line for the labels, and by how much it grows where they need it."""
_TACK, _FOLD_TICK = 3.0, 3.0
_STRAIGHT = "Lay it flat on the rail, the thick line on the inside edge."
_CURVED = (
    "Curved: fold it on the thick line and stand the lower part against the rail's inside face."
)
_NOTE = "Lengths run along the inside edge. Lay each strip printed side up, and prick through."


@dataclass(frozen=True)
class Piece:
    """The part of a rail's strip that is printed in one: from ``begin`` to ``end`` along the side.

    ``number`` of ``count`` pieces, from 1; ``above`` is how far it reaches over the inside edge.
    """

    side: int
    number: int
    count: int
    begin: float
    end: float
    above: float

    @property
    def height(self) -> float:
        """The strip's height, mm."""
        return self.above + _BELOW

    @property
    def kept(self) -> tuple[float, float]:
        """What remains once it is cut and the next piece laid on it: from where to where, mm."""
        first = OVERLAP / 2 if self.number > 1 else 0.0
        last = OVERLAP / 2 if self.number < self.count else 0.0
        return self.begin + first, self.end - last

    @property
    def name(self) -> str:
        """Side and piece, as a part of an id."""
        return f"{self.side}-{self.number}"


@dataclass(frozen=True)
class _Laid:
    """A piece on its page: where its upper left corner is."""

    piece: Piece
    left: float
    top: float

    @property
    def edge(self) -> float:
        """y of the inside edge on the page, mm."""
        return self.top + self.piece.above

    def x(self, along: float) -> float:
        """x on the sheet of a place ``along`` the side, mm."""
        return self.left + along - self.piece.begin

    def upright(self, along: float, above: float, below: float) -> tuple[Place, Place]:
        """A line square to the edge, from so far above it to so far below it, mm."""
        return (self.x(along), self.edge - above), (self.x(along), self.edge + below)


def rail_strips(
    plan: Plan, paper: TemplatePaper, correction: Correction | None = None
) -> tuple[Drawing, ...]:
    """The sheets with a strip for each rail that takes tacks. Raises PaperError where too small."""
    correction = correction or Correction()
    page = _page(plan.parts, paper, correction)
    room = picture_room(page)
    pages = _stacked(list(_pieces(plan.parts, room)), room)
    return tuple(
        corrected(_drawing(plan, page, correction, laid, number, len(pages)), correction)
        for number, laid in enumerate(pages, 1)
    )


def _page(parts: Parts, paper: TemplatePaper, correction: Correction) -> Paper:
    """The page, lying, in true mm: off a roll, or as one sheet, as long as the longest rail."""
    if isinstance(paper, Paper):
        lying = paper.landscape()
        return Paper(paper.name, lying.width * correction.across, lying.height * correction.down)
    railed = [i for i, side in enumerate(parts.deck.frame.sides) if side.rail != "none"]
    longest = max((parts.standing.outline.sides[i].length for i in railed), default=0.0)
    high = sum(_above(parts, i) + _BELOW + _BETWEEN for i in railed) + 2 * _INSET
    width, height = least_paper(longest + 2 * _INSET, high)
    return Paper(paper.name, width, height if isinstance(paper, OneSheet) else paper.width)


def _pieces(parts: Parts, room: Bounds) -> Iterator[Piece]:
    """The pieces of every rail, joined as far from its tack points and centre mark as may be."""
    widest = room[2] - room[0] - 2 * _INSET
    for side, frame_side in enumerate(parts.deck.frame.sides):
        if frame_side.rail == "none":
            continue
        long = parts.standing.outline.sides[side].length
        avoid = np.array([long / 2, *(tack.along for tack in tacks_of(parts).get(side, []))])
        count, first = laid_out(0.0, long, widest, avoid)
        above = _above(parts, side)
        for i in range(count):
            begin = first + i * (widest - OVERLAP)
            yield Piece(side, i + 1, count, max(0.0, begin), min(long, begin + widest), above)


def _above(parts: Parts, side: int) -> float:
    """How far the strip reaches over the inside edge, so that every tack point has its label."""
    tacks = tacks_of(parts).get(side, [])
    above = parts.deck.frame.nail_line_of(side) + _ABOVE_NAILS
    for _ in range(_MOST_TRIES):
        piece = Piece(side, 1, 1, 0.0, parts.standing.outline.sides[side].length, above)
        laid = _Laid(piece, 0.0, 0.0)
        labels = _labels(laid)
        if all(labels.put(_tack_label(parts, laid, tack)) for tack in tacks):
            break
        above += _MORE
    return above


def _stacked(pieces: Sequence[Piece], room: Bounds) -> list[list[_Laid]]:
    """The pieces one under another, page after page."""
    pages: list[list[_Laid]] = [[]]
    top = room[1] + _INSET
    for piece in pieces:
        if pages[-1] and top + piece.height > room[3] - _INSET:
            pages.append([])
            top = room[1] + _INSET
        pages[-1].append(_Laid(piece, room[0] + _INSET, top))
        top += piece.height + _BETWEEN
    return pages


def _drawing(
    plan: Plan, page: Paper, correction: Correction, laid: list[_Laid], number: int, count: int
) -> Drawing:
    name = plan.deck.name.strip() or plan.parts.told("Seat deck")
    facts = PageFacts(
        f"Rail strips {number} of {count}", name, (_NOTE,), (PRINT_TRUE, correction.words)
    )
    strips: list[Item] = [_strip(plan.parts, piece) for piece in laid]
    return Drawing(
        page.width,
        page.height,
        f"Rail strips: {name}, sheet {number} of {count}",
        plan.parts.told(
            "Strips to lay along the rails at 1:1, unrolled along the inside edge, with the centre "
            "marks and the tack points of the ties."
        ),
        page_items(page, strips, facts),
        (("scale", "1"), ("sheet", str(number))),
    )


def _strip(parts: Parts, laid: _Laid) -> Group:
    piece = laid.piece
    tacks = _tacks_on(parts, piece)
    labels = _labels(laid)
    for tack in tacks:
        labels.keep_clear((laid.x(tack.along), laid.edge - _nails(parts, piece)), 1.6)
    items = [*_lines(parts, laid), *_centre_mark(parts, laid, labels), *_ends(parts, laid, labels)]
    low, high = piece.kept
    for tack in tacks:
        items += _tack_items(parts, laid, tack)
        if low <= tack.along <= high:
            items += labels.put(_tack_label(parts, laid, tack))
    items += _title(parts, laid, labels)
    data = ("side", str(piece.side)), ("from", f"{piece.begin:.3f}"), ("to", f"{piece.end:.3f}")
    return Group(tuple(items), Tag(id=f"rail-strip-{piece.name}", kind="rail-strip", data=data))


def _tacks_on(parts: Parts, piece: Piece) -> list[Tack]:
    """The tack points that this piece shows, their bars wholly on it if not in what is kept."""
    low, high = piece.kept
    first, last = min(low, piece.begin + _TACK), max(high, piece.end - _TACK)
    return [t for t in tacks_of(parts).get(piece.side, []) if first <= t.along <= last]


def _labels(laid: _Laid) -> Labels:
    """Labels within what is kept of the strip, off the inside edge."""
    (low, high), bottom = laid.piece.kept, laid.top + laid.piece.height
    left, right = laid.x(low), laid.x(high)
    edge = shapely.LineString([(left, laid.edge), (right, laid.edge)])
    return Labels((left, laid.top, right, bottom), (edge,))


def _nails(parts: Parts, piece: Piece) -> float:
    return parts.deck.frame.nail_line_of(piece.side)


def _lines(parts: Parts, laid: _Laid) -> list[Item]:
    """The strip's outline, the inside edge and the nail line."""
    piece, right = laid.piece, laid.x(laid.piece.end)
    nails = laid.edge - _nails(parts, piece)
    edge = Tag(id=f"edge-{piece.name}", kind="inside-edge")
    return [
        Path(rectangle(laid.left, laid.top, right - laid.left, piece.height), CUT),
        Path(polyline(((laid.left, laid.edge), (right, laid.edge))), EDGE, tag=edge),
        Path(polyline(((laid.left, nails), (right, nails))), NAIL_LINE),
    ]


def _tack_items(parts: Parts, laid: _Laid, tack: Tack) -> list[Item]:
    nails = _nails(parts, laid.piece)
    x, y = laid.x(tack.along), laid.edge - nails
    tag = Tag(kind="tack", data=(("tie", str(tack.line.number)), ("side", str(tack.side))))
    return [
        Path(polyline(((x - _TACK, y), (x + _TACK, y))), look.TACK_BAR),
        Path(polyline(laid.upright(tack.along, nails + _TACK, _FOLD_TICK)), FINE),
        Circle(x, y, PRICK, FINE, tag=tag),
    ]


def _tack_label(parts: Parts, laid: _Laid, tack: Tack) -> Wanted:
    rows = (
        Row(str(tack.line.number), 3.5, "bold"),
        Row(distance_words(tack, parts), look.SMALL),
    )
    place = laid.x(tack.along), laid.edge - _nails(parts, laid.piece)
    return Wanted(place, rows, all_round((0.0, -1.0)), 3.6, "tack-label")


def _centre_mark(parts: Parts, laid: _Laid, labels: Labels) -> list[Item]:
    """The rail's middle, where this piece holds it."""
    middle = parts.standing.outline.sides[laid.piece.side].length / 2
    if not laid.piece.begin <= middle <= laid.piece.end:
        return []
    place = laid.x(middle), laid.edge
    # up to short of the nail line, so that it does not run through a tack point's label
    up = max(_nails(parts, laid.piece) - 2 * _TACK, 0.0)
    line = Path(polyline(laid.upright(middle, up, _FOLD_TICK)), FINE)
    # above the edge, clear of what is told of the ends of a piece
    row, ways = Row("centre", look.NORMAL), ((1.0, 0.0), (-1.0, 0.0))
    words = Wanted((place[0], place[1] - 4.2), (row,), ways, 1.5, "mark")
    low, high = laid.piece.kept
    told = labels.put(words) if low <= middle <= high else []
    return [line, triangle(place, (0.0, -1.0)), *told]


def _ends(parts: Parts, laid: _Laid, labels: Labels) -> list[Item]:
    """What happens at both ends: the rail's own, or a line to cut or to lay the next piece on."""
    piece = laid.piece
    items: list[Item] = []
    low, high = piece.kept
    first, last = (f"{words} end" for words in _end_words(parts, piece.side))
    if piece.number > 1:
        first = f"cut, lay on piece {piece.number - 1}"
        items.append(_join(laid, low, CUT, "cut-line"))
    if piece.number < piece.count:
        last = f"piece {piece.number + 1} lies here"
        items.append(_join(laid, high, LAY, "lay-line"))
    items += labels.put(_end_label(laid, low, 1.0, first))
    return [*items, *labels.put(_end_label(laid, high, -1.0, last))]


def _join(laid: _Laid, along: float, stroke: Stroke, kind: str) -> Path:
    return Path(polyline(laid.upright(along, laid.piece.above, _BELOW)), stroke, tag=Tag(kind=kind))


def _end_label(laid: _Laid, along: float, inward: float, words: str) -> Wanted:
    place = laid.x(along), laid.edge + _FOLD_TICK + 1.7
    return Wanted(place, (Row(words, look.SMALL),), ((inward, 0.0),), 1.2, "strip-end")


def _end_words(parts: Parts, side: int) -> tuple[str, str]:
    """What the side's first and last ends are called: left, right, back, front."""
    curve = parts.standing.outline.sides[side]
    (x0, y0), (x1, y1) = curve.start, curve.end
    if parts.deck.frame.sides[side].rail in ("back", "front"):
        return ("left", "right") if x0 < x1 else ("right", "left")
    return ("back", "front") if y0 < y1 else ("front", "back")


def _title(parts: Parts, laid: _Laid, labels: Labels) -> list[Item]:
    """Which rail, which piece, how long, and how it is laid."""
    piece, curve = laid.piece, parts.standing.outline.sides[laid.piece.side]
    name = opened(side_named(parts.deck, piece.side).removeprefix("the "))
    part = f", piece {piece.number} of {piece.count}" if piece.count > 1 else ""
    how = _STRAIGHT if curve.is_straight else _CURVED
    row = Row(f"{name}{part}: {length(parts.deck, curve.length)}. {how}", look.SMALL)
    place = laid.x(piece.kept[0]), laid.edge + _BELOW - look.SMALL - 0.4
    return labels.put(Wanted(place, (row,), ((1.0, 0.0),), 1.2, "strip-title"))
