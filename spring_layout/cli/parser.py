"""What the command line understands."""

import argparse
from typing import NoReturn

from spring_layout import __version__
from spring_layout.cli.commands import run_edit, run_plan, run_samples, run_sheet
from spring_layout.cli.exits import PROGRAM, RefusedError
from spring_layout.cli.outputs import FORMATS
from spring_layout.cli.sheets import FULL_SIZE, SHEETS
from spring_layout.cli.streams import show

_DECK_HELP = "the deck file, or - to read it from standard input"


class _Parser(argparse.ArgumentParser):
    """A parser whose errors are one line, and which tells when its help cannot be written."""

    def error(self, message: str) -> NoReturn:
        raise RefusedError(f"{message}; see “{self.prog} --help”")

    def _print_message(self, message: str, file: object = None) -> None:
        """Write help or version; argparse itself would pass over a full disk."""
        show(message)


_EXAMPLES = """\
examples:
  spring-layout samples --copy decks
  spring-layout plan decks/square-stool.deck.json
  spring-layout plan my-chair.deck.json --json > my-chair.plan.json
  spring-layout sheet my-chair.deck.json -o my-chair.svg --paper letter
  spring-layout sheet my-chair.deck.json -o bench.pdf --what bench
  spring-layout sheet my-chair.deck.json -o template.pdf --full-size --paper a3
  spring-layout sheet my-chair.deck.json --what side-view --line 3 -o side.svg
  spring-layout edit my-chair.deck.json

exit status:
  0  done
  1  done, and the plan has findings that are wrong (plan only)
  2  the input or the output cannot be used; one line on standard error says why
"""


def make_parser() -> argparse.ArgumentParser:
    """The parser of the whole command line."""
    parser = _Parser(
        prog=PROGRAM,
        description="Lay out and tie the coil springs of a hand-sprung seat. Without a command, "
        "the window opens.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"Spring Layout {__version__}")
    parser.set_defaults(command=run_edit, deck=None)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    _add_edit(commands)
    _add_plan(commands)
    _add_sheet(commands)
    _add_samples(commands)
    return parser


def _add_edit(commands: "argparse._SubParsersAction[_Parser]") -> None:
    edit = commands.add_parser("edit", help="open the window", description="Open the window.")
    edit.add_argument(
        "deck",
        metavar="DECK",
        nargs="?",
        help="the deck file to open, or - to read the deck from standard input; it then has no "
        "file yet",
    )
    edit.set_defaults(command=run_edit)


def _add_plan(commands: "argparse._SubParsersAction[_Parser]") -> None:
    plan = commands.add_parser(
        "plan",
        help="print the plan of a deck",
        description="Print the plan of a deck: springs, ties in order with what to cut, the cross "
        "knots to make on each, and what the checks find.",
    )
    plan.add_argument("deck", metavar="DECK", help=_DECK_HELP)
    form = plan.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="as JSON, for other programs")
    form.add_argument("--materials", action="store_true", help="the list of materials only, as CSV")
    plan.set_defaults(command=run_plan)


def _add_sheet(commands: "argparse._SubParsersAction[_Parser]") -> None:
    sheets = "; ".join(f"{name}: {sheet.words}" for name, sheet in SHEETS.items())
    sheet = commands.add_parser(
        "sheet",
        help="draw a sheet of a deck into a file",
        description="Draw a sheet of a deck into a file. What the checks find to be wrong is "
        "printed too.",
    )
    sheet.add_argument("deck", metavar="DECK", help=_DECK_HELP)
    sheet.add_argument(
        "-o",
        "--out",
        metavar=f"OUT{'|OUT'.join(FORMATS)}",
        required=True,
        help="the file to write; what is there is replaced once the new sheet is complete",
    )
    sheet.add_argument(
        "--what", choices=list(SHEETS), default="diagram", help=f"{sheets} (default: diagram)"
    )
    sheet.add_argument(
        "--paper",
        default="a4",
        help="a4, a3, a2, a1, a0, letter, legal, tabloid, or a size in mm such as 420x297; for "
        "the template and the rail strips also a roll, such as roll-610 or roll-24in, and none: "
        "one sheet as large as it must be (default: a4)",
    )
    sheet.add_argument(
        "--bars",
        nargs=2,
        metavar=("ACROSS", "DOWN"),
        help="template and rail strips, for a printer that is off: what the bars of 100 mm (or, "
        "with a length in inches, of 4 in) measured on its print, such as 99.2 100.3",
    )
    where = sheet.add_mutually_exclusive_group()
    where.add_argument(
        "--line", type=int, metavar="N", help="side view: along tie number N (default: 1)"
    )
    where.add_argument(
        "--across",
        metavar="X,Y[,DEGREES]",
        help="side view: straight across through a place, X mm to the right and Y mm toward the "
        "front as the deck file has them, in a direction from x toward the front (default: 0)",
    )
    sheet.add_argument(
        "--full-size",
        dest="what",
        action="store_const",
        const=FULL_SIZE,
        help=f"the same as --what {FULL_SIZE}",
    )
    sheet.set_defaults(command=run_sheet)


def _add_samples(commands: "argparse._SubParsersAction[_Parser]") -> None:
    samples = commands.add_parser(
        "samples",
        help="list or copy the sample decks",
        description="List the sample decks, or copy them into a folder.",
    )
    samples.add_argument("--copy", metavar="DIR", help="copy them into this folder")
    samples.set_defaults(command=run_samples)
