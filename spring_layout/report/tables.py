"""Plain text tables and paragraphs."""

from collections.abc import Sequence
from textwrap import wrap

from spring_layout.units import unbroken, with_plain_spaces

WIDTH = 96
"""Characters in a line."""


def table(heads: Sequence[str], rows: Sequence[Sequence[str]], left: frozenset[int]) -> list[str]:
    """The lines of a table: a head, a rule, a line a row.

    Columns are as wide as they need; those in ``left`` start at their left, the others, numbers,
    end at their right.
    """
    widths = [max(len(cell) for cell in column) for column in zip(heads, *rows, strict=True)]
    rule = ["-" * width for width in widths]
    return [_row(cells, widths, left) for cells in (heads, rule, *rows)]


def _row(cells: Sequence[str], widths: Sequence[int], left: frozenset[int]) -> str:
    padded = (
        cell.ljust(width) if i in left else cell.rjust(width)
        for i, (cell, width) in enumerate(zip(cells, widths, strict=True))
    )
    return "  ".join(padded).rstrip()


def paragraph(text: str, first: str = "", rest: str = "") -> list[str]:
    """``text`` wrapped to ``WIDTH``, its first line after ``first``, the others after ``rest``.

    No line ends within a length or at a hyphen. The lines themselves have ordinary spaces, which
    every terminal can show.
    """
    lines = wrap(
        unbroken(text), WIDTH, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False
    )
    return [with_plain_spaces(line) for line in lines]
