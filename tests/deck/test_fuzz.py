"""Whatever is in a file, the reader gives a sound deck or one sentence; never anything else."""

import copy
import json

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from spring_layout.deck.files import DeckFileError, deck_to_bytes, read_deck
from spring_layout.deck.validate import faults
from tests.deck.example import FULL, paths

WHOLE = json.dumps(FULL).encode()
ODD_NUMBERS = st.sampled_from(
    [0, -1, 1, 2, 3, 1e-9, -0.0, 1e308, 5e-324, 10**30, 10**400, float("nan"), float("inf")]
)
ANYTHING = st.recursive(
    ODD_NUMBERS | st.integers() | st.floats() | st.booleans() | st.none() | st.text(max_size=10),
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=5), inner, max_size=4)
    ),
    max_leaves=10,
)
NEAR = st.floats(-600, 600) | st.integers(-50, 600)


def read_or_refuse(data):
    """The laws of the reader for any bytes."""
    try:
        deck = read_deck(data)
    except DeckFileError as error:
        refused = str(error)
    else:
        refused = ""
    if refused:
        assert refused.endswith(".")
        assert len(refused.splitlines()) == 1
        assert refused.encode()
        return None
    assert faults(deck) == []
    assert read_deck(deck_to_bytes(deck)) == deck
    return deck


@st.composite
def spoiled_files(draw):
    """The full example with up to four things changed, taken away, doubled or moved."""
    raw = copy.deepcopy(FULL)
    for _ in range(draw(st.integers(1, 4))):
        path = draw(st.sampled_from([p for p in paths(raw) if p[0] not in ("format", "version")]))
        holder = raw
        for step in path[:-1]:
            holder = holder[step]
        change = draw(st.sampled_from(["other", "gone", "near", "elsewhere", "twice"]))
        if change == "gone" or path[-1] not in (
            holder if isinstance(holder, dict) else range(len(holder))
        ):
            del holder[path[-1]]
        elif change == "twice" and isinstance(holder, list):
            holder.append(copy.deepcopy(holder[path[-1]]))
        elif change == "elsewhere":
            holder[path[-1]] = copy.deepcopy(
                draw(st.sampled_from([raw["springs"], raw.get("frame"), raw.get("name")]))
                if "springs" in raw
                else 0
            )
        else:
            holder[path[-1]] = draw(NEAR if change == "near" else ANYTHING)
    return json.dumps(raw, ensure_ascii=draw(st.booleans())).encode("utf-8", "replace")


@settings(max_examples=250, deadline=None)
@given(spoiled_files())
def test_a_spoiled_file_is_a_sound_deck_or_one_sentence(data):
    read_or_refuse(data)


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=200))
@example(b'{"\\ud800": 1}')
@example(b'{"a\\n\\u2028": NaN}')
def test_any_bytes_are_a_sound_deck_or_one_sentence(data):
    read_or_refuse(data)


@settings(max_examples=80, deadline=None)
@given(st.integers(0, len(WHOLE) - 1), st.integers(0, 12), st.binary(max_size=12))
def test_a_file_with_some_bytes_replaced_is_a_sound_deck_or_one_sentence(start, count, other):
    read_or_refuse(WHOLE[:start] + other + WHOLE[start + count :])


CORNERS = st.lists(st.tuples(st.integers(-60, 600), st.integers(-60, 600)), min_size=0, max_size=7)


@settings(max_examples=120, deadline=None)
@given(
    CORNERS,
    st.lists(st.sampled_from([0, 0, 0, 5, -5, 60, -200, 1e-3, 300]), min_size=7, max_size=7),
)
def test_any_outline_is_an_opening_or_one_sentence(corners, bows):
    sides = [{"rail": "front", "bow": bow} for bow in bows[: len(corners)]]
    frame = FULL["frame"] | {"corners": corners, "sides": sides}
    raw = FULL | {
        "frame": frame,
        "springs": [],
        "tying": dict(list(FULL["tying"].items())[:5]),
    }
    read_or_refuse(json.dumps(raw).encode())


@pytest.mark.larger
@settings(max_examples=1500, deadline=None)
@given(spoiled_files())
def test_many_spoiled_files_are_sound_decks_or_one_sentence(data):
    read_or_refuse(data)


def test_a_list_written_as_an_object_is_refused_in_one_sentence():
    read_or_refuse(
        b'{"format": "spring-layout-deck", "version": 1, "springs": {"A": {"x": 1e999}}}'
    )
