"""The shipped font for Qt: registered once, asked for by its size in millimetres.

Fonts go by pixel size under a scale, not by point size: points would depend on the device.
"""

from functools import lru_cache

from PySide6.QtGui import QFont, QFontDatabase

from spring_layout.drawing.lettering import FONT_FAMILY, FONT_FOLDER
from spring_layout.drawing.primitives import Weight

PIXELS = 100
"""px; text is laid out at this size and scaled down, so that hinting does not change its width."""


@lru_cache(maxsize=1)
def register() -> None:
    """Makes the shipped font known to Qt. Needs a QGuiApplication."""
    for weight in ("regular", "bold"):
        QFontDatabase.addApplicationFont(str(FONT_FOLDER / f"{weight}.ttf"))


@lru_cache(maxsize=4)
def font_of(weight: Weight) -> QFont:
    """The shipped font at ``PIXELS``, unhinted."""
    register()
    made = QFont(FONT_FAMILY)
    made.setPixelSize(PIXELS)
    made.setBold(weight == "bold")
    made.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return made
