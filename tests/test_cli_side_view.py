"""``spring-layout sheet --what side-view``: a file, or one sentence that says what is wrong."""

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from spring_layout.cli import main
from spring_layout.resources import sample_decks_folder

STOOL = str(sample_decks_folder() / "square-stool.deck.json")
TITLE = "{http://www.w3.org/2000/svg}title"


def sheet(out: Path, *options: str) -> int:
    return main(["sheet", STOOL, "--what", "side-view", *options, "-o", str(out)])


@pytest.mark.parametrize(
    ("options", "title"),
    [
        ((), "Side view along tie 1, front to back"),
        (("--line", "2"), "Side view along tie 2, side to side"),
        (("--across", "230,230"), "Side view across the deck"),
        (("--across", " 230.5, 210 , 45 "), "Side view across the deck"),
    ],
)
def test_the_deck_is_cut_where_it_is_asked_for(
    tmp_path: Path, options: tuple[str, ...], title: str
) -> None:
    out = tmp_path / "side.svg"
    assert sheet(out, *options) == 0
    told = ET.parse(out).getroot().find(TITLE)
    assert told is not None
    assert told.text is not None
    assert told.text.startswith(title)


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (("--line", "40"), "--line: there is no tie 40; give a number from 1 to 12."),
        (("--line", "0"), "--line: there is no tie 0"),
        (("--across", "nowhere"), "--across: write a place in mm and degrees"),
        (("--across", "1e400,0"), "--across: write a place in mm"),
        (("--across=-99999,0",), "--across: the place lies off every deck"),
        (("--across", "0,9000"), "--across: the cut does not meet the opening"),
        (
            ("--across", "9999,0"),
            "--across: the cut through 9999,0 meets no spring; give the place "
            "of one, such as 368.5,88.5 for A3.",
        ),
        (("--line", "2", "--across", "1,2"), "not allowed with argument --line"),
        (("--paper", "napkin"), "--paper: there is no paper called 'napkin'"),
    ],
)
def test_what_cannot_be_drawn_is_told_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], options: tuple[str, ...], sentence: str
) -> None:
    out = tmp_path / "side.svg"
    assert sheet(out, *options) == 2
    error = capsys.readouterr().err
    assert sentence in error
    assert error.count("\n") == 1
    assert not out.exists()


def test_a_tie_to_cut_along_is_not_passed_over_on_another_sheet(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "diagram.svg"
    assert main(["sheet", STOOL, "--line", "3", "-o", str(out)]) == 2
    assert "--line belongs to --what side-view" in capsys.readouterr().err
    assert not out.exists()


def test_help_tells_of_the_side_view(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", "--help"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "side-view" in told
    assert "--line N" in told
