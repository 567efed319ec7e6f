"""The bars that prove a full-size print: 100 mm and 4 in, side by side, across and down.

They are measured on the print with a rule before the sheet is trusted. Across and down are
measured apart, since a printer's feed stretches paper one way only (common practice, no source).
"""

from collections.abc import Callable
from functools import lru_cache

from spring_layout.drawing import lettering, look
from spring_layout.drawing.primitives import (
    Item,
    Path,
    Place,
    Step,
    Stroke,
    Tag,
    Text,
    polyline,
)
from spring_layout.units import MM_PER_INCH

MM_BAR = 100.0
INCH_BAR = 4 * MM_PER_INCH
BAR_LENGTH = INCH_BAR
"""mm that the two bars take along their direction, without their last figure's half."""
BAR_DEPTH = 10.0
"""mm that both bars with their figures take across their direction."""

_THICK = 1.7
_FIGURES = 2.2
"""The figures' height, mm."""
_GAP = 0.8
_MM_TOP = _FIGURES + _GAP
_INCH_TOP = _MM_TOP + _THICK + 0.6
_EDGE = Stroke(look.INK, 0.1)

Turn = Callable[[float, float], Place]
"""From (along the bar, across it) to a place on the sheet."""


@lru_cache(maxsize=8)
def bars_across(place: Place) -> tuple[Item, ...]:
    """Both bars lying, their upper left corner at ``place``, mm."""
    x, y = place
    return _bars(lambda along, deep: (x + along, y + deep), 0.0, "across")


@lru_cache(maxsize=8)
def bars_down(place: Place) -> tuple[Item, ...]:
    """Both bars upright, read from the right, their upper right corner at ``place``, mm."""
    x, y = place
    return _bars(lambda along, deep: (x - deep, y + along), 90.0, "down")


def _bars(turn: Turn, turned: float, name: str) -> tuple[Item, ...]:
    figures_mm = [(0.0, "0"), (50.0, "50"), (MM_BAR, "100 mm")]
    figures_inch = [(0.0, "0"), (INCH_BAR / 2, "2"), (INCH_BAR, "4 in")]
    inch_line = _INCH_TOP + _THICK + _GAP + _FIGURES
    return (
        *_bar(turn, _MM_TOP, MM_BAR, 10, Tag(id=f"bar-mm-{name}", kind="bar")),
        *_bar(turn, _INCH_TOP, INCH_BAR, 4, Tag(id=f"bar-in-{name}", kind="bar")),
        *(_figure(turn, at, _FIGURES, words, turned) for at, words in figures_mm),
        *(_figure(turn, at, inch_line, words, turned) for at, words in figures_inch),
    )


def _bar(turn: Turn, top: float, long: float, steps: int, tag: Tag) -> list[Item]:
    """One bar of ``steps`` blocks, every other one black; its outline runs along its very ends."""
    step = long / steps
    dark = [_block(turn, top, i * step, step) for i in range(0, steps, 2)]
    filled = Path(tuple(s for block in dark for s in block), fill=look.INK)
    return [filled, Path(_block(turn, top, 0.0, long), _EDGE, tag=tag)]


def _block(turn: Turn, top: float, begin: float, long: float) -> tuple[Step, ...]:
    ends = (begin, top), (begin + long, top), (begin + long, top + _THICK), (begin, top + _THICK)
    return polyline((turn(*end) for end in ends), closed=True)


def _figure(turn: Turn, at: float, line: float, words: str, turned: float) -> Text:
    """A figure under its place; a unit behind it hangs back so that it stays over the bar."""
    anchor = "start" if at == 0 else ("middle" if " " not in words else "end")
    return lettering.lettered(
        turn(at, line),
        words,
        _FIGURES,
        look.INK,
        anchor=anchor,  # type: ignore[arg-type]  # mypy widens the literals of the conditional
        turned=turned,
    )
