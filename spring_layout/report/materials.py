"""The materials as a list to read and as CSV."""

import csv
import io
from collections.abc import Sequence

from spring_layout.checks.words import opened
from spring_layout.deck.model import Deck
from spring_layout.planning.materials import Material
from spring_layout.report.tables import paragraph
from spring_layout.report.ties import twine_total

CSV_HEADS = ("item", "quantity", "unit", "rule")


def materials_section(deck: Deck, materials: Sequence[Material]) -> list[str]:
    """The list, an item after another, each with how it was counted."""
    lines = ["MATERIALS", ""]
    for material in materials:
        said = f"{opened(material.item)}: {bought(deck, material)}; {material.rule}."
        lines += paragraph(said, "  ", "      ")
    return lines


def bought(deck: Deck, material: Material) -> str:
    """The quantity as it is bought: lengths in feet where the deck is in inches, areas in words."""
    if material.unit == "m":
        return twine_total(deck, material.quantity * 1000)
    if material.unit == "m2":
        return "one piece"
    return f"{quantity_words(material)} {material.unit}".removesuffix(" pieces")


def quantity_words(material: Material) -> str:
    """The quantity: whole pieces as they are, lengths and areas to two decimals."""
    whole = float(material.quantity).is_integer() and material.unit not in ("m", "m2")
    return f"{material.quantity:.0f}" if whole else f"{material.quantity:.2f}"


def materials_csv(materials: Sequence[Material]) -> str:
    """The list as CSV with a head, its lines ended as RFC 4180 has them (CR LF)."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(CSV_HEADS)
    writer.writerows((m.item, quantity_words(m), m.unit, m.rule) for m in materials)
    return text.getvalue()
