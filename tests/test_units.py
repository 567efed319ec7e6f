import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spring_layout.units import (
    LengthError,
    about,
    format_length,
    held_by,
    in_steps,
    nudge_mm,
    parse_length,
    step_mm,
    unbroken,
    with_plain_spaces,
)

UNITS = st.sampled_from(["in", "mm"])
LENGTHS = st.floats(-20_000, 20_000)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("22 1/2 in", 571.5),
        ("22-1/2 in", 571.5),
        ('5-1/2"', 139.7),
        ("5½″", 139.7),
        ("⅜ in", 9.525),
        ("1' 10 1/2\"", 571.5),
        ("1 ft 10 1/2 in", 571.5),
        ("1’10½”", 571.5),
        ("5''", 127.0),
        ("6 feet", 1828.8),
        ("57,2 cm", 572.0),
        ("57.2cm", 572.0),
        ("572 mm", 572.0),
        ("0.572 m", 572.0),
        ("0,5 in", 12.7),
        ("0,125 in", 3.175),
        ("1234,5 mm", 1234.5),
        (".5 in", 12.7),
        ("1/16 in", 1.5875),
        ("1⁄16 IN", 1.5875),
        ("-3/8 in", -9.525),
        ("−12 mm", -12.0),
        ("+ 12 mm", 12.0),
        ("  12   mm ", 12.0),
        ("22 in.", 558.8),
        ("0", 0.0),
        ("-0", 0.0),
    ],
)
def test_a_length_is_read_as_people_write_it(text, mm):
    assert parse_length(text) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    ("unit", "mm"), [("mm", 22.5), ("cm", 225), ("m", 22_500), ("in", 571.5), ("ft", 6858)]
)
def test_a_bare_number_is_in_the_default_unit(unit, mm):
    assert parse_length("22 1/2", unit) == pytest.approx(mm, abs=1e-9)


def test_inches_after_feet_need_no_mark():
    assert parse_length("5' 3", "mm") == pytest.approx(1600.2)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "missing"),
        ("   ", "missing"),
        ("-", "not a length"),
        ("abc", "not a length"),
        ("nan", "not a length"),
        ("inf", "not a length"),
        ("1e5", "not a length"),
        ("--5", "not a length"),
        ("5 inmm", "not a length"),
        ("22 1/2-", "not a length"),
        ("5 furlongs", "not a length"),
        ("9" * 400, "not a length"),
        ("9" * 40, "longer than a kilometre"),
        ("1/0 in", "divides by nothing"),
        ("1 2", "more than one length"),
        ("1,234.5", "can be read in two ways"),
        ("1,234 mm", "two ways; write 1234 or 1.234."),
        ("5 in 3 ft", "more than one length"),
        ("5 ft 3 mm", "more than one length"),
        ("1 ft 2 in 3 in", "more than one length"),
    ],
)
def test_what_is_no_length_is_told_in_one_sentence(text, says):
    with pytest.raises(LengthError) as refused:
        parse_length(text)
    message = str(refused.value)
    assert says in message
    assert message.endswith(".")
    assert len(message) < 160


@given(st.text(max_size=30))
def test_any_text_is_a_length_or_told(text):
    try:
        mm = parse_length(text, "in")
    except LengthError:
        return
    assert math.isfinite(mm)


@pytest.mark.parametrize(
    ("mm", "units", "kind", "text"),
    [
        (571.5, "in", "place", "22 1/2 in"),
        (571.5, "mm", "place", "572 mm"),
        (50.0, "in", "place", "2 in"),
        (28.6, "in", "place", "1 1/8 in"),
        (3.2, "in", "place", "1/8 in"),
        (1.5, "in", "place", "0 in"),
        (-12.7, "in", "place", "-1/2 in"),
        (-0.2, "mm", "place", "0 mm"),
        (919.0, "in", "cut", "36 1/2 in"),
        (919.0, "mm", "cut", "920 mm"),
        (12.7, "in", "cut", "1/2 in"),
        (0.1 + 0.2 + 9.7, "mm", "cut", "10 mm"),
        (571.5, "in", "exact", "22 1/2 in"),
        (1.6, "in", "exact", "1/16 in"),
        (571.54, "mm", "exact", "571.5 mm"),
        (572.0, "mm", "exact", "572 mm"),
        (3.6576, "mm", "wire", "3.66 mm"),
        (3.6576, "in", "wire", "0.144 in"),
    ],
)
def test_a_length_is_shown_as_a_tradesman_would(mm, units, kind, text):
    assert format_length(mm, units, kind) == text
    assert format_length(mm, units, kind, unit=False) == text.rpartition(" ")[0]


def test_the_decimal_sign_can_be_a_comma():
    assert format_length(571.5, "mm", "exact", point=",") == "571,5 mm"


@given(LENGTHS, UNITS, st.sampled_from(["place", "exact", "wire"]))
def test_what_is_shown_reads_back_within_half_a_step(mm, units, kind):
    read = parse_length(format_length(mm, units, kind))
    assert abs(read - mm) <= step_mm(units, kind) * 0.5001


@given(LENGTHS, UNITS)
def test_twine_is_never_shown_short_nor_a_step_too_long(mm, units):
    shown = parse_length(format_length(mm, units, "cut"))
    step = step_mm(units, "cut")
    assert mm - step * 1e-5 <= shown < mm + step


@given(LENGTHS, UNITS, st.sampled_from(["place", "cut", "exact", "wire"]))
def test_showing_what_was_read_back_changes_nothing(mm, units, kind):
    text = format_length(mm, units, kind)
    assert format_length(parse_length(text), units, kind) == text


@given(LENGTHS, UNITS)
def test_a_place_left_and_right_of_the_middle_is_shown_alike(mm, units):
    assert in_steps(-mm, units) == -in_steps(mm, units)


def test_a_nudge_is_a_sixteenth_or_a_millimetre():
    assert nudge_mm("in") == pytest.approx(25.4 / 16)
    assert nudge_mm("mm") == 1.0


@pytest.mark.parametrize(
    ("said", "joined"),
    [
        ("1 1/2 in apart", "1_1/2_in apart"),
        ("from 29 mm to 2 ft", "from 29_mm to 2_ft"),
        ("9 springs and 12 ties", "9 springs and 12 ties"),
        ("36 square inches of deck", "36_square_inches of deck"),
        ("bends by 18 degrees", "bends by 18_degrees"),
    ],
)
def test_no_line_may_end_within_a_length(said, joined):
    assert unbroken(said) == joined.replace("_", "\u00a0")
    assert with_plain_spaces(unbroken(said)) == said


@pytest.mark.parametrize(
    ("mm", "units", "near", "below"),
    [
        (9.4 * 304.8, "in", "9 1/2 ft", "9 ft"),
        (30 * 304.8, "in", "30 ft", "30 ft"),
        (18.5 * 25.4, "in", "18 1/2 in", "18 1/2 in"),
        (5190, "mm", "5.2 m", "5.1 m"),
        (10_000, "mm", "10 m", "10 m"),
        (480, "mm", "480 mm", "480 mm"),
    ],
)
def test_a_long_length_is_told_about_and_what_is_left_never_as_more(mm, units, near, below):
    assert about(mm, units) == near
    assert about(mm, units, down=True) == below


@pytest.mark.parametrize(
    ("mm", "units", "told"),
    [
        (2820, "in", "111 in"),
        (111 * 25.4, "in", "111 in"),
        (30 * 304.8, "in", "30 ft"),
        (29.5 * 304.8, "in", "29 1/2 ft"),
        (18 * 25.4, "in", "18 in"),
        (12_347, "mm", "12.34 m"),
        (10_000, "mm", "10 m"),
        (496, "mm", "490 mm"),
    ],
)
def test_what_a_hank_holds_is_told_to_the_step_of_a_cut_and_never_more(mm, units, told):
    assert held_by(mm, units) == told
    assert parse_length(told) <= mm + 1e-6
