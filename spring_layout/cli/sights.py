"""Where a side view is to be cut, as it is told on the command line."""

import math
import re
from typing import TYPE_CHECKING

from spring_layout.cli.exits import RefusedError

if TYPE_CHECKING:
    from spring_layout.drawing.side_view import Sight
    from spring_layout.plan import Plan

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


def refuse_empty(plan: "Plan", sight: "Sight") -> None:
    """Raises RefusedError where the cut goes through no spring: there would be little to see."""
    from spring_layout.drawing.side_view_cut import Across
    from spring_layout.drawing.side_view_section import section_of

    standing = plan.parts.standing
    if not isinstance(sight, Across) or not standing.ids:
        return
    if any(spring.is_cut for spring in section_of(plan.parts, sight).springs):
        return
    away = [math.dist(place, sight.point) for place in standing.centres.tolist()]
    nearest = away.index(min(away))
    x, y = standing.centres[nearest].tolist()
    raise RefusedError(
        f"--across: the cut through {sight.point[0]:g},{sight.point[1]:g} meets no spring; give "
        f"the place of one, such as {x:g},{y:g} for {plan.parts.labels[standing.ids[nearest]]}"
    )
