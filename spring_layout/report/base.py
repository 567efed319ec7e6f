"""The base in words: the strips of webbing and the sewing-in of the feet."""

from collections.abc import Iterator

from spring_layout.checks.sewing_words import working_lengths
from spring_layout.checks.strip_words import strip_place
from spring_layout.checks.tie_words import listed_all, twine_total
from spring_layout.checks.words import RUN_WORDS, length, opened
from spring_layout.planning.parts import Parts, Strip
from spring_layout.planning.stitching import StitchingPlan
from spring_layout.report.tables import paragraph, table
from spring_layout.units import format_length

HEADS = ("Strip of webbing", "Its middle, from the centre mark of each rail", "Cut")
_FIXINGS = {"stitch": "stitches", "clip": "clips", "staple": "staples"}
_FIXED = {"under-rails": "under the rails", "over-rails": "over the rails to their outer edges"}
_LEFT = frozenset({0, 1})
_ENDS = {"front-to-back": ("back", "front"), "side-to-side": ("left", "right")}


def base_section(parts: Parts, stitching: StitchingPlan) -> list[str]:
    """The webbing strip by strip, then the way of the stitching twine."""
    return [*_webbing(parts), *_sewing(parts, stitching)]


def _webbing(parts: Parts) -> list[str]:
    deck, plan = parts.deck, parts.webbing
    if not plan.strips:
        fixings = _FIXINGS[plan.foot_fixing]
        told = (
            f"A plywood floor instead of webbing; the feet are fixed with {fixings}."
            if deck.webbing.fixed == "plywood"
            else "No webbing, so the feet have nothing to be fixed to."
        )
        return ["BASE", "", parts.told(told)]
    along, across = plan.usual
    head = (
        f"BASE. {len(plan.strips)} strips of webbing {length(deck, deck.webbing.width)} wide, "
        f"{twine_total(deck, plan.total)} off the roll, woven over and under by turns, fixed "
        f"{_FIXED[deck.webbing.fixed]}; {plan.fixings} {deck.webbing.fastening}. Laid all over "
        f"with gaps of {length(deck, deck.webbing.gap)}, the opening would take {along} front to "
        f"back and {across} side to side."
    )
    named = list(_named(parts))
    rows = [
        (name, strip_place(parts, strip), format_length(strip.cut_length, deck.units, "cut"))
        for name, strip in named
    ]
    heads = [parts.told(head) for head in HEADS]
    return [*paragraph(parts.told(head)), "", *table(heads, rows, _LEFT), *_splits(named)]


def _named(parts: Parts) -> Iterator[tuple[str, Strip]]:
    """Each strip with its direction and number, from the left or from the back."""
    for run in ("front-to-back", "side-to-side"):
        for number, strip in enumerate(parts.webbing.of(run), 1):
            yield f"{opened(RUN_WORDS[run])} {number}", strip


def _splits(named: list[tuple[str, Strip]]) -> list[str]:
    """What is to be done where strips meet a block, none where none does."""
    where: dict[str, list[str]] = {}
    for name, strip in named:
        ends = [end for end, split in zip(_ENDS[strip.run], strip.split, strict=True) if split]
        if ends:
            where.setdefault(listed_all(ends), []).append(name)
    told = [
        f"{listed_all(names)}: split round the block at the {ends}, never cut across."
        for ends, names in where.items()
    ]
    return (
        [line for sentence in ["", *told] for line in paragraph(sentence) or [""]] if told else []
    )


def _sewing(parts: Parts, plan: StitchingPlan) -> list[str]:
    if not plan.stitches:
        return []
    deck = parts.deck
    lengths = working_lengths(parts, plan)
    wide = len(str(len(lengths)))
    least = (
        "no way is shorter"
        if plan.exact
        else f"the shortest cannot be under {length(deck, plan.least)}"
    )
    said = (
        f"Sew in the feet in this order, {deck.stitching.points} stitches each; the way is "
        f"{length(deck, plan.route_length)} long ({least}) and takes "
        f"{twine_total(deck, plan.twine)} of stitching twine. Each row is sewn with one length."
    )
    rows = [
        line
        for number, way in enumerate(lengths, 1)
        for line in paragraph(f"{way}.", f"{number:>{wide}}  ", " " * (wide + 2))
    ]
    return ["", *paragraph(said), "", *rows]
