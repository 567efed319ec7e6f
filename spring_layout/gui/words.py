"""The words on screen, as the trade says them on either side of the Atlantic.

The table itself lies below the window: the report and the sheets take their words from it too.
"""

from spring_layout.checks.words import RUN_WORDS
from spring_layout.deck.model import Deck, Rail
from spring_layout.words import UK, US, Words, counted
from spring_layout.words import words_for as words_for_units

__all__ = ["RAIL_WORDS", "RUN_WORDS", "UK", "US", "Words", "counted", "words_for"]

RAIL_WORDS: dict[Rail, str] = {
    "back": "Back",
    "right": "Right",
    "front": "Front",
    "left": "Left",
    "none": "No rail",
}


def words_for(deck: Deck | None, setting: str) -> Words:
    """US words with inches, UK words with mm, unless ``setting`` ("us", "uk") says which."""
    return words_for_units(deck.units if deck is not None else "in", setting)
