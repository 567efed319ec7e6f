"""Ties whose number and order can be counted on paper."""

from itertools import pairwise

import pytest

from spring_layout.deck.model import Deck, Diagonals, Run
from spring_layout.planning.parts import Line, Ties
from spring_layout.planning.standing import standing_of
from spring_layout.planning.tying import ties_of
from tests.decks import grid_deck
from tests.random_decks import replace_struct

SIZES = [(2, 2), (2, 3), (3, 2), (3, 3), (3, 4), (4, 4), (3, 8), (5, 6), (6, 10)]
DIAGONALS: tuple[Run, Run] = ("diagonal-rising", "diagonal-falling")


def tied(deck: Deck, **tying: object) -> Ties:
    return ties_of(standing_of(replace_struct(deck, tying=replace_struct(deck.tying, **tying))))


def of_run(ties: Ties, run: Run) -> list[Line]:
    return [line for line in ties.lines if line.run == run]


@pytest.mark.parametrize(("rows", "columns"), SIZES)
def test_straight_lines_follow_the_rows_and_columns(rows: int, columns: int) -> None:
    ties = tied(grid_deck(rows, columns))
    wanted_columns = {
        tuple(f"s{row * columns + c + 1}" for row in reversed(range(rows))) for c in range(columns)
    }
    wanted_rows = {
        tuple(f"s{r * columns + column + 1}" for column in range(columns)) for r in range(rows)
    }
    assert {line.springs for line in of_run(ties, "front-to-back")} == wanted_columns
    assert {line.springs for line in of_run(ties, "side-to-side")} == wanted_rows
    assert len(of_run(ties, "front-to-back")) == columns
    assert len(of_run(ties, "side-to-side")) == rows


@pytest.mark.parametrize(("rows", "columns"), SIZES)
@pytest.mark.parametrize("run", DIAGONALS)
def test_diagonals_are_counted_by_rows_and_columns(run: Run, rows: int, columns: int) -> None:
    """r + c - 1 each way, two of them over one corner spring (geometry)."""
    with_singles = of_run(tied(grid_deck(rows, columns), diagonals="all"), run)
    without = of_run(tied(grid_deck(rows, columns), diagonals="two-or-more"), run)
    assert len(with_singles) == rows + columns - 1
    assert len(without) == rows + columns - 3
    assert sum(len(line.springs) == 1 for line in with_singles) == 2


@pytest.mark.parametrize("run", DIAGONALS)
def test_diagonals_step_one_row_and_one_column(run: Run) -> None:
    step = -142 if run == "diagonal-rising" else 142
    for line in of_run(tied(grid_deck(4, 5)), run):
        for (ax, ay), (bx, by) in pairwise(line.centres):
            assert (bx - ax, by - ay) == (142, step)


@pytest.mark.parametrize("run", DIAGONALS)
def test_a_single_row_has_no_diagonals_of_two(run: Run) -> None:
    assert of_run(tied(grid_deck(1, 5), diagonals="two-or-more"), run) == []
    assert len(of_run(tied(grid_deck(1, 5), diagonals="all"), run)) == 5


@pytest.mark.parametrize("diagonals", ["two-or-more", "all"])
@pytest.mark.parametrize(("rows", "columns"), SIZES)
def test_even_rows_break_no_rule(rows: int, columns: int, diagonals: Diagonals) -> None:
    ties = tied(grid_deck(rows, columns), diagonals=diagonals)
    assert ties.breaks == ()
    assert ties.proved


def names(ties: Ties) -> list[str]:
    """Lines as f1 (left), s1 (back), r1 ... (from the back left), d1 ... (from the front left)."""
    places = {
        "front-to-back": ("f", lambda c: c[0]),
        "side-to-side": ("s", lambda c: c[1]),
        "diagonal-rising": ("r", lambda c: c[0] + c[1]),
        "diagonal-falling": ("d", lambda c: c[0] - c[1]),
    }
    letters = {}
    for run, (letter, place) in places.items():
        row = sorted(of_run(ties, run), key=lambda line, place=place: place(line.centres[0]))
        letters |= {line.number: f"{letter}{i + 1}" for i, line in enumerate(row)}
    return [letters[line.number] for line in ties.lines]


def test_the_square_nine_are_tied_from_the_middle_each_way_by_turns() -> None:
    """Common practice, no source: follow each direction with its opposite."""
    order = names(tied(grid_deck(3, 3)))
    assert order[:8] == ["f2", "s2", "f1", "f3", "s1", "s3", "r2", "d2"]
    assert order[8:] == ["r1", "r3", "d1", "d3"]


def test_the_square_nine_tied_direction_by_direction() -> None:
    order = names(tied(grid_deck(3, 3), order="by-direction"))
    assert order[:8] == ["f2", "f1", "f3", "s2", "s1", "s3", "r2", "d2"]


def test_with_two_middles_the_left_and_the_back_come_first() -> None:
    order = names(tied(grid_deck(4, 4), diagonals="none"))
    assert order.index("f2") < order.index("f3") < order.index("f1") < order.index("f4")
    assert order.index("s2") < order.index("s3") < order.index("s1") < order.index("s4")
    assert order[0] == "f2"


def test_short_corner_ties_off_leaves_the_other_lines_alone() -> None:
    full = tied(grid_deck(4, 5), diagonals="all").lines
    short = tied(grid_deck(4, 5), diagonals="two-or-more").lines
    kept = {(ln.run, ln.springs) for ln in full if len(ln.springs) > 1}
    assert {(ln.run, ln.springs) for ln in short} == kept


@pytest.mark.parametrize("run", ["front_to_back", "side_to_side"])
def test_a_run_that_is_off_has_no_lines(run: str) -> None:
    ties = tied(grid_deck(3, 3), **{run: False})
    assert of_run(ties, run.replace("_", "-")) == []
    assert len(ties.lines) == 9
