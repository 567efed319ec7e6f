"""What could not be kept: every rule of tying looked at once more on the finished lines.

It reads the lines alone, not how they were found, so that nothing is silent.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
import shapely

from spring_layout.deck.model import RUNS
from spring_layout.planning.parts import Array, Break, Line, Standing
from spring_layout.planning.tying.nail_line import NailLine
from spring_layout.planning.tying.touch import Rows, pieces_of, turn_between
from spring_layout.planning.tying.ways import MOST_BEND
from spring_layout.tolerances import SAME_PLACE

SLACK = 1e-3
"""degrees, mm. Rounding is far below this; whatever is over a limit by more breaks it."""
EDGE_SLACK = 0.1
"""mm. How far a way may lie outside the drawn edge, whose chords are within 0.05 of the arc."""


def breaks_of(nails: NailLine, lines: Sequence[Line]) -> tuple[Break, ...]:
    """Every rule that ``lines`` (in tying order) do not keep."""
    audit = _Audit(nails, lines)
    return (
        *audit.doubles(),
        *audit.clashes(),
        *audit.bends(),
        *audit.over_springs(),
        *audit.outside(),
        *audit.anchors(),
        *audit.spacing(),
    )


@dataclass(frozen=True, eq=False)
class _Audit:
    nails: NailLine
    lines: Sequence[Line]

    @property
    def standing(self) -> Standing:
        return self.nails.standing

    @cached_property
    def paths(self) -> list[Array]:
        return [np.array(line.path) for line in self.lines]

    @cached_property
    def steps(self) -> tuple[Array, Rows]:
        """(k, 4) all straight pieces of all lines, and (k,) the row of the line of each."""
        pieces = [pieces_of(path[:-1], path[1:]) for path in self.paths]
        owner = np.repeat(np.arange(len(self.lines)), [len(p) for p in pieces])
        return np.concatenate([*pieces, np.zeros((0, 4))]), owner

    @cached_property
    def ways(self) -> Rows:
        """The lines as shapely shapes."""
        shapes = [
            shapely.LineString(path) if len(path) > 1 else shapely.Point(path[0])
            for path in self.paths
        ]
        return np.array(shapes, dtype=object)

    def doubles(self) -> Iterator[Break]:
        """Rule 6: springs joined directly by more than one run, as the user may ask."""
        joined: dict[frozenset[str], list[int]] = {}
        for line in self.lines:
            for pair in pairwise(line.springs):
                joined.setdefault(frozenset(pair), []).append(line.number)
        for names, numbers in joined.items():
            if len(numbers) > 1:
                yield Break(6, "join", tuple(sorted(names)), tuple(numbers))

    def clashes(self) -> Iterator[Break]:
        """Rule 3: lines of one run that cross or touch."""
        runs = np.array([RUNS.index(line.run) for line in self.lines], np.intp)
        first, second = shapely.STRtree(self.ways).query(self.ways)
        own = (first < second) & (runs[first] == runs[second])
        first, second = first[own], second[own]
        met = shapely.dwithin(self.ways[first], self.ways[second], SAME_PLACE / 2)
        found = zip(
            runs[first[met]].tolist(), first[met].tolist(), second[met].tolist(), strict=True
        )
        for _, a, b in sorted(found):
            yield Break(3, "clash", (), (self.lines[a].number, self.lines[b].number))

    def bends(self) -> Iterator[Break]:
        """Rules 4 and 5: bends at springs, and at the last one toward the rail."""
        most = math.degrees(MOST_BEND)
        pieces, owner = self.steps
        angle = np.arctan2(pieces[:, 3] - pieces[:, 1], pieces[:, 2] - pieces[:, 0])
        turns = np.abs(np.degrees(turn_between(angle[:-1], angle[1:])))
        sharp = (turns > most + SLACK) & (owner[:-1] == owner[1:])
        begins = np.searchsorted(owner, np.arange(len(self.lines)))
        for k in np.flatnonzero(sharp).tolist():
            line = self.lines[owner[k]]
            i = k - int(begins[owner[k]])
            at_end = i == 0 or i == len(line.path) - 3
            yield Break(
                rule=5 if at_end else 4,
                kind="anchor-turn" if at_end else "bend",
                springs=(line.springs[i if line.anchors[0] else i + 1],),
                lines=(line.number,),
                value=float(turns[k]),
                limit=most,
            )

    def over_springs(self) -> Iterator[Break]:
        """Rule 4: lines over springs that they are not tied to."""
        standing = self.standing
        if not self.lines:
            return
        points = shapely.points(standing.centres)
        line, spring = shapely.STRtree(points).query(
            self.ways, predicate="dwithin", distance=float(standing.radii.max())
        )
        far = shapely.distance(self.ways[line], points[spring])
        for i, s, away in sorted(zip(line.tolist(), spring.tolist(), far.tolist(), strict=True)):
            name, radius = standing.ids[s], float(standing.radii[s])
            if away < radius - SAME_PLACE and name not in self.lines[i].springs:
                number = self.lines[i].number
                yield Break(4, "over-spring", (name,), (number,), value=away, limit=radius)

    def outside(self) -> Iterator[Break]:
        """Rule 4: lines that leave the opening otherwise than at their ends."""
        opening = self.standing.outline.polygon
        parts, rows = self._parts_outside(self._may_leave(), opening)
        if len(rows):
            # Widened by a hair, which takes long, only where there is something to see.
            parts, rows = self._parts_outside(np.unique(rows), opening.buffer(EDGE_SLACK))
        for row, long in zip(rows.tolist(), shapely.length(parts).tolist(), strict=True):
            line = self.lines[row]
            yield Break(4, "leaves-opening", line.springs, (line.number,), value=long)

    def _may_leave(self) -> Rows:
        """The lines that could leave the opening otherwise than at their ends.

        Where the opening has no hollow, a straight way from a spring inside to its tack leaves it
        once, and one between two such springs never.
        """
        outline = self.standing.outline
        if outline.has_hollow:
            return np.arange(len(self.lines))
        places = np.array([place for line in self.lines for place in line.centres]).reshape(-1, 2)
        owner = np.repeat(np.arange(len(self.lines)), [len(line.centres) for line in self.lines])
        return np.unique(owner[~outline.holds(places)])

    def _parts_outside(self, rows: Rows, opening: shapely.Polygon) -> tuple[Rows, Rows]:
        """What of some lines lies outside the opening away from their anchors; and whose it is."""
        if not len(rows):
            return rows, rows
        shapely.prepare(opening)
        rows = rows[~shapely.covers(opening, self.ways[rows])]
        parts, whose = shapely.get_parts(
            shapely.difference(self.ways[rows], opening), return_index=True
        )
        far = shapely.distance(parts, self._ends(rows)[whose])
        odd = (shapely.length(parts) > SAME_PLACE) & ~(far < SAME_PLACE)
        return parts[odd], rows[whose[odd]]

    def _ends(self, rows: Rows) -> Rows:
        """The anchors of each of some lines as one shape."""
        ends = [[a for a in self.lines[i].anchors if a] for i in rows.tolist()]
        return np.array([shapely.MultiPoint(places) for places in ends], dtype=object)

    def anchors(self) -> Iterator[Break]:
        """Rule 5: ends without a rail, and tacks too near a corner."""
        clear = self.standing.deck.spacing.limits.corner_least
        for line in self.lines:
            for end, spring in ((0, line.springs[0]), (1, line.springs[-1])):
                side, along = line.sides[end], line.along[end]
                if side is None or along is None:
                    yield Break(5, "no-rail", (spring,), (line.number,))
                    continue
                if not self.nails.has_rail[side]:
                    yield Break(5, "no-rail", (spring,), (line.number,), (side,))
                near = self._from_corner(side, along)
                if near < clear - SLACK:
                    yield Break(5, "anchor-corner", (spring,), (line.number,), (side,), near, clear)

    def _from_corner(self, side: int, along: float) -> float:
        """How far a tack is from the nearer real corner of its side, mm."""
        nails = self.nails
        after = (side + 1) % len(nails.lengths)
        return min(
            along if nails.is_corner[side] else math.inf,
            float(nails.lengths[side]) - along if nails.is_corner[after] else math.inf,
        )

    def spacing(self) -> Iterator[Break]:
        """Rule 5: tacks too near to each other on a stretch of nail line."""
        nails, apart = self.nails, self.standing.deck.spacing.limits.anchor_spacing
        for stretch, row in sorted(self._tacks().items()):
            row.sort()
            pairs = list(pairwise(row))
            if nails.is_closed(stretch) and len(row) > 1:
                pairs.append((row[-1], (row[0][0] + nails.length(stretch), *row[0][1:])))
            for (a, line, side), (b, other, beside) in pairs:
                if b - a < apart - SLACK:
                    sides = tuple(sorted({side, beside}))
                    numbers = (min(line, other), max(line, other))
                    yield Break(5, "anchor-spacing", (), numbers, sides, b - a, apart)

    def _tacks(self) -> dict[int, list[tuple[float, int, int]]]:
        """For each stretch, its tacks: where, whose line, which side."""
        nails = self.nails
        rows = [
            (side, along, line.number)
            for line in self.lines
            for side, along in zip(line.sides, line.along, strict=True)
            if side is not None and along is not None and nails.has_rail[side]
        ]
        tacks: dict[int, list[tuple[float, int, int]]] = {}
        if rows:
            side, along, number = (np.array(column) for column in zip(*rows, strict=True))
            columns = (nails.stretch_of[side], nails.at(side, along), number, side)
            for stretch, *tack in zip(*(column.tolist() for column in columns), strict=True):
                tacks.setdefault(stretch, []).append((tack[0], tack[1], tack[2]))
        return tacks
