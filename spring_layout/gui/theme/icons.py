"""The program's own icons, tinted from the palette and sharp at every scaling.

The files in ``icons/`` are drawn in ``currentColor`` on a grid of 24 px; white in them stands
for "the ground shows through".
"""

from functools import lru_cache

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from spring_layout.gui.theme.palettes import LIGHT, Palette
from spring_layout.resources import icons_folder

SIZES = (16, 20, 24, 32)
SCALES = (1.0, 1.25, 1.5, 2.0)


@lru_cache(maxsize=512)
def icon(name: str, palette: Palette = LIGHT) -> QIcon:
    """The icon ``name`` in the ink of ``palette``, greyed when disabled, accented when chosen."""
    made = QIcon()
    for scale in SCALES:
        for size in SIZES:
            for mode, state, colour in _looks(palette):
                made.addPixmap(pixmap(name, size, scale, colour, palette.paper), mode, state)
    return made


def _looks(palette: Palette) -> tuple[tuple[QIcon.Mode, QIcon.State, str], ...]:
    return (
        (QIcon.Mode.Normal, QIcon.State.Off, palette.ink),
        (QIcon.Mode.Normal, QIcon.State.On, palette.accent),
        (QIcon.Mode.Disabled, QIcon.State.Off, palette.hair),
    )


@lru_cache(maxsize=2048)
def pixmap(name: str, size: int, scale: float, colour: str, ground: str) -> QPixmap:
    """The icon as ``size`` logical pixels at ``scale`` device pixels each."""
    picture = QPixmap(round(size * scale), round(size * scale))
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    _renderer(name, colour, ground).render(painter, QRectF(picture.rect()))
    painter.end()
    picture.setDevicePixelRatio(scale)
    return picture


def app_icon() -> QIcon:
    """The program's own icon, in its colours."""
    made = QIcon()
    for size in (16, 24, 32, 48, 64, 128, 256):
        made.addPixmap(pixmap("spring-layout", size, 1.0, "#2B2A27", "#FBF8F2"))
    return made


def _renderer(name: str, colour: str, ground: str) -> QSvgRenderer:
    drawn = _text(name)
    if name != "spring-layout":
        drawn = drawn.replace('color="#2B2A27"', "").replace("#FFFFFF", ground)
        drawn = drawn.replace("currentColor", colour)
    return QSvgRenderer(QByteArray(drawn.encode()))


@lru_cache(maxsize=256)
def _text(name: str) -> str:
    return (icons_folder() / f"{name}.svg").read_text(encoding="utf-8")
