"""The command line as tests meet it: run in this process or in one of its own."""

import subprocess
import sys
from types import SimpleNamespace

from spring_layout.cli import main
from spring_layout.deck.files import write_deck
from tests.decks import grid_deck


def stool_in(folder):
    """The file of a sound deck of nine springs."""
    path = folder / "stool.deck.json"
    write_deck(grid_deck(), path)
    return path


def runner(capsys):
    """Runs the command line; gives its exit status, output and error lines."""

    def runs(*arguments):
        status = main([str(argument) for argument in arguments])
        out, err = capsys.readouterr()
        return SimpleNamespace(status=status, out=out, errors=err.splitlines())

    return runs


def refused(result):
    """Whether it ended with one sentence and status 2, with nothing on standard output."""
    assert result.status == 2
    assert result.out == ""
    (line,) = result.errors
    assert line.startswith("spring-layout: ")
    return line


def process(*arguments, **options):
    """The command line as a process of its own."""
    command = [sys.executable, "-m", "spring_layout", *(str(a) for a in arguments)]
    return subprocess.run(command, capture_output=True, timeout=60, check=False, **options)
