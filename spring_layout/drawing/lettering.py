"""The shipped font and its measures, so that text is measured without Qt and without fontTools.

``font/`` holds Barlow Semi Condensed, cut down to the characters of European languages, with
figures that are all of one width, renamed "Spring Layout Sans", under the SIL Open Font License
(``font/OFL.txt``). ``font/widths.json`` is its width table; ``tests/drawing/make_font.py`` made
all of them and says how.

The size of a text is told here by the **height of its capitals**, as on technical drawings (ISO
3098): that is what must be at least 2 mm to be read at the bench. A figure is as tall as a
capital. The font's size, which pens need, is that height over 0.7.
"""

import json
import math
import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path as FilePath
from typing import Any

from spring_layout.drawing.primitives import NO_TAG, Place, Tag, Text, TextAnchor, Weight
from spring_layout.units import unbroken, with_plain_spaces

FONT_FAMILY = "Spring Layout Sans"
FONT_FOLDER = FilePath(__file__).resolve().parent / "font"
LEAST_HEIGHT = 2.0
"""mm; no capital on paper is lower than this."""
STRANGE_ADVANCE = 1000
"""Thousandths of the size: the width taken for a character that the font does not have."""


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    text = (FONT_FOLDER / "widths.json").read_text(encoding="utf-8")
    table: dict[str, Any] = json.loads(text)
    return table


def font_size(height: float) -> float:
    """The font's size for capitals ``height`` mm high, mm."""
    return height * 1000 / float(_table()["regular"]["capital"])


def width_at_size(words: str, size: float, weight: Weight = "regular") -> float:
    """How wide ``words`` are in the font's size ``size`` mm, mm."""
    return _thousandths(words, weight) / 1000 * size


@lru_cache(maxsize=8192)
def _thousandths(words: str, weight: Weight) -> float:
    """How wide ``words`` are, in thousandths of the font's size."""
    table = _table()[weight]
    advances, kern = table["advances"].get, table["kern"].get
    total, before = 0.0, ""
    for char in words:
        total += advances(char, STRANGE_ADVANCE) + kern(before + char, 0)
        before = char
    return total


def width(words: str, height: float, weight: Weight = "regular") -> float:
    """How wide ``words`` are with capitals ``height`` mm high, mm."""
    return width_at_size(words, font_size(height), weight)


def lettered(
    place: Place,
    words: str,
    height: float,
    colour: str,
    *,
    anchor: TextAnchor = "start",
    weight: Weight = "regular",
    turned: float = 0.0,
    tag: Tag = NO_TAG,
) -> Text:
    """``words`` with capitals ``height`` mm high, their baseline's ``anchor`` at ``place``."""
    size = font_size(height)
    return Text(place[0], place[1], words, size, colour, anchor, weight, turned, tag)


def wrapped(words: str, height: float, room: float, weight: Weight = "regular") -> list[str]:
    """``words`` broken into lines no wider than ``room`` mm; none of them is lost.

    No line ends within a length such as "1 1/2 in". A word wider than a line is broken where the
    line ends, as scripts that are written without spaces are.
    """
    return list(_wrapped(words, height, room, weight))


@lru_cache(maxsize=1024)
def _wrapped(words: str, height: float, room: float, weight: Weight) -> tuple[str, ...]:
    lines: list[str] = []
    for word in _words(words, height, room, weight):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width(longer, height, weight) <= room:
            lines[-1] = longer
        else:
            lines += _pieces(word, height, room, weight)
    return tuple(lines)


def _pieces(word: str, height: float, room: float, weight: Weight) -> list[str]:
    """The word in pieces no wider than ``room`` mm, each of one character at least."""
    pieces = [""]
    for character in word:
        if pieces[-1] and width(pieces[-1] + character, height, weight) > room:
            pieces.append("")
        pieces[-1] += character
    return pieces


def _words(words: str, height: float, room: float, weight: Weight) -> Iterator[str]:
    """The words, each length as one, unless it alone is wider than ``room`` mm."""
    for joined in _BREAKS.split(unbroken(words)):
        word = with_plain_spaces(joined)
        yield from word.split() if width(word, height, weight) > room else filter(None, [word])


_BREAKS = re.compile(r"[ \t\r\n\f\v]+")


def shortened(words: str, height: float, room: float, weight: Weight = "regular") -> str:
    """``words``, or as much of them as fits into ``room`` mm with a "…" at the end."""
    if width(words, height, weight) <= room:
        return words
    kept = words
    while kept and width(kept.rstrip() + "…", height, weight) > room:
        kept = kept[:-1]
    return kept.rstrip() + "…"


def hang(words: str, size: float) -> float:
    """How far words in the font's size ``size`` mm hang below their baseline, mm."""
    return _DESCENT * size if _HANGING & set(words) else 0.0


def corners(text: Text) -> list[Place]:
    """The four corners of what ``text`` covers, mm: from its baseline to its capitals' tops.

    Where some letter hangs below the baseline, as g and p do, from there.
    """
    long = width_at_size(text.words, text.size, text.weight)
    left = {"start": 0.0, "middle": -long / 2, "end": -long}[text.anchor]
    below = hang(text.words, text.size)
    above = -float(_table()["regular"]["capital"]) / 1000 * text.size
    angle = math.radians(text.turned)
    cos, sin = math.cos(angle), math.sin(angle)
    flat = ((left, above), (left + long, above), (left + long, below), (left, below))
    return [(text.x + x * cos - y * sin, text.y + x * sin + y * cos) for x, y in flat]


_HANGING = set("gjpqy,;()[]{}|Q_ÇçĄąĘę")
_DESCENT = 0.2
