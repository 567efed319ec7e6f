"""What springs are called: rows from the back, springs from the left."""

import msgspec
import pytest

from spring_layout.deck.model import Deck, Pairing
from spring_layout.plan import make_plan
from spring_layout.planning.labels import labels_of, row_letters, rows_of
from spring_layout.planning.standing import standing_of
from tests.decks import grid_deck

replace = msgspec.structs.replace

PLAIN = {f"s{i + 1}": f"{'ABC'[i // 3]}{i % 3 + 1}" for i in range(9)}


def labels(deck: Deck) -> dict[str, str]:
    return dict(labels_of(rows_of(standing_of(deck))))


def tied(deck: Deck, **changes: object) -> Deck:
    return replace(deck, tying=replace(deck.tying, **changes))


def joined(*pairs: tuple[str, str], run: str = "side-to-side") -> Deck:
    return tied(grid_deck(), joins=tuple(Pairing(run=run, springs=pair) for pair in pairs))


def test_rows_are_lettered_from_the_back_and_springs_numbered_from_the_left():
    assert labels(grid_deck()) == PLAIN


def test_springs_are_called_the_same_when_no_ties_run_side_to_side():
    assert labels(tied(grid_deck(), side_to_side=False)) == PLAIN


def test_a_deck_without_springs_has_no_rows():
    assert rows_of(standing_of(replace(grid_deck(), springs=()))) == ()


def test_springs_joined_along_a_column_keep_the_labels_of_their_rows():
    deck = joined(("s4", "s1"))
    plan = make_plan(deck)
    assert any({"s4", "s1"} <= set(line.springs) for line in plan.parts.ties.lines)
    assert dict(plan.parts.labels) == PLAIN


def test_joins_of_other_runs_leave_the_labels_alone():
    assert labels(joined(("s4", "s2"), run="front-to-back")) == PLAIN


def test_springs_joined_across_the_rows_are_one_row_with_them():
    """A2 to B3 lies just under 45 degrees out of the row where the columns are wider apart."""
    springs = tuple(replace(spring, x=spring.x * 1.4) for spring in grid_deck().springs)
    corners = tuple((1.4 * x, y) for x, y in grid_deck().frame.corners)
    deck = joined(("s2", "s6"))
    deck = replace(deck, springs=springs, frame=replace(deck.frame, corners=corners))
    rows = rows_of(standing_of(deck))
    assert any(row[i : i + 2] == ("s2", "s6") for row in rows for i in range(len(row)))


def test_a_parting_parts_the_row():
    part = Pairing(run="side-to-side", springs=("s4", "s5"))
    found = labels(tied(grid_deck(), parts=(part,)))
    assert (found["s4"], found["s5"], found["s6"]) == ("B1", "C1", "C2")


@pytest.mark.parametrize(
    ("number", "letters"), [(0, "A"), (25, "Z"), (26, "AA"), (51, "AZ"), (52, "BA"), (702, "AAA")]
)
def test_rows_beyond_the_alphabet_have_two_letters_and_more(number, letters):
    assert row_letters(number) == letters
