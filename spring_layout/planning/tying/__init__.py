"""Tying: which lines there are, where they are fixed, how they cross, in which order.

``ties_of`` is the whole of it. For each run that is tied:

1. ``course``: the direction that the run should have at each place; the deck's pitch.
2. ``links``: the forward links (within 30 degrees of the course, within 4.5 pitches of the run),
   each of one run, with its cost: **length + (departure / 30 degrees)^2**, in pitches.
3. A line costs **1 + its links + the distance from each end spring along the course to the
   inside edge**, in pitches. All costs are whole micro-pitches (``links`` gives the reasons).
4. ``cover``: the cheapest lines without the rules that join two links: an assignment, the bound.
5. ``ways``, ``exits``, ``ends``: the straight ways out to the rail, every 3 degrees about the
   course, and toward the tacks nearest to corners. They cost nothing, but a line ends only where
   it has one.
6. ``branching``: where the cheapest lines bend by over 25 degrees, cross or touch, have no way out,
   or must leave by tacks of one run too near each other, branch and bound over what is broken, at
   the same cost: exact, and quick where little is. Where much is, ``search``, over all links and
   ways out at once, exact up to ``EXACT`` springs. What cannot be kept is priced at 100 pitches a
   break; tacks of one run come nearer only where that breaks fewer rules.
   Beyond that the search stops after a stated number of branches; ``Ties.proved`` is then false,
   and the gap is ``cost`` less ``bound``. Where more than a fifth of over 60 springs overlap, no
   lines keep the rules: the cheapest are taken as they are, links over springs at 3 pitches.
7. ``anchors``, ``spread``: the tacks of all runs, spread along the nail line.
8. ``order``, ``crossings``: the tying order and the cross knots; ``audit`` names what is broken.

The independent check of these costs starts from ``courses_of``, ``links_of``, ``end_costs_of``
and ``ways_of``.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np

from spring_layout.deck.model import RUNS, Deck, Frame, Pairing, Run, Spacing
from spring_layout.planning.parts import Line, Standing, Ties
from spring_layout.planning.tying.anchors import Place, Tied, place_tacks
from spring_layout.planning.tying.audit import breaks_of
from spring_layout.planning.tying.course import Courses
from spring_layout.planning.tying.crossings import crossings_of
from spring_layout.planning.tying.ground import Ground
from spring_layout.planning.tying.links import Links, Whole
from spring_layout.planning.tying.order import tying_order
from spring_layout.planning.tying.solve import Solved, solve, without_singles
from spring_layout.planning.tying.task import Chain, Task, task_of
from spring_layout.planning.tying.ways import Fan
from spring_layout.planning.tying.wishes import anchors_on_rails, wish_breaks

__all__ = [
    "courses_of",
    "end_costs_of",
    "links_of",
    "runs_on",
    "solve_run",
    "ties_of",
    "ways_of",
]


def runs_on(deck: Deck) -> tuple[Run, ...]:
    """The runs that ``deck`` is tied in."""
    tying = deck.tying
    diagonals = tying.diagonals != "none"
    on = (tying.front_to_back, tying.side_to_side, diagonals, diagonals)
    return tuple(run for run, is_on in zip(RUNS, on, strict=True) if is_on)


def courses_of(standing: Standing) -> Courses:
    """The courses and the pitch of a deck."""
    return Courses(standing)


def links_of(standing: Standing) -> Mapping[Run, Links]:
    """The forward links of every run, with their costs, before any wish of the user."""
    return Ground(standing).links


def end_costs_of(standing: Standing, run: Run) -> Whole:
    """(n, 2) micro-pitches that a line costs at each spring where it starts, finishes."""
    return Ground(standing).end_costs[run]


def ways_of(standing: Standing, run: Run) -> tuple[Fan, Fan]:
    """Every way out of every spring at the start and at the finish of lines of ``run``."""
    fan = Task(Ground(standing), run, Ground(standing).links[run]).fan
    return fan.only((slice(None), 0)), fan.only((slice(None), 1))


def _in_place_order(standing: Standing) -> Standing:
    """The same springs listed from the back, each row from the left: their order changes nothing.

    Springs of one size at one place stand by their names.
    """
    x, y = standing.centres.T
    order = np.lexsort((np.array(standing.ids), standing.radii, x, y))
    ids = tuple(standing.ids[i] for i in order)
    return Standing(
        deck=standing.deck,
        outline=standing.outline,
        ids=ids,
        index={name: i for i, name in enumerate(ids)},
        centres=standing.centres[order],
        radii=standing.radii[order],
    )


@dataclass(frozen=True)
class _Key:
    """All that the lines of a run rest on; a name, a height or the order of tying changes none."""

    ids: tuple[str, ...]
    centres: bytes
    radii: bytes
    frame: Frame
    spacing: Spacing
    joins: tuple[Pairing, ...]
    parts: tuple[Pairing, ...]
    standing: Standing = field(compare=False)


def _key(standing: Standing) -> _Key:
    standing = _in_place_order(standing)
    deck = standing.deck
    return _Key(
        standing.ids,
        standing.centres.tobytes(),
        standing.radii.tobytes(),
        deck.frame,
        deck.spacing,
        deck.tying.joins,
        deck.tying.parts,
        standing,
    )


class _Known:
    """What is known of a deck: its ground, and the lines of the runs solved so far."""

    def __init__(self, key: _Key) -> None:
        self.key, self.ground = key, Ground(key.standing)
        self._solved: dict[Run, Solved] = {}

    def solved(self, runs: Sequence[Run]) -> list[Solved]:
        """The lines of ``runs``."""
        new = [run for run in runs if run not in self._solved]
        tasks = [task_of(self.ground, run, self.key.joins, self.key.parts) for run in new]
        self._solved |= zip(new, solve(tasks), strict=True)
        return [self._solved[run] for run in runs]


@lru_cache(maxsize=4)
def _known(key: _Key) -> _Known:
    """The last few decks are kept, for whoever changes one thing of a deck."""
    return _Known(key)


def solve_run(standing: Standing, run: Run) -> Solved:
    """The lines of one run alone, whether it is tied or not."""
    return _known(_key(standing)).solved([run])[0]


def ties_of(standing: Standing) -> Ties:
    """The tied deck; pure, the same every time, never an exception for odd springs."""
    if not standing.ids:
        return Ties(lines=(), crossings=())
    deck, known = standing.deck, _known(_key(standing))
    ground, standing = known.ground, known.key.standing
    solved = known.solved(runs_on(deck))
    kept = [without_singles(s.ends) if _is_short(deck, s) else s.ends for s in solved]
    lines = _lines(deck, standing, place_tacks(ground, kept, anchors_on_rails(deck)))
    breaks = breaks_of(ground.nails, lines)
    wishes = tuple(b for s in solved for b in s.task.breaks)
    return Ties(
        lines=lines,
        crossings=crossings_of(standing, lines),
        breaks=(*breaks, *wishes, *wish_breaks(deck, lines, breaks)),
        cost=float(sum(s.cost for s in solved)),
        bound=float(sum(s.bound for s in solved)),
        proved=all(s.proved for s in solved),
    )


def _is_short(deck: Deck, solved: Solved) -> bool:
    """Whether the run's lines over one spring are left off."""
    return solved.task.run.startswith("diagonal") and deck.tying.diagonals == "two-or-more"


def _lines(deck: Deck, standing: Standing, tied: list[Tied]) -> tuple[Line, ...]:
    rows = [
        _line(standing, run.run, chain, tacks)
        for run in tied
        for chain, tacks in zip(run.chains, run.tacks, strict=True)
    ]
    ordered = tying_order(rows, lambda ln: ln.run, lambda ln: ln.centres, deck.tying.order)
    return tuple(
        Line(i + 1, ln.run, ln.springs, ln.centres, ln.sides, ln.along, ln.anchors)
        for i, ln in enumerate(ordered)
    )


def _line(
    standing: Standing, run: Run, chain: Chain, tacks: tuple[Place | None, Place | None]
) -> Line:
    start, finish = tacks
    return Line(
        number=0,
        run=run,
        springs=tuple(standing.ids[i] for i in chain),
        centres=tuple((x, y) for x, y in standing.centres[list(chain)].tolist()),
        sides=(start.side if start else None, finish.side if finish else None),
        along=(start.along if start else None, finish.along if finish else None),
        anchors=(start.point if start else None, finish.point if finish else None),
    )
