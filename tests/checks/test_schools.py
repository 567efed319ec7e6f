"""A sound deck of any school raises no alarm, and findings come in a settled order."""

import msgspec
import pytest

from spring_layout.checks import CODES
from spring_layout.deck.model import Deck
from spring_layout.plan import make_plan
from tests.checks.made import coiled, framed, moved, tied, told, turned, wished
from tests.decks import grid_deck

EXPECTED_NOTES = {"TIES-FEWER", "KNOT-TURN"}


def school(gap: float, clearance: float, ring: float = 92, **tying: object) -> Deck:
    """Nine springs of ``ring`` mm, set and wished with that gap and distance from the rails."""
    deck = grid_deck(pitch=ring + gap, margin=ring / 2 + clearance)
    deck = coiled(deck, top_diameter=ring, foot_diameter=ring, waist_diameter=ring * 0.65)
    return tied(wished(deck, gap=gap, clearance=clearance), **tying)


SCHOOLS: dict[str, Deck] = {
    "2 in apart (British handbook, 1961)": school(50.8, 40),
    "almost touching (French workshops)": school(10, 25),
    "almost touching, small rings": school(12, 20, ring=70),
    "3 in apart": school(75, 40),
    "3 in from the outer face (Johnson 1919)": school(50, 75 - 45),
    "7 1/2 in centres (Amateur Work)": school(190.5 - 100, 50, ring=100),
    "dense, 150 square cm (Dziegielewski)": school(40, 30, ring=82),
    "no diagonals": school(50, 40, diagonals="none"),
    "all diagonals": school(50, 40, diagonals="all"),
    "each direction in turn": school(50, 40, order="by-direction"),
    "crowned": school(50, 40, tied_height=100, crown=15),
    "falling to the back": school(50, 40, tied_height_back=100),
    "6 in to 4 1/2 in (19th-century British)": tied(
        coiled(school(50, 40), free_height=152.4), tied_height=114.3
    ),
    "four thirds of the tied height (French formula)": tied(
        framed(coiled(school(50, 40), free_height=166.7), rail_top=95), tied_height=125
    ),
    "tied down by 3 in": tied(coiled(school(50, 40), free_height=203), tied_height=128),
    "tied down by 1 1/2 in": tied(coiled(school(50, 40), free_height=152.4), tied_height=114),
    "wire knots turned clear": turned(school(50, 40), 22),
    "low rails": framed(school(50, 40), rail_top=20),
    "wide rails": framed(school(50, 40), rail_width=75),
}


@pytest.mark.parametrize("name", SCHOOLS)
def test_a_sound_deck_raises_no_alarm(name):
    found = told(SCHOOLS[name])
    assert [f.message for code in found.keys() - EXPECTED_NOTES for f in found[code]] == []


@pytest.mark.parametrize("name", SCHOOLS)
def test_a_sound_deck_with_the_usual_wishes_raises_notes_at_most(name):
    deck = SCHOOLS[name]
    findings = make_plan(msgspec.structs.replace(deck, spacing=type(deck.spacing)())).findings
    assert {finding.severity for finding in findings} <= {"note"}


def test_the_worst_comes_first_and_the_same_every_time():
    deck = tied(moved(grid_deck(), s5=(196, 250), s1=(40, 108)), tied_height=140)
    findings = make_plan(deck).findings
    rank = [("wrong", "doubtful", "note").index(f.severity) for f in findings]
    assert rank == sorted(rank)
    assert len(set(rank)) == 3
    assert findings == make_plan(deck).findings


def test_a_deck_without_springs_has_nothing_to_tell():
    assert make_plan(msgspec.structs.replace(grid_deck(), springs=())).findings == ()


def test_lengths_are_told_in_the_decks_own_units():
    deck = moved(grid_deck(), s5=(208, 250))
    assert "5/16 in apart" in told(deck)["GAP-SMALL"][0].message
    metric = msgspec.structs.replace(deck, units="mm")
    assert "8 mm apart" in told(metric)["GAP-SMALL"][0].message


def test_every_code_says_what_it_tells():
    assert all(words for _, words in CODES.values())
    assert {severity for severity, _ in CODES.values()} == {"wrong", "doubtful", "note"}
