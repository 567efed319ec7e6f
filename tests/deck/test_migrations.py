"""Older versions are lifted by steps; two made-up older versions show the mechanism."""

import json

import pytest

from spring_layout.deck import migrations
from spring_layout.deck.files import DeckFileError, deck_to_bytes, read_deck
from spring_layout.deck.migrations import FORMAT, lifted
from tests.deck.example import FULL


def inches_to_mm(raw):
    """From the made-up version 1, whose rails were in inches."""
    frame = raw["frame"]
    return raw | {"frame": frame | {"rail_width": frame["rail_width"] * 25.4}}


def title_to_name(raw):
    """From the made-up version 2, which called the name a title."""
    rest = {key: value for key, value in raw.items() if key != "title"}
    return rest | {"name": raw["title"]}


STEPS = {1: inches_to_mm, 2: title_to_name}


def old_file(version):
    raw = FULL | {"version": version, "title": "Old stool"}
    raw["frame"] = FULL["frame"] | {"rail_width": 2 if version == 1 else 50.8}
    return {key: value for key, value in raw.items() if key != "name"}


@pytest.mark.parametrize("version", [1, 2])
def test_a_file_is_lifted_through_every_step_after_its_version(version):
    raw = lifted(old_file(version), STEPS, 3)
    assert (raw["version"], raw["name"], "title" in raw) == (3, "Old stool", False)
    assert raw["frame"]["rail_width"] == 50.8


def test_the_newest_version_passes_as_it_is():
    assert lifted(FULL | {"version": 3}, STEPS, 3) == FULL | {"version": 3}


def test_the_reader_takes_an_old_file_through_the_steps(monkeypatch):
    monkeypatch.setattr(migrations.lifted, "__defaults__", (STEPS, 3))
    deck = read_deck(json.dumps(old_file(1)).encode())
    assert (deck.name, deck.frame.rail_width) == ("Old stool", 50.8)


def test_a_file_broken_for_its_own_version_is_told():
    with pytest.raises(DeckFileError, match="broken for its version 2"):
        lifted({"format": FORMAT, "version": 2}, STEPS, 3)


def test_there_is_a_step_from_every_older_version():
    assert set(migrations.STEPS) == set(range(1, migrations.VERSION))


def test_saving_writes_the_newest_version():
    deck = read_deck(json.dumps(FULL).encode())
    assert json.loads(deck_to_bytes(deck))["version"] == migrations.VERSION
