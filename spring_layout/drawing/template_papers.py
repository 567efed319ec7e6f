"""What a full-size template is put on: sheets, paper off a roll, one sheet as large as need be.

A roll has its width and any length; the drawing lies on it whichever way takes less of it.
"""

import math
import re
from dataclasses import dataclass

from spring_layout.drawing.paper import Paper, PaperError, paper_named
from spring_layout.drawing.template_correction import Correction
from spring_layout.drawing.template_page import least_paper
from spring_layout.units import LengthError, parse_length

ONE_SHEET = "none"
"""The paper's name for one sheet as large as the drawing needs."""
_ROLL = re.compile(r"roll[\s-]+(.+)")
_WIDEST_ROLL = 2000.0
_LENGTH_STEP = 10.0
"""mm; a piece off a roll is cut to this."""


@dataclass(frozen=True)
class Roll:
    """Paper off a roll, ``width`` mm wide."""

    name: str
    width: float


@dataclass(frozen=True)
class OneSheet:
    """One sheet as large as the drawing needs."""

    name: str = "One sheet"


TemplatePaper = Paper | Roll | OneSheet


def template_paper_named(name: str) -> TemplatePaper:
    """The paper called ``name``: a sheet, "roll-610" or "roll 24in", or "none" for one sheet.

    Raises PaperError, with a sentence, for any other name.
    """
    plain = name.strip().lower()
    if plain == ONE_SHEET:
        return OneSheet()
    roll = _ROLL.fullmatch(plain)
    return _roll(roll[1]) if roll else paper_named(name)


def _roll(width: str) -> Roll:
    try:
        wide = parse_length(width, "mm")
    except LengthError as error:
        raise PaperError(f"the roll's width: {error}") from error
    if not 0 < wide <= _WIDEST_ROLL:
        raise PaperError(f"a roll {width} wide is no roll of paper; write roll-610 or roll-24in")
    return Roll(f"Roll {width.strip()}", wide)


def pages_for(
    paper: TemplatePaper, size: tuple[float, float], correction: Correction
) -> list[Paper]:
    """The pages, either way round, for a drawing of ``size``: in true mm, as they are printed."""
    across, down = correction.across, correction.down
    if isinstance(paper, OneSheet):
        return [Paper(paper.name, *least_paper(*size))]
    if isinstance(paper, Roll):
        width, height = (_up(length) for length in least_paper(*size))
        upright = Paper(paper.name, paper.width * across, height)
        return [upright, Paper(paper.name, width, paper.width * down)]
    turned = paper.portrait(), paper.landscape()
    return [Paper(paper.name, p.width * across, p.height * down) for p in turned]


def _up(length: float) -> float:
    return math.ceil(length / _LENGTH_STEP - 1e-9) * _LENGTH_STEP
