"""The trade's words on either side of the Atlantic: one table for the window, report and sheets.

Sentences are written in American words; ``Words.retold`` puts them into British ones. A deck in
inches is told in American words, one in mm in British ones, unless the user has chosen.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass


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
        """A sentence told in American words, in these words; what is in them already stays."""
        return sentence if self.name == "us" else _AMERICAN.sub(self._retold, sentence)

    def _retold(self, found: re.Match[str]) -> str:
        told = found[0]
        word = _BRITISH[told.lower()](self)
        if told.isupper():
            return word.upper()
        return word[0].upper() + word[1:] if told[0].isupper() else word


_HOLE = re.compile(r"\{(\w+)\}")

_BRITISH: dict[str, Callable[[Words], str]] = {
    "strip of webbing": lambda words: words.webbing,
    "strips of webbing": lambda words: f"{words.webbing}s",
    "webbing strip": lambda words: words.webbing,
    "webbing strips": lambda words: f"{words.webbing}s",
    "webbing": lambda words: words.webbing,
    "seat deck": lambda words: words.deck,
    "tie diagram": lambda words: words.tie_diagram,
    "spring twine": lambda words: words.twine,
    "burlap": lambda words: words.burlap,
    "crown": lambda words: words.crown,
    "tie": lambda words: words.tie,
    "ties": lambda words: words.ties,
}
"""The word for each American one, longer ones before those they hold."""

_VERB = r"every|each|them|it|down|all|higher|lower|another|to \d+|a|the|springs"
"""What follows "tie" where it is the verb: "Tie lower", "tie every spring"."""

_OTHERS = "|".join(word for word in _BRITISH if not word.startswith("tie"))
_AMERICAN = re.compile(
    # of "tie" the noun only, neither "to tie every spring" nor "before you tie"; and no size of
    # spring that somebody has called "tie"
    rf"(?<!\bspring size )\b(?:{_OTHERS}|tie diagram"
    rf"|(?<!\bto )(?<!\byou )tie(?! (?:{_VERB})\b)|ties(?! (?:every|each)\b))\b",
    re.IGNORECASE,
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


def words_for(units: str, setting: str = "auto") -> Words:
    """US words with "in", UK words with "mm", unless ``setting`` ("us", "uk") says which."""
    if setting in ("us", "uk"):
        return US if setting == "us" else UK
    return UK if units == "mm" else US


def counted(count: int, one: str, many: str = "") -> str:
    """ "1 spring", "3 springs"."""
    return f"{count} {one if count == 1 else many or one + 's'}"
