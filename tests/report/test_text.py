"""The readable report says what somebody at the bench needs, in the deck's units."""

import re

import msgspec
import pytest

from spring_layout.checks.tie_words import twine_total
from spring_layout.deck.files import read_deck
from spring_layout.deck.model import Side, Twine
from spring_layout.plan import make_plan
from spring_layout.report.tables import WIDTH
from spring_layout.report.text import plan_to_text
from spring_layout.resources import sample_decks
from tests.checks.made import framed, moved, tied, turned, with_
from tests.decks import grid_deck, straight_frame


def report(deck):
    return plan_to_text(make_plan(deck))


def block(text, number):
    """The lines about one tie, joined."""
    ties = text.split(", in the order of tying")[1].split("CUT LIST")[0]
    blocks = [" ".join(part.split()) for part in ties.split("\n\n")[1:]]
    return next(part for part in blocks if part.startswith(f"{number} "))


def test_it_begins_with_the_decks_name_and_note():
    deck = with_(grid_deck(), name="  Ticket   hall stool ", note="One of six.")
    lines = report(deck).splitlines()
    assert lines[:4] == ["Ticket hall stool", "=================", "", "One of six."]


def test_a_deck_without_a_name_gets_a_heading():
    assert report(with_(grid_deck(), name="")).startswith("Seat deck without a name\n====")


def test_the_numbers_that_matter():
    text = report(grid_deck())
    assert "9 springs, 12 ties, 13 cross knots." in text
    assert "Tied to 4 1/2 in; free height 6 in, tied down by 24%." in text
    assert "Spring twine: 12 pieces, " in text


def test_a_fall_to_the_back_and_a_crown_are_told():
    text = report(tied(grid_deck(), tied_height_back=101.6, crown=12.7))
    assert "Tied to 4 1/2 in at the front, 4 in at the back, 1/2 in more in the middle;" in text


def test_the_table_of_springs_has_a_row_for_each():
    text = report(grid_deck())
    row = next(line for line in text.splitlines() if line.startswith("B1"))
    assert row.split() == [
        *("B1", "left", "5", "5/8", "9", "7/8", "2", "A1", "2", "1/2", "left"),
        *("4", "1/2", "24%", "8"),
    ]


def test_a_metric_deck_is_told_in_millimetres():
    text = report(with_(grid_deck(), units="mm"))
    row = next(line for line in text.splitlines() if line.startswith("B1"))
    assert row.split() == [
        *("B1", "left", "142", "250", "50", "A1", "62", "left", "115", "24%", "8")
    ]
    assert " in left of" not in text
    assert "square cm" in text


def test_a_gap_of_less_than_nothing_is_explained():
    said = "Less than 0: the coil overlaps the other"
    assert said in " ".join(report(moved(grid_deck(), s5=(196, 250))).split())
    assert said not in " ".join(report(grid_deck()).split())


def test_a_lone_spring_has_no_gap():
    row = next(line for line in report(grid_deck(1, 1)).splitlines() if line.startswith("A1"))
    assert row.split()[1:5] == ["0", "4", "1/4", "-"]


def test_a_tie_tells_its_way_its_piece_and_where_it_is_tacked():
    tie = block(report(grid_deck()), 3)
    assert tie.startswith("3 Front to back, over C1, B1 and A1. Cut ")
    assert "From the front rail, 5 5/8 in left of centre, leaving 9 " in tie
    assert "9 in beyond the tack for the return tie, to the back rail, 5 5/8 in left" in tie


def test_a_tie_in_the_middle_is_tacked_at_the_centre_marks():
    no_returns = with_(grid_deck(), twine=Twine(return_tie=False))
    tie = block(report(no_returns), 1)
    assert "From the centre of the front rail to the centre of the back rail." in tie


def test_side_rails_are_measured_behind_and_forward_of_their_centre():
    tie = block(report(grid_deck()), 5)
    assert "From the left rail, 5 5/8 in behind centre, leaving" in tie
    assert "to the right rail, 5 5/8 in behind" in tie
    assert "5 5/8 in forward of centre" in block(report(grid_deck()), 6)


def test_cross_knots_stand_with_the_tie_that_makes_them_in_its_direction():
    tie = block(report(grid_deck()), 8)
    assert "Knot to 3 and 5 over A1; to 1, 2 and 7 over B2; to 4 and 6 over C3." in tie


def test_open_cross_knots_say_between_which_springs():
    assert "Knot to 8 between B1 and A2" in block(report(grid_deck()), 9)


def test_knots_on_one_stretch_are_told_together_in_their_order():
    notched = next(path for path in sample_decks() if path.name.startswith("notched"))
    tie = block(report(read_deck(notched)), 9)
    assert "Knot to 8, then to 5 between the left rail and C2; to 6 and 7 over A4." in tie


def test_a_knot_beyond_the_last_spring_lies_between_it_and_the_rail():
    ottoman = next(path for path in sample_decks() if path.name.startswith("round"))
    tie = block(report(read_deck(ottoman)), 14)
    assert "Knot to 5 and 7 between the back rail and B2;" in tie
    assert "to 6 and 8 between C3 and the front rail." in tie


def test_a_tie_that_meets_no_rail_says_where_it_ends():
    sides = list(straight_frame().sides)
    sides[2] = Side(rail="none", bow=0)
    tie = block(report(framed(grid_deck(), sides=tuple(sides))), 1)
    assert "From C2, where it ends without a rail, to the centre of the back rail." in tie


def test_a_deck_without_any_rail_is_still_told():
    sides = tuple(Side(rail="none", bow=0) for _ in range(4))
    deck = tied(framed(grid_deck(1, 2), sides=sides), diagonals="all")
    text = report(deck)
    assert "ends without a rail" in block(text, 1)
    assert "over A1" in text


def test_the_cut_list_counts_pieces_of_one_length():
    cut = report(grid_deck()).split("CUT LIST")[1].split("MATERIALS")[0]
    rows = [line.split() for line in cut.splitlines() if line.strip()]
    assert sum(int(row[0]) for row in rows) == 12
    assert {row[1] for row in rows} == {"of"}


def test_findings_stand_worst_first_with_their_mend_and_code():
    text = report(moved(grid_deck(), s5=(196, 250)))
    checks = text.split("CHECKS")[1]
    assert checks.index("Wrong: B1 and B2 overlap by 1/8 in.") < checks.index("Doubtful:")
    assert "[GAP-TOUCHING]" in checks


def test_a_deck_with_nothing_to_tell_says_so():
    deck = tied(turned(grid_deck(), 22), diagonals="all")
    assert "CHECKS\n\nNothing to tell.\n" in report(deck)


def test_a_deck_without_springs_is_told_briefly():
    text = report(msgspec.structs.replace(grid_deck(), springs=()))
    assert "The deck has no springs yet." in text
    assert "TIES" not in text


def test_it_ends_with_the_cautions():
    text = report(grid_deck())
    assert "Protect your eyes" in text.split("CAUTIONS")[1]
    assert "Local codes and a qualified upholsterer come first." in " ".join(text.split())


@pytest.mark.parametrize("path", sample_decks(), ids=lambda path: path.name)
def test_no_line_is_longer_than_a_page(path):
    lines = report(read_deck(path)).splitlines()
    assert max(len(line) for line in lines) <= WIDTH
    assert all(line == line.rstrip() for line in lines)


@pytest.mark.parametrize("path", sample_decks(), ids=lambda path: path.name)
def test_no_line_ends_within_a_length(path):
    text = report(read_deck(path))
    broken = re.compile(r"(\d\n\s+\d+/\d)|(\d\n\s+(in|mm|ft|m)\b)")
    assert not broken.search(text.split("SPRINGS, in")[1].split("\n\n", 2)[2])
    assert not re.search(r"\w-\n", text)
    assert "\u00a0" not in text  # an ordinary space, which every terminal shows


def test_twine_is_bought_in_whole_feet_or_tenths_of_a_metre():
    deck = grid_deck()
    assert twine_total(deck, 3000) == "10 ft"
    assert twine_total(with_(deck, units="mm"), 3010) == "3.1 m"


def test_a_crown_that_no_spring_takes_is_not_told_as_height():
    text = report(tied(grid_deck(2, 3), crown=12.7))
    assert "more in the middle" not in text
    assert "Tied to 4 1/2 in; free height" in text
