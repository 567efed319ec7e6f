"""The words and numbers that stand on a sheet, in the deck's units and the trade's words."""

from collections import Counter

import numpy as np

from spring_layout.checks.tie_words import coil_named, twine_total
from spring_layout.deck.model import Coil, Deck, Run
from spring_layout.drawing.look import RUN_LOOKS
from spring_layout.planning.parts import Array, Parts
from spring_layout.planning.twine import total_as_cut
from spring_layout.tolerances import SAME_PLACE
from spring_layout.units import Units, format_length

HITCHES = {"clove": "clove hitch", "half": "half hitch", "overhand": "overhand knot"}
ORDERS = {
    "balanced": "from the middle out, by turns",
    "by-direction": "one direction after the other",
}
CAUTION = (
    "Wear eye protection while springs are tied, pressed or cut loose, and gloves for pulling "
    "twine. Keep hands out from under a loaded spring. Fire-safety rules and a qualified "
    "upholsterer come first."
)


def number_rows(parts: Parts) -> list[tuple[str, str]]:
    """The numbers that matter as (what, how much), in the order of the work."""
    deck, heights = parts.deck, parts.heights
    units = deck.units
    rows = [("Springs", words) for words in spring_words(deck)]
    rows.append(("Tied height", tied_height_words(parts)))
    down = format_length(heights.free_height - heights.tied_height, units)
    rows.append(("Tied down by", f"{down} ({heights.typical_squeeze:.0%} of free height)"))
    rows += _space_rows(parts)
    if parts.twine.pieces:
        total = twine_total(deck, total_as_cut(deck, parts.twine))
        pieces = "1 piece" if parts.twine.pieces == 1 else f"{parts.twine.pieces} pieces"
        rows.append(("Spring twine", f"{pieces}, about {total} in all"))
        rows.append(("Hitch", HITCHES[deck.twine.hitch]))
        rows += _outer_hitches(parts)
        rows.append(("Tying order", ORDERS[deck.tying.order]))
    return [(parts.told(what), parts.told(value)) for what, value in rows]


def _outer_hitches(parts: Parts) -> list[tuple[str, str]]:
    """The coil that the outer hitches of the straight ties sit on, where that is one answer."""
    straight = [
        hitches
        for line, hitches in zip(parts.ties.lines, parts.hitches.lines, strict=False)
        if line.run in ("front-to-back", "side-to-side")
    ]
    if not straight:
        return []
    coils = {hitch.ring for one in straight for hitch in (one.along[0], one.along[-1])}
    if len(coils) > 1:
        return [("Outer hitches", "not all on one coil: see the bench sheet")]
    returned = any(hitch for one in straight for hitch in one.returns)
    then = "; return ties to the top" if returned else ""
    return [("Outer hitches", coil_named(coils.pop()) + then)]


def spring_words(deck: Deck) -> list[str]:
    """How many springs of each size, such as "9 of 6 in, 3.66 mm wire (SWG 9)"."""
    counts = Counter(spring.coil for spring in deck.springs)
    coils = {coil.id: coil for coil in deck.coils}
    return [f"{count} of {coil_words(coils[name], deck.units)}" for name, count in counts.items()]


def coil_words(coil: Coil, units: Units) -> str:
    """A spring size: free height and wire."""
    gauge = f", {coil.gauge}" if coil.gauge else ""
    wire = format_length(coil.wire, units, "wire")
    return f"{format_length(coil.free_height, units)} free, {wire} wire{gauge}"


def tied_height_words(parts: Parts) -> str:
    """The tied height, with the fall to the back and the crown that springs take, if any."""
    tying, units = parts.deck.tying, parts.deck.units
    words = format_length(tying.tied_height, units)
    back = tying.tied_height_back
    if back is not None and back != tying.tied_height:
        words += f" at the front, {format_length(back, units)} at the back"
    crown = parts.heights.crown_taken
    if crown >= SAME_PLACE:
        words += f", crown {format_length(crown, units)}"
    return words


def _space_rows(parts: Parts) -> list[tuple[str, str]]:
    """The gaps between neighbours, and each rail's distance from the spring nearest to it."""
    spaces, units = parts.spaces, parts.deck.units
    rows = []
    if len(spaces.neighbour_gaps):
        rows.append(("Gaps", range_words(spaces.gap, units, "some overlap by")))
    railed = [i for i, side in enumerate(parts.deck.frame.sides) if side.rail != "none"]
    if len(spaces.clearance) and railed:
        nearest = spaces.side_clearances[:, railed].min(axis=0)
        rows.append(("From the rails", range_words(nearest, units, "some stand over by")))
    return rows


def range_words(values: Array, units: Units, below: str) -> str:
    """The least and most of ``values`` (mm), or the one where they read the same.

    What is less than nothing is told in words: ``below``, and by how much.
    """
    low, high = float(np.nanmin(values)), float(np.nanmax(values))
    least, most = format_length(low, units, unit=False), format_length(high, units)
    if least.startswith("-"):
        under = f"{below} {format_length(-low, units)}"
        return under if most.startswith(("-", "0 ")) else f"{most} at most; {under}"
    return most if most.startswith(f"{least} {units}") else f"{least} to {most}"


def runs_present(parts: Parts) -> list[Run]:
    """The runs that the deck has ties of, in the fixed order of runs."""
    present = {line.run for line in parts.ties.lines}
    return [run for run in RUN_LOOKS if run in present]
