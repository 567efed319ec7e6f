import json
import subprocess
import sys

import msgspec
from hypothesis import given, settings
from hypothesis import strategies as st

from spring_layout.deck.files import deck_to_bytes, read_deck, write_deck
from spring_layout.deck.model import Limits
from spring_layout.deck.validate import faults
from tests.deck.example import FULL
from tests.deck.strategies import JSON, decks
from tests.decks import grid_deck


def raw_of(deck):
    return json.loads(deck_to_bytes(deck))


@settings(max_examples=60, deadline=None)
@given(decks())
def test_a_deck_that_is_saved_and_read_is_the_same_deck(deck):
    assert faults(deck) == []
    data = deck_to_bytes(deck)
    again = read_deck(data)
    assert again == deck
    assert hash(again) == hash(deck)
    assert deck_to_bytes(again) == data


def test_everything_in_the_full_example_comes_back():
    read = raw_of(read_deck(json.dumps(FULL).encode()))
    # the two values that stand for absent are left out
    expected = json.loads(json.dumps(FULL))
    del expected["coils"][0]["shape"], expected["coils"][0]["ends"]
    assert read == expected


def test_the_contracts_first_example_is_all_that_a_file_needs():
    required = {k: FULL[k] for k in ("format", "version", "name", "frame", "coils", "springs")}
    tying = dict(list(FULL["tying"].items())[:5])
    deck = read_deck(json.dumps(required | {"tying": tying}).encode())
    assert (deck.note, deck.units, deck.spacing.gap, deck.twine.step) == ("", "in", 50.0, 10.0)
    assert deck.spacing.limits == Limits()


def test_empty_limits_and_settings_stand_for_their_defaults():
    empty = {"spacing": {"limits": {}}, "twine": {}, "seat": {}, "webbing": {}}
    deck = read_deck(json.dumps(FULL | empty).encode())
    assert deck.spacing.limits == Limits()
    assert set(raw_of(deck)) == set(FULL) - set(empty)


def test_a_saved_deck_reads_well_one_spring_a_line():
    lines = deck_to_bytes(grid_deck()).decode().splitlines()
    assert '    {"id": "s1", "coil": "seat", "x": 108, "y": 108, "held": false},' in lines
    assert '    "corners": [[0, 0], [500, 0], [500, 500], [0, 500]],' in lines
    assert [line.split(":")[0].strip(' "') for line in lines[1:6]] == [
        "format",
        "version",
        "name",
        "note",
        "units",
    ]


LEVELS = [
    (),
    ("frame",),
    ("frame", "sides", 1),
    ("coils", 0),
    ("springs", 2),
    ("tying",),
    ("tying", "joins", 0),
    ("tying", "parts", 0),
    ("tying", "anchors", 0),
    ("spacing",),
    ("spacing", "limits"),
    ("twine",),
    ("seat",),
    ("webbing",),
    ("stitching",),
    ("work",),
]


def at(raw, path):
    for step in path:
        raw = raw[step]
    return raw


@settings(max_examples=30, deadline=None)
@given(
    st.sampled_from(LEVELS),
    # "extra" is where the model keeps such keys, so a file may use that name as well
    st.dictionaries(st.sampled_from(["extra", "made_by", "2nd", "wächst", ""]), JSON, min_size=1),
)
def test_unknown_keys_are_kept_where_they_stood(path, unknown):
    raw = json.loads(json.dumps(FULL))
    at(raw, path).update(unknown)
    deck = read_deck(json.dumps(raw).encode())
    assert {k: at(raw_of(deck), path)[k] for k in unknown} == unknown
    assert read_deck(deck_to_bytes(deck)) == deck


def test_unknown_keys_outlive_an_edit():
    raw = FULL | {"made_by": {"hand": "left"}}
    deck = msgspec.structs.replace(read_deck(json.dumps(raw).encode()), note="new")
    assert raw_of(deck)["made_by"] == {"hand": "left"}


def test_places_are_snapped_to_the_grid_and_never_negative_zero():
    raw = json.loads(json.dumps(FULL))
    raw["springs"][0]["x"] = 120.0004
    raw["frame"]["corners"][0] = [-0.0, -0.0]
    data = deck_to_bytes(read_deck(json.dumps(raw).encode()))
    assert read_deck(data).springs[0].x == 120.0
    assert b"-0," not in data
    assert b"-0]" not in data


def test_a_deck_is_written_to_its_file_and_read_from_it(tmp_path):
    path = tmp_path / "bench é.deck.json"
    write_deck(grid_deck(), path)
    assert read_deck(path) == grid_deck()
    assert read_deck(str(path)) == grid_deck()


def parts_of(value, raw):
    """Each structure of a deck with what stands for it in the file."""
    if isinstance(value, msgspec.Struct):
        yield value, raw
        for field in value.__struct_fields__:
            yield from parts_of(getattr(value, field), raw.get(field))
    elif isinstance(value, tuple) and value and isinstance(value[0], msgspec.Struct):
        yield from parts_of(value[0], raw[0])


def test_the_full_example_has_every_field_that_a_deck_can_hold():
    for part, raw in parts_of(read_deck(json.dumps(FULL).encode()), FULL):
        # a side's and a spring's own are shown on other ones; the limits are all of one kind
        if type(part).__name__ not in ("Side", "Spring", "Limits"):
            assert set(part.__struct_fields__) - {"extra"} <= set(raw)
        assert "extra" in part.__struct_fields__


def test_reading_a_deck_needs_neither_scipy_nor_qt():
    script = (
        "import sys, spring_layout.deck.files, spring_layout.deck.edits, spring_layout.deck.coils;"
        "spring_layout.deck.files.read_deck(sys.stdin.buffer.read());"
        "print([m for m in sys.modules if m.partition('.')[0] in ('scipy', 'PySide6')])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script],
        input=deck_to_bytes(grid_deck()),
        capture_output=True,
        check=True,
    )
    assert done.stdout.strip() == b"[]"
