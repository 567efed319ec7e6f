"""Whatever stands in a deck file, the program plans it or says in one sentence why not."""

import copy
import io
import json
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spring_layout.cli import main
from spring_layout.deck.files import deck_to_bytes
from spring_layout.resources import sample_decks
from tests.decks import grid_deck

SMALL = ("square-stool", "five-spring-chair", "round-ottoman", "deliberate-faults")
DECKS = [
    json.loads(path.read_bytes())
    for path in sample_decks()
    if path.name.removesuffix(".deck.json") in SMALL
]

ODD = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-1, 3),
    st.sampled_from([-1e308, -20001, -0.0, 1e-9, 0.4, 3.7, 250, 499.999, 20000, 1e308]),
    st.floats(-800, 800),
    st.sampled_from(["", "s1", "back", "none", "all", "clove", "mm", "\x00", "💺", "a" * 50]),
    st.just([]),
    st.just({}),
    st.just([[0, 0], [1, 1]]),
)


def places_in(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The path to every value inside ``value``, itself left out."""
    inside = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    found = []
    for key, item in inside:
        found += [(*path, key), *places_in(item, (*path, key))]
    return found


@st.composite
def spoilt_decks(draw: st.DrawFn) -> bytes:
    """A sample deck with up to three values replaced or taken out."""
    deck = copy.deepcopy(draw(st.sampled_from(DECKS)))
    for _ in range(draw(st.integers(1, 3))):
        path = draw(st.sampled_from(places_in(deck)))
        holder = at(deck, path[:-1])
        if draw(st.integers(0, 3)):
            holder[path[-1]] = copy.deepcopy(draw(ODD))
        elif isinstance(holder, dict):
            del holder[path[-1]]
    return json.dumps(deck).encode("utf-8", "surrogatepass")


@st.composite
def stretched_decks(draw: st.DrawFn) -> bytes:
    """A sample deck with a few of its numbers made larger or smaller: mostly usable, if odd."""
    deck = copy.deepcopy(draw(st.sampled_from(DECKS)))
    numbers = [p for p in places_in(deck) if p[-1] != "version" and is_number(deck, p)]
    for path in draw(st.lists(st.sampled_from(numbers), min_size=1, max_size=6)):
        holder = at(deck, path[:-1])
        holder[path[-1]] = holder[path[-1]] * draw(st.floats(0.3, 2.5)) + draw(st.floats(0, 5))
    return json.dumps(deck).encode()


def at(value: Any, path: tuple[Any, ...]) -> Any:
    for key in path:
        value = value[key]
    return value


def is_number(deck: Any, path: tuple[Any, ...]) -> bool:
    value = at(deck, path)
    return isinstance(value, int | float) and not isinstance(value, bool)


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    return tmp_path_factory.mktemp("fuzz") / "spoilt.deck.json"


def planned_or_refused(file: Path, data: bytes) -> int:
    """Plan the deck file ``data``: a report, or one sentence; gives the exit status."""
    file.write_bytes(data)
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        status = main(["plan", str(file)])
    assert "fault of the program" not in err.getvalue()
    if status == 2:
        assert out.getvalue() == ""
        assert err.getvalue().startswith(f"spring-layout: {file}: ")
        assert err.getvalue().count("\n") == 1
    else:
        assert err.getvalue() == ""
        assert "CHECKS" in out.getvalue()
    return status


@settings(max_examples=100)
@given(data=spoilt_decks())
def test_a_spoilt_deck_is_planned_or_refused_in_one_sentence(file, data):
    assert planned_or_refused(file, data) in (0, 1, 2)


@settings(max_examples=25)
@given(data=stretched_decks())
def test_an_odd_deck_is_planned_or_refused_in_one_sentence(file, data):
    assert planned_or_refused(file, data) in (0, 1, 2)


@pytest.mark.larger
@settings(max_examples=200)
@given(data=stretched_decks())
def test_many_odd_decks_are_planned_or_refused_in_one_sentence(file, data):
    assert planned_or_refused(file, data) in (0, 1, 2)


@given(data=st.binary(max_size=200))
def test_any_bytes_are_refused_in_one_sentence(file, data):
    assert planned_or_refused(file, data) == 2


@given(cut=st.integers(0, 2000))
def test_a_truncated_deck_is_refused(file, cut):
    whole = deck_to_bytes(grid_deck())
    assert planned_or_refused(file, whole[: min(cut, len(whole) - 3)]) == 2
