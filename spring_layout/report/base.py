"""The base in words: the strips of webbing and the sewing-in of the feet."""

from spring_layout.checks.tie_words import listed_all, twine_total
from spring_layout.checks.words import length, opened
from spring_layout.deck.model import Deck
from spring_layout.planning.parts import Parts, Strip
from spring_layout.planning.stitching import StitchingPlan
from spring_layout.report.tables import paragraph, table
from spring_layout.units import format_length

HEADS = ("Strip", "Middle at", "Cut", "")
_LEFT = frozenset({0, 3})

_RUNS = {"front-to-back": "front to back", "side-to-side": "side to side"}
_ENDS = {"front-to-back": ("back", "front"), "side-to-side": ("left", "right")}


def base_section(parts: Parts, stitching: StitchingPlan) -> list[str]:
    """The webbing strip by strip, then the way of the stitching twine."""
    return [*_webbing(parts), *_sewing(parts, stitching)]


def _webbing(parts: Parts) -> list[str]:
    deck, plan = parts.deck, parts.webbing
    if not plan.strips:
        return ["BASE", "", f"No webbing; the feet are fixed with {plan.foot_fixing}s."]
    rows = [_strip(deck, strip) for strip in plan.strips]
    along, across = plan.usual
    usual = (
        f"The gap of {length(deck, deck.webbing.gap)} alone would lay {along} front to back and "
        f"{across} side to side."
    )
    head = (
        f"BASE. {len(plan.strips)} strips of webbing {length(deck, deck.webbing.width)} wide, "
        f"{twine_total(deck, plan.total)} off the roll, woven over and under by turns; "
        f"{plan.fixings} {deck.webbing.fastening}. Places are from the deck's zero. {usual}"
    )
    return [*paragraph(head), "", *table(HEADS, rows, _LEFT)]


def _strip(deck: Deck, strip: Strip) -> tuple[str, str, str, str]:
    ends = [name for name, split in zip(_ENDS[strip.run], strip.split, strict=True) if split]
    note = f"split round the block at the {listed_all(ends)}, never cut across" if ends else ""
    return (
        opened(_RUNS[strip.run]),
        length(deck, strip.at),
        format_length(strip.cut_length, deck.units, "cut"),
        note,
    )


def _sewing(parts: Parts, plan: StitchingPlan) -> list[str]:
    if not plan.stitches:
        return []
    deck = parts.deck
    order: dict[str, list[str]] = {}
    for stitch in plan.stitches:
        order.setdefault(stitch.spring, []).append(stitch.point)
    new = {plan.stitches[i].spring for i in plan.new_lengths[1:]}
    ways = [
        f"{parts.labels[spring]}{'*' if spring in new else ''} {', '.join(points)}"
        for spring, points in order.items()
    ]
    least = "the shortest there is" if plan.exact else f"at least {length(deck, plan.least)}"
    said = (
        f"Sew in the feet in this order, {deck.stitching.points} stitches each; the way is "
        f"{length(deck, plan.route_length)} ({least}) and takes {twine_total(deck, plan.twine)} of "
        f"twine. {'A new length starts at each star. ' if new else ''}{'; '.join(ways)}."
    )
    return ["", *paragraph(said)]
