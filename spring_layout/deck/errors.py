"""What reading and writing of files raises."""

import errno

_REASONS = {
    errno.ENOENT: "it does not exist; check the name and the folder",
    errno.ENOTDIR: "a part of its path is a file, not a folder; check the path",
    errno.EISDIR: "it is a folder; name a file",
    errno.EACCES: "the permission is missing; change the permissions or choose another place",
    errno.EPERM: "the permission is missing; change the permissions or choose another place",
    errno.EROFS: "the place can only be read; choose another place",
    errno.ENOSPC: "the disk is full; make room or choose another place",
    errno.EDQUOT: "the allowed space is used up; make room or choose another place",
    errno.EFBIG: "the file grows too large for the place; choose another place",
    errno.ENAMETOOLONG: "the name is too long; choose a shorter one",
    errno.ELOOP: "its links lead in a circle; choose another place",
    errno.EIO: "the disk reports a fault; choose another place and check the disk",
}


class DeckFileError(Exception):
    """A deck file that cannot be used.

    ``place`` is the path in the file (``$.springs[3].x``; ``$`` is the whole file); ``message``
    is one sentence with the place in words, what is wrong and the mend.
    """

    def __init__(self, place: str, message: str) -> None:
        super().__init__(message if place in ("", "$") else f"{place}: {message}")
        self.place = place
        self.message = message


class OutputError(DeckFileError):
    """A file that cannot be written; what stood there before is still there, unharmed.

    ``path``: which file, as it was named.
    """

    def __init__(self, message: str) -> None:
        super().__init__("", message)
        self.path = ""


def reason_in_words(error: OSError | ValueError) -> str:
    """Why the system refused a path, with the mend, as the end of a sentence."""
    if isinstance(error, OSError):
        return _REASONS.get(error.errno or 0, error.strerror or "the system refused it")
    return "the name cannot be used; choose another"
