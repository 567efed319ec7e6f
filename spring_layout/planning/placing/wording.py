"""What speaks for a layout, as a foreman would say it."""

from spring_layout.planning.placing.layouts import Pattern
from spring_layout.planning.spacing import Evenness
from spring_layout.units import Units, format_length

NUMBERS = (
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)

NEAR_WISH = 0.15
"""A usual share this near to 1 is what was asked for."""

LIKE = 3.0
"""mm. Distances that differ by less than this are told as one."""


def title_of(pattern: Pattern, counts: tuple[int, ...]) -> str:
    """A short name: "9 springs, 3 rows of 3", "5 springs, staggered 2-1-2"."""
    total = sum(counts)
    springs = "1 spring" if total == 1 else f"{total} springs"
    if total == 1:
        return "1 spring in the middle"
    if pattern == "ring":
        return f"{springs}, {_rings(counts)}"
    if pattern == "staggered":
        return f"{springs}, staggered {_dashed(counts)}"
    if len(counts) == 1:
        return f"{springs} in one row"
    if len(set(counts)) == 1:
        if counts[0] == 1:
            return f"{springs}, one behind the other"
        return f"{springs}, {len(counts)} rows of {counts[0]}"
    return f"{springs}, rows of {_dashed(counts)}"


def _rings(counts: tuple[int, ...]) -> str:
    if counts[0] == 1:
        around = " and ".join(str(count) for count in counts[1:])
        return f"1 in the middle, {around} around"
    return "a ring of " + " round one of ".join(str(count) for count in reversed(counts))


def _dashed(counts: tuple[int, ...]) -> str:
    return "-".join(str(count) for count in counts)


def why_of(
    pattern: Pattern, counts: tuple[int, ...], even: Evenness, usual: float | None, units: Units
) -> str:
    """What speaks for the layout, and how it stands to the wishes: two sentences.

    ``usual``: the usual share of the wishes that it comes to, None where nothing was wished.
    """
    return f"{_merit(pattern, counts)} {_distances(even, usual, units)}"


def _merit(pattern: Pattern, counts: tuple[int, ...]) -> str:
    total = sum(counts)
    if total == 1:
        return "One spring is all that this opening takes well."
    if pattern == "ring":
        return _ring_merit(counts)
    if pattern == "staggered" and counts == (2, 1, 2):
        return "Four towards the corners and one under the sitter: the usual way in a small chair."
    if pattern == "staggered":
        return "Staggered rows put a spring behind every gap, so the seat feels the same all over."
    if pattern == "fitted":
        return (
            "Each row holds what its width takes, so the gaps stay alike where the frame narrows."
        )
    if len(counts) == 1 or counts[0] == 1:
        return "A single row: quick to tie, but it has no diagonal ties to steady it."
    return (
        "Square rows: every tie runs straight over its springs, the plainest to tie and to check."
    )


def _ring_merit(counts: tuple[int, ...]) -> str:
    if counts[0] == 1:
        around = NUMBERS[counts[1]] if counts[1] < len(NUMBERS) else str(counts[1])
        return f"One under the sitter and {around} around it follow a round frame evenly."
    return "A ring follows a round frame evenly and leaves the middle free."


def _distances(even: Evenness, usual: float | None, units: Units) -> str:
    rail = _span(even.rim_least or 0.0, even.rim_most or 0.0, units)
    gap = ""
    if even.gap_least is not None and even.gap_most is not None:
        gap = f"gaps of {_span(even.gap_least, even.gap_most, units)}, "
    return _sentence(f"{gap}{rail} from the rails; {_closeness(usual)}.")


def _sentence(text: str) -> str:
    return text[0].upper() + text[1:]


def _span(least: float, most: float, units: Units) -> str:
    if most - least < LIKE or format_length(least, units) == format_length(most, units):
        return format_length((least + most) / 2, units)
    return f"{format_length(least, units, unit=False)} to {format_length(most, units)}"


def _closeness(usual: float | None) -> str:
    if usual is None:
        return "set close, as no distance was asked"
    if usual < 0.5:
        return "much closer than you asked"
    if usual < 1 - NEAR_WISH:
        return "closer than you asked"
    if usual <= 1 + NEAR_WISH:
        return "what you asked for"
    return "wider than you asked" if usual <= 2 else "much wider than you asked"
