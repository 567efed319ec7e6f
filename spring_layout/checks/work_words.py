"""How the work is told in words: what to have, and what to take care of.

The report and the sheets on paper say the same, so both take their words from here.
"""

from spring_layout.checks.tie_words import twine_total
from spring_layout.deck.model import Deck
from spring_layout.planning.materials import Material

CAUTIONS = (
    "Protect your eyes while you press down, tie or cut springs: a spring or a tack can let go.",
    "Keep your hands out from under a loaded spring; wear gloves to pull twine tight.",
    "Wear a dust mask for old fillings, and treat old paint as lead-bearing.",
    "Fire-safety rules for re-upholstery differ by country (UK: SI 1988/1324 as amended, incl. SI "
    "2025/531; US: 16 CFR 1640). Local codes and a qualified upholsterer come first.",
)


def bought(deck: Deck, material: Material) -> str:
    """The quantity as it is bought: lengths in feet where the deck is in inches, areas in words."""
    if material.unit == "m":
        return twine_total(deck, material.on_paper * 1000)
    if material.unit == "m2":
        return "one piece"
    return f"{quantity_words(material)} {material.unit}".removesuffix(" pieces")


def quantity_words(material: Material) -> str:
    """The quantity: whole pieces as they are, lengths and areas to two decimals."""
    measured = material.unit in ("m", "m2", "ft", "square ft")
    whole = float(material.on_paper).is_integer() and not measured
    return f"{material.on_paper:.0f}" if whole else f"{material.on_paper:.2f}"
