"""Golden pictures: a drawing's SVG compared with the one that was looked at and found good.

With ``REWRITE_GOLDEN=1`` in the environment the files are written anew instead; look at them and
at the difference before they are committed. The embedded font is left out: it never changes with
the drawing and would make up most of each file.
"""

import os
import re
from pathlib import Path

FOLDER = Path(__file__).with_name("golden")


def without_font(svg: bytes) -> str:
    """The SVG text without the embedded font."""
    return re.sub(r"(<style[^>]*>).*?(</style>)", r"\1\2", svg.decode(), flags=re.DOTALL)


def difference(name: str, svg: bytes, folder: Path = FOLDER) -> str:
    """Where ``svg`` first departs from the golden picture ``name``; empty where it does not."""
    path, text = folder / f"{name}.svg", without_font(svg)
    if os.environ.get("REWRITE_GOLDEN") == "1":
        folder.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    lines, golden = text.splitlines(), path.read_text(encoding="utf-8").splitlines()
    for number, (line, wanted) in enumerate(zip(lines, golden, strict=False), start=1):
        if line != wanted:
            return f"line {number}: {line!r}, golden {wanted!r}"
    return "" if len(lines) == len(golden) else f"{len(lines)} lines, golden {len(golden)}"
