"""A printer that is off: what its print of the two bars measured, and the next print made right.

A home printer draws a few parts in a thousand too small or too large, and differently across and
down, for the feed stretches one way only. The user measures the bar across and the bar down on a
print; the next print is drawn larger or smaller by as much, so that it comes out true. Off by more
than five in a hundred is no such fault: then the print was fitted to the page.
"""

import math
from dataclasses import dataclass, replace

from spring_layout.drawing.primitives import (
    Arc,
    Circle,
    Drawing,
    Group,
    Item,
    Line,
    Move,
    Path,
    Step,
    Stroke,
    Text,
)
from spring_layout.drawing.template_bars import INCH_BAR, MM_BAR
from spring_layout.units import LengthError, parse_length

MOST_OFF = 0.05
"""Share; a printer is not off by more than this, and a page that was fitted is."""
_FLAT = 0.005
"""mm that the chords which stand for a stretched circle may lie off it."""
_INCH_MARKS = ("in", '"', "″", "”", "''")


class CorrectionError(ValueError):
    """What a bar is said to measure cannot be; the message is a sentence with the mend."""


@dataclass(frozen=True)
class Correction:
    """What a length of 1 measures on this printer's prints, ``across`` and ``down`` the sheet."""

    across: float = 1.0
    down: float = 1.0

    @property
    def is_none(self) -> bool:
        """Whether the printer is true as it is."""
        return self.across == self.down == 1.0

    @property
    def words(self) -> str:
        """What the sheet says about it."""
        if self.is_none:
            return ""
        across, down = self.across * MM_BAR, self.down * MM_BAR
        return (
            f"Corrected for a printer whose 100 mm bars measured {across:.1f} mm across and "
            f"{down:.1f} mm down. Print on that printer only, and measure again."
        )


def correction_from(across: str, down: str) -> Correction:
    """The correction for bars that measured ``across`` and ``down``, as people write lengths.

    A length in inches is that of the 4 in bar, any other that of the 100 mm bar. Raises
    CorrectionError.
    """
    return Correction(_share(across, "across"), _share(down, "down"))


def _share(text: str, way: str) -> float:
    try:
        measured = parse_length(text, "mm")
    except LengthError as error:
        raise CorrectionError(f"the bar {way}: {error}") from error
    bar, name = MM_BAR, "100 mm"
    if any(mark in text.lower() for mark in _INCH_MARKS):
        bar, name = INCH_BAR, "4 in"
    share = measured / bar
    if abs(share - 1) > MOST_OFF:
        raise CorrectionError(
            f"the {name} bar {way} cannot measure “{text.strip()}”; if it does, the print was "
            "fitted to the page: print at 100 % (actual size) and measure again"
        )
    return share


def corrected(drawing: Drawing, correction: Correction) -> Drawing:
    """``drawing``, made in true mm, as it must be sent to the printer."""
    if correction.is_none:
        return drawing
    kx, ky = 1 / correction.across, 1 / correction.down
    data = tuple((name, value) for name, value in drawing.data if name != "scale")
    return replace(
        drawing,
        width=drawing.width * kx,
        height=drawing.height * ky,
        items=tuple(_stretched(item, kx, ky) for item in drawing.items),
        data=(*data, ("corrected", f"{kx:.6f} {ky:.6f}")),
    )


def _stretched(item: Item, kx: float, ky: float) -> Item:
    match item:
        case Group():
            clip = item.clip and _path(item.clip, kx, ky)
            items = tuple(_stretched(inner, kx, ky) for inner in item.items)
            return replace(item, items=items, clip=clip)
        case Path():
            return _path(item, kx, ky)
        case Circle():
            steps = (Move(item.x + item.radius, item.y), *_round(item.x, item.y, item.radius))
            return _path(Path(steps, item.stroke, item.fill, item.tag), kx, ky)
        case Text():
            # lettering is not stretched: it takes the lesser of both, so that it keeps its room
            return replace(item, x=item.x * kx, y=item.y * ky, size=item.size * min(kx, ky))


def _path(path: Path, kx: float, ky: float) -> Path:
    steps: list[Step] = []
    for step in path.steps:
        if isinstance(step, Arc):
            steps += _round(step.x, step.y, step.radius, step.start, step.sweep)
        else:
            steps.append(step)
    moved = tuple(_moved(step, kx, ky) for step in steps)
    return replace(path, steps=moved, stroke=_stroke(path.stroke, kx, ky))


def _moved(step: Step, kx: float, ky: float) -> Step:
    if isinstance(step, Move | Line):
        return type(step)(step.x * kx, step.y * ky)
    return step


def _stroke(stroke: Stroke | None, kx: float, ky: float) -> Stroke | None:
    return stroke and stroke.times(math.sqrt(kx * ky))


def _round(
    x: float, y: float, radius: float, start: float = 0.0, sweep: float = 360.0
) -> list[Step]:
    """Chords along an arc (degrees), within ``_FLAT`` of it."""
    step = 2 * math.acos(1 - min(1.0, _FLAT / radius)) if radius else math.pi
    pieces = max(2, math.ceil(math.radians(abs(sweep)) / step))
    angles = (math.radians(start + sweep * i / pieces) for i in range(1, pieces + 1))
    return [Line(x + radius * math.cos(a), y + radius * math.sin(a)) for a in angles]
