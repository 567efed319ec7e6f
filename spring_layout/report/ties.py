"""The ties in tying order: where each runs, what to cut, the cross knots to make on it."""

from collections.abc import Iterable

from spring_layout.checks.tie_words import (
    knot_words,
    knots_by_tie,
    listed_all,
    pieces_to_cut,
    ring_words,
    tack_words,
    tail_words,
)
from spring_layout.checks.words import RUN_WORDS, opened
from spring_layout.planning.parts import Crossing, Line, Parts
from spring_layout.report.tables import paragraph
from spring_layout.units import format_length


def ties_section(parts: Parts) -> list[str]:
    """Every tie in tying order with its tack points, its piece of twine and its cross knots."""
    made = knots_by_tie(parts)
    wide = len(str(len(parts.ties.lines)))
    head = (
        "TIES, in the order of tying. Each is knotted to those that it meets. Distances along a "
        "rail are from its centre mark, on the inside edge."
    )
    lines = paragraph(parts.told(head))
    for line, twine in zip(parts.ties.lines, parts.twine.lines, strict=True):
        cut = format_length(twine.cut_length, parts.deck.units, "cut")
        lines += ["", *_tie(parts, line, cut, made.get(line.number, ()), wide)]
    return lines


def _tie(parts: Parts, line: Line, cut: str, made: Iterable[Crossing], wide: int) -> list[str]:
    """One tie: its run, springs and cut, then the way, then the cross knots."""
    indent = " " * (wide + 2)
    over = listed_all([parts.labels[spring] for spring in line.springs])
    head = f"{opened(RUN_WORDS[line.run])}, over {over}. Cut {cut}."
    start, finish = tack_words(parts, line, 0), tack_words(parts, line, 1)
    start += tail_words(parts, line)
    pause = "," if "," in start else ""
    lines = paragraph(head, f"{line.number:>{wide}}  ", indent)
    lines += paragraph(f"From {start}{pause} to {finish}.", indent, indent)
    lines += paragraph(ring_words(parts, line), indent, indent)
    knots = knot_words(parts, line, made)
    return [*lines, *paragraph(f"Knot {knots}.", indent, indent)] if knots else lines


def cut_list(parts: Parts) -> list[str]:
    """The pieces to cut, longest first: how many of which length, and for which ties."""
    lines = ["CUT LIST", ""]
    for cut, numbers in pieces_to_cut(parts):
        ties = listed_all([str(number) for number in numbers])
        said = f"{len(numbers)} of {cut}, for {'tie' if len(numbers) == 1 else 'ties'} {ties}"
        lines += paragraph(parts.told(said), "  ", "      ")
    return lines
