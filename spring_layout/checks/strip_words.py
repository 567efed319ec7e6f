"""How a strip of webbing is told in words: where its middle is marked on the rails it joins."""

import shapely

from spring_layout.checks.tie_words import from_mark, listed_all
from spring_layout.checks.words import length, side_named
from spring_layout.planning.parts import Parts, Strip
from spring_layout.tolerances import CHORD_ERROR


def strip_place(parts: Parts, strip: Strip) -> str:
    """Where the middle of ``strip`` goes: "back rail and front rail 5 1/2 in left".

    That is from the centre mark of each rail. Ends on sides without a rail, such as a post, are
    left out; where there is no rail at all it is told from the middle of the opening.
    """
    marks: dict[str, list[str]] = {}
    for side, along in strip_ends(parts, strip):
        if parts.deck.frame.sides[side].rail != "none":
            away = from_mark(parts, side, along).removesuffix(" of") or "at the mark"
            marks.setdefault(away, []).append(side_named(parts.deck, side).removeprefix("the "))
    told = [f"{listed_all(rails)} {away}" for away, rails in marks.items()]
    return "; ".join(told) or _from_middle(parts, strip)


def strip_ends(parts: Parts, strip: Strip) -> list[tuple[int, float]]:
    """The sides that the middle of ``strip`` ends at, and how far along their inside edges, mm.

    The back or left one first. A side is left out where the strip's middle misses it.
    """
    x0, y0, x1, y1 = parts.standing.outline.bounds
    upright = strip.run == "front-to-back"
    ends = ((strip.at, y0), (strip.at, y1)) if upright else ((x0, strip.at), (x1, strip.at))
    lines, middle = parts.standing.outline.lines, shapely.LineString(ends)
    met = [
        (float(place[1 if upright else 0]), side, float(lines[side].project(shapely.Point(place))))
        for side, line in enumerate(lines)
        for place in shapely.get_coordinates(line.intersection(middle)).tolist()
    ]
    low, high = strip.start - CHORD_ERROR, strip.finish + CHORD_ERROR
    inside = sorted(one for one in met if low <= one[0] <= high)
    return [inside[i][1:] for i in (0, -1)] if len(inside) > 1 else []


def _from_middle(parts: Parts, strip: Strip) -> str:
    """Its place from the middle of the opening."""
    x0, y0, x1, y1 = parts.standing.outline.bounds
    upright = strip.run == "front-to-back"
    off = strip.at - ((x0 + x1) / 2 if upright else (y0 + y1) / 2)
    away = length(parts.deck, abs(off))
    if away.startswith("0 "):
        return "the middle of the opening"
    behind, beyond = ("left of", "right of") if upright else ("behind", "forward of")
    return f"{away} {behind if off < 0 else beyond} the middle of the opening"
