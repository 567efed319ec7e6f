"""The one application that pictures need."""

import pytest
from PySide6.QtWidgets import QApplication

from spring_layout.gui.starting import application


@pytest.fixture(scope="session")
def qapp() -> QApplication:
    """The program's own application."""
    return application()
