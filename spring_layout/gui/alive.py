"""A sign that a window lives: a file that the system holds locked until its process ends.

However a process ends, the lock goes with it; its number, which another process may have by
then, says nothing.
"""

import sys
from pathlib import Path
from typing import IO


class Sign:
    """The sign of one window, in ``file``; it stands from ``put_up`` to ``take_down``."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self._held: IO[bytes] | None = None

    def put_up(self) -> None:
        """Makes the file and locks it, once. Raises OSError where that cannot be."""
        if self._held is None:
            held = self.file.open("ab")
            if not _locked(held):  # a file system without locks: the sign says nothing
                held.close()
                return
            self._held = held

    def take_down(self) -> None:
        """Lets go of the file."""
        if self._held is not None:
            self._held.close()
            self._held = None


def stands(file: Path) -> bool:
    """Whether the sign in ``file`` is held by a process that lives."""
    try:
        with file.open("r+b") as sign:
            return not _locked(sign)
    except OSError:
        return False


def _locked(file: IO[bytes]) -> bool:
    """Locks ``file`` until it is closed; False where another holds it."""
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(file.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
