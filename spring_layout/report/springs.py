"""The table of springs: label, place, gap, distance from the rail, tied height, ties."""

from collections import Counter

from spring_layout.checks.words import percent
from spring_layout.planning.parts import Parts
from spring_layout.report.tables import table
from spring_layout.units import format_length

HEADS = (
    *("Spring", "Right", "Forward", "Gap", "to", "From rail", "side"),
    *("Tied height", "Tied down", "Ways"),
)
_LEFT = frozenset({0, 4, 6})


def springs_section(parts: Parts) -> list[str]:
    """The springs in the order of their labels, rows from the back."""
    unit = {"in": "inches", "mm": "mm"}[parts.deck.units]
    ways = Counter(spring for line in parts.ties.lines for spring in line.springs * 2)
    rows = [_row(parts, spring, ways[spring]) for spring in parts.labels]
    return [
        f"SPRINGS, in {unit}. Rows are lettered from the back, springs numbered from the left;",
        "right and forward are measured from the deck's zero to the spring's centre.",
        "",
        *table(HEADS, rows, _LEFT),
    ]


def _row(parts: Parts, spring: str, ways: int) -> tuple[str, ...]:
    i = parts.standing.index[spring]
    x, y = parts.standing.centres[i]
    spaces, heights = parts.spaces, parts.heights
    nearest = int(spaces.nearest[i])
    gap = (
        ("-", "")
        if nearest < 0
        else (
            _plain(parts, float(spaces.gap[i])),
            parts.labels[parts.standing.ids[nearest]],
        )
    )
    return (
        parts.labels[spring],
        _plain(parts, float(x)),
        _plain(parts, float(y)),
        *gap,
        _plain(parts, float(spaces.clearance[i])),
        _side(parts, int(spaces.nearest_side[i])),
        _plain(parts, float(heights.tied[i])),
        percent(float(heights.squeeze[i])),
        str(ways),
    )


def _side(parts: Parts, side: int) -> str:
    rail = parts.deck.frame.sides[side].rail
    return f"side {side + 1}" if rail == "none" else rail


def _plain(parts: Parts, mm: float) -> str:
    return format_length(mm, parts.deck.units, unit=False)
