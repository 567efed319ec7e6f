"""Strips of webbing as they are edited: a run laid by hand, one strip moved, added or taken out."""

from itertools import pairwise

from spring_layout.deck import edits
from spring_layout.deck.model import Deck
from spring_layout.gui.selection import StripKey
from spring_layout.planning.parts import Strip, StripRun, WebbingPlan
from spring_layout.planning.webbing import laid_range

STRIP_RUNS: tuple[tuple[StripRun, str], ...] = (
    ("front-to-back", "front to back"),
    ("side-to-side", "side to side"),
)
CLOSEST = 1.0
"""mm; a strip is moved no nearer to another's middle than this, so that they keep their order."""


def places_of(webbing: WebbingPlan, run: StripRun) -> list[float]:
    """The middles of the strips of a run, ascending, mm."""
    return sorted({strip.at for strip in webbing.of(run)})


def key_of(webbing: WebbingPlan, strip: Strip) -> StripKey:
    """The key of a strip; the parts of a strip that a hollow parts share it."""
    return StripKey(strip.run, places_of(webbing, strip.run).index(strip.at))


def parts_of(webbing: WebbingPlan, key: StripKey | None) -> tuple[Strip, ...]:
    """The strip of that key, or its parts; none where there is no such strip."""
    if key is None:
        return ()
    places = places_of(webbing, key.run)
    if key.number >= len(places):
        return ()
    return tuple(strip for strip in webbing.of(key.run) if strip.at == places[key.number])


def strip_words(key: StripKey) -> str:
    """ "Strip 2, front to back"."""
    return f"Strip {key.number + 1}, {dict(STRIP_RUNS)[key.run]}"


def room_for(webbing: WebbingPlan, deck: Deck, key: StripKey) -> tuple[float, float]:
    """From where to where the middle of a strip can be moved between its neighbours, mm."""
    places = places_of(webbing, key.run)
    low, high = laid_range(deck.frame, key.run)
    before = places[key.number - 1] + CLOSEST if key.number else min(low, places[0])
    last = key.number == len(places) - 1
    after = max(high, places[-1]) if last else places[key.number + 1] - CLOSEST
    return before, after


def with_strip_at(deck: Deck, webbing: WebbingPlan, key: StripKey, to: float) -> Deck:
    """The deck with its strips of that run laid by hand, one of them at ``to``, mm.

    Raises ValueError where it would pass a neighbour.
    """
    places = places_of(webbing, key.run)
    low, high = room_for(webbing, deck, key)
    if not low <= to <= high:
        raise ValueError("A strip stays between its neighbours; take one out to make room.")
    places[key.number] = to
    return edits.set_strips(deck, key.run, places)


def with_strip_added(deck: Deck, webbing: WebbingPlan, run: StripRun) -> tuple[Deck, StripKey]:
    """The deck with one more strip of that run, in the middle of its widest free stretch."""
    places = places_of(webbing, run)
    low, high = laid_range(deck.frame, run)
    half = deck.webbing.width / 2
    edges = [low - half, *places, high + half]
    free = [(b - a, (a + b) / 2) for a, b in pairwise(edges)]
    at = max(free, key=lambda stretch: (stretch[0], -stretch[1]))[1] if places else (low + high) / 2
    now = sorted([*places, at])
    return edits.set_strips(deck, run, now), StripKey(run, now.index(at))


def without_strip(deck: Deck, webbing: WebbingPlan, key: StripKey) -> Deck:
    """The deck without that strip, the others of its run laid by hand."""
    places = places_of(webbing, key.run)
    return edits.set_strips(deck, key.run, [*places[: key.number], *places[key.number + 1 :]])
