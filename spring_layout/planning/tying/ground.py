"""What all runs of one deck share: its courses, nail line, links and tie-breaker."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from spring_layout.deck.model import RUNS, Run
from spring_layout.planning.parts import Array, Standing
from spring_layout.planning.tying.course import Courses
from spring_layout.planning.tying.links import (
    Links,
    Odds,
    Whole,
    forward_links,
    is_heap,
    steps_of,
)
from spring_layout.planning.tying.nail_line import NailLine


@dataclass(frozen=True, eq=False)
class Ground:
    """One deck's springs, and what follows from them for every run."""

    standing: Standing

    @cached_property
    def courses(self) -> Courses:
        """The course of each run."""
        return Courses(self.standing)

    @cached_property
    def nails(self) -> NailLine:
        """Where tacks may go."""
        return NailLine(self.standing)

    @cached_property
    def odds(self) -> Odds:
        """The tie-breaker."""
        return Odds(self.standing)

    @cached_property
    def is_heap(self) -> bool:
        """Whether so many springs overlap that no lines can keep the rules."""
        return is_heap(self.standing)

    @cached_property
    def links(self) -> Mapping[Run, Links]:
        """The forward links of each run, before the user's wishes."""
        return forward_links(self.standing, self.courses)

    @cached_property
    def link_odds(self) -> Mapping[Run, Array]:
        """(k,) the tie-breaker of each link of each run, 0 to 1."""
        places = [links.place for links in self.links.values()]
        odds = self.odds.at(np.concatenate(places))
        cuts = np.cumsum([len(own) for own in places])[:-1]
        return dict(zip(self.links, np.split(odds, cuts), strict=True))

    @cached_property
    def end_costs(self) -> Mapping[Run, Whole]:
        """(n, 2) micro-pitches from each spring along the course to the inside edge.

        At a start, at a finish. A spring whose course meets no edge (it stands outside) counts
        as one pitch away.
        """
        pitch, centres = self.courses.pitch, self.standing.centres
        course = np.concatenate([self.courses.springs[run] for run in RUNS])
        places = np.concatenate([centres] * (2 * len(RUNS)))
        far = self.nails.edge_distance(places, np.concatenate([course + np.pi, course]))
        steps = steps_of(np.where(np.isfinite(far), far, pitch) / pitch)
        table = steps.reshape(2, len(RUNS), len(centres))
        return {run: table[:, i].T for i, run in enumerate(RUNS)}
