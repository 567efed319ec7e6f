"""Where a side view is to be cut, as it is told on the command line."""

import re
from typing import TYPE_CHECKING

from spring_layout.cli.exits import RefusedError

if TYPE_CHECKING:
    from spring_layout.drawing.side_view import Sight

_NUMBER = r"\s*([+-]?\d+(?:\.\d+)?)\s*"
_PLACE = re.compile(rf"{_NUMBER},{_NUMBER}(?:,{_NUMBER})?")
_FARTHEST = 20_000.0


def sight_of(line: int | None, across: str | None) -> "Sight":
    """The tie of that number (the first where nothing is told), or a straight cut.

    ``across`` is "X,Y" or "X,Y,DEGREES": a place of the deck, mm, and the direction from x toward
    the front. Raises RefusedError.
    """
    from spring_layout.drawing.side_view import Across

    if across is None:
        return 1 if line is None else line
    found = _PLACE.fullmatch(across)
    if found is None:
        raise RefusedError(
            f"--across: write a place in mm and degrees such as 230,210,90, not {across!r}"
        )
    x, y, angle = (float(value or 0) for value in found.groups())
    if max(abs(x), abs(y)) > _FARTHEST:
        raise RefusedError("--across: the place lies off every deck; give one on the deck, in mm")
    return Across((x, y), angle % 360.0)
