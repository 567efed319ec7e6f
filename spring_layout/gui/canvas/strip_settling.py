"""Where a strip in the hand settles, and the gaps that stand beside it."""

from dataclasses import dataclass

from spring_layout.deck.model import Deck
from spring_layout.gui.canvas.layers.guides import Dimension
from spring_layout.gui.selection import StripKey
from spring_layout.gui.strips import places_of
from spring_layout.gui.workbench import Workbench
from spring_layout.planning.parts import WebbingPlan
from spring_layout.planning.webbing import laid_range
from spring_layout.planning.webbing_places import rows_across


@dataclass(frozen=True)
class Settling:
    """Where a strip's middle settles, mm, and why; no reason where it does not."""

    at: float
    reason: str


def settle_strip(
    deck: Deck, webbing: WebbingPlan, key: StripKey, wanted: float, reach: float
) -> Settling:
    """The nearest place within ``reach`` (mm) that means something: under a row, evenly between."""
    found = [Settling(at, why) for at, why in _places(deck, webbing, key)]
    near = [s for s in found if abs(s.at - wanted) <= reach]
    return min(near, key=lambda s: abs(s.at - wanted), default=Settling(wanted, ""))


def _places(deck: Deck, webbing: WebbingPlan, key: StripKey) -> list[tuple[float, str]]:
    axis = 0 if key.run == "front-to-back" else 1
    width, gap = deck.webbing.width, deck.webbing.gap
    rows = rows_across([(s.x, s.y)[axis] for s in deck.springs], width)
    places = [(at, "under a row of springs") for at in rows]
    strips = places_of(webbing, key.run)
    low, high = laid_range(deck.frame, key.run)
    before = strips[key.number - 1] if key.number else None
    after = strips[key.number + 1] if key.number + 1 < len(strips) else None
    if before is not None:
        places.append((before + width + gap, "the usual gap"))
    if after is not None:
        places.append((after - width - gap, "the usual gap"))
    left = before if before is not None else low - width / 2
    right = after if after is not None else high + width / 2
    places.append(((left + right) / 2, "equal gaps"))
    places.append(((low + high) / 2, "on the middle"))
    return places


def gaps_beside(
    bench: Workbench, webbing: WebbingPlan, key: StripKey, along: float
) -> list[Dimension]:
    """The gaps to the strips on both sides, measured at ``along`` the strip, mm."""
    strips = places_of(webbing, key.run)
    if key.number >= len(strips) or bench.deck is None:
        return []
    half, at = bench.deck.webbing.width / 2, strips[key.number]
    found = []
    if key.number:
        found.append((strips[key.number - 1] + half, at - half))
    if key.number + 1 < len(strips):
        found.append((at + half, strips[key.number + 1] - half))
    return [_dimension(bench, key, a, b, along) for a, b in found]


def _dimension(
    bench: Workbench, key: StripKey, start: float, finish: float, along: float
) -> Dimension:
    words = bench.length(finish - start, unit=False)
    if key.run == "front-to-back":
        return Dimension((start, along), (finish, along), words)
    return Dimension((along, start), (along, finish), words)
