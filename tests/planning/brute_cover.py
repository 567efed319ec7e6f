"""The best lines of one run by trying every set: for a handful of springs, and no solver at all.

Every way to let each spring be followed by another, or by none, is reckoned, the cheapest first;
the first whose ends can all be given ways out that keep the rules is the best.
"""

from collections.abc import Iterator
from itertools import combinations

from spring_layout.deck.model import Run
from tests.planning.exact_cover import Meetings, Piece, PlainTask, bend_between
from tests.planning.plain_ways import MOST_BEND


def cheapest_by_trying(task: PlainTask, run: Run) -> int | None:
    """The least cost of a run that keeps every rule, millionths of a pitch; None: there is none."""
    pieces = [piece for piece in task.pieces(run) if not piece.breaks]
    meet = Meetings(task.ways, task.deck.spacing.limits.anchor_spacing)
    count = len(task.places)
    sets = [links for links in _followings(pieces, count) if _keep(links, meet)]
    for links in sorted(sets, key=lambda links: _cost(pieces, links, count)):
        if _ends_found(pieces, links, count, meet):
            return _cost(pieces, links, count)
    return None


def _followings(pieces: list[Piece], count: int, spring: int = 0) -> Iterator[list[Piece]]:
    """Every choice of links: from each spring one at most, to each spring one at most."""
    if spring == count:
        yield []
        return
    for rest in _followings(pieces, count, spring + 1):
        yield rest
        taken = {link.ahead for link in rest}
        for piece in pieces:
            if piece.is_link and piece.behind == spring and piece.ahead not in taken:
                yield [piece, *rest]


def _keep(taken: list[Piece], meet: Meetings) -> bool:
    """Whether pieces go together."""
    return not any(_clash(a, b, meet) for a, b in combinations(taken, 2))


def _clash(a: Piece, b: Piece, meet: Meetings) -> bool:
    for before, after in ((a, b), (b, a)):
        if before.ahead is not None and before.ahead == after.behind:
            return bend_between(before, after) > MOST_BEND + 1e-9
    return meet.clash(a, b)


def _open_ends(links: list[Piece], count: int) -> list[tuple[int | None, int | None]]:
    """The ends that need a way out: (None, spring) for a start, (spring, None) for a finish."""
    ahead, behind = {link.ahead for link in links}, {link.behind for link in links}
    starts = [(None, spring) for spring in range(count) if spring not in ahead]
    return [*starts, *((spring, None) for spring in range(count) if spring not in behind)]


def _cost(pieces: list[Piece], links: list[Piece], count: int) -> int:
    """What the links and their ends cost; an end without any way is dearer than all."""
    price = {piece.fan: piece.cost for piece in pieces if not piece.is_link}
    ends = _open_ends(links, count)
    return sum(link.cost for link in links) + sum(price.get(end, 10**12) for end in ends)


def _ends_found(pieces: list[Piece], links: list[Piece], count: int, meet: Meetings) -> bool:
    """Whether every end can have a way out, all going together."""
    choices = [
        [p for p in pieces if p.fan == end and not any(_clash(p, link, meet) for link in links)]
        for end in _open_ends(links, count)
    ]
    choices.sort(key=len)
    return _chosen([], choices, meet)


def _chosen(taken: list[Piece], choices: list[list[Piece]], meet: Meetings) -> bool:
    if not choices:
        return True
    first, *rest = choices
    for way in first:
        narrowed = [[p for p in ways if not _clash(way, p, meet)] for ways in rest]
        if all(narrowed) and _chosen([*taken, way], sorted(narrowed, key=len), meet):
            return True
    return False
