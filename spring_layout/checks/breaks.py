"""The rules of tying that no set of ties could keep, told as findings."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from spring_layout.checks.faults import Fault
from spring_layout.checks.words import (
    COMMON_PRACTICE,
    RUN_WORDS,
    length,
    listed,
    middle,
    opened,
    side_named,
    springs_named,
    ties_named,
)
from spring_layout.deck.model import Deck, MovedAnchor
from spring_layout.planning.finding import Finding, Severity
from spring_layout.planning.parts import Break, Line, Parts
from spring_layout.planning.tying.wishes import is_obeyed

JOIN_MEND = "Move the springs, or join and part ties by hand."
TACK_MEND = "Move the tack points along the rail, or the springs nearest to it."

TOLD_ELSEWHERE = frozenset({"bend", "no-rail"})
"""Kinds of break that checks of their own see in the finished ties."""


@dataclass(frozen=True)
class _Kind:
    """How one kind of break is told; ``says`` makes the sentence, without its full stop."""

    fault: Fault
    says: Callable[[Parts, Break], str]


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
    better = f"by {gap / ties.cost:.1%} at most" if ties.cost > 0 else "but hardly"
    message = (
        "With so many springs the program stops before it has tried everything: another set of "
        f"ties may suit this deck a little better, {better}."
    )
    return [UNPROVED.found(message, gap, (), None)]


UNPROVED = Fault(
    "NOT-PROVED",
    "note",
    "ties",
    "Look the ties over; join or part ties where you know better.",
    "The program's own limit on how long it looks.",
    0.0,
)


def _told(parts: Parts, broken: Break) -> Finding:
    kind = KINDS.get(broken.kind, _OTHER)
    place = middle(parts, broken.springs) if broken.springs else _tack_place(parts, broken)
    return kind.fault.found(
        f"{opened(kind.says(parts, broken))}.",
        broken.value,
        broken.springs,
        place,
        lines=broken.lines,
        sides=broken.sides,
        limit=broken.limit,
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
    runs = {line.run for line in parts.ties.lines if line.number in broken.lines}
    run = f", {RUN_WORDS[runs.pop()]}," if len(runs) == 1 else ""
    return f"{_ties(broken)}{run} cross or touch"


def _leaves(parts: Parts, broken: Break) -> str:
    lie = "lie" if len(broken.lines) > 1 else "lies"
    far = "" if broken.value is None else f" for {length(parts.deck, broken.value)}"
    return f"{_ties(broken)} leave{_s(broken)} the opening on the way and {lie} over the frame{far}"


def _close(parts: Parts, broken: Break) -> str:
    apart = "close" if broken.value is None else f"{length(parts.deck, broken.value)} apart"
    tacks = f"the tack points of {_ties(broken)} on {_side(parts, broken)}"
    return f"{tacks} are {apart}, so the rail can split"


def _corner(parts: Parts, broken: Break) -> str:
    far = "close to" if broken.value is None else f"{length(parts.deck, broken.value)} from"
    return f"the tack point of {_ties(broken)} on {_side(parts, broken)} is {far} the corner joint"


def _turn(parts: Parts, broken: Break) -> str:
    turn = "too far" if broken.value is None else f"by {broken.value:.0f} degrees"
    beyond = _springs(parts, broken) if broken.springs else "its last spring"
    return f"{_ties(broken)} turn{_s(broken)} {turn} between {beyond} and the tack point"


def _join(parts: Parts, broken: Break) -> str:
    """A join is left out, doubles a tie of another run, or leads its tie into another fault."""
    if len(broken.lines) > 1:
        return f"{_ties(broken)} both join {_springs(parts, broken)} and lie on each other"
    if broken.lines:
        return _to_blame(parts, broken, "join")
    return (
        f"the join made by hand of {_springs(parts, broken)} is left out: one of them is joined "
        "to another, or the two are parted"
    )


def _part(parts: Parts, broken: Break) -> str:
    return _to_blame(parts, broken, "parting")


def _to_blame(parts: Parts, broken: Break, what: str) -> str:
    made = f"the {what} made by hand of {_springs(parts, broken)}"
    return f"{made} is to blame for what is wrong with {_ties(broken)}"


def _moved(parts: Parts, broken: Break) -> str:
    """A tack point gives way to another wish for the same end, or leads to another fault."""
    tack = f"the tack point of {_ties(broken)} moved by hand on {_side(parts, broken)}"
    if any(is_obeyed(line, wish) for line, wish in _wished(parts, broken)):
        return f"{tack} is to blame for what is wrong there"
    if all(parts.deck.frame.sides[side].rail == "none" for side in broken.sides):
        return f"{tack} is left out: there is no rail to take it"
    return f"{tack} is left out: that end is set by another tack point moved by hand"


def _wished(parts: Parts, broken: Break) -> Iterator[tuple[Line, MovedAnchor]]:
    """The ties at fault, each with the wishes for a tack point of it on the sides at fault."""
    for line in parts.ties.lines:
        for wish in parts.deck.tying.anchors:
            at_fault = line.number in broken.lines and wish.side in broken.sides
            if at_fault and line.run == wish.run and wish.spring in broken.springs:
                yield line, wish


def _unkept(parts: Parts, broken: Break) -> str:
    at = f" at {springs_named(parts, broken.springs)}" if broken.springs else ""
    return f"{_ties(broken)}{at} could not keep a rule of tying ({broken.kind.replace('-', ' ')})"


def _kind(
    code: str,
    severity: Severity,
    says: Callable[[Parts, Break], str],
    mend: str,
) -> _Kind:
    return _Kind(Fault(code, severity, "ties", mend, COMMON_PRACTICE), says)


KINDS: Mapping[str, _Kind] = {
    "over-spring": _kind("TIE-OVER-SPRING", "wrong", _over_spring, JOIN_MEND),
    "clash": _kind("TIE-CLASH", "wrong", _clash, JOIN_MEND),
    "leaves-opening": _kind("TIE-LEAVES", "wrong", _leaves, JOIN_MEND),
    "anchor-spacing": _kind("ANCHOR-CLOSE", "doubtful", _close, TACK_MEND),
    "anchor-corner": _kind("ANCHOR-CORNER", "doubtful", _corner, TACK_MEND),
    "anchor-turn": _kind("ANCHOR-TURN", "wrong", _turn, TACK_MEND),
    "join": _kind("WISH-JOIN", "wrong", _join, "Undo the join, or move the springs."),
    "moved-anchor": _kind("WISH-ANCHOR", "wrong", _moved, "Move that tack point again."),
    "part": _kind("WISH-PART", "wrong", _part, "Undo the parting, or move the springs."),
}
"""How each kind of break is told; ``planning.parts.Break`` says what the kinds are."""

_OTHER = _kind("TIE-RULE", "wrong", _unkept, JOIN_MEND)
