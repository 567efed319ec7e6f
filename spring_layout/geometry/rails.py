"""The rails around the opening and the line the tacks go in, as shapes to draw.

Rails meet in mitres. A mitre that would run out to a long point is cut off square; where the
edge turns inward, as at a notch, the two rails share the ground by the same mitre line. A width
of 0 stands for a side without a rail: the rails beside it then end flush with its edge.
"""

from collections.abc import Sequence

import numpy as np
import shapely

from spring_layout.geometry.outline import Outline
from spring_layout.geometry.sides import Array
from spring_layout.tolerances import SAME_PLACE

MITRE_MOST = 2.5
"""Times the wider rail: a mitre point farther than this from its corner is cut off."""


def rail_bands(outline: Outline, widths: Sequence[float]) -> tuple[shapely.Polygon, ...]:
    """What each side's rail covers, drawn to its width (mm), one polygon a side.

    Bands lie outside the opening and do not overlap each other at the corners; a side with a
    width of 0 has an empty polygon.
    """
    return tuple(_band(outline, widths, side) for side in range(len(outline.sides)))


def ring_outside(outline: Outline, outsides: Sequence[float]) -> shapely.Polygon:
    """The opening widened by ``outsides`` (mm, one a side): its exterior is one closed line.

    With the rails' widths it is the frame's outer edge, with the nail lines' distances the line
    in which the tacks go. Hollows that close up (a notch smaller than its rails) are filled.
    """
    strips = [
        shapely.make_valid(_strip(outline, outsides, number))
        for number, outside in enumerate(outsides)
        if outside > SAME_PLACE
    ]
    whole = shapely.union_all([outline.polygon, *strips], grid_size=SAME_PLACE / 10)
    largest = max(shapely.get_parts(whole), key=shapely.area)
    return shapely.Polygon(largest.exterior)


def _band(outline: Outline, widths: Sequence[float], number: int) -> shapely.Polygon:
    if widths[number] <= SAME_PLACE:
        return shapely.Polygon()
    band = shapely.make_valid(_strip(outline, widths, number))
    for ahead in (0, 1):
        if outline.turns[(number + ahead) % len(outline.sides)] < 0:
            band = band.difference(_other_ground(outline, widths, number, ahead))
    band = band.difference(outline.polygon)
    parts = [part for part in shapely.get_parts(band) if isinstance(part, shapely.Polygon)]
    return max(parts, key=shapely.area, default=shapely.Polygon())


def _strip(outline: Outline, widths: Sequence[float], number: int) -> shapely.Polygon:
    """From the inside edge to its parallel outside, with its half mitres at outward corners."""
    side = outline.sides[number]
    inner, outer = side.polyline(), side.polyline(widths[number])
    ends = [_half_mitre(outline, widths, (number + ahead) % len(widths)) for ahead in (0, 1)]
    return shapely.Polygon(np.concatenate([inner, ends[1], outer[::-1], ends[0]]))


def _half_mitre(outline: Outline, widths: Sequence[float], corner: int) -> Array:
    """(1, 2) the mitre's outer point at a corner that turns outward, else (0, 2)."""
    if outline.turns[corner] <= 0:
        return np.empty((0, 2))
    return np.asarray(outline.corners[corner] + _mitre(outline, widths, corner))[None, :]


def _mitre(outline: Outline, widths: Sequence[float], corner: int) -> Array:
    """From a corner to where the outer edges of its two rails meet, (2,) mm."""
    before, after = outline.sides[corner - 1], outline.sides[corner]
    reach = np.array([widths[corner - 1], widths[corner]])
    normals = np.stack([before.normal(before.length), after.normal(0.0)])
    middle = (reach @ normals) / 2
    if abs(np.linalg.det(normals)) < 1e-6:
        return np.asarray(middle)
    mitre = np.linalg.solve(normals, reach)
    return np.asarray(mitre if np.hypot(*mitre) <= MITRE_MOST * reach.max() else middle)


def _other_ground(
    outline: Outline, widths: Sequence[float], number: int, ahead: int
) -> shapely.Polygon:
    """The neighbour's share beyond the mitre line, at a corner that turns inward."""
    corner = (number + ahead) % len(outline.sides)
    side, place = outline.sides[number], outline.corners[corner]
    mitre = _mitre(outline, widths, corner)
    along = side.tangent(side.length * ahead) * (1 if ahead else -1)
    reach = 2 * MITRE_MOST * max(widths[corner - 1], widths[corner])
    mitre = mitre / max(float(np.hypot(*mitre)), SAME_PLACE) * reach
    return shapely.Polygon(
        [place, place + mitre, place + mitre + reach * along, place + reach * along]
    )
