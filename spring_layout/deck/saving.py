"""Writes a whole file or nothing: a reader never sees half of one."""

import contextlib
import os
import secrets
import stat
from pathlib import Path

from spring_layout.deck.errors import OutputError, reason_in_words


def write_atomically(path: str | os.PathLike[str], data: bytes) -> None:
    """Puts ``data`` at ``path``, replacing what is there only once all of it is on the disk.

    Links are followed, an existing file keeps its mode, and what is no ordinary file (a pipe, a
    device) is written straight. Raises OutputError; the old file is then unharmed and nothing
    new lies in the folder.
    """
    try:
        _write(Path(path), data)
    except (OSError, ValueError) as error:
        raise OutputError(f"The file cannot be written: {reason_in_words(error)}.") from error


def _write(path: Path, data: bytes) -> None:
    target = Path(os.path.realpath(path))
    if not target.parent.is_dir():
        raise OutputError(
            "The file cannot be written: its folder does not exist; "
            "make the folder or choose another place."
        )
    mode = _mode_of(target)
    if mode is not None and not stat.S_ISREG(mode):
        target.write_bytes(data)
        return
    if mode is not None and not os.access(target, os.W_OK):
        raise OutputError(
            "The file cannot be written: it is protected against writing; "
            "change its permissions or choose another name."
        )
    _replace(target, data, mode)


def _mode_of(target: Path) -> int | None:
    """The mode of the file at ``target``; None where there is none yet."""
    try:
        return target.stat().st_mode
    except FileNotFoundError:
        return None


def _replace(target: Path, data: bytes, mode: int | None) -> None:
    """Writes beside ``target`` and then moves the whole file into its place."""
    beside = target.with_name(f".{secrets.token_hex(8)}.part")
    try:
        _write_through(beside, data, mode)
        beside.replace(target)
    except BaseException:
        with contextlib.suppress(OSError):
            beside.unlink()
        raise
    _sync_folder(target.parent)


def _write_through(path: Path, data: bytes, mode: int | None) -> None:
    """Makes the new file ``path`` with ``data``, and waits until the disk holds it."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    with os.fdopen(os.open(path, flags, 0o666), "wb") as file:
        if mode is not None:
            path.chmod(stat.S_IMODE(mode))
        file.write(data)
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
