"""Which pieces to cut from which hank, in words."""

from spring_layout.checks.tie_words import listed_all
from spring_layout.checks.words import ties_named
from spring_layout.planning.cutting import hanks_cut
from spring_layout.planning.parts import Parts
from spring_layout.report.tables import paragraph
from spring_layout.units import about, held_by


def hanks_section(parts: Parts) -> list[str]:
    """A line for each hank with the ties whose pieces it gives; nothing where hanks are not set."""
    hank, units = parts.deck.twine.hank, parts.deck.units
    cutting = hanks_cut(parts.deck, parts.twine)
    if hank is None or cutting is None:
        return []
    numbers = [line.number for line in parts.twine.lines]
    lines = ["", f"  From hanks of {held_by(hank, units)}:"]
    for i, (pieces, rest) in enumerate(zip(cutting.hanks, cutting.rests, strict=True), 1):
        ties = listed_all([str(numbers[piece]) for piece in sorted(pieces)])
        word = "tie" if len(pieces) == 1 else "ties"
        said = f"hank {i}: {word} {ties}; about {about(rest, units, down=True)} left"
        lines += paragraph(parts.told(said), "  ", "      ")
    if cutting.too_long:
        ties = ties_named([numbers[piece] for piece in cutting.too_long])
        said = f"Longer than a hank: {ties}; join two lengths, or buy longer hanks."
        lines += paragraph(parts.told(said), "  ", "      ")
    return lines
