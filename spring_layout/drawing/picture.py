"""The plan view with all its labels, at a scale, before it has a place on the sheet."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely

from spring_layout.drawing import lettering, look
from spring_layout.drawing.labels import Chosen
from spring_layout.drawing.plan_view import (
    Labelled,
    deck_bounds,
    fineness,
    label_springs,
    outer_labels,
    plan_view,
)
from spring_layout.drawing.primitives import Group, Item, Text
from spring_layout.drawing.rail_labels import Further
from spring_layout.drawing.spring_labels import place_spring_labels
from spring_layout.drawing.tack_row import (
    LEAST,
    ROOMY,
    USUAL,
    Manner,
    TackLabels,
    TackLettering,
)
from spring_layout.drawing.tack_rows import labels_of_sides
from spring_layout.drawing.tacks import tacks_of
from spring_layout.drawing.view import View
from spring_layout.planning.parts import Parts

Bounds = tuple[float, float, float, float]


@dataclass(frozen=True)
class Way:
    """A way to label the tack points: in which manner (None: not at all), how high.

    ``spare``: so many labels may be left out.
    """

    manner: Manner | None
    size: TackLettering
    spare: int = 0


DISCS = (Way("discs", ROOMY), Way("discs", USUAL), Way("discs", LEAST))
TURNED = (Way("turned", USUAL), Way("turned", LEAST))
EVERYTHING = (*DISCS, *TURNED)
"""The ways that tell everything, the best first."""
SOME = (Way("discs", USUAL, 3), Way("discs", LEAST, 3), Way("turned", LEAST, 3))
LESS = (SOME, (Way("numbers", LEAST),), (Way("straight", LEAST),), (Way(None, LEAST),))
"""The ways that tell less and less."""


class Picture:
    """The plan view drawn about the deck's origin."""

    def __init__(
        self,
        parts: Parts,
        view: View,
        manner: Manner | None,
        tacks: Sequence[TackLabels],
        further: Further = (0.0, 0.0),
    ) -> None:
        self._parts, self._view, self.manner, self._tacks = parts, view, manner, tuple(tacks)
        self._further = further

    def with_names(self, further: Further) -> "Picture":
        """The same picture with the rails' names that much farther out, where they are outside."""
        other = Picture(self._parts, self._view, self.manner, self._tacks, further)
        other.__dict__["least_springs"] = self.least_springs  # placed once, as they do not change
        return other

    @cached_property
    def outer(self) -> list[Item]:
        """The labels outside the opening."""
        return outer_labels(self._parts, self._view, self._tacks, self._further)

    @cached_property
    def missing_tacks(self) -> int:
        """How many tack points have no label though their manner gives them one."""
        if self.manner in (None, "straight"):
            return 0
        wanted = sum(map(len, tacks_of(self._parts).values()))
        return wanted - sum(len(row.leaders) for row in self._tacks)

    @cached_property
    def bounds(self) -> Bounds:
        """Least x, least y, most x, most y of the rails and all labels, mm on paper."""
        written = [t for t in self.outer if isinstance(t, Text)]
        names = [shapely.Polygon(lettering.corners(text)) for text in written]
        return _bounds([shapely.box(*self.least_bounds), *names])

    @cached_property
    def least_bounds(self) -> Bounds:
        """The same without the rails' names, which are the slowest to place."""
        x0, y0, x1, y1 = deck_bounds(self._parts)
        scale = self._view.scale
        rails = shapely.box(x0 / scale, y0 / scale, x1 / scale, y1 / scale)
        return _bounds([rails, *(shape for row in self._tacks for shape in row.shapes)])

    @cached_property
    def least_springs(self) -> tuple[Chosen | None, ...]:
        """The places of the springs' labels in the least lettering."""
        return tuple(place_spring_labels(self._parts, self._view, look.SMALL))

    @cached_property
    def labelled(self) -> Labelled:
        """The labels of the springs, placed, with those outside the opening."""
        height, springs = label_springs(self._parts, self._view, self.least_springs)
        manner = self.manner or "straight"
        return Labelled(height, springs, manner, self._tacks, self._further)

    @property
    def misses_springs(self) -> bool:
        """Whether some spring's label finds no place in the least lettering."""
        return None in self.least_springs

    @property
    def groups(self) -> list[Group]:
        """The groups of the plan view in painting order."""
        return plan_view(self._parts, self._view, self.labelled)


def _bounds(shapes: Sequence[shapely.Geometry]) -> Bounds:
    a, b, c, d = shapely.total_bounds(shapes)
    return float(a), float(b), float(c), float(d)


class Pictures:
    """The pictures of one deck by scale and way, each made once."""

    def __init__(self, parts: Parts) -> None:
        self.parts = parts
        self.deck_bounds = deck_bounds(parts)
        self._made: dict[tuple[float, Way], Picture] = {}
        self._too_short: dict[Way, float] = {}

    def at(self, scale: float, way: Way) -> Picture | None:
        """The picture at 1 : ``scale``; None where the rails have no room for the labels."""
        if scale >= self._too_short.get(way, math.inf):
            return None  # the rails are shorter still
        if (scale, way) not in self._made:
            made = self._make(scale, way)
            if made is None:
                self._too_short[way] = scale
                return None
            self._made[scale, way] = made
        return self._made[scale, way]

    def _make(self, scale: float, way: Way) -> Picture | None:
        view = View(scale, 0.0, 0.0, fineness(self.parts, scale))
        if way.manner is None:
            return Picture(self.parts, view, None, ())
        tacks = labels_of_sides(self.parts, view, way.manner, way.size, way.spare)
        return None if tacks is None else Picture(self.parts, view, way.manner, tacks)
