"""Sheets of paper, their margins, and the scales at which people draw.

A-sizes: ISO 216. ANSI A to E: ASME Y14.1, of which letter is A and tabloid is B. Legal, 8 1/2 by
14 in, is a trade size outside that standard.
"""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

MARGIN = 10.0
"""mm kept free along each edge; home printers leave 4 to 7 mm blank (printer manuals)."""
_INCH = 25.4
_LEAST_SIDE, _MOST_SIDE = 105.0, 20_000.0


class PaperError(ValueError):
    """There is no such paper; the message says what there is."""


@dataclass(frozen=True)
class Paper:
    """A sheet, ``width`` by ``height`` mm, under the name people know it by."""

    name: str
    width: float
    height: float

    def portrait(self) -> "Paper":
        """The sheet with its longer edge upright."""
        return Paper(self.name, min(self.width, self.height), max(self.width, self.height))

    def landscape(self) -> "Paper":
        """The sheet with its longer edge lying."""
        return Paper(self.name, max(self.width, self.height), min(self.width, self.height))

    @property
    def lettering(self) -> float:
        """How much larger than on A4 everything is lettered: as the root of the shorter edge.

        So each A-size up is lettered about a fifth larger, for it is read from farther away.
        """
        return max(1.0, math.sqrt(min(self.width, self.height) / 210.0))


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
    names = _ANSI if paper in [PAPERS[name] for name in _ANSI] else _ISO
    area = paper.width * paper.height
    return [PAPERS[name] for name in names if PAPERS[name].width * PAPERS[name].height > area]


def scales() -> Iterator[float]:
    """The scales that people use, as the 5 of 1:5: 1, 2, 2.5, 4, 5, 10, 20, 25, 40, 50, 100 ..."""
    yield 1
    decade = 1
    while True:
        yield from (2 * decade, 2.5 * decade, 4 * decade, 5 * decade, 10 * decade)
        decade *= 10


def scale_to_fit(size: tuple[float, float], room: tuple[float, float]) -> float:
    """The largest usual scale (the 5 of 1:5) at which ``size`` fits into ``room``, both mm."""
    needed = max(size[0] / room[0], size[1] / room[1])
    return next(scale for scale in scales() if scale >= needed)
