"""Every way in which what a deck file says can be unusable: one sentence, the place, the mend."""

import json
from typing import get_args

import msgspec
import pytest

from spring_layout.deck.files import read_deck
from spring_layout.deck.model import Deck
from spring_layout.deck.ranges import MOST_SIDES, MOST_SPRINGS
from tests.deck.example import (
    FULL,
    REQUIRED,
    json_path,
    paths,
    spoiled,
    value_at,
    without,
)
from tests.deck.refusing import refusal


def test_the_example_itself_is_read():
    assert read_deck(json.dumps(FULL).encode()).name == "Tollhouse settle"


@pytest.mark.parametrize("path", REQUIRED, ids=json_path)
def test_a_required_field_that_is_missing_is_named_with_its_place(path):
    error = refusal(without(path))
    assert error.place == json_path(path[:-1])
    assert str(path[-1]) in error.message


OPTIONAL = [
    p for p in paths() if p not in REQUIRED and isinstance(p[-1], str) and p[0] != "version"
]


@pytest.mark.parametrize("path", OPTIONAL, ids=json_path)
def test_every_other_field_can_be_left_out(path):
    assert read_deck(without(path))


WRONG = {
    str: [5, True, None, [], {}],
    bool: [1, "true", None, [], {}],
    int: ["5", True, None, [], {}],
    float: ["5", True, None, [], {}],
    list: [5, "five", True, None, {}],
    dict: [5, "five", True, None, []],
}


def may_be_null(path):
    """Whether the model has null for "not decided" there."""
    kind = Deck
    for step in path:
        if isinstance(step, int):
            kind = get_args(kind)[0]
        elif isinstance(kind, type) and step in kind.__struct_fields__:
            kind = {field.name: field.type for field in msgspec.structs.fields(kind)}[step]
        else:
            return False
    return type(None) in get_args(kind)


@pytest.mark.parametrize("path", list(paths()), ids=json_path)
def test_every_field_of_the_wrong_type_is_named_with_its_place(path):
    for wrong in WRONG[type(value_at(path))]:
        if wrong is None and may_be_null(path):
            assert read_deck(spoiled(path, wrong))
        else:
            error = refusal(spoiled(path, wrong))
            assert error.place == json_path(path)
            assert " must be " in error.message


def test_the_sentence_says_what_must_stand_there_and_what_does():
    error = refusal(spoiled(("springs", 2, "x"), "left"))
    assert str(error) == "$.springs[2].x: Spring s3: x must be a number, not the text “left”."
    error = refusal(spoiled(("frame", "sides", 2, "rail"), "top"))
    assert error.message == (
        'Side 3: rail must be one of "back", "right", "front", "left", "none", not the text “top”.'
    )
    error = refusal(spoiled(("twine", "tail_wraps"), 2.5))
    assert error.message == "Twine: tail wraps must be a whole number, not 2.5."
    error = refusal(spoiled(("frame", "corners", 1), [1, 2, 3]))
    assert error.message == "Corner 2 must be a list of 2, not a list of 3."


NUMBERS = [p for p in paths() if type(value_at(p)) in (int, float) and p != ("version",)]


@pytest.mark.parametrize("path", NUMBERS, ids=json_path)
@pytest.mark.parametrize("text", ["NaN", "Infinity", "-Infinity", "1e999"])
def test_a_number_that_is_not_finite_is_named_with_its_place(path, text):
    data = spoiled(path, "the place").replace(b'"the place"', text.encode())
    assert refusal(data).place == json_path(path)


@pytest.mark.parametrize("path", NUMBERS, ids=json_path)
def test_a_number_far_too_large_is_named_with_its_place(path):
    if path[-1] == "turned":
        path = ("springs", 1, "x")
    for large in (1_000_001, 10**30, 10**400):
        assert refusal(spoiled(path, large)).place == json_path(path)


OVER_ZERO = [
    ("frame", "rail_width"),
    ("frame", "sides", 2, "rail_width"),
    *[("coils", 0, k) for k in ("free_height", "wire", "turns", "top_diameter")],
    *[("coils", 0, k) for k in ("waist_diameter", "foot_diameter")],
    ("tying", "tied_height"),
    ("tying", "tied_height_back"),
    ("twine", "diameter"),
    ("twine", "step"),
    ("seat", "finished_height"),
    ("seat", "floor_to_webbing"),
    ("webbing", "width"),
    *[("twine", k) for k in ("ten_hitches", "ten_cross_knots", "hank")],
    *[("stitching", k) for k in ("points", "loops", "twine", "working_length")],
]
MAY_BE_ZERO = [
    ("tying", "crown"),
    ("spacing", "gap"),
    ("spacing", "clearance"),
    ("spacing", "limits", "gap_most"),
    ("twine", "tail_wraps"),
    ("twine", "fold_back"),
    ("seat", "cushion"),
    ("seat", "cushion_sink"),
    ("seat", "over_springs"),
    *[("webbing", k) for k in ("gap", "fold", "overlap", "allowance", "tacks")],
    ("twine", "allowance"),
    ("seat", "hessian_edge"),
    *[("work", k) for k in ("minutes_per_spring", "minutes_per_tie")],
    ("frame", "sides", 1, "nail_line"),
    ("frame", "sides", 0, "lower_rail"),
    # level with the webbing, where the webbing goes over the rails
    ("frame", "rail_top"),
    ("frame", "sides", 2, "rail_top"),
]


@pytest.mark.parametrize("path", OVER_ZERO, ids=json_path)
def test_a_length_of_nothing_is_refused(path):
    error = refusal(spoiled(path, 0))
    assert error.place == json_path(path)
    assert "must be" in error.message
    assert refusal(spoiled(path, -5)).place == json_path(path)


@pytest.mark.parametrize("path", MAY_BE_ZERO, ids=json_path)
def test_what_can_be_nothing_by_its_meaning_may_be_zero_but_not_less(path):
    assert read_deck(spoiled(path, 0))
    assert refusal(spoiled(path, -1)).place == json_path(path)


@pytest.mark.parametrize("bad", ["", "s 1", "s/1", "ß", "a" * 41, "s1\n"])
def test_an_id_must_be_letters_digits_underscore_or_hyphen(bad):
    assert refusal(spoiled(("springs", 0, "id"), bad)).place == "$.springs[0].id"
    assert refusal(spoiled(("coils", 0, "id"), bad)).place == "$.coils[0].id"


def test_two_springs_of_one_id_are_told():
    error = refusal(spoiled(("springs", 3, "id"), "s1"))
    assert (error.place, "“s1”" in error.message) == ("$.springs[3].id", True)


def test_two_spring_sizes_of_one_id_are_told():
    error = refusal(spoiled(("coils",), [FULL["coils"][0]] * 2))
    assert error.place == "$.coils[1].id"


def test_a_spring_of_a_size_that_is_not_listed_is_told():
    error = refusal(spoiled(("springs", 1, "coil"), "arm"))
    assert error.place == "$.springs[1].coil"
    assert "Spring s2 names the spring size “arm”" in error.message


def test_a_spring_outside_the_opening_is_told():
    error = refusal(spoiled(("springs", 0, "x"), -60))
    assert error.place == "$.springs[0]"
    assert "Spring s1 stands outside" in error.message


def test_a_spring_on_the_very_edge_still_stands_inside():
    assert read_deck(spoiled(("springs", 0, "y"), 0))


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("tying", "joins", 0, "springs", 1), "s9"),
        (("tying", "parts", 0, "springs", 0), "s9"),
        (("tying", "anchors", 0, "spring"), "s9"),
        (("tying", "anchors", 0, "side"), 4),
        (("tying", "anchors", 0, "side"), -1),
        (("tying", "anchors", 0, "along"), 461),
        (("tying", "anchors", 0, "along"), -1),
    ],
)
def test_joins_parts_and_tack_points_that_name_nothing_are_told(path, value):
    assert refusal(spoiled(path, value)).place == json_path(path)


def test_a_spring_joined_to_itself_is_told():
    error = refusal(spoiled(("tying", "joins", 0, "springs"), ["s1", "s1"]))
    assert error.place == "$.tying.joins[0].springs"


@pytest.mark.parametrize("springs", [["s3", "s1"], ["s1", "s3"]])
def test_a_pair_that_is_joined_and_parted_is_told(springs):
    parts = [{"run": "front-to-back", "springs": springs}]
    error = refusal(spoiled(("tying", "parts"), parts))
    assert error.place == "$.tying.parts[0]"
    assert "already in joins[0]" in error.message


def test_a_tack_point_moved_twice_is_told():
    error = refusal(spoiled(("tying", "anchors"), FULL["tying"]["anchors"] * 2))
    assert error.place == "$.tying.anchors[1]"


def corners(*places):
    return spoiled(("frame", "corners"), [list(place) for place in places])


def test_an_outline_that_crosses_itself_is_told():
    error = refusal(corners((0, 0), (460, 440), (460, 0), (0, 440)))
    assert error.place == "$.frame.sides[0]"
    assert error.message == (
        "The outline crosses itself: side 1 (back) meets side 3 (front); move a corner of one of "
        "them, or put the corners in their order round the opening."
    )


def test_corners_that_run_anticlockwise_are_told():
    error = refusal(corners((0, 0), (0, 440), (460, 440), (460, 0)))
    assert error.place == "$.frame.corners"
    assert "anticlockwise" in error.message


def test_corners_and_sides_that_differ_in_number_are_told():
    error = refusal(corners((0, 0), (460, 0), (460, 440)))
    assert (error.place, "3 corners and 4 sides" in error.message) == ("$.frame.sides", True)


def test_two_corners_at_one_place_are_told():
    error = refusal(corners((0, 0), (460, 0), (460, 0), (0, 440)))
    assert error.place == "$.frame.sides[1]"


def test_more_than_a_half_circle_is_told():
    error = refusal(spoiled(("frame", "sides", 0, "bow"), 240))
    assert error.place == "$.frame.sides[0]"
    assert error.message == (
        "The bow of side 1 (back) is more than a half circle; lower it to half the distance "
        "between the side's corners, or less."
    )


def framed(count, **others):
    frame = FULL["frame"] | {
        "corners": [[i, 0] for i in range(count)],
        "sides": [{"rail": "back", "bow": 0}] * count,
    }
    return json.dumps(FULL | {"frame": frame} | others).encode()


@pytest.mark.parametrize("count", [0, 1, 2])
def test_too_few_sides_are_told(count):
    assert "at least three sides" in refusal(framed(count, tying=FULL["tying"])).message


def test_too_many_sides_are_told():
    assert f"at most {MOST_SIDES}" in refusal(framed(MOST_SIDES + 1)).message


def test_too_many_springs_are_told():
    springs = [FULL["springs"][0] | {"id": f"s{i}"} for i in range(MOST_SPRINGS + 1)]
    error = refusal(spoiled(("springs",), springs))
    assert (error.place, f"at most {MOST_SPRINGS}" in error.message) == ("$.springs", True)


@pytest.mark.parametrize(
    ("path", "value", "says"),
    [
        (("coils",), [FULL["coils"][0] | {"id": f"c{i}"} for i in range(201)], "keep to 200"),
        (("webbing", "front_to_back"), [1.0] * 201, "keep to 200"),
        (("tying", "joins"), FULL["tying"]["joins"] * 20_001, "at most 20000"),
        (("tying", "anchors"), FULL["tying"]["anchors"] * 20_001, "at most 20000"),
        (("name",), "n" * 201, "keep it to 200"),
        (("note",), "n" * 20_001, "keep it to 20000"),
        (("name",), "bell \a", "U+0007"),
        (("coils", 0, "gauge"), "\x00", "U+0000"),
    ],
)
def test_too_many_and_too_long_and_what_cannot_be_printed_is_told(path, value, says):
    error = refusal(spoiled(path, value))
    assert (error.place, says in error.message) == (json_path(path), True)
