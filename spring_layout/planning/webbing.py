"""The webbing: the strips each way, how long to cut them, and which springs stand on them.

``webbing_places`` says where the strips go unless the user has set them. A strip is woven over
and under the others by turns and cut to the longest stretch that its width spans between inside
edges, and at each end what lies on the rail, the fold, and together an allowance to strain it with.
On the rail lies, unless set, half its width where the strip is fixed under it, and its whole width
where the strip goes over it to the outer edge (common practice, no source). The length is rounded
up to 10 mm, or 1/2 in where the deck is in inches.
Where an inside corner of the frame stands out into a strip's way (a leg or arm block), its end is
split lengthwise round the block, never cut across. A deck with a plywood floor has no strips.
"""

from collections.abc import Mapping, Sequence
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray

from spring_layout.deck.model import Deck, FootFixing, Frame, Webbing
from spring_layout.geometry.outline import Outline
from spring_layout.planning.parts import Array, Standing, Strip, StripRun, WebbingPlan
from spring_layout.planning.standing import outline_of
from spring_layout.planning.twine import rounded_up
from spring_layout.planning.webbing_places import strip_places, usual_count
from spring_layout.tolerances import SAME_PLACE, SMOOTH_TURN

STEPS = {"mm": 10.0, "in": 12.7}
"""mm. Webbing is cut to whole steps of this."""

SCHOOL_SIZES: Mapping[str, tuple[float, float]] = {
    "us": (89.0, 6.0),
    "uk": (51.0, 51.0),
    "fr": (85.0, 0.0),
}
"""mm, width and gap. Width: Johnson 1919; British and French workshops. Gap: US workshops; a
British upholstery handbook of 1961; French workshop pages."""

_SHALLOW = 0.5
"""Strips are laid only where the opening is at least this share of its greatest depth."""

_SAMPLES = 200


def goes_over(front_to_back: int, side_to_side: int) -> bool:
    """Whether that front-to-back strip (number from 0) passes over that side-to-side one."""
    return (front_to_back + side_to_side) % 2 == 0


def webbing_of(standing: Standing) -> WebbingPlan:
    """The webbing of a deck: the strips as the user set them, or worked out under the springs."""
    deck = standing.deck
    web = deck.webbing
    plywood = web.fixed == "plywood"
    strips: list[Strip] = []
    usual = []
    for run in ("front-to-back", "side-to-side"):
        low, high = laid_range(deck.frame, run)
        usual.append(0 if plywood else usual_count(high - low, web.width, web.gap))
        if not plywood:
            places = _places(standing, run, low, high)
            strips += _strips_at(deck, run, places)
    return WebbingPlan(
        strips=tuple(strips),
        usual=(usual[0], usual[1]),
        set_by_hand=(web.front_to_back is not None, web.side_to_side is not None),
        foot_fixing=foot_fixing_of(deck),
    )


def foot_fixing_of(deck: Deck) -> FootFixing:
    """How the springs' feet are fixed: as set, else sewn to webbing or stapled to plywood."""
    plywood = deck.webbing.fixed == "plywood"
    return deck.webbing.foot_fixing or ("staple" if plywood else "stitch")


def _axis(run: StripRun) -> int:
    """The coordinate across the strips: 0 (x) for front to back, 1 (y) for side to side."""
    return 0 if run == "front-to-back" else 1


def _places(standing: Standing, run: StripRun, low: float, high: float) -> Sequence[float]:
    web = standing.deck.webbing
    by_hand = web.front_to_back if run == "front-to-back" else web.side_to_side
    if by_hand is not None:
        return sorted(by_hand)
    across = standing.centres[:, _axis(run)].tolist()
    return strip_places(across, low, high, web.width, web.gap, run == "side-to-side")


@lru_cache(maxsize=64)
def laid_range(frame: Frame, run: StripRun) -> tuple[float, float]:
    """From where to where, across them, strips of ``run`` are laid, mm.

    That is where the opening is at least half as deep along the strips as at its deepest, so that
    no strip is wasted on the tip of a round or slanting frame.
    """
    axis, outline = _axis(run), outline_of(frame)
    box = outline.bounds
    low, high = box[axis], box[axis + 2]
    across = low + (high - low) * (np.arange(_SAMPLES) + 0.5) / _SAMPLES
    deep = np.flatnonzero(_depths(outline, axis, across) >= _SHALLOW * _deepest(outline, axis))
    step = (high - low) / _SAMPLES
    return low + float(deep[0]) * step, low + float(deep[-1] + 1) * step


def _deepest(outline: Outline, axis: int) -> float:
    return float(outline.bounds[3 - axis] - outline.bounds[1 - axis])


def _depths(outline: Outline, axis: int, across: Array) -> Array:
    """(n,) how much of the opening lies along each of the lines at ``across`` (n,), mm.

    A line goes in and out of the opening by turns, over edges that run by turns one way and the
    other across it: the lengths along it to the one kind less those to the other.
    """
    start, end = outline.ring, np.roll(outline.ring, -1, axis=0)
    run = end[:, axis] - start[:, axis]
    crossed = (start[:, axis] <= across[:, None]) != (end[:, axis] <= across[:, None])
    share = (across[:, None] - start[:, axis]) / np.where(run == 0, 1.0, run)
    along = start[:, 1 - axis] + share * (end - start)[:, 1 - axis]
    return np.asarray(np.abs(np.sum(np.where(crossed, np.sign(run) * along, 0.0), axis=1)))


def _strips_at(deck: Deck, run: StripRun, places: Sequence[float]) -> list[Strip]:
    """The strip at each of ``places``; each of its parts where a hollow of the frame parts it."""
    axis, outline, half = _axis(run), outline_of(deck.frame), deck.webbing.width / 2
    middles = np.array(places)
    low, high, (x0, y0, x1, y1) = middles - half, middles + half, outline.bounds
    under = shapely.box(low, y0, high, y1) if axis == 0 else shapely.box(x0, low, x1, high)
    pieces, which = shapely.get_parts(
        shapely.intersection(outline.polygon, under), return_index=True
    )
    spans = shapely.bounds(pieces)[:, [1 - axis, 3 - axis]]
    laid = sorted(
        (at, start, finish)
        for at, (start, finish), area in zip(
            middles[which].tolist(), spans.tolist(), shapely.area(pieces).tolist(), strict=True
        )
        if area > 0
    )
    overlaps = _overlaps(deck, run, laid)
    return [_strip(deck, run, *strip, on) for strip, on in zip(laid, overlaps, strict=True)]


def _strip(
    deck: Deck, run: StripRun, at: float, start: float, finish: float, on_rails: float
) -> Strip:
    web = deck.webbing
    whole = finish - start + on_rails + 2 * web.fold + web.allowance
    return Strip(
        run=run,
        at=at,
        width=web.width,
        start=start,
        finish=finish,
        cut_length=rounded_up(whole, STEPS[deck.units]),
        split=_split_ends(deck, run, at, start, finish),
        fixings=web.tacks,
    )


def _overlaps(
    deck: Deck, run: StripRun, laid: Sequence[tuple[float, float, float]]
) -> Sequence[float]:
    """What of each strip (at, start, finish) lies on the rails at both ends, mm."""
    if deck.webbing.overlap is not None or not laid:
        return [2 * (deck.webbing.overlap or 0.0)] * len(laid)
    ends = [(at, end) for at, *both in laid for end in both]
    places = shapely.points([(x, y) if _axis(run) == 0 else (y, x) for x, y in ends])
    nearest = shapely.distance(outline_of(deck.frame).lines[:, None], places).argmin(axis=0)
    on = [on_rail(deck.webbing, deck.frame.width_of(side)) for side in nearest.tolist()]
    return [a + b for a, b in zip(on[::2], on[1::2], strict=True)]


def on_rail(web: Webbing, rail_width: float) -> float:
    """What of a strip lies on a rail of that width at one end, before the fold, mm."""
    if web.overlap is not None:
        return web.overlap
    return rail_width if web.fixed == "over-rails" else rail_width / 2


def _split_ends(
    deck: Deck, run: StripRun, at: float, start: float, finish: float
) -> tuple[bool, bool]:
    """Whether a corner that stands out into the opening lies under the strip at either end."""
    axis, outline = _axis(run), outline_of(deck.frame)
    corners = outline.corners[outline.turns <= -SMOOTH_TURN]
    if not len(corners):
        return False, False
    inside = np.abs(corners[:, axis] - at) < deck.webbing.width / 2 - SAME_PLACE
    along = corners[:, 1 - axis]
    within = (along > start - SAME_PLACE) & (along < finish + SAME_PLACE)
    found = along[inside & within]
    middle = (start + finish) / 2
    return bool((found < middle).any()), bool((found >= middle).any())


def on_strips(strips: Sequence[Strip], points: Array) -> NDArray[np.bool_]:
    """(n,) whether each of ``points`` (n, 2), mm, lies on one of ``strips``, edges included."""
    lies = np.zeros(len(points), bool)
    for strip in strips:
        axis = _axis(strip.run)
        near = np.abs(points[:, axis] - strip.at) <= strip.width / 2 + SAME_PLACE
        along = points[:, 1 - axis]
        lies |= near & (along >= strip.start - SAME_PLACE) & (along <= strip.finish + SAME_PLACE)
    return lies


def on_crossings(plan: WebbingPlan, points: Array) -> NDArray[np.bool_]:
    """(n,) whether each of ``points`` (n, 2), mm, lies where strips of both directions cross."""
    both = on_strips(plan.of("front-to-back"), points)
    return np.asarray(both & on_strips(plan.of("side-to-side"), points))
