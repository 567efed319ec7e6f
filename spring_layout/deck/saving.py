"""Writes whole files or nothing: a reader never sees half of one."""

import contextlib
import os
import secrets
import stat
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from spring_layout.deck.errors import OutputError, reason_in_words

_AT_ONCE = 16
"""So many files are put on the disk at once: it takes them together, not one after the other."""


def write_atomically(path: str | os.PathLike[str], data: bytes) -> None:
    """Puts ``data`` at ``path``, replacing what is there only once all of it is on the disk.

    Links are followed, an existing file keeps its mode, and what is no ordinary file (a pipe, a
    device) is written straight. Raises OutputError; the old file is then unharmed and nothing
    new lies in the folder.
    """
    write_all_atomically({os.fspath(path): data})


def write_all_atomically(files: Mapping[str, bytes]) -> None:
    """Puts all ``files``, by their paths, in their places once all of them are on the disk.

    Each as ``write_atomically`` does. Raises OutputError with the ``path`` that cannot be written;
    where that shows before all are on the disk, every old file is unharmed.
    """
    parts: list[_Part] = []
    try:
        for path, data in files.items():
            with _telling(path):
                parts += _planned(path, data)
        _write_through(parts)
        for part in parts:
            with _telling(part.path):
                part.beside.replace(part.target)
    finally:
        for part in parts:
            with contextlib.suppress(OSError):
                part.beside.unlink(missing_ok=True)
    for folder in {part.target.parent for part in parts}:
        _sync_folder(folder)


@dataclass(frozen=True)
class _Part:
    """A file that is written ``beside`` its ``target`` before it takes its place."""

    path: str
    data: bytes
    target: Path
    beside: Path
    mode: int | None


@contextlib.contextmanager
def _telling(path: str) -> Iterator[None]:
    """Turns what the system refuses into an OutputError about ``path``."""
    try:
        yield
    except OutputError as error:
        error.path = path
        raise
    except (OSError, ValueError) as error:
        told = OutputError(f"The file cannot be written: {reason_in_words(error)}.")
        told.path = path
        raise told from error


def _planned(path: str, data: bytes) -> list[_Part]:
    """What is to be written beside ``path``; nothing for a pipe, which is written straight."""
    target = Path(os.path.realpath(path))
    if not target.parent.is_dir():
        raise OutputError(
            "The file cannot be written: its folder does not exist; "
            "make the folder or choose another place."
        )
    mode = _mode_of(target)
    if mode is not None and not stat.S_ISREG(mode):
        target.write_bytes(data)
        return []
    if mode is not None and not os.access(target, os.W_OK):
        raise OutputError(
            "The file cannot be written: it is protected against writing; "
            "change its permissions or choose another name."
        )
    beside = target.with_name(f".{secrets.token_hex(8)}.part")
    return [_Part(path, data, target, beside, mode)]


def _mode_of(target: Path) -> int | None:
    """The mode of the file at ``target``; None where there is none yet."""
    try:
        return target.stat().st_mode
    except FileNotFoundError:
        return None


def _write_through(parts: Sequence[_Part]) -> None:
    """Makes the new files, and waits until the disk holds them."""
    if len(parts) <= 1:
        for part in parts:
            _write(part)
        return
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(_AT_ONCE) as pool:
        for written in [pool.submit(_write, part) for part in parts]:
            written.result()


def _write(part: _Part) -> None:
    """Makes the file beside its target, and waits until the disk holds it."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    with (
        _telling(part.path),
        os.fdopen(os.open(part.beside, flags, 0o666), "wb") as file,
    ):
        if part.mode is not None:
            part.beside.chmod(stat.S_IMODE(part.mode))
        file.write(part.data)
        file.flush()
        os.fsync(file.fileno())


def _sync_folder(folder: Path) -> None:
    """Waits until the folder's own entry is on the disk, where the system can do that."""
    # some systems cannot open a folder, or not sync it: the file itself is safe by now
    with contextlib.suppress(OSError):
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)
