"""A layout that is offered: where springs of one kind would stand, and what speaks for it."""

from dataclasses import dataclass
from typing import Literal

from spring_layout.deck.model import Point
from spring_layout.planning.parts import Array

Pattern = Literal["square", "staggered", "fitted", "ring"]


@dataclass(frozen=True, eq=False)
class Sketch:
    """A layout in the making: ``places`` (n, 2) mm, ``rows`` of their indices from the back.

    In a ring layout ``rows`` are the rings from the middle outward. ``lines`` are the rows that
    stay rows when the springs are evened out.
    """

    pattern: Pattern
    places: Array
    rows: tuple[tuple[int, ...], ...]
    lines: tuple[tuple[int, ...], ...]


@dataclass(frozen=True)
class Layout:
    """One layout to choose from; lengths mm.

    ``counts``: how many springs in each row from the back, or in each ring from the middle.
    ``gap_least`` and ``gap_most``: between natural neighbours, None for a lone spring;
    ``clearance_least`` and ``clearance_most``: along the rim. ``area_per_spring``: mm2 of the
    opening for each spring. ``why``: what speaks for it, one or two sentences.
    """

    pattern: Pattern
    counts: tuple[int, ...]
    places: tuple[Point, ...]
    rows: tuple[tuple[int, ...], ...]
    lines: tuple[tuple[int, ...], ...]
    gap_least: float | None
    gap_most: float | None
    clearance_least: float
    clearance_most: float
    area_per_spring: float
    title: str
    why: str

    @property
    def count(self) -> int:
        """How many springs."""
        return len(self.places)

    @property
    def columns(self) -> int:
        """How many springs stand in the longest row or ring."""
        return max(self.counts)
