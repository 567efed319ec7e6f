"""Which lines are chosen, where they leave for the rail, and what is owned up to."""

import math
from itertools import pairwise

import numpy as np
import pytest

from spring_layout.deck.model import MovedAnchor, Pairing
from spring_layout.planning.parts import Line
from spring_layout.planning.standing import standing_of
from spring_layout.planning.tying import solve_run, ties_of
from spring_layout.planning.tying.audit import breaks_of
from spring_layout.planning.tying.cover import (
    chains_of,
    cheapest,
    cheapest_links,
    clashes,
    cover_of,
    sharp_bends,
)
from spring_layout.planning.tying.ends import NO_WAY, Choice
from spring_layout.planning.tying.exits import exits_of
from spring_layout.planning.tying.ground import Ground
from spring_layout.planning.tying.nail_line import NailLine
from spring_layout.planning.tying.order import tying_order
from spring_layout.planning.tying.search import Search
from spring_layout.planning.tying.spread import spread
from spring_layout.planning.tying.task import task_of
from tests.decks import grid_deck, straight_frame
from tests.random_decks import Recipe, deck_of, make_deck, plain_tying, random_deck, replace_struct

RUNS = ("front-to-back", "side-to-side", "diagonal-rising", "diagonal-falling")


def seat(places, frame=None, **tying):
    return make_deck(frame or straight_frame(), places, 92, plain_tying(**tying))


def task(deck, run="front-to-back"):
    tying = deck.tying
    return task_of(Ground(standing_of(deck)), run, tying.joins, tying.parts)


def with_tying(deck, **changes):
    return replace_struct(deck, tying=replace_struct(deck.tying, **changes))


def kinds(ties):
    return {told.kind for told in ties.breaks}


# The assignment.


@pytest.mark.parametrize("seed", range(8))
def test_the_cheapest_cover_is_that_of_trying_them_all(seed):
    """Every way to say which spring follows which, for up to seven springs."""
    deck = random_deck(seed, most=7)
    for run in RUNS:
        work = task(deck, run)
        assert cheapest(work).cost == least_cost(work)


def least_cost(work):
    """The least cost of all successions, micro-pitches."""
    start, finish = work.end_costs.T.tolist()
    after = {a: [None] for a in range(work.count)}
    for (a, b), number in work.link_at.items():
        after[a].append((b, int(work.links.cost[number])))

    def rest(spring, later):
        if spring == work.count:
            return sum(start[a] + work.price for a in range(work.count) if a not in later)
        ways = [finish[spring] + rest(spring + 1, later)]
        for b, cost in after[spring][1:]:
            if b not in later:
                ways.append(cost + rest(spring + 1, later | {b}))
        return min(ways)

    return rest(0, frozenset())


# Rules that join two links.


def zigzag():
    """Three springs in a column whose middle one stands 70 mm aside: a bend of 53 degrees."""
    return seat([(250, 110), (320, 250), (250, 390)])


def test_a_sharp_bend_breaks_the_line():
    work = task(zigzag())
    chosen = cheapest_links(work)
    assert chains_of(work, chosen) == [(2, 1, 0)] or len(sharp_bends(work, chosen)) == 0
    for run in RUNS:
        solved = solve_run(standing_of(zigzag()), run)
        for line in solved.ends.chains:
            assert len(line) < 3


def jittery(seed=3):
    return deck_of(Recipe("straight", "square", 4, 5, 0.3, 142.0, seed))


@pytest.mark.parametrize("seed", range(4))
def test_what_the_search_finds_keeps_the_rules_and_is_no_cheaper_than_the_bound(seed):
    for run in RUNS:
        work = task(jittery(seed), run)
        bound = cheapest(work).cost / 1e6
        found = Search(work).run()
        assert sorted(i for chain in found.chains for i in chain) == list(range(work.count))
        assert found.proved
        assert cover_of(work, found.chains).cost / 1e6 >= bound - 1e-9
        steps = [work.link_at[p] for c in found.chains for p in pairwise(c)]
        chosen = np.array(steps, np.intp)
        assert len(clashes(work, chosen)) == 0
        sharp = len(sharp_bends(work, chosen))
        assert found.breaks == sharp + found.unled


def test_a_search_over_clear_rows_finds_what_the_assignment_found():
    for run in RUNS:
        work = task(grid_deck(3, 4), run)
        chains = chains_of(work, cheapest_links(work))
        assert sorted(Search(work).run().chains) == sorted(chains)


def test_ways_chosen_together_depart_from_their_aims_no_more_than_those_chosen_one_by_one():
    work = task(jittery(), "side-to-side")
    search = Search(work)
    found = search.run()
    cover = cover_of(work, found.chains)
    choice = Choice(cover, exits_of([cover])[0], spaced=True)

    def off(ways):
        rows, ends = np.nonzero(ways >= 0)
        return (choice.scores[rows, ends, ways[rows, ends]] ** 2).sum()

    together = search.ways_for(found.chains, choice.scores)
    one_by_one = choice.made()
    assert (together == NO_WAY).sum() == found.unled
    if (one_by_one == NO_WAY).sum() == (together == NO_WAY).sum():
        assert off(together) <= off(one_by_one) + 1e-6


def test_the_best_lines_are_found_where_presolving_misses_them():
    """48 springs set badly: with presolve, scipy 1.17.1 gives three broken rules as the least."""
    found = Search(task(random_deck(29), "diagonal-falling")).run()
    assert found.breaks == 2


def test_a_search_that_is_stopped_owns_up_to_it(monkeypatch):
    monkeypatch.setattr("spring_layout.planning.tying.search.EXACT", 0)
    monkeypatch.setattr("spring_layout.planning.tying.search.BRANCHES", 0)
    monkeypatch.setattr("spring_layout.planning.tying.search.ROUNDS", 1)
    deck = deck_of(Recipe("round", "square", 5, 5, 1 / 3, 142.0, 2))
    found = [Search(task(deck, run)).run() for run in RUNS]
    assert not all(result.proved for result in found)
    for result in found:
        assert sorted(i for chain in result.chains for i in chain) == list(range(len(deck.springs)))


# Ways out.


def test_a_line_goes_straight_on_to_the_rail():
    solved = solve_run(standing_of(grid_deck()), "front-to-back")
    for end, ways in enumerate(solved.ends.chosen.T):
        assert solved.ends.fan.offset[range(3), end, ways] == pytest.approx([0, 0, 0])


def test_two_lines_that_would_leave_by_one_tack_part():
    """Two springs behind each other beside a column: their straight ways share one place."""
    deck = seat([(150, 150), (150, 350), (350, 250)], diagonals="none")
    deck = with_tying(deck, parts=(Pairing(run="front-to-back", springs=("s1", "s2")),))
    ties = ties_of(standing_of(deck))
    alone = [ln for ln in ties.lines if ln.run == "front-to-back"]
    assert len(alone) == 3
    backs = sorted(ln.along[1] for ln in alone)
    assert min(b - a for a, b in pairwise(backs)) >= 20 - 1e-6
    assert "over-spring" not in kinds(ties)
    assert "clash" not in kinds(ties)


def test_an_end_hemmed_in_takes_the_way_that_breaks_least():
    """A ring of lapping springs round one: whichever way it leaves, it passes over a spring."""
    turns = np.arange(7) * 2 * math.pi / 7
    ring = [(250 + 95 * math.cos(t), 250 + 95 * math.sin(t)) for t in turns]
    deck = seat([(250, 250), *((round(x, 3), round(y, 3)) for x, y in ring)])
    wish = tuple(Pairing(run="side-to-side", springs=("s1", f"s{i}")) for i in range(2, 9))
    ties = ties_of(standing_of(with_tying(deck, parts=wish)))
    (line,) = [ln for ln in ties.lines if ln.run == "side-to-side" and "s1" in ln.springs]
    assert all(anchor is not None for anchor in line.anchors)
    assert any(
        told.kind in {"over-spring", "clash"} and line.number in told.lines for told in ties.breaks
    )


def test_tacks_pushed_across_their_own_run_go_back_to_where_they_keep_the_rules(monkeypatch):
    """As if the first spreading had swapped the outer columns' tacks at every rail."""
    calls = []

    def swapped(wished, low, high, weight, apart):
        calls.append(1)
        return spread(wished, low, high, weight, apart)[:: -1 if len(calls) <= 4 else 1]

    monkeypatch.setattr("spring_layout.planning.tying.anchors.spread", swapped)
    ties = ties_of(standing_of(with_tying(grid_deck(), diagonals="none")))
    assert len(calls) > 4
    assert ties.breaks == ()


def test_a_spring_outside_the_opening_is_tied_to_the_rail_that_is_least_off():
    ties = ties_of(standing_of(seat([(250, 250), (700, 250)], diagonals="none")))
    lines = [ln for ln in ties.lines if "s2" in ln.springs]
    assert len(lines) == 2
    assert all(anchor is not None for ln in lines for anchor in ln.anchors)
    assert ties.breaks


# The audit sees what is broken, whoever tied it.


def tied_by_hand(path, springs, sides, along, number=1, run="side-to-side"):
    return Line(
        number=number,
        run=run,
        springs=springs,
        centres=tuple(path[1:-1]),
        sides=sides,
        along=along,
        anchors=(path[0], path[-1]),
    )


def told(lines, deck=None):
    nails = NailLine(standing_of(deck or grid_deck()))
    return {(b.rule, b.kind) for b in breaks_of(nails, lines)}


ROW = [(-22.5, 250), (108, 250), (250, 250), (392, 250), (522.5, 250)]
NAMES = ("s4", "s5", "s6")


def test_a_sound_line_is_told_nothing():
    assert told([tied_by_hand(ROW, NAMES, (3, 1), (250, 250))]) == set()


def test_no_lines_are_told_nothing():
    assert told([]) == set()


def test_a_line_out_of_the_opening_is_told():
    path = [(-22.5, 250), (108, 250), (250, -40), (392, 250), (522.5, 250)]
    assert (4, "leaves-opening") in told([tied_by_hand(path, NAMES, (3, 1), (250, 250))])


def test_a_sharp_turn_to_the_rail_is_told_apart_from_a_bend():
    path = [(-22.5, 400), *ROW[1:]]
    assert told([tied_by_hand(path, NAMES, (3, 1), (100, 250))]) == {(5, "anchor-turn")}
    bent = [*ROW[:2], (250, 320), *ROW[3:]]
    assert (4, "bend") in told([tied_by_hand(bent, NAMES, (3, 1), (250, 250))])


def test_tacks_too_near_and_in_the_corner_are_told():
    other = [(-22.5, 262), (108, 262), (522.5, 262)]
    lines = [
        tied_by_hand(ROW, NAMES, (3, 1), (250, 250)),
        tied_by_hand(other, ("s4",), (3, 1), (238, 262), 2, "diagonal-rising"),
    ]
    assert (5, "anchor-spacing") in told(lines)
    corner = [(-22.5, 490), *ROW[1:]]
    assert (5, "anchor-corner") in told([tied_by_hand(corner, NAMES, (3, 1), (10, 250))])


def test_springs_joined_by_two_runs_are_told():
    lines = [
        tied_by_hand(ROW, NAMES, (3, 1), (250, 250)),
        tied_by_hand(ROW, NAMES, (3, 1), (250, 250), 2, "diagonal-rising"),
    ]
    assert (6, "join") in told(lines)


def test_tacks_near_each_other_across_the_joint_of_a_round_frame_are_told():
    deck = deck_of(Recipe("round", "square", 1, 1, 0.0, 142.0, 1))
    nails = NailLine(standing_of(deck))
    (x, y), (u, v) = (
        nails.places(np.array([side]), np.array([along]))[0].tolist()
        for side, along in ((0, 2.0), (1, nails.lengths[1] - 2.0))
    )
    line = Line(
        1, "side-to-side", ("s1",), ((0, 0),), (0, 1), (2.0, nails.lengths[1] - 2), ((x, y), (u, v))
    )
    assert (5, "anchor-spacing") in told([line], deck)


# Wishes.


def test_a_part_that_costs_nothing_is_told_nothing():
    wish = Pairing(run="diagonal-rising", springs=("s4", "s2"))
    ties = ties_of(standing_of(with_tying(grid_deck(), parts=(wish,), diagonals="all")))
    assert ties.breaks == ()


def test_a_part_in_the_middle_of_a_row_is_told():
    wish = Pairing(run="side-to-side", springs=("s4", "s5"))
    ties = ties_of(standing_of(with_tying(grid_deck(), parts=(wish,))))
    assert "part" in kinds(ties)


def test_a_join_listed_backward_is_the_same_join():
    there = Pairing(run="front-to-back", springs=("s4", "s2"))
    back = Pairing(run="front-to-back", springs=("s2", "s4"))
    lines = [
        ties_of(standing_of(with_tying(grid_deck(), joins=(wish,)))).lines for wish in (there, back)
    ]
    assert [ln.springs for ln in lines[0]] == [ln.springs for ln in lines[1]]


def test_springs_joined_by_hand_are_left_to_that_run():
    wish = Pairing(run="front-to-back", springs=("s4", "s2"))
    ties = ties_of(standing_of(with_tying(grid_deck(), joins=(wish,))))
    rising = [ln.springs for ln in ties.lines if ln.run == "diagonal-rising"]
    assert not any("s4" in springs and "s2" in springs for springs in rising)


def test_a_join_that_cannot_be_kept_takes_nothing_from_the_diagonals():
    first = Pairing(run="front-to-back", springs=("s7", "s4"))
    refused = Pairing(run="front-to-back", springs=("s7", "s5"))
    ties = ties_of(standing_of(with_tying(grid_deck(), joins=(first, refused))))
    rising = {ln.springs for ln in ties.lines if ln.run == "diagonal-rising"}
    assert ("s7", "s5", "s3") in rising
    assert [b.springs for b in ties.breaks if b.rule == 9] == [("s7", "s5")]


def test_a_tack_moved_by_hand_makes_the_others_give_way():
    wish = MovedAnchor(run="front-to-back", spring="s2", end="finish", side=0, along=238.0)
    ties = ties_of(standing_of(with_tying(grid_deck(), anchors=(wish,))))
    along = sorted(
        a for ln in ties.lines for a, s in zip(ln.along, ln.sides, strict=True) if s == 0
    )
    assert 238.0 in along
    assert min(b - a for a, b in pairwise(along)) >= 20 - 1e-6


def test_a_tack_moved_to_an_end_that_had_none_is_set():
    frame = straight_frame()
    sides = (replace_struct(frame.sides[0], rail="none"), *frame.sides[1:])
    deck = replace_struct(grid_deck(), frame=replace_struct(frame, sides=sides))
    wish = MovedAnchor(run="front-to-back", spring="s1", end="finish", side=3, along=470.0)
    ties = ties_of(standing_of(with_tying(deck, anchors=(wish,))))
    (line,) = [ln for ln in ties.lines if ln.run == "front-to-back" and "s1" in ln.springs]
    assert line.sides[1] == 3
    assert "moved-anchor" in kinds(ties)


# The order of tying.


def test_with_more_rows_than_columns_the_rows_left_over_come_last():
    lines = [("front-to-back", [(x, 0)]) for x in (0, 1, 2)]
    lines += [("side-to-side", [(0, y)]) for y in range(7)]
    order = tying_order(lines, lambda ln: ln[0], lambda ln: ln[1], "balanced")
    assert [ln[1][0] for ln in order][:6] == [(1, 0), (0, 3), (0, 0), (2, 0), (0, 2), (0, 4)]
    assert [ln[1][0] for ln in order][6:] == [(0, 1), (0, 5), (0, 0), (0, 6)]


# Rails too short for a tack.


def test_a_rail_too_short_for_a_tack_is_passed_by_where_another_can_be_reached():
    """A slip of rail 40 mm long across the corner that the falling diagonal would go to."""
    frame = straight_frame()
    corners = ((28, 0), (500, 0), (500, 500), (0, 500), (0, 28))
    slip = replace_struct(frame.sides[0], bow=0.0)
    deck = replace_struct(
        grid_deck(),
        frame=replace_struct(frame, corners=corners, sides=(*frame.sides, slip)),
    )
    assert NailLine(standing_of(deck)).is_short.tolist() == [False] * 4 + [True]
    ties = ties_of(standing_of(deck))
    assert 4 not in {side for line in ties.lines for side in line.sides}
    assert ties.breaks == ()
