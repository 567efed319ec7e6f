"""The materials as a list to read and as CSV."""

import csv
import io
from collections.abc import Sequence

from spring_layout.checks.words import opened
from spring_layout.checks.work_words import bought, quantity_words
from spring_layout.deck.model import Deck
from spring_layout.planning.materials import Material
from spring_layout.report.tables import paragraph

CSV_HEADS = ("item", "quantity", "unit", "rule")


def materials_section(deck: Deck, materials: Sequence[Material]) -> list[str]:
    """The list, an item after another, each with how it was counted."""
    lines = ["MATERIALS", ""]
    for material in materials:
        said = f"{opened(material.item)}: {bought(deck, material)}; {material.rule}."
        lines += paragraph(said, "  ", "      ")
    return lines


def materials_csv(materials: Sequence[Material]) -> str:
    """The list as CSV with a head, its lines ended as RFC 4180 has them (CR LF)."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(CSV_HEADS)
    writer.writerows((m.item, quantity_words(m), m.unit, m.rule) for m in materials)
    return text.getvalue()
