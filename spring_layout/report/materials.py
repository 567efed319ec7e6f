"""The materials as a list to read and as CSV."""

import csv
import io
from collections.abc import Sequence

from spring_layout.planning.materials import Material
from spring_layout.report.tables import table

CSV_HEADS = ("item", "quantity", "unit", "rule")
HEADS = ("Item", "Quantity", "", "How it was counted")
_LEFT = frozenset({0, 2, 3})


def materials_section(materials: Sequence[Material]) -> list[str]:
    """The list, a line an item."""
    rows = [(m.item, quantity_words(m), m.unit, m.rule) for m in materials]
    return ["MATERIALS", "", *table(HEADS, rows, _LEFT)]


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
