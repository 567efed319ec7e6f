"""The referee itself: it passes a deck tied by hand, and sees each fault worked into that deck."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from spring_layout.deck.model import Deck, MovedAnchor, Pairing, Run
from spring_layout.planning.parts import Break, Crossing, Line, Ties
from tests.decks import grid_deck
from tests.planning.tying_knots import knots_of
from tests.planning.tying_rules import broken_rules, unnamed
from tests.random_decks import replace_struct

PLACES = (108.0, 250.0, 392.0)
DIAGONAL_TACKS = (50.0, 130.0, 228.0, 272.0, 370.0, 450.0)
OUTSIDE = 22.5
FAR = 500 + OUTSIDE


def hand_tied() -> Ties:
    """The square 3 x 3 tied by hand: 12 pieces, tacks clear of each other and the corners."""
    runs: list[tuple[Run, list[tuple[int, int]]]] = [
        *(("front-to-back", [(2, c), (1, c), (0, c)]) for c in (1,)),
        *(("side-to-side", [(r, 0), (r, 1), (r, 2)]) for r in (1,)),
        *(("front-to-back", [(2, c), (1, c), (0, c)]) for c in (0, 2)),
        *(("side-to-side", [(r, 0), (r, 1), (r, 2)]) for r in (0, 2)),
        ("diagonal-rising", [(2, 0), (1, 1), (0, 2)]),
        ("diagonal-falling", [(0, 0), (1, 1), (2, 2)]),
        ("diagonal-rising", [(1, 0), (0, 1)]),
        ("diagonal-rising", [(2, 1), (1, 2)]),
        ("diagonal-falling", [(1, 0), (2, 1)]),
        ("diagonal-falling", [(0, 1), (1, 2)]),
    ]
    lines = tuple(_line(i + 1, run, cells) for i, (run, cells) in enumerate(runs))
    return Ties(lines, tuple(_crossings(lines)))


def _line(number: int, run: Run, cells: list[tuple[int, int]]) -> Line:
    centres = tuple((PLACES[c], PLACES[r]) for r, c in cells)
    ends = tuple(_tack(run, centres[i], is_finish=i == -1) for i in (0, -1))
    return Line(
        number=number,
        run=run,
        springs=tuple(f"s{3 * r + c + 1}" for r, c in cells),
        centres=centres,
        sides=tuple(_side_of(p) for p in ends),
        along=tuple(_along(p) for p in ends),
        anchors=ends,
    )


def _tack(run: Run, spring: tuple[float, float], is_finish: bool) -> tuple[float, float]:
    """Straight on from the end spring to the nail line, then to the nearest free tack."""
    dx, dy = {
        "front-to-back": (0, -1),
        "side-to-side": (1, 0),
        "diagonal-rising": (1, -1),
        "diagonal-falling": (1, 1),
    }[run]
    sign = 1 if is_finish else -1
    x, y = spring
    reach_y = (FAR - y if sign * dy > 0 else y + OUTSIDE) if dy else 1e9
    reach_x = (FAR - x if sign * dx > 0 else x + OUTSIDE) if dx else 1e9
    reach = min(reach_x, reach_y)
    x, y = x + sign * dx * reach, y + sign * dy * reach
    tacks = DIAGONAL_TACKS if run.startswith("diagonal") else PLACES
    if reach_y <= reach_x:
        return min(tacks, key=lambda t: abs(t - x)), y
    return x, min(tacks, key=lambda t: abs(t - y))


def _side_of(place: tuple[float, float]) -> int:
    x, y = place
    return [y < 0, x > 500, y > 500, x < 0].index(True)


def _along(place: tuple[float, float]) -> float:
    x, y = place
    return (x, y, 500 - x, 500 - y)[_side_of(place)]


def _crossings(lines: tuple[Line, ...]) -> list[Crossing]:
    told = []
    for knot in knots_of(lines):
        x, y = (float(v) for v in knot.places.mean(axis=0))
        spring = [
            f"s{3 * r + c + 1}"
            for r in range(3)
            for c in range(3)
            if abs(x - PLACES[c]) < 40 and abs(y - PLACES[r]) < 40
        ]
        told.append(Crossing((x, y), knot.lines, spring[0] if spring else None, max(knot.lines)))
    return told


def changed(ties: Ties, number: int, **changes: object) -> Ties:
    """``ties`` with some fields of one line changed."""
    lines = tuple(replace(ln, **changes) if ln.number == number else ln for ln in ties.lines)
    return replace(ties, lines=lines)


def without(ties: Ties, number: int) -> Ties:
    return replace(ties, lines=tuple(ln for ln in ties.lines if ln.number != number))


def rules_broken(ties: Ties, deck: Deck | None = None) -> set[int]:
    return {broken.rule for broken in broken_rules(deck or grid_deck(), ties)}


def test_a_deck_tied_by_hand_breaks_no_rule() -> None:
    assert [str(broken) for broken in broken_rules(grid_deck(), hand_tied())] == []


def test_the_knots_of_the_square_deck_are_those_counted_on_paper() -> None:
    """Nine at springs (the corners hold one diagonal, the others two), four between springs."""
    knots = knots_of(hand_tied().lines)
    at_springs = sorted(len(k.lines) for k in knots if len(k.lines) > 2)
    assert at_springs == [3, 3, 3, 3, 4, 4, 4, 4, 4]
    between = [k for k in knots if 120 < k.places[0][0] < 380 and 120 < k.places[0][1] < 380]
    assert sorted(k.lines for k in between if len(k.lines) == 2) == [
        (7, 11),
        (7, 12),
        (8, 9),
        (8, 10),
    ]


DOCTORED: dict[str, tuple[int, Callable[[Ties], Ties]]] = {
    "a spring left off its front-to-back line": (1, lambda t: without(t, 3)),
    "a spring on two side-to-side lines": (
        1,
        lambda t: replace(t, lines=(*t.lines, replace(t.lines[1], number=13))),
    ),
    "two lines of a run that touch at a spring": (
        3,
        lambda t: _through(t, 9, ("s4", "s2", "s3")),
    ),
    "a line that bends sharply": (4, lambda t: _through(t, 1, ("s8", "s4", "s2"))),
    "a line over a spring it is not tied to": (4, lambda t: _through(t, 1, ("s8", "s2"))),
    "a line out of the opening and back": (
        4,
        lambda t: changed(t, 2, centres=((108, 250), (250, -60), (392, 250))),
    ),
    "two tacks that would split the rail": (5, lambda t: _fixed(t, 9, 0, 3, 245.0)),
    "a tack in the corner joint": (5, lambda t: _fixed(t, 7, 0, 2, 490.0)),
    "a line without a tack": (
        5,
        lambda t: changed(
            t, 1, sides=(None, 0), along=(None, 250.0), anchors=(None, (250.0, -22.5))
        ),
    ),
    "a tack off the nail line": (0, lambda t: changed(t, 1, anchors=((250, 510), (250, -22.5)))),
    "a line listed against its run": (
        0,
        lambda t: changed(
            t,
            2,
            springs=("s6", "s5", "s4"),
            centres=((392, 250), (250, 250), (108, 250)),
            sides=(1, 3),
            along=(250.0, 250.0),
            anchors=((522.5, 250), (-22.5, 250)),
        ),
    ),
    "lines that skip a number": (0, lambda t: without(t, 11)),
    "a line that misses its springs": (
        0,
        lambda t: changed(t, 2, centres=((108, 251), (250, 250), (392, 250))),
    ),
    "a knot forgotten": (10, lambda t: replace(t, crossings=t.crossings[1:])),
    "a knot made by the wrong line": (
        10,
        lambda t: replace(t, crossings=(replace(t.crossings[0], tied_by=1), *t.crossings[1:])),
    ),
    "a knot at no spring, told at one": (
        10,
        lambda t: replace(
            t, crossings=tuple(replace(c, spring=c.spring or "s1") for c in t.crossings)
        ),
    ),
    "a knot in the wrong place": (
        10,
        lambda t: replace(t, crossings=(replace(t.crossings[0], place=(3, 3)), *t.crossings[1:])),
    ),
    "the middle line tied last": (11, lambda t: _swapped(t, 1, 3)),
    "a short diagonal before a long one": (11, lambda t: _swapped(t, 7, 9)),
    "falling diagonals before rising ones as far out": (11, lambda t: _swapped(t, 9, 11)),
    "a diagonal before the straight lines": (11, lambda t: _swapped(t, 6, 7)),
}


def _through(ties: Ties, number: int, springs: tuple[str, ...]) -> Ties:
    where = {s.id: (s.x, s.y) for s in grid_deck().springs}
    return changed(ties, number, springs=springs, centres=tuple(where[s] for s in springs))


def _fixed(ties: Ties, number: int, end: int, side: int, along: float) -> Ties:
    place = ((along, -22.5), (522.5, along), (500 - along, 522.5), (-22.5, 500 - along))[side]
    line = ties.lines[number - 1]
    return changed(
        ties,
        number,
        sides=_put(line.sides, end, side),
        along=_put(line.along, end, along),
        anchors=_put(line.anchors, end, place),
    )


def _put(pair: tuple[object, object], end: int, value: object) -> tuple[object, ...]:
    return tuple(value if i == end else old for i, old in enumerate(pair))


def _swapped(ties: Ties, a: int, b: int) -> Ties:
    lines = list(ties.lines)
    lines[a - 1], lines[b - 1] = replace(lines[b - 1], number=a), replace(lines[a - 1], number=b)
    return replace(ties, lines=tuple(lines))


@pytest.mark.parametrize("fault", DOCTORED)
def test_the_referee_sees(fault: str) -> None:
    rule, doctor = DOCTORED[fault]
    assert rule in rules_broken(doctor(hand_tied()))


def test_the_referee_sees_a_missing_single_spring_diagonal() -> None:
    deck = grid_deck()
    deck = replace_struct(deck, tying=replace_struct(deck.tying, diagonals="all"))
    assert 2 in rules_broken(hand_tied(), deck)


def test_the_referee_sees_a_run_that_is_off() -> None:
    deck = grid_deck()
    deck = replace_struct(deck, tying=replace_struct(deck.tying, front_to_back=False))
    assert 1 in rules_broken(hand_tied(), deck)


WISHES = {
    "joins": (Pairing(run="front-to-back", springs=("s4", "s2")),),
    "parts": (Pairing(run="front-to-back", springs=("s5", "s2")),),
    "anchors": (MovedAnchor(run="front-to-back", spring="s5", end="start", side=2, along=220.0),),
}


@pytest.mark.parametrize("wish", WISHES)
def test_the_referee_sees_a_wish_not_obeyed(wish: str) -> None:
    deck = grid_deck()
    deck = replace_struct(deck, tying=replace_struct(deck.tying, **{wish: WISHES[wish]}))
    assert rules_broken(hand_tied(), deck) == {9}


def test_two_runs_may_not_join_the_same_springs() -> None:
    ties = _through(hand_tied(), 9, ("s4", "s1"))
    assert 6 in rules_broken(ties)


def test_a_break_that_is_named_is_not_held_against_the_ties() -> None:
    bent = _through(hand_tied(), 1, ("s8", "s4", "s2"))
    bends = [b for b in unnamed(grid_deck(), bent) if b.rule == 4]
    told = tuple(Break(4, "bend", springs=b.springs, lines=b.lines) for b in bends)
    assert bends
    assert [b for b in unnamed(grid_deck(), replace(bent, breaks=told)) if b.rule == 4] == []


def test_a_break_of_another_line_names_nothing() -> None:
    bent = _through(hand_tied(), 1, ("s8", "s4", "s2"))
    told = (Break(4, "bend", springs=("s9",), lines=(4,)),)
    assert any(b.rule == 4 for b in unnamed(grid_deck(), replace(bent, breaks=told)))
