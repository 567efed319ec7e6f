"""The webbing in an upright cut: each strip from where to where, above or below the others."""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from spring_layout.planning.parts import Strip, StripRun, WebbingPlan
from spring_layout.planning.webbing import goes_over

SHORTEST = 1.0
"""mm; a strip that a cut only grazes is not drawn."""


@dataclass(frozen=True)
class StripCut:
    """A strip in a cut, from ``start`` to ``finish`` (u, mm).

    ``levels``: stretches (start, finish, level) where it lies over another (1) or under it (-1);
    elsewhere it lies between.
    """

    run: StripRun
    start: float
    finish: float
    levels: tuple[tuple[float, float, int], ...] = ()


def strip_cuts(webbing: WebbingPlan, way: shapely.LineString, begin: float) -> tuple[StripCut, ...]:
    """The strips that ``way`` (plan, mm) passes over, u = ``begin`` at its first place."""
    along = _met(webbing.of("front-to-back"), way, begin)
    across = _met(webbing.of("side-to-side"), way, begin)
    return tuple(
        _woven(met, i, others)
        for mine, others in ((along, across), (across, along))
        for i, met in mine
    )


def _met(
    strips: Sequence[Strip], way: shapely.LineString, begin: float
) -> list[tuple[int, StripCut]]:
    """The strips of one direction in the cut, each with its number from 0."""
    found = []
    for number, strip in enumerate(strips):
        part = shapely.intersection(way, _box(strip))
        if part.length > SHORTEST:
            ends = [float(way.project(shapely.Point(c))) for c in shapely.get_coordinates(part)]
            found.append((number, StripCut(strip.run, begin + min(ends), begin + max(ends))))
    return found


def _box(strip: Strip) -> shapely.Polygon:
    low, high = strip.at - strip.width / 2, strip.at + strip.width / 2
    if strip.run == "front-to-back":
        return shapely.box(low, strip.start, high, strip.finish)
    return shapely.box(strip.start, low, strip.finish, high)


def _woven(mine: StripCut, number: int, others: Sequence[tuple[int, StripCut]]) -> StripCut:
    """The strip with its levels where it meets those of the other direction."""
    levels = []
    for other, theirs in others:
        start, finish = max(mine.start, theirs.start), min(mine.finish, theirs.finish)
        if finish - start > SHORTEST:
            levels.append((start, finish, _level(mine.run, number, other)))
    return StripCut(mine.run, mine.start, mine.finish, tuple(sorted(levels)))


def _level(run: StripRun, number: int, other: int) -> int:
    if run == "front-to-back":
        return 1 if goes_over(number, other) else -1
    return -1 if goes_over(other, number) else 1
