"""Makes the shipped font and its width table. Run once, by hand; the results are committed.

    python -m tests.drawing.make_font FOLDER

``FOLDER`` holds Barlow Semi Condensed 1.408 as TrueType (``...400Regular.ttf`` and
``...600SemiBold.ttf``), as the npm package ``@expo-google-fonts/barlow-semi-condensed`` 0.4.1
carries it. Needs fontTools and brotli, which nothing needs at run time.

What is done to the font: the characters of ``CHARACTERS`` are kept, the tabular figures become the
plain figures, all other alternates go, and the family is renamed so that no installed font of
another cut is taken for it. The licence (SIL Open Font License 1.1, no reserved font name) allows
this and asks that the licence stays with the font: it is ``OFL.txt`` beside it.
"""

import json
import sys
from collections.abc import Iterator
from copy import copy
from io import BytesIO
from pathlib import Path
from typing import Any

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

from tests.drawing.font_characters import ASCII, CHARACTERS

FONT_FOLDER = Path(__file__).parents[2] / "spring_layout" / "drawing" / "font"
FAMILY = "Spring Layout Sans"
WEIGHTS = {"regular": "400Regular", "bold": "600SemiBold"}


def cut_font(source: Path, weight: str) -> TTFont:
    """The font of ``source`` with our characters, tabular figures and family name."""
    font = TTFont(source)
    _use_tabular_figures(font)
    options = Options()
    options.layout_features = ["kern", "mark", "ccmp"]
    options.hinting = False
    options.name_IDs = [0, 1, 2, 4, 5, 6, 13, 14]
    subsetter = Subsetter(options)
    subsetter.populate(text=CHARACTERS)
    subsetter.subset(font)
    _rename(font, weight)
    font["head"].modified = font["head"].created
    font.recalcTimestamp = False
    return font


def _use_tabular_figures(font: TTFont) -> None:
    """Map the figures straight to their tabular cut, so that every program shows those."""
    gsub = font["GSUB"].table
    indices = next(
        r.Feature.LookupListIndex for r in gsub.FeatureList.FeatureRecord if r.FeatureTag == "tnum"
    )
    mapping: dict[str, str] = {}
    for index in indices:
        for table in gsub.LookupList.Lookup[index].SubTable:
            mapping.update(getattr(table, "ExtSubTable", table).mapping)
    for table in font["cmap"].tables:
        table.cmap = {code: mapping.get(name, name) for code, name in table.cmap.items()}


def _rename(font: TTFont, weight: str) -> None:
    style = "Regular" if weight == "regular" else "Bold"
    for record in font["name"].names:
        new = {1: FAMILY, 2: style, 4: f"{FAMILY} {style}", 6: f"SpringLayoutSans-{style}"}
        if record.nameID in new:
            record.string = new[record.nameID].encode(record.getEncoding())
    font["OS/2"].usWeightClass = 400 if weight == "regular" else 700
    selection = font["OS/2"].fsSelection & ~0b1100001
    font["OS/2"].fsSelection = selection | (0b1000000 if weight == "regular" else 0b100000)
    font["head"].macStyle = 0 if weight == "regular" else 1


def tell_space_from_tab(font: TTFont) -> None:
    """Give the tab a glyph of its own, as wide and as empty as the space.

    Without one Qt draws a tab with the space's glyph, and then writes into a PDF that this glyph
    means a tab, so that every space that is copied out of the PDF becomes one.
    """
    space = font.getBestCmap()[ord(" ")]
    if ord("\t") in font.getBestCmap():
        return
    font.setGlyphOrder([*font.getGlyphOrder(), "tab"])
    font["glyf"]["tab"] = copy(font["glyf"][space])
    font["hmtx"]["tab"] = font["hmtx"][space]
    for table in font["cmap"].tables:
        if table.isUnicode():
            table.cmap[ord("\t")] = "tab"


def measure(font: TTFont) -> dict[str, Any]:
    """The font's measures in thousandths of its size: advances, and kerning of ASCII pairs."""
    names = {char: font.getBestCmap()[ord(char)] for char in CHARACTERS if _has(font, char)}
    em = font["head"].unitsPerEm
    advances = {char: font["hmtx"][name][0] * 1000 // em for char, name in names.items()}
    kern = {}
    pairs = _kerning(font)
    for first in ASCII:
        for second in ASCII:
            value = pairs(names[first], names[second])
            if value:
                kern[first + second] = value * 1000 // em
    return {"capital": font["OS/2"].sCapHeight * 1000 // em, "advances": advances, "kern": kern}


def _has(font: TTFont, char: str) -> bool:
    return ord(char) in font.getBestCmap()


def _kerning(font: TTFont) -> Any:
    """A function of two glyph names: the change of the first one's advance."""
    tables = list(_pair_tables(font))

    def of_pair(first: str, second: str) -> int:
        for table in tables:
            if first in table.Coverage.glyphs:
                value = _value(table, first, second)
                if value is not None:
                    return value
        return 0

    return of_pair


def _pair_tables(font: TTFont) -> Iterator[Any]:
    gpos = font["GPOS"].table
    wanted = {
        index
        for record in gpos.FeatureList.FeatureRecord
        if record.FeatureTag == "kern"
        for index in record.Feature.LookupListIndex
    }
    for index in sorted(wanted):
        for table in gpos.LookupList.Lookup[index].SubTable:
            yield getattr(table, "ExtSubTable", table)


def _value(table: Any, first: str, second: str) -> int | None:
    """The pair's value in one table; None where the table does not speak of the pair."""
    if table.Format == 1:
        for record in table.PairSet[table.Coverage.glyphs.index(first)].PairValueRecord:
            if record.SecondGlyph == second:
                return record.Value1.XAdvance if record.Value1 else 0
        return None
    row = table.ClassDef1.classDefs.get(first, 0)
    column = table.ClassDef2.classDefs.get(second, 0)
    value = table.Class1Record[row].Class2Record[column].Value1
    return getattr(value, "XAdvance", 0) if value else 0


def main(folder: Path) -> None:
    """Write the font files and the width table."""
    measures = {}
    for weight, name in WEIGHTS.items():
        font = cut_font(next(folder.rglob(f"*_{name}.ttf")), weight)
        plain = BytesIO()
        tell_space_from_tab(font)
        font.save(plain)
        (FONT_FOLDER / f"{weight}.ttf").write_bytes(plain.getvalue())
        measures[weight] = measure(font)
        font.flavor = "woff2"
        font.save(FONT_FOLDER / f"{weight}.woff2")
    text = json.dumps(measures, ensure_ascii=True, separators=(",", ":"))
    (FONT_FOLDER / "widths.json").write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
