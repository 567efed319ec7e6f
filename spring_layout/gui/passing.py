"""Dialogs that are gone once they have been answered, and do not pile up behind the window."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TypeVar

from PySide6.QtWidgets import QDialog

D = TypeVar("D", bound=QDialog)


@contextmanager
def passing(dialog: D) -> Iterator[D]:
    """``dialog`` for as long as it is needed; then Qt deletes it, whatever its parent."""
    try:
        yield dialog
    finally:
        dialog.deleteLater()
