"""The command line. Qt and scipy are imported only where they are needed.

Exit status: 0 done; 1 done, and the plan has findings of severity ``wrong`` (``plan`` only);
2 the input or the output cannot be used: one line on standard error, nothing written.
"""

import argparse
import contextlib
import sys
from collections.abc import Callable, Sequence

from spring_layout.cli.exits import DONE, PROGRAM, UNUSABLE, RefusedError
from spring_layout.cli.parser import make_parser
from spring_layout.cli.streams import give_up_output, reason


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit status; never raises, never shows a traceback."""
    try:
        status = _run(arguments)
        if sys.stdout is not None:
            sys.stdout.flush()
        return status
    except BrokenPipeError:
        # whoever reads the output has seen enough, as in "spring-layout plan DECK | head"
        give_up_output()
        return DONE
    except KeyboardInterrupt:
        return _refuse("stopped; nothing was written")
    except RefusedError as refusal:
        return _refuse(str(refusal))
    except OSError as error:
        give_up_output()
        return _refuse(f"{error.filename or 'standard output'} cannot be used: {reason(error)}")
    except Exception as error:  # the user never sees a traceback
        return _refuse(
            f"a fault of the program itself ({type(error).__name__}: {error}); "
            "please report it with the deck file"
        )


def _refuse(sentence: str) -> int:
    """Say on standard error, in one line, why it cannot be done."""
    line = " ".join(sentence.split()).rstrip(".") + "."
    with contextlib.suppress(OSError, AttributeError):
        sys.stderr.write(f"{PROGRAM}: {line}\n")
        sys.stderr.flush()
    return UNUSABLE


def _run(arguments: Sequence[str] | None) -> int:
    try:
        chosen = make_parser().parse_args(arguments)
    except SystemExit:
        # after --help and --version; every error of the parser is a RefusedError
        return DONE
    command: Callable[[argparse.Namespace], int] = chosen.command
    return command(chosen)
