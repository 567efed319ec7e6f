"""Motion: as the user set it in this program, else as the desktop has it."""

import pytest
from PySide6.QtWidgets import QApplication, QProxyStyle, QStyle

from tests.gui.hands import Hands


class Still(QProxyStyle):
    """The style of a desktop that asks for less motion."""

    def styleHint(self, hint, *rest):
        still = QStyle.StyleHint.SH_Widget_Animation_Duration
        return 0 if hint == still else super().styleHint(hint, *rest)


@pytest.fixture
def undecided(own_hands: Hands) -> Hands:
    """Hands of a user who has never touched the switch."""
    settings = own_hands.bench.settings
    settings._known.pop("motion", None)
    settings._kept.remove("motion")
    return own_hands


def test_the_desktop_decides_until_the_user_does(undecided: Hands, monkeypatch) -> None:
    assert undecided.bench.moves
    still = Still()
    monkeypatch.setattr(QApplication, "style", lambda: still)
    assert not undecided.bench.moves
    undecided.bench.settings.keep("motion", True)
    assert undecided.bench.moves
