"""The materials as a list to read and as CSV."""

import csv
import io
from collections.abc import Sequence
from dataclasses import replace

from spring_layout.checks.words import opened
from spring_layout.checks.work_words import bought, quantity_words
from spring_layout.deck.model import Deck
from spring_layout.planning.materials import Material
from spring_layout.report.tables import paragraph
from spring_layout.units import MM_PER_INCH, Units

CSV_HEADS = ("item", "quantity", "unit", "rule")


def materials_section(deck: Deck, materials: Sequence[Material]) -> list[str]:
    """The list, an item after another, each with how it was counted."""
    lines = ["MATERIALS", ""]
    for material in materials:
        said = f"{opened(material.item)}: {bought(deck, material)}; {material.rule}."
        lines += paragraph(said, "  ", "      ")
    return lines


def materials_csv(materials: Sequence[Material], units: Units = "mm") -> str:
    """The list as CSV with a head, its lines ended as RFC 4180 has them (CR LF).

    Lengths and areas are in ``units``: in m and m2, or in ft and square ft.
    """
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(CSV_HEADS)
    for m in materials if units == "mm" else map(_in_feet, materials):
        writer.writerow((m.item, quantity_words(m), m.unit, m.rule))
    return text.getvalue()


def _in_feet(material: Material) -> Material:
    """A length or an area in feet; anything else as it is."""
    unit, power = {"m": ("ft", 1), "m2": ("square ft", 2)}.get(material.unit, ("", 0))
    if not power:
        return material
    return replace(material, quantity=material.on_paper / _M_PER_FT**power, unit=unit, as_cut=None)


_M_PER_FT = 12 * MM_PER_INCH / 1000
