"""The table of springs: label, place, gap, distance from the rail, tied height, ways tied."""

import re
from collections import Counter

from spring_layout.checks.words import percent, side_named
from spring_layout.planning.parts import Parts
from spring_layout.report.tables import paragraph, table
from spring_layout.units import format_length

HEADS = (
    *("Spring", "", "Middle", "Back", "Gap", "to", "Edge", "of"),
    *("Tied to", "Down by", "Ways"),
)
_LEFT = frozenset({0, 1, 5, 7})
_TOLD = (
    "Rows are lettered from the back, springs numbered from the left. A spring's centre is so far "
    "left or right of the middle of the opening, and so far forward from its back edge. The gap is "
    "that to the nearest spring, between top coils; the edge is the nearest inside edge, from the "
    "top coil. Ways: how many ways the ties hold it, two for each tie."
)


def springs_section(parts: Parts) -> list[str]:
    """The springs in the order of their labels, rows from the back."""
    unit = {"in": "inches", "mm": "mm"}[parts.deck.units]
    ways = Counter(spring for line in parts.ties.lines for spring in line.springs * 2)
    rows = [_row(parts, spring, ways[spring]) for spring in parts.labels]
    spaces = parts.spaces
    over = bool((spaces.gap < 0).any() or (spaces.clearance < 0).any())
    less = " Less than 0: the coil overlaps the other, or stands over the edge." if over else ""
    head = paragraph(parts.told(f"SPRINGS, in {unit}. {_TOLD}{less}"))
    return [*head, "", *table(HEADS, rows, _LEFT)]


def _row(parts: Parts, spring: str, ways: int) -> tuple[str, ...]:
    i = parts.standing.index[spring]
    spaces, heights = parts.spaces, parts.heights
    return (
        parts.labels[spring],
        *_place(parts, i),
        *_gap(parts, i),
        _plain(parts, float(spaces.clearance[i])),
        _side(parts, int(spaces.nearest_side[i])),
        _plain(parts, float(heights.tied[i])),
        percent(float(heights.squeeze[i])),
        str(ways),
    )


def _place(parts: Parts, row: int) -> tuple[str, str, str]:
    """Which way and how far from the middle of the opening, and how far from its back edge."""
    x0, y0, x1, _ = parts.standing.outline.bounds
    x, y = parts.standing.centres[row]
    across = _plain(parts, abs(float(x) - (x0 + x1) / 2))
    way = "" if across == "0" else "left" if x < (x0 + x1) / 2 else "right"
    return way, across, _plain(parts, float(y) - y0)


def _gap(parts: Parts, row: int) -> tuple[str, str]:
    """The gap to the nearest spring and its label; "-" for a lone spring."""
    nearest = int(parts.spaces.nearest[row])
    if nearest < 0:
        return "-", ""
    return _plain(parts, float(parts.spaces.gap[row])), parts.labels[parts.standing.ids[nearest]]


def _side(parts: Parts, side: int) -> str:
    """A side as a table has room for: "back", "open right", "front at the left"."""
    return re.sub(" (rail|side)\\b", "", side_named(parts.deck, side).removeprefix("the "))


def _plain(parts: Parts, mm: float) -> str:
    return format_length(mm, parts.deck.units, unit=False)
