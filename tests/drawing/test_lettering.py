"""The width table measures text as other software does."""

import json
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QFile
from PySide6.QtGui import QFont, QFontDatabase, QFontMetricsF

from spring_layout.drawing import lettering
from tests.drawing.font_characters import ASCII, CHARACTERS

WORDS = ["Tie diagram", "5 1/2 L", "AVATAR Ty. Wo", "Scale 1 : 4", "12 3/8 R", "BACK"]


@pytest.fixture(scope="module")
def metrics(qapp):
    """Qt's own measures of the shipped fonts, by weight."""
    found = {}
    for weight, number in (("regular", QFont.Weight.Normal), ("bold", QFont.Weight.Bold)):
        file = QFile(str(lettering.FONT_FOLDER / f"{weight}.ttf"))
        assert file.open(QFile.OpenModeFlag.ReadOnly)
        QFontDatabase.addApplicationFontFromData(file.readAll())
        font = QFont(lettering.FONT_FAMILY)
        font.setWeight(number)
        font.setPixelSize(1000)
        font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
        found[weight] = QFontMetricsF(font)
    return found


@pytest.mark.parametrize("weight", ["regular", "bold"])
@pytest.mark.parametrize("words", WORDS)
def test_words_are_as_wide_as_qt_says(metrics, words, weight):
    assert lettering.width_at_size(words, 1000, weight) == pytest.approx(
        metrics[weight].horizontalAdvance(words), abs=0.5 * len(words)
    )


@pytest.mark.parametrize("weight", ["regular", "bold"])
@pytest.mark.parametrize("words", ["über Förde", "Łódź", "fauteuil à l'été"])
def test_accented_words_are_measured_at_most_2_percent_too_wide(metrics, words, weight):
    """The table kerns plain letters only, to stay small."""
    told = metrics[weight].horizontalAdvance(words)
    assert told - 5 <= lettering.width_at_size(words, 1000, weight) <= told * 1.02


def test_the_height_of_capitals_is_as_qt_says(metrics):
    assert metrics["regular"].capHeight() / 1000 == pytest.approx(1 / lettering.font_size(1), 1e-3)


@pytest.mark.parametrize("weight", ["regular", "bold"])
def test_figures_are_all_of_one_width(weight):
    assert len({lettering.width(figure, 2.0, weight) for figure in "0123456789"}) == 1


@pytest.mark.parametrize("weight", ["regular", "bold"])
def test_the_table_speaks_of_every_character_it_promises(weight):
    table = json.loads((lettering.FONT_FOLDER / "widths.json").read_text())[weight]
    assert set(ASCII) <= set(table["advances"])
    assert len(table["advances"]) > 0.95 * len(CHARACTERS)


def test_the_licence_lies_beside_the_font():
    assert "SIL OPEN FONT LICENSE" in (lettering.FONT_FOLDER / "OFL.txt").read_text()


def test_a_strange_character_is_measured_generously():
    assert lettering.width_at_size("椅", 10.0) == pytest.approx(10.0)


@given(st.text(alphabet=ASCII, max_size=80), st.floats(20, 200))
def test_wrapped_lines_keep_to_their_room_and_lose_no_word(words, room):
    lines = lettering.wrapped(words, 2.0, room)
    assert all(lettering.width(line, 2.0) <= room for line in lines)
    assert "".join(lines).replace(" ", "") == "".join(words.split())
    if all(lettering.width(word, 2.0) <= room for word in words.split()):
        assert " ".join(lines).split() == words.split()


@given(st.floats(8, 60))
def test_no_line_of_a_sheet_ends_within_a_length(room):
    told = "Cut 42 1/2 in, 5 1/2 in left of centre, 92 mm apart."
    lines = lettering.wrapped(told, 2.0, room)
    assert "".join(lines).replace(" ", "") == told.replace(" ", "")
    if lettering.width("42 1/2 in,", 2.0) <= room:
        assert not any(re.search(r"\d$", line) for line in lines)


def test_words_that_are_none_take_no_line():
    assert lettering.wrapped("  ", 2.0, 30.0) == []


@pytest.mark.parametrize("words", ["Unterfederungswerkstatt", "椅子の座面はまだ張り替えていない"])
def test_a_word_too_long_for_its_room_goes_on_in_the_next_line(words):
    lines = lettering.wrapped(words, 2.0, 15.0)
    assert len(lines) > 1
    assert "".join(lines) == words
    assert all(lettering.width(line, 2.0) <= 15.0 for line in lines)


def test_words_shortened_to_their_room_end_in_dots():
    line = lettering.shortened("Unterfederungswerkstatt", 2.0, 15.0)
    assert line.startswith("Unterf")
    assert line.endswith("…")


def test_the_corners_of_turned_words_are_turned():
    text = lettering.lettered((10, 20), "8 1/2", 2.0, "#000000", anchor="end", turned=-90)
    left, top, right, bottom = 10 - 2.0, 20, 10, 20 + lettering.width("8 1/2", 2.0)
    for x, y in lettering.corners(text):
        assert min(abs(x - left), abs(x - right)) < 1e-9
        assert min(abs(y - top), abs(y - bottom)) < 1e-9


def test_words_that_hang_below_the_line_cover_more():
    def lowest(words):
        return max(y for _, y in lettering.corners(lettering.lettered((0, 0), words, 2, "#000000")))

    assert lowest("Tie") == 0
    assert lowest("Type") > 0.4
