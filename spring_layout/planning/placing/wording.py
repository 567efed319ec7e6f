"""What speaks for a layout, as a foreman would say it."""

from spring_layout.planning.placing.layouts import Pattern
from spring_layout.planning.placing.measure import Wish
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
"""A distance whose share of its wish is this near to 1 is about what was asked for."""

FAR_OFF = 2.0
"""A distance this many times its wish, or as many times less, is much off it."""

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
    pattern: Pattern, counts: tuple[int, ...], even: Evenness, wish: Wish, units: Units
) -> str:
    """What speaks for the layout, and how its gaps and distances stand to the wishes."""
    return f"{_merit(pattern, counts)} {_distances(even, wish, units)}"


def _merit(pattern: Pattern, counts: tuple[int, ...]) -> str:
    total = sum(counts)
    if total == 1:
        return "One spring in the middle: the least that there can be."
    if pattern == "ring":
        return _ring_merit(counts)
    if len(counts) == 1 or set(counts) == {1}:
        return "A single row: quick to tie, but no diagonal tie joins its springs."
    if pattern == "staggered" and counts == (2, 1, 2):
        return "Four towards the corners and one under the sitter: the usual way in a small chair."
    if pattern == "staggered":
        return "Staggered rows put a spring behind every gap, so that no gap runs right through."
    if pattern == "fitted":
        return "Each row holds what its width takes, so that none is crowded where it is narrower."
    return "Rows and columns: the plainest to tie and to check."


def _ring_merit(counts: tuple[int, ...]) -> str:
    if counts[0] != 1:
        if len(counts) == 1:
            return "A ring follows a round frame evenly and leaves the middle free."
        return "Rings follow a round frame evenly and leave the middle free."
    around = " and ".join(NUMBERS[n] if n < len(NUMBERS) else str(n) for n in counts[1:])
    return f"One under the sitter and {around} around it follow a round frame evenly."


def _distances(even: Evenness, wish: Wish, units: Units) -> str:
    """The gaps and the distances from the rails, each beside its wish: one sentence."""
    rim = even.rim_least or 0.0, even.rim_most or 0.0
    told = [(f"{_span(*rim, units)} from the rails", _closeness(*rim, wish.clearance))]
    if even.gap_least is not None and even.gap_most is not None:
        gaps = even.gap_least, even.gap_most
        told.insert(0, (f"gaps of {_span(*gaps, units)}", _closeness(*gaps, wish.gap)))
    if not wish.gap and not wish.clearance:
        return _sentence(f"{', '.join(what for what, _ in told)}; no distance was asked for.")
    if len({close for _, close in told}) == 1:
        return _sentence(f"{' and '.join(what for what, _ in told)}: {told[0][1]}.")
    each = (f"{what}, {close}" if close else what for what, close in told)
    return _sentence(f"{'; '.join(each)}.")


def _sentence(text: str) -> str:
    return text[0].upper() + text[1:]


def _span(least: float, most: float, units: Units) -> str:
    if most - least < LIKE or format_length(least, units) == format_length(most, units):
        return format_length((least + most) / 2, units)
    return f"{format_length(least, units, unit=False)} to {format_length(most, units)}"


def _closeness(least: float, most: float, wish: float) -> str:
    """How distances from ``least`` to ``most`` mm stand to the one wished; "" where none is."""
    if not wish:
        return ""
    if max(wish - least, most - wish) <= LIKE:
        return "as you asked"
    closer, wider = least < (1 - NEAR_WISH) * wish, most > (1 + NEAR_WISH) * wish
    if closer and wider:
        return "some closer and some wider than you asked"
    if closer:
        return _all_or_some(most < (1 - NEAR_WISH) * wish, most < wish / FAR_OFF, "closer")
    if wider:
        return _all_or_some(least > (1 + NEAR_WISH) * wish, least > wish * FAR_OFF, "wider")
    return "about as you asked"


def _all_or_some(is_all: bool, is_much: bool, how: str) -> str:
    return f"{'much ' if is_much else '' if is_all else 'some '}{how} than you asked"
