"""Every sheet from the command line: which files it writes, and what it refuses."""

import os
import subprocess
import sys
import xml.etree.ElementTree as ET

import pypdf
import pytest
from msgspec.structs import replace

from spring_layout.cli.sheets import SHEETS
from spring_layout.deck.files import write_deck
from tests.decks import grid_deck, straight_frame
from tests.terminal import refused, runner, stool_in

MANY = [what for what in SHEETS if what not in ("diagram", "side-view", "record", "template")]


@pytest.fixture
def deck(tmp_path):
    return stool_in(tmp_path)


@pytest.fixture
def run(capsys):
    return runner(capsys)


def made(folder):
    return sorted(path.name for path in folder.iterdir() if path.suffix != ".json")


def title_of(path):
    return ET.parse(path).getroot().find("{http://www.w3.org/2000/svg}title").text


@pytest.mark.parametrize("what", SHEETS)
def test_every_sheet_can_be_written_as_svg(run, deck, tmp_path, what):
    result = run("sheet", deck, "-o", tmp_path / "out.svg", "--what", what)
    assert (result.status, result.errors) == (0, [])
    names = made(tmp_path)
    assert names
    for name in names:
        assert ET.parse(tmp_path / name).getroot().tag.endswith("svg")
    if names != ["out.svg"]:
        # each file that has not the name that was asked for is told
        assert result.out.split() == [str(tmp_path / name) for name in names]


def test_a_template_is_a_file_a_tile_named_by_row_and_column(run, deck, tmp_path):
    run("sheet", deck, "-o", tmp_path / "t.svg", "--full-size")
    names = made(tmp_path)
    assert names[:2] == ["t-1-1.svg", "t-1-2.svg"]
    assert all(title_of(tmp_path / n).endswith(f"sheet {n[2:5]}") for n in names)


def test_a_template_of_one_tile_still_has_its_row_and_column(run, deck, tmp_path):
    run("sheet", deck, "-o", tmp_path / "t.svg", "--full-size", "--paper", "a0")
    assert made(tmp_path) == ["t-1-1.svg"]


def test_a_template_on_no_paper_is_one_file_at_full_size(run, deck, tmp_path):
    run("sheet", deck, "-o", tmp_path / "t.svg", "--full-size", "--paper", "none")
    assert made(tmp_path) == ["t.svg"]
    root = ET.parse(tmp_path / "t.svg").getroot()
    assert root.get("data-scale") == "1"
    assert float(root.get("width").removesuffix("mm")) > 590


@pytest.mark.parametrize("what", MANY)
def test_pages_are_numbered(run, deck, tmp_path, what):
    run("sheet", deck, "-o", tmp_path / "p.svg", "--what", what)
    names = made(tmp_path)
    assert names in (["p.svg"], [f"p-{i}.svg" for i in range(1, len(names) + 1)])
    assert len(names) > 1 or what == "steps"


@pytest.mark.parametrize("what", SHEETS)
def test_every_sheet_can_be_written_as_one_pdf(qapp, run, deck, tmp_path, what):
    result = run("sheet", deck, "-o", tmp_path / "out.pdf", "--what", what, "--paper", "letter")
    assert (result.status, result.errors) == (0, [])
    assert made(tmp_path) == ["out.pdf"]
    pages = pypdf.PdfReader(tmp_path / "out.pdf").pages
    for page in pages:
        size = sorted(float(v) for v in (page.mediabox.width, page.mediabox.height))
        assert size == pytest.approx([612, 792], abs=0.01)


def test_a_pdf_needs_no_screen(deck, tmp_path):
    bare = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "QT_QPA_PLATFORM")}
    out = tmp_path / "ties.pdf"
    command = [sys.executable, "-m", "spring_layout", "sheet", str(deck), "-o", str(out)]
    done = subprocess.run(command, capture_output=True, timeout=60, check=False, env=bare)
    assert (done.returncode, done.stderr) == (0, b"")
    assert out.read_bytes().startswith(b"%PDF-")


def test_the_geometry_is_written_as_dxf(run, deck, tmp_path):
    assert run("sheet", deck, "-o", tmp_path / "t.dxf", "--what", "template").status == 0
    assert b"INSIDE_EDGE" in (tmp_path / "t.dxf").read_bytes()
    line = refused(run("sheet", deck, "-o", tmp_path / "d.dxf", "--what", "bench"))
    assert "give --what template" in line


def test_a_printer_that_is_off_is_corrected(run, deck, tmp_path):
    options = ("--full-size", "--paper", "a2", "--bars", "99.2", "100.3")
    assert run("sheet", deck, "-o", tmp_path / "t.svg", *options).status == 0
    assert "99.2 mm across" in (tmp_path / made(tmp_path)[0]).read_text()


@pytest.mark.parametrize(("bars", "told"), [(("80", "100"), "100 %"), (("x", "1"), "not a length")])
def test_bars_that_cannot_be_are_refused(run, deck, tmp_path, bars, told):
    line = refused(run("sheet", deck, "-o", tmp_path / "t.svg", "--full-size", "--bars", *bars))
    assert "--bars" in line
    assert told in line
    assert made(tmp_path) == []


def test_bars_belong_to_the_full_size_sheets(run, deck, tmp_path):
    line = refused(run("sheet", deck, "-o", tmp_path / "t.svg", "--bars", "99", "99"))
    assert "--bars belongs to --what template" in line


@pytest.mark.parametrize("paper", ["roll-wide", "150x150", "none"])
@pytest.mark.parametrize("what", SHEETS)
def test_paper_that_a_sheet_cannot_be_on_is_refused_in_a_sentence(run, deck, tmp_path, what, paper):
    result = run("sheet", deck, "-o", tmp_path / "t.svg", "--what", what, "--paper", paper)
    if result.status == 2:
        assert refused(result).startswith("spring-layout: --paper: ")
        assert made(tmp_path) == []
    else:
        assert (what, paper) not in [("template", "roll-wide"), ("bench", "none")]


@pytest.mark.parametrize("paper", ["none", "roll-610", " Roll-24in "])
def test_rolls_and_no_paper_belong_to_the_full_size_sheets(run, deck, tmp_path, paper):
    line = refused(run("sheet", deck, "-o", tmp_path / "t.svg", "--paper", paper))
    assert f"--paper: {paper.strip()} belongs to --what template and --what rail-strips;" in line


def test_several_pages_do_not_go_to_standard_output(run, deck):
    line = refused(run("sheet", deck, "-o", "-", "--what", "bench"))
    assert "name that ends in .svg or .pdf" in line


def test_a_page_larger_than_a_pdf_can_hold_is_refused(qapp, run, tmp_path):
    big = tmp_path / "big.deck.json"
    wide = replace(grid_deck(), frame=straight_frame(6000, 500))
    write_deck(wide, big)
    out = tmp_path / "t.pdf"
    line = refused(run("sheet", big, "-o", out, "--full-size", "--paper", "none"))
    assert "5080 mm" in line
    assert not out.exists()
