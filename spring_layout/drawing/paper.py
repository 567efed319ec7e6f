"""Sheets of paper, their margins, and the scales at which people draw.

A-sizes: ISO 216. ANSI A to E: ASME Y14.1, of which letter is A and tabloid is B. Legal, 8 1/2 by
14 in, is a trade size outside that standard.

Scales for mm: the reductions of ISO 5455 (1:2, 1:5, 1:10 and on by tens), the 1:2.5 and 1:4 that it
lets one put between, and the 7.5 and 12.5 of the three-edged metric scale rule (1:75, 1:125). For
inches: those of the US architect's scale rule, so many inches to the foot, and of the engineer's,
by tens and their halves. All from memory.
"""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from spring_layout.units import MM_PER_INCH, Units

Way = Literal["either", "upright", "lying"]

MARGIN = 10.0
"""mm kept free along each edge; home printers leave 4 to 7 mm blank (printer manuals)."""
_INCH = MM_PER_INCH
_MM_SCALES = (1, 2, 2.5, 4, 5, 7.5, 10, 12.5, 20, 25, 40, 50, 75)
INCH_SCALES: dict[float, str] = {
    1: "full size",
    2: "6 in to the foot",
    3: "4 in to the foot",
    4: "3 in to the foot",
    5: "",
    6: "2 in to the foot",
    8: "1 1/2 in to the foot",
    10: "",
    12: "1 in to the foot",
    16: "3/4 in to the foot",
    20: "",
    24: "1/2 in to the foot",
    32: "3/8 in to the foot",
    48: "1/4 in to the foot",
    64: "3/16 in to the foot",
    96: "1/8 in to the foot",
}
"""The 8 of 1:8 and what an architect's scale rule says for it; an engineer's says 1:10 itself."""
_HARDLY = 1.05
_LEAST_SIDE, _MOST_SIDE = 105.0, 20_000.0


class PaperError(ValueError):
    """There is no such paper; the message says what there is."""


@dataclass(frozen=True)
class Paper:
    """A sheet, ``width`` by ``height`` mm, under the name people know it by.

    ``way``: which way round the user wants it; "either" leaves that to the drawing.
    """

    name: str
    width: float
    height: float
    way: Way = "either"

    def portrait(self) -> "Paper":
        """The sheet with its longer edge upright, unless the user wants it lying."""
        return self._lying() if self.way == "lying" else self._upright()

    def landscape(self) -> "Paper":
        """The sheet with its longer edge lying, unless the user wants it upright."""
        return self._upright() if self.way == "upright" else self._lying()

    def _upright(self) -> "Paper":
        edges = sorted((self.width, self.height))
        return replace(self, width=edges[0], height=edges[1])

    def _lying(self) -> "Paper":
        edges = sorted((self.width, self.height))
        return replace(self, width=edges[1], height=edges[0])

    @property
    def lettering(self) -> float:
        """How much larger than on A4 everything is lettered: as the root of the shorter edge.

        So each A-size up is lettered about a fifth larger, for it is read from farther away. A
        sheet that is hardly wider, as letter is, is lettered as A4 is.
        """
        larger = math.sqrt(min(self.width, self.height) / 210.0)
        return larger if larger > _HARDLY else 1.0


PAPERS: dict[str, Paper] = {
    paper.name.lower().replace(" ", "-"): paper
    for paper in (
        Paper("A4", 210, 297),
        Paper("A3", 297, 420),
        Paper("A2", 420, 594),
        Paper("A1", 594, 841),
        Paper("A0", 841, 1189),
        Paper("Letter", 8.5 * _INCH, 11 * _INCH),
        Paper("Legal", 8.5 * _INCH, 14 * _INCH),
        Paper("Tabloid", 11 * _INCH, 17 * _INCH),
        Paper("ANSI C", 17 * _INCH, 22 * _INCH),
        Paper("ANSI D", 22 * _INCH, 34 * _INCH),
        Paper("ANSI E", 34 * _INCH, 44 * _INCH),
    )
}
_ISO = ("a4", "a3", "a2", "a1", "a0")
_ANSI = ("letter", "legal", "tabloid", "ansi-c", "ansi-d", "ansi-e")


def paper_named(name: str) -> Paper:
    """The paper called ``name``: one of PAPERS, or a size such as "420x297", "420 x 297 mm".

    Raises PaperError, with a sentence, for any other name and for sheets too small to draw on.
    """
    known = PAPERS.get(name.strip().lower().replace(" ", "-"))
    if known:
        return known
    size = re.fullmatch(r"([\d.]+)\s*[x×]\s*([\d.]+)\s*(?:mm)?", name.strip().lower())
    if not size:
        raise PaperError(
            f"there is no paper called {name!r}; use {', '.join(PAPERS)} or a size such as 420x297"
        )
    return _own_size(size[1], size[2])


def _own_size(width: str, height: str) -> Paper:
    try:
        sides = float(width), float(height)
    except ValueError:
        raise PaperError(f"{width} x {height} is not a size in millimetres") from None
    if min(sides) < _LEAST_SIDE or max(sides) > _MOST_SIDE:
        raise PaperError(
            f"a sheet of {width} x {height} mm cannot be drawn on; "
            f"both edges must be from {_LEAST_SIDE:g} to {_MOST_SIDE:g} mm"
        )
    return Paper(f"{sides[0]:g} x {sides[1]:g} mm", *sides)


def larger_papers(paper: Paper) -> list[Paper]:
    """The papers of the same family that are larger than ``paper``, smallest first."""
    names = _ANSI if paper.name in [PAPERS[name].name for name in _ANSI] else _ISO
    area = paper.width * paper.height
    return [
        PAPERS[name]
        for name in names
        if PAPERS[name].width * PAPERS[name].height > area and PAPERS[name].name != paper.name
    ]


def scales(units: Units = "mm") -> Iterator[float]:
    """The scales that people use for drawings in ``units``, as the 5 of 1:5, the largest first.

    In mm 1, 2, 2.5, 4, 5, 7.5, 10, 12.5, 20, 25 ..., in inches those of INCH_SCALES.
    """
    if units == "in":
        yield from INCH_SCALES
    else:
        yield from _MM_SCALES
    decade = 100.0
    while True:
        yield from (decade * part for part in (1, 2, 2.5, 4, 5))
        decade *= 10


def scale_words(scale: float, units: Units) -> str:
    """The scale as it is written on a sheet: "1 : 5", "1 : 8 (1 1/2 in to the foot)"."""
    told = INCH_SCALES.get(scale) if units == "in" else None
    return f"1 : {scale:g} ({told})" if told else f"1 : {scale:g}"


def scale_to_fit(
    size: tuple[float, float], room: tuple[float, float], units: Units = "mm"
) -> float:
    """The largest usual scale (the 5 of 1:5) at which ``size`` fits into ``room``, both mm."""
    needed = max(size[0] / room[0], size[1] / room[1])
    return next(scale for scale in scales(units) if scale >= needed)
