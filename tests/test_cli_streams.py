"""The command line and its streams: decks piped in, output torn off or onto a full disk, stops."""

import io
import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from spring_layout.cli import main
from tests.terminal import process, refused, runner, stool_in

FULL_DISK = Path("/dev/full")


@pytest.fixture
def deck(tmp_path):
    return stool_in(tmp_path)


@pytest.fixture
def run(capsys):
    return runner(capsys)


def test_a_deck_is_read_from_standard_input_for_a_dash(run, deck, monkeypatch):
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(deck.read_bytes())))
    assert run("plan", "-").out == run("plan", deck).out


def test_a_broken_deck_on_standard_input_is_named_so(run, monkeypatch):
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(b"{")))
    assert "standard input: " in refused(run("plan", "-"))


def test_closed_standard_input_is_refused(run, monkeypatch):
    monkeypatch.setattr("sys.stdin", None)
    assert "standard input is closed" in refused(run("plan", "-"))


def test_standard_input_that_cannot_be_read_is_refused(run, monkeypatch):
    class Torn(io.BytesIO):
        def read(self, *_arguments):
            raise OSError(5, "Input/output error")

    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(Torn()))
    assert "standard input cannot be read: the disk reports a fault" in refused(run("plan", "-"))


def test_a_sheet_onto_a_full_disk_is_refused(run, deck):
    assert "the disk is full" in refused(run("sheet", deck, "-o", FULL_DISK))


@pytest.mark.parametrize("arguments", [["--help"], ["samples"], ["plan", "DECK"]])
def test_output_onto_a_full_disk_is_refused_in_one_line(arguments, deck):
    with FULL_DISK.open("wb") as full:
        command = [sys.executable, "-m", "spring_layout"]
        command += [str(deck) if a == "DECK" else a for a in arguments]
        result = subprocess.run(
            command, stdout=full, stderr=subprocess.PIPE, timeout=60, check=False
        )
    assert result.returncode == 2
    assert result.stderr.count(b"\n") == 1
    assert b"the disk is full" in result.stderr


def test_a_reader_that_leaves_early_is_no_fault(deck):
    command = [sys.executable, "-m", "spring_layout", "plan", str(deck)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as running:
        running.stdout.close()
        assert running.stderr.read() == b""
        assert running.wait(60) == 0


def test_a_stop_from_the_keyboard_is_one_line():
    command = [sys.executable, "-m", "spring_layout", "plan", "-"]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as running:
        # more than a pipe holds: once it is written, the program is reading its deck
        running.stdin.write(b" " * 300_000)
        running.send_signal(signal.SIGINT)
        out, err = running.communicate(timeout=60)
    assert running.returncode == 2
    assert out == b""
    assert err == b"spring-layout: stopped; nothing was written.\n"


class Torn(io.TextIOWrapper):
    """Standard output that fails when it is flushed."""

    def __init__(self, error):
        super().__init__(io.BytesIO())
        self.error = error

    def flush(self):
        raise self.error


@pytest.mark.parametrize(
    ("error", "status", "words"),
    [
        (BrokenPipeError(), 0, ""),
        (OSError(28, "No space left on device"), 2, "standard output cannot be used: the disk"),
    ],
)
def test_output_that_is_torn_off(deck, monkeypatch, capsys, error, status, words):
    monkeypatch.setattr("sys.stdout", Torn(error))
    assert main(["plan", str(deck)]) == status
    monkeypatch.undo()
    assert words in capsys.readouterr().err


@pytest.mark.parametrize("arguments", [["plan", "DECK"], ["plan", "DECK", "--json"]])
def test_closed_standard_output_is_no_fault(deck, monkeypatch, arguments):
    monkeypatch.setattr("sys.stdout", None)
    assert main([str(deck) if a == "DECK" else a for a in arguments]) == 0


def test_a_stop_while_planning_is_one_line(run, deck, monkeypatch):
    def stopped(_deck):
        raise KeyboardInterrupt

    monkeypatch.setattr("spring_layout.plan.make_plan", stopped)
    assert "stopped" in refused(run("plan", deck))


def test_a_name_that_the_terminal_cannot_show_is_escaped(deck, tmp_path):
    text = deck.read_text().replace("3 by 3", "Café ☂")
    named = tmp_path / "named.deck.json"
    named.write_text(text, encoding="utf-8")
    environment = {**os.environ, "PYTHONIOENCODING": "ascii:strict"}
    result = process("plan", named, env=environment)
    assert result.returncode == 0
    assert b"Caf\\xe9 \\u2602" in result.stdout
    as_json = process("plan", named, "--json", env=environment)
    assert json.loads(as_json.stdout.decode("utf-8"))["deck"] == "Café ☂"


def test_a_name_that_no_terminal_can_show_makes_no_traceback():
    result = process("plan", os.fsdecode(b"\xff\xfe.deck.json"))
    assert result.returncode == 2
    assert b"Traceback" not in result.stderr
