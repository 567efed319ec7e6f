"""What each command does."""

import argparse
import contextlib
import gc
from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from spring_layout.cli.exits import DONE, DONE_WITH_WRONG, RefusedError
from spring_layout.cli.outputs import Asked, writer_for
from spring_layout.cli.sheets import ONE_SHEET, SHEETS, Sheet
from spring_layout.cli.streams import deck_from, refusing, show, show_utf8, write_out
from spring_layout.words import words_for

if TYPE_CHECKING:
    from spring_layout.plan import Plan


def run_edit(chosen: argparse.Namespace) -> int:
    """Open the window; without a screen that is one sentence and UNUSABLE."""
    try:
        from spring_layout.gui.app import main as window

        if chosen.deck == "-":
            return int(window(given=deck_from("-")))
        return int(window(chosen.deck))
    except ImportError as error:
        raise RefusedError(f"the window cannot be opened: {error}") from error


def run_plan(chosen: argparse.Namespace) -> int:
    """Print the plan."""
    plan = _planned(chosen.deck)
    told = plan.in_words(words_for(plan.deck.units))
    if chosen.json:
        # for other programs: always in the same words
        from spring_layout.report.plan_json import plan_to_json

        show_utf8(plan_to_json(plan))
    elif chosen.materials:
        from spring_layout.report.materials import materials_csv

        show_utf8(materials_csv(told.materials, plan.deck.units))
    else:
        from spring_layout.report.text import plan_to_text

        show(plan_to_text(told))
    return DONE_WITH_WRONG if _wrong(plan) else DONE


def run_sheet(chosen: argparse.Namespace) -> int:
    """Draw a sheet into a file, or into a file a page."""
    writer = writer_for(chosen.out)
    sheet = SHEETS[chosen.what]
    _refuse_others(chosen, sheet)
    _refuse_long_paper(chosen, sheet)
    plan = _planned(chosen.deck)
    plan = plan.in_words(words_for(plan.deck.units))
    options = {name: getattr(chosen, name) for name in sheet.options}
    tiled = sheet.tiled and chosen.paper.strip().lower() != ONE_SHEET
    draw = partial(sheet.draw, plan, chosen.paper, **options)
    with _keeping_rubbish():
        files = writer(Asked(plan, sheet, draw, chosen.out, tiled))
    write_out(files)
    if chosen.out != "-":
        if list(files) != [chosen.out]:
            show("".join(f"{name}\n" for name in files))
        for sentence in _wrong(plan):
            show(f"Wrong: {sentence}\n")
    return DONE


@contextlib.contextmanager
def _keeping_rubbish() -> Iterator[None]:
    """Looks for no rubbish meanwhile: a drawing's many small parts are all in use to its end."""
    collected = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collected:
            gc.enable()


def _refuse_others(chosen: argparse.Namespace, sheet: Sheet) -> None:
    """Refuses what was asked for and belongs to another sheet, instead of passing over it."""
    for name, other in SHEETS.items():
        for option in set(other.options) - set(sheet.options):
            if getattr(chosen, option) is not None:
                raise RefusedError(f"--{option} belongs to --what {name}; give both")


def _refuse_long_paper(chosen: argparse.Namespace, sheet: Sheet) -> None:
    """Refuses a roll, or no paper at all, for a sheet that is not drawn at full size."""
    name = chosen.paper.strip().lower()
    if not sheet.long_paper and (name == ONE_SHEET or name.startswith("roll")):
        long = " and ".join(f"--what {name}" for name, other in SHEETS.items() if other.long_paper)
        raise RefusedError(
            f"--paper: {chosen.paper.strip()} belongs to {long}; give one of them, or a sheet of "
            f"paper such as a4 or letter for --what {chosen.what}"
        )


def run_samples(chosen: argparse.Namespace) -> int:
    """List the sample decks, or copy them."""
    from spring_layout.resources import sample_decks

    decks = sample_decks()
    if chosen.copy == "":
        raise RefusedError("--copy: the name is empty; name a folder")
    if chosen.copy is not None:
        _copy(decks, Path(chosen.copy))
        return DONE
    wide = max((len(path.name) for path in decks), default=0)
    for path in decks:
        show(f"{path.name:<{wide}}  {deck_from(str(path)).name}\n")
    show(f"They are in {decks[0].parent}\n" if decks else "There are no sample decks.\n")
    return DONE


def _copy(decks: Sequence[Path], folder: Path) -> None:
    """Copy sample decks into ``folder``, over nothing that differs from them."""
    for path in decks:
        there = folder / path.name
        if not _is_free(there, path.read_bytes()):
            raise RefusedError(f"{there} is there already and differs; choose another folder")
    with refusing(f"{folder}: the folder cannot be made"):
        folder.mkdir(parents=True, exist_ok=True)
    for path in decks:
        write_out({str(folder / path.name): path.read_bytes()})
        show(f"{folder / path.name}\n")


def _is_free(path: Path, data: bytes) -> bool:
    """Whether nothing stands at ``path``, or the very same."""
    try:
        return path.read_bytes() == data
    except (FileNotFoundError, NotADirectoryError):
        return True
    except OSError:
        return False


def _planned(source: str) -> "Plan":
    from spring_layout.plan import make_plan

    return make_plan(deck_from(source))


def _wrong(plan: "Plan") -> list[str]:
    """The messages of the findings of severity ``wrong``."""
    return [finding.message for finding in plan.findings if finding.severity == "wrong"]
