"""The rules of tying that no set of ties could keep, told as findings."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from spring_layout.checks.words import (
    COMMON_PRACTICE,
    length,
    listed,
    middle,
    opened,
    side_named,
    springs_named,
    ties_named,
)
from spring_layout.deck.model import Deck
from spring_layout.planning.finding import Finding, Severity
from spring_layout.planning.parts import Break, Parts

JOIN_MEND = "Move the springs, or join and part ties by hand."
TACK_MEND = "Move the tack points along the rail, or the springs nearest to it."

TOLD_ELSEWHERE = frozenset({"bend", "no-rail"})
"""Kinds of break that checks of their own see in the finished ties."""


@dataclass(frozen=True)
class _Kind:
    """How one kind of break is told; ``says`` makes the sentence, without its full stop."""

    code: str
    severity: Severity
    says: Callable[[Parts, Break], str]
    mend: str
    source: str = COMMON_PRACTICE


def check_breaks(deck: Deck, parts: Parts) -> list[Finding]:
    """A finding for each rule of tying that could not be kept, by the kind of break."""
    breaks = [broken for broken in parts.ties.breaks if broken.kind not in TOLD_ELSEWHERE]
    return [_told(parts, broken) for broken in breaks]


def check_proved(deck: Deck, parts: Parts) -> list[Finding]:
    """NOT-PROVED (note): a big deck for which a better set of ties may exist."""
    ties = parts.ties
    if ties.proved:
        return []
    gap = max(0.0, ties.cost - ties.bound)
    return [
        Finding(
            code="NOT-PROVED",
            severity="note",
            stage="ties",
            message="These ties may not be the very best: another set could be better by the "
            f"length of {gap:.2f} gaps between springs at most, of {ties.cost:.1f} in all.",
            mend="Look them over; join or part ties where you know better.",
            source="The program's own limit on how long it looks.",
            value=gap,
            limit=0.0,
        )
    ]


def _told(parts: Parts, broken: Break) -> Finding:
    kind = KINDS.get(broken.kind, _OTHER)
    return Finding(
        code=kind.code,
        severity=kind.severity,
        stage="ties",
        message=f"{opened(kind.says(parts, broken))}.",
        mend=kind.mend,
        source=kind.source,
        springs=broken.springs,
        lines=broken.lines,
        sides=broken.sides,
        value=broken.value,
        limit=broken.limit,
        place=middle(parts, broken.springs) if broken.springs else _tack_place(parts, broken),
    )


def _tack_place(parts: Parts, broken: Break) -> tuple[float, float] | None:
    """Where the first named tie is tacked to the named side, None where it is not."""
    for line in parts.ties.lines:
        for side, anchor in zip(line.sides, line.anchors, strict=True):
            if line.number in broken.lines and side in broken.sides and anchor is not None:
                return anchor
    return None


def _ties(broken: Break) -> str:
    return ties_named(broken.lines) if broken.lines else "a tie"


def _s(broken: Break) -> str:
    """The ending of a verb that speaks of the ties."""
    return "" if len(broken.lines) > 1 else "s"


def _springs(parts: Parts, broken: Break) -> str:
    return springs_named(parts, broken.springs) if broken.springs else "a spring"


def _side(parts: Parts, broken: Break) -> str:
    sides = [side_named(parts.deck, side) for side in broken.sides]
    return listed(sides) if sides else "the rail"


def _over_spring(parts: Parts, broken: Break) -> str:
    springs, passes = _springs(parts, broken), "pass" if len(broken.lines) > 1 else "passes"
    return f"{_ties(broken)} {passes} over {springs} without being tied there"


def _clash(parts: Parts, broken: Break) -> str:
    return f"{_ties(broken)} of one run cross or touch"


def _leaves(parts: Parts, broken: Break) -> str:
    return f"{_ties(broken)} leave{_s(broken)} the opening on the way"


def _close(parts: Parts, broken: Break) -> str:
    apart = "close" if broken.value is None else f"{length(parts.deck, broken.value)} apart"
    tacks = f"the tack points of {_ties(broken)} on {_side(parts, broken)}"
    return f"{tacks} are {apart}, so the rail can split"


def _corner(parts: Parts, broken: Break) -> str:
    far = "close to" if broken.value is None else f"{length(parts.deck, broken.value)} from"
    return f"the tack point of {_ties(broken)} on {_side(parts, broken)} is {far} the corner joint"


def _turn(parts: Parts, broken: Break) -> str:
    turn = "too far" if broken.value is None else f"by {broken.value:.0f} degrees"
    return f"{_ties(broken)} turn{_s(broken)} {turn} on the last stretch to {_side(parts, broken)}"


def _wish(what: str) -> Callable[[Parts, Break], str]:
    def says(parts: Parts, broken: Break) -> str:
        return f"the {what} made by hand of {_springs(parts, broken)} breaks a rule of tying"

    return says


def _moved(parts: Parts, broken: Break) -> str:
    tack = f"the tack point of {_ties(broken)} moved by hand on {_side(parts, broken)}"
    return f"{tack} breaks a rule of tying"


def _unkept(parts: Parts, broken: Break) -> str:
    at = f" at {springs_named(parts, broken.springs)}" if broken.springs else ""
    return f"{_ties(broken)}{at} could not keep a rule of tying ({broken.kind.replace('-', ' ')})"


KINDS: Mapping[str, _Kind] = {
    "over-spring": _Kind("TIE-OVER-SPRING", "wrong", _over_spring, JOIN_MEND),
    "clash": _Kind("TIE-CLASH", "wrong", _clash, JOIN_MEND),
    "leaves-opening": _Kind("TIE-LEAVES", "wrong", _leaves, JOIN_MEND),
    "anchor-spacing": _Kind("ANCHOR-CLOSE", "doubtful", _close, TACK_MEND),
    "anchor-corner": _Kind("ANCHOR-CORNER", "doubtful", _corner, TACK_MEND),
    "anchor-turn": _Kind("ANCHOR-TURN", "wrong", _turn, TACK_MEND),
    "join": _Kind("WISH-JOIN", "wrong", _wish("join"), "Undo the join, or move the springs."),
    "moved-anchor": _Kind("WISH-ANCHOR", "wrong", _moved, "Move that tack point again."),
    "part": _Kind("WISH-PART", "wrong", _wish("parting"), "Undo the parting."),
}
"""How each kind of break is told; ``planning.parts.Break`` says what the kinds are."""

_OTHER = _Kind("TIE-RULE", "wrong", _unkept, JOIN_MEND)
