"""The command line, as somebody at a terminal meets it."""

import csv
import io
import json
import subprocess
import sys
from types import SimpleNamespace

import pytest

from spring_layout.cli.outputs import FORMATS
from spring_layout.cli.sheets import SHEETS
from spring_layout.deck.files import read_deck, write_deck
from spring_layout.resources import sample_decks
from tests.checks.made import moved
from tests.decks import grid_deck
from tests.terminal import refused, runner, stool_in


@pytest.fixture
def deck(tmp_path):
    return stool_in(tmp_path)


@pytest.fixture
def wrong_deck(tmp_path):
    """A deck in a file, two of whose springs overlap."""
    path = tmp_path / "wrong.deck.json"
    write_deck(moved(grid_deck(), s5=(196, 250)), path)
    return path


@pytest.fixture
def run(capsys):
    return runner(capsys)


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("plan", ""), "DECK: the name is empty; name a deck file."),
        (("sheet", "DECK", "-o", ""), "-o: the name is empty; name the file to write"),
        (("samples", "--copy", ""), "--copy: the name is empty; name a folder."),
    ],
)
def test_an_empty_name_is_told_as_such(run, deck, arguments, sentence):
    line = refused(run(*(str(deck) if a == "DECK" else a for a in arguments)))
    assert sentence in line


@pytest.mark.parametrize(
    "arguments",
    [("plan", "nosuch.json"), ("samples", "--copy", "/dev/null/x"), ("plan",), ("fold",)],
)
def test_what_is_refused_ends_with_a_full_stop(run, arguments):
    assert refused(run(*arguments)).endswith(".")


# plan


def test_plan_prints_a_report_and_ends_with_0(run, deck):
    result = run("plan", deck)
    assert result.status == 0
    assert result.errors == []
    assert "TIES, in the order of tying" in result.out


def test_plan_with_a_wrong_finding_ends_with_1(run, wrong_deck):
    result = run("plan", wrong_deck)
    assert result.status == 1
    assert "Wrong: B1 and B2 overlap" in result.out
    assert result.errors == []


def test_plan_lists_the_materials_as_csv(run, deck):
    result = run("plan", deck, "--materials")
    heads, *rows = csv.reader(io.StringIO(result.out, newline=""))
    assert result.status == 0
    assert heads == ["item", "quantity", "unit", "rule"]
    assert ["springs, seat", "9", "pieces"] in [row[:3] for row in rows]


def test_json_and_materials_are_not_asked_for_together(run, deck):
    assert "not allowed with" in refused(run("plan", deck, "--json", "--materials"))


def test_plan_as_json_is_the_contract(run, wrong_deck):
    result = run("plan", wrong_deck, "--json")
    plan = json.loads(result.out)
    assert result.status == 1
    assert plan["format"] == "spring-layout-plan"
    assert {f["code"] for f in plan["findings"] if f["severity"] == "wrong"} == {"GAP-TOUCHING"}


@pytest.mark.parametrize(
    ("content", "place"),
    [
        (b"", "$"),
        (b"not json", "$"),
        (b'{"format": "spring-layout-deck"', "$"),
        (b'{"format": "another", "version": 1}', "$.format"),
        (b'{"format": "spring-layout-deck", "version": 99}', "$.version"),
    ],
)
def test_an_unusable_deck_is_one_sentence_naming_file_and_place(run, tmp_path, content, place):
    path = tmp_path / "bad.deck.json"
    path.write_bytes(content)
    line = refused(run("plan", path))
    assert str(path) in line
    assert place == "$" or place in line


def test_a_spring_outside_the_opening_is_refused_with_its_place(run, tmp_path):
    path = tmp_path / "out.deck.json"
    write_deck(moved(grid_deck(), s5=(900, 250)), path)
    assert "$.springs[4]" in refused(run("plan", path))


def test_a_file_that_is_not_there_is_refused(run, tmp_path):
    assert "nowhere.deck.json: " in refused(run("plan", tmp_path / "nowhere.deck.json"))


def test_a_name_with_a_line_break_still_makes_one_line(run):
    refused(run("plan", "two\nlines.deck.json"))


# sheet


def test_sheet_writes_a_tie_diagram(run, deck, tmp_path):
    out = tmp_path / "ties.svg"
    result = run("sheet", deck, "-o", out)
    assert (result.status, result.out, result.errors) == (0, "", [])
    assert b'id="spring-s1"' in out.read_bytes()


def test_sheet_takes_the_paper(run, deck, tmp_path):
    out = tmp_path / "ties.svg"
    run("sheet", deck, "-o", out, "--what", "diagram", "--paper", "a3")
    assert b'width="420mm"' in out.read_bytes() or b'width="297mm"' in out.read_bytes()


def test_sheet_prints_what_is_wrong_and_still_ends_with_0(run, wrong_deck, tmp_path):
    result = run("sheet", wrong_deck, "-o", tmp_path / "ties.svg")
    assert result.status == 0
    assert result.out.startswith("Wrong: B1 and B2 overlap")
    assert (tmp_path / "ties.svg").exists()


def test_sheet_to_a_dash_goes_to_standard_output_and_nothing_else_does(run, wrong_deck):
    result = run("sheet", wrong_deck, "-o", "-")
    assert result.out.startswith("<?xml")
    assert "Wrong:" not in result.out


def test_paper_that_does_not_exist_is_refused(run, deck, tmp_path):
    line = refused(run("sheet", deck, "-o", tmp_path / "ties.svg", "--paper", "napkin"))
    assert "napkin" in line
    assert not (tmp_path / "ties.svg").exists()


@pytest.mark.parametrize("name", ["ties", "ties.png", "ties.svg.txt", "."])
def test_a_sheet_of_another_kind_of_file_is_refused(run, deck, tmp_path, name):
    line = refused(run("sheet", deck, "-o", tmp_path / name))
    assert all(ending in line for ending in FORMATS)


def test_a_sheet_that_cannot_be_drawn_yet_is_not_offered(run, deck, tmp_path):
    line = refused(run("sheet", deck, "-o", tmp_path / "x.svg", "--what", "hologram"))
    assert all(name in line for name in SHEETS)


def test_an_unusable_deck_leaves_the_old_sheet_alone(run, tmp_path):
    out = tmp_path / "ties.svg"
    out.write_text("the old sheet")
    bad = tmp_path / "bad.deck.json"
    bad.write_text("{}")
    refused(run("sheet", bad, "-o", out))
    assert out.read_text() == "the old sheet"
    assert {path.name for path in tmp_path.iterdir()} == {"ties.svg", "bad.deck.json"}


def test_a_folder_that_is_not_there_is_refused(run, deck, tmp_path):
    refused(run("sheet", deck, "-o", tmp_path / "no" / "ties.svg"))


def test_a_locked_folder_is_refused_and_nothing_is_left_in_it(run, deck, tmp_path, monkeypatch):
    # Superuser may write anywhere, so the system's refusal is played.
    def locked(*_arguments, **_options):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("os.open", locked)
    assert "permission is missing" in refused(run("sheet", deck, "-o", tmp_path / "ties.svg"))
    assert not (tmp_path / "ties.svg").exists()


def test_full_size_stands_for_the_template(run, deck, tmp_path):
    assert (
        run("sheet", deck, "-o", tmp_path / "a.svg", "--full-size", "--paper", "none").status == 0
    )
    run("sheet", deck, "-o", tmp_path / "b.svg", "--what", "template", "--paper", "none")
    assert (tmp_path / "a.svg").read_bytes() == (tmp_path / "b.svg").read_bytes()


# samples


def test_samples_lists_every_sample_deck(run):
    result = run("samples")
    assert result.status == 0
    assert all(path.name in result.out for path in sample_decks())


def test_samples_are_copied_into_a_new_folder(run, tmp_path):
    result = run("samples", "--copy", tmp_path / "new" / "decks")
    copied = sorted((tmp_path / "new" / "decks").iterdir())
    assert result.status == 0
    assert [p.name for p in copied] == [p.name for p in sample_decks()]
    assert all(
        a.read_bytes() == b.read_bytes() for a, b in zip(copied, sample_decks(), strict=True)
    )
    assert run("samples", "--copy", tmp_path / "new" / "decks").status == 0


def test_samples_are_not_copied_over_a_deck_that_differs(run, tmp_path):
    mine = tmp_path / sample_decks()[-1].name
    mine.write_text("my own work")
    assert "choose another folder" in refused(run("samples", "--copy", tmp_path))
    assert [path.name for path in tmp_path.iterdir()] == [mine.name]
    assert mine.read_text() == "my own work"


def test_samples_are_not_copied_onto_a_file(run, tmp_path):
    (tmp_path / "file").write_text("")
    refused(run("samples", "--copy", tmp_path / "file"))


def test_samples_are_not_copied_onto_folders_of_their_names(run, tmp_path):
    (tmp_path / sample_decks()[0].name).mkdir()
    refused(run("samples", "--copy", tmp_path))


# edit


@pytest.mark.parametrize("arguments", [[], ["edit"], ["edit", "DECK"]])
def test_edit_without_a_screen_says_so(run, deck, monkeypatch, arguments):
    monkeypatch.setattr("sys.platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    line = refused(run(*(deck if a == "DECK" else a for a in arguments)))
    assert "there is no screen" in line


def test_edit_hands_the_deck_to_the_window(run, deck, monkeypatch):
    asked = []
    window = SimpleNamespace(main=lambda path=None, given=None: asked.append((path, given)) or 0)
    monkeypatch.setitem(sys.modules, "spring_layout.gui.app", window)
    assert run("edit", deck).status == 0
    assert run().status == 0
    assert asked == [(str(deck), None), (None, None)]


def test_edit_hands_the_deck_on_standard_input_to_the_window(run, deck, monkeypatch):
    asked = []
    window = SimpleNamespace(main=lambda path=None, given=None: asked.append((path, given)) or 0)
    monkeypatch.setitem(sys.modules, "spring_layout.gui.app", window)
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(deck.read_bytes())))
    assert run("edit", "-").status == 0
    assert asked == [(None, read_deck(deck))]


def test_edit_tells_what_is_wrong_with_the_deck_on_standard_input(run, monkeypatch):
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(b"{}")))
    assert "standard input: " in refused(run("edit", "-"))


def test_a_window_whose_libraries_are_missing_is_refused(run, monkeypatch):
    monkeypatch.setitem(sys.modules, "spring_layout.gui.app", None)
    assert "the window cannot be opened" in refused(run("edit"))


# the parser


@pytest.mark.parametrize("arguments", [["--help"], ["plan", "-h"], ["sheet", "-h"], ["--version"]])
def test_help_and_version_end_with_0(run, arguments):
    result = run(*arguments)
    assert result.status == 0
    assert result.out
    assert result.errors == []


def test_help_shows_examples(run):
    assert "spring-layout sheet my-chair.deck.json -o my-chair.svg" in run("--help").out


@pytest.mark.parametrize(
    "arguments", [["plan"], ["plan", "a", "b"], ["sheet", "a"], ["nonsense"], ["--nonsense"]]
)
def test_a_mistyped_command_is_one_line(run, arguments):
    assert "--help" in refused(run(*arguments))


def test_a_fault_of_the_program_itself_is_one_line_too(run, deck, monkeypatch):
    def broken(_deck):
        raise KeyError("lost")

    monkeypatch.setattr("spring_layout.plan.make_plan", broken)
    assert "a fault of the program itself (KeyError: 'lost')" in refused(run("plan", deck))


def test_qt_and_drawing_stay_away_from_a_plan(deck):
    asked = (
        "import sys; from spring_layout.cli import main; "
        f"main(['plan', {str(deck)!r}, '--json']); "
        "print([m for m in sys.modules if m.startswith(('PySide6', 'spring_layout.drawing'))])"
    )
    result = subprocess.run(
        [sys.executable, "-c", asked], capture_output=True, timeout=60, check=True, text=True
    )
    assert result.stdout.splitlines()[-1] == "[]"
