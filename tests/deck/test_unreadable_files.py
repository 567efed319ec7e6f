"""Files that are no deck file, broken, of another version or not to be had: one sentence each."""

import json

import pytest

from spring_layout.deck.files import read_deck
from tests.deck.example import FULL, spoiled
from tests.deck.refusing import refusal


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "empty"),
        (b" \n\t", "empty"),
        (b"\xef\xbb\xbf", "empty"),
        (b"\xff\xfe{\x00}\x00", "not text in UTF-8"),
        (b'{"name": "caf\xe9"}', "not text in UTF-8 (byte 14)"),
        (b"PK\x03\x04", "not JSON"),
        (b"{'format': 1}", "not JSON at line 1, column 2"),
        (b"[1, 2]", "one object in braces"),
        (b"null", "one object in braces"),
        (b"7", "one object in braces"),
        (b"{}", "no format"),
        (b'{"format": "another-program"}', "not a deck file"),
        (b'{"format": ["spring-layout-deck"]}', "not a deck file"),
        (b'{"format": "spring-layout-deck"}', "no version"),
        (b"[" * 100_000, "nested more than"),
        (b'{"a":' * 100_000, "nested more than"),
        (b'{"n": ' + b"1" * 5_000 + b"}", "thousands of digits"),
        (b" " * 8_000_001, "larger than 8 MB"),
    ],
)
def test_what_is_no_deck_file_at_all_is_told(data, says):
    error = refusal(data)
    assert error.place in ("$", "$.format")
    assert says in error.message


@pytest.mark.parametrize(
    ("version", "says"),
    [
        (2, "version 2, and this program reads up to 1; use a newer program"),
        (10**400, "use a newer program"),
        (0, "must be the whole number 1; put it right"),
        (-1, "must be the whole number 1; put it right"),
        (True, "must be the whole number 1; put it right"),
        (1.0, "must be the whole number 1; put it right"),
        ("1", "must be the whole number 1; put it right"),
        (None, "must be the whole number 1; put it right"),
    ],
)
def test_a_version_that_cannot_be_read_is_told(version, says):
    error = refusal(spoiled(("version",), version))
    assert (error.place, says in error.message) == ("$.version", True)


def test_a_file_cut_off_anywhere_is_told():
    whole = json.dumps(FULL).encode()
    for end in range(0, len(whole), 37):
        refusal(whole[:end])


def test_a_file_that_breaks_off_says_so():
    assert "breaks off" in refusal(json.dumps(FULL)[:-1].encode()).message


def test_a_byte_order_mark_is_no_fault():
    data = json.dumps(FULL).encode()
    assert read_deck(b"\xef\xbb\xbf" + data) == read_deck(data)


def test_a_key_that_stands_twice_is_told_wherever_it_is():
    data = json.dumps(FULL)
    twice = data.replace('"held": true', '"held": true, "held": false')
    error = refusal(twice.encode())
    assert (error.place, "“held” stands twice" in error.message) == ("$.springs[1]", True)
    assert refusal((data[:-1] + ', "mine": {"a": 1, "a": 2}}').encode()).place == "$.mine"


def test_unknown_keys_are_not_let_in_with_what_cannot_be_written_back():
    error = refusal(spoiled(("my\nkey",), "the place").replace(b'"the place"', b"NaN"))
    assert error.place == '$["my\\nkey"]'
    assert "nested more than" in refusal(spoiled(("deep",), nested(50))).message
    assert refusal(spoiled(("frame", "mine"), "\ud800")).place == "$.frame.mine"
    assert "half a character" in refusal(spoiled(("frame", "\ud800"), 1)).message


def nested(depth):
    return [nested(depth - 1)] if depth else []


def test_a_missing_file_a_folder_and_an_impossible_name_are_told(tmp_path):
    assert "does not exist" in refusal(tmp_path / "gone.deck.json").message
    assert "is a folder" in refusal(tmp_path).message
    assert "name cannot be used" in refusal("null\0byte").message
    assert "too long" in refusal(tmp_path / ("n" * 300)).message
    (tmp_path / "file").write_bytes(b"")
    assert "not a folder" in refusal(tmp_path / "file" / "deck").message
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    assert "in a circle" in refusal(tmp_path / "loop").message


def test_a_file_that_may_not_be_read_is_told(tmp_path, monkeypatch):
    def locked(*_):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("pathlib.Path.open", locked)
    assert "permission is missing" in refusal(tmp_path / "locked.deck.json").message


def test_a_number_that_is_not_finite_names_its_spring_as_other_faults_do():
    error = refusal(spoiled(("springs", 1, "x"), "the place").replace(b'"the place"', b"NaN"))
    assert error.message == "Spring s2: x is not a finite number; give a plain number."
