"""The words on screen, as the trade says them on either side of the Atlantic."""

import re
from dataclasses import dataclass

from spring_layout.deck.model import Deck, Rail, Run


@dataclass(frozen=True)
class Words:
    """One side's words; ``name`` is "us" or "uk"."""

    name: str
    deck: str
    tie: str
    ties: str
    crown: str
    twine: str
    webbing: str
    tie_diagram: str
    burlap: str

    @property
    def tie_title(self) -> str:
        """The word for a tie at the start of a sentence."""
        return self.tie.capitalize()

    def fill(self, text: str) -> str:
        """``text`` with {tie}, {Ties}, {crown} and the like put into these words."""
        return _HOLE.sub(self._word, text)

    def _word(self, hole: re.Match[str]) -> str:
        name = hole[1]
        word = str(getattr(self, name.lower()))
        return word[0].upper() + word[1:] if name[0].isupper() else word

    def retold(self, sentence: str) -> str:
        """A sentence of the plan's, told in American words, in these words."""
        return sentence if self.name == "us" else _AMERICAN.sub(self._retold, sentence)

    def _retold(self, found: re.Match[str]) -> str:
        told = found[0]
        word = {"tie": self.tie, "ties": self.ties, "crown": self.crown}[told.lower()]
        return word.capitalize() if told[0].isupper() else word


_HOLE = re.compile(r"\{(\w+)\}")
_AMERICAN = re.compile(
    # the noun, not "to tie every spring"
    r"(?<!\bto )\b(?:[Tt]ies?|[Cc]rown)\b(?! (?:every|each|them|it|down|all)\b)"
)

US = Words(
    name="us",
    deck="seat deck",
    tie="tie",
    ties="ties",
    crown="crown",
    twine="spring twine",
    webbing="webbing",
    tie_diagram="tie diagram",
    burlap="burlap",
)
UK = Words(
    name="uk",
    deck="platform",
    tie="lashing",
    ties="lashings",
    crown="dome",
    twine="laid cord",
    webbing="web",
    tie_diagram="lashing plan",
    burlap="hessian",
)

RUN_WORDS: dict[Run, str] = {
    "front-to-back": "front to back",
    "side-to-side": "side to side",
    "diagonal-rising": "diagonal, front left to back right",
    "diagonal-falling": "diagonal, back left to front right",
}

RAIL_WORDS: dict[Rail, str] = {
    "back": "Back",
    "right": "Right",
    "front": "Front",
    "left": "Left",
    "none": "No rail",
}


def words_for(deck: Deck | None, setting: str) -> Words:
    """US words with inches, UK words with mm, unless ``setting`` ("us", "uk") says which."""
    if setting in ("us", "uk"):
        return US if setting == "us" else UK
    return UK if deck is not None and deck.units == "mm" else US


def counted(count: int, one: str, many: str = "") -> str:
    """ "1 spring", "3 springs"."""
    return f"{count} {one if count == 1 else many or one + 's'}"
