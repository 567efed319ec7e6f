"""What comes in and what goes out: decks, files, standard input and output."""

import contextlib
import os
import sys
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from spring_layout.cli.exits import RefusedError

if TYPE_CHECKING:
    from spring_layout.deck.model import Deck


def deck_from(source: str) -> "Deck":
    """The deck in the file ``source``, or on standard input for "-". Raises RefusedError."""
    from spring_layout.deck.files import DeckFileError, read_deck

    if not source:
        raise RefusedError("DECK: the name is empty; name a deck file")
    try:
        return read_deck(_standard_input() if source == "-" else source)
    except DeckFileError as error:
        raise RefusedError(f"{called(source)}: {error}") from error


def _standard_input() -> bytes:
    if sys.stdin is None:
        raise RefusedError("standard input is closed; name a deck file")
    from spring_layout.deck.reading import MOST_BYTES

    with refusing("standard input cannot be read"):
        return sys.stdin.buffer.read(MOST_BYTES + 1)


def called(source: str) -> str:
    """What to call ``source`` in a sentence."""
    return "standard input" if source == "-" else source


def write_out(files: Mapping[str, bytes]) -> None:
    """Write the files, by their names, all of them whole; "-" is standard output.

    Raises RefusedError; no file is then half written.
    """
    from spring_layout.deck.files import OutputError, write_all_atomically

    if "-" in files:
        sys.stdout.flush()
        sys.stdout.buffer.write(files["-"])
    try:
        write_all_atomically({name: data for name, data in files.items() if name != "-"})
    except OutputError as error:
        raise RefusedError(f"{error.path}: {error}") from error


@contextlib.contextmanager
def refusing(what: str) -> Iterator[None]:
    """Turn what the system refuses into a RefusedError that begins with ``what``."""
    try:
        yield
    except OSError as error:
        raise RefusedError(f"{what}: {reason(error)}") from error


def show(text: str) -> None:
    """Write ``text`` to standard output; what its encoding lacks is written as escapes."""
    if sys.stdout is None:
        return
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    sys.stdout.write(text.encode(encoding, "backslashreplace").decode(encoding))


def show_utf8(text: str) -> None:
    """Write ``text`` to standard output as UTF-8, whatever the terminal's encoding is."""
    if sys.stdout is not None:
        sys.stdout.flush()
        sys.stdout.buffer.write(text.encode("utf-8", "backslashreplace"))


def give_up_output() -> None:
    """Lead standard output to nowhere, so that Python does not try it again on its way out."""
    with contextlib.suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def reason(error: OSError) -> str:
    """Why the system refused, and the mend, as the end of a sentence."""
    from spring_layout.deck.errors import reason_in_words

    return reason_in_words(error)
