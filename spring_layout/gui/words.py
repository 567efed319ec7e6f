"""The words on screen, as the trade says them on either side of the Atlantic."""

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
