"""The sample decks: each a scenario of its own, each planned without a broken rule."""

import pytest

from spring_layout.deck.files import deck_to_bytes, read_deck
from spring_layout.deck.model import Deck
from spring_layout.plan import make_plan
from spring_layout.resources import sample_decks

FAULTY = "deliberate-faults"
DECKS = {path.name.removesuffix(".deck.json"): read_deck(path) for path in sample_decks()}
SOUND = sorted(DECKS.keys() - {FAULTY})

FAULTS = {
    "GAP-TOUCHING",
    "GAP-UNEVEN",
    "GAP-WIDE",
    "EDGE-RING",
    "EDGE-FOOT",
    "SQUEEZE-SMALL",
    "TIE-BEND",
    "TIES-FEWER",
    "ANCHOR-NONE",
    "KNOT-UNDER-TIE",
    "STITCH-OFF-WEB",
}


def springs_in_rows(deck: Deck) -> list[int]:
    return [len(row) for row in make_plan(deck).parts.rows]


def test_there_is_a_deck_for_every_scenario():
    assert set(DECKS) >= {
        "square-stool",
        "tapered-dining-chair",
        "bow-fronted-easy-chair",
        "round-ottoman",
        "hall-bench",
        "five-spring-chair",
        "notched-armchair",
        "big-settee",
        FAULTY,
    }


@pytest.mark.parametrize("name", SOUND)
def test_a_sound_sample_raises_no_alarm(name):
    findings = make_plan(DECKS[name]).findings
    assert [f.message for f in findings if f.severity != "note"] == []


@pytest.mark.parametrize("name", SOUND)
def test_a_sound_sample_breaks_no_rule_and_its_ties_are_proved(name):
    ties = make_plan(DECKS[name]).parts.ties
    assert ties.breaks == ()
    assert ties.proved
    assert all(anchor is not None for line in ties.lines for anchor in line.anchors)


def test_the_faulty_sample_shows_exactly_its_faults():
    assert {finding.code for finding in make_plan(DECKS[FAULTY]).findings} == FAULTS


@pytest.mark.parametrize("name", DECKS)
def test_a_sample_is_written_as_the_program_writes_it(name):
    path = next(p for p in sample_decks() if p.name == f"{name}.deck.json")
    assert deck_to_bytes(DECKS[name]) == path.read_bytes()


@pytest.mark.parametrize("name", DECKS)
def test_a_sample_tells_its_scenario(name):
    assert len(DECKS[name].note) > 60
    assert DECKS[name].name


def test_samples_differ_in_name_units_and_size():
    assert len({deck.name for deck in DECKS.values()}) == len(DECKS)
    assert {deck.units for deck in DECKS.values()} == {"in", "mm"}
    counts = {len(deck.springs) for deck in DECKS.values()}
    assert min(counts) == 5
    assert max(counts) >= 40


@pytest.mark.parametrize(
    ("name", "rows"),
    [
        ("square-stool", [3, 3, 3]),
        ("tapered-dining-chair", [3, 3, 3]),
        ("bow-fronted-easy-chair", [4, 4, 4, 4]),
        ("round-ottoman", [2, 4, 4, 2]),
        ("hall-bench", [8, 8, 8]),
        ("five-spring-chair", [2, 1, 2]),
        ("notched-armchair", [4, 4, 4, 2]),
        ("big-settee", [12, 12, 12, 12]),
        ("bay-window-seat", [3, 7, 7]),
    ],
)
def test_the_rows_are_those_that_the_maker_set(name, rows):
    assert springs_in_rows(DECKS[name]) == rows
