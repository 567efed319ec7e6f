"""What the user joined, parted or moved by hand on ties that are not there."""

from collections import defaultdict
from collections.abc import Iterator

from spring_layout.checks.faults import Fault
from spring_layout.checks.words import COMMON_PRACTICE, RUN_WORDS, middle, springs_named
from spring_layout.deck.model import Deck, Run
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Parts

IDLE = Fault(
    "WISH-IDLE",
    "note",
    "ties",
    "Switch those ties on again, or undo what was set by hand.",
    COMMON_PRACTICE,
)
_NAMES = {
    "tack": ("tack point moved by hand", "tack points moved by hand"),
    "join": ("join made by hand", "joins made by hand"),
    "part": ("parting made by hand", "partings made by hand"),
}


def check_idle_wishes(deck: Deck, parts: Parts) -> list[Finding]:
    """WISH-IDLE (note): wishes for ties of a run that is off, or that the pattern leaves out."""
    tied = {(line.run, spring) for line in parts.ties.lines for spring in line.springs}
    idle: defaultdict[tuple[str, Run], list[tuple[str, ...]]] = defaultdict(list)
    for what, run, springs in _wishes(deck):
        if not any((run, spring) in tied for spring in springs):
            idle[what, run].append(springs)
    return [_told(parts, what, run, wishes) for (what, run), wishes in idle.items()]


def _wishes(deck: Deck) -> Iterator[tuple[str, Run, tuple[str, ...]]]:
    """Each wish: what it is, its run, its springs."""
    tying = deck.tying
    yield from (("tack", wish.run, (wish.spring,)) for wish in tying.anchors)
    yield from (("join", wish.run, wish.springs) for wish in tying.joins)
    yield from (("part", wish.run, wish.springs) for wish in tying.parts)


def _told(parts: Parts, what: str, run: Run, wishes: list[tuple[str, ...]]) -> Finding:
    at = {spring for springs in wishes for spring in springs}
    springs = tuple(spring for spring in parts.labels if spring in at)
    one, many = _NAMES[what]
    made = f"The {one} is" if len(wishes) == 1 else f"{len(wishes)} {many} are"
    message = f"{made} not used: no tie runs {_way(run)} over {springs_named(parts, springs)}."
    return IDLE.found(message, float(len(wishes)), springs, middle(parts, springs))


def _way(run: Run) -> str:
    """ "front to back", "from front left to back right"."""
    words = RUN_WORDS[run]
    return words.replace("diagonal, ", "from ") if words.startswith("diagonal") else words
