"""The deck as a whole: springs on fewer ties than chosen, and a deck that is not one net."""

from collections import defaultdict
from collections.abc import Iterable, Mapping

from spring_layout.checks.faults import Fault
from spring_layout.checks.words import middle, number_word, springs_named
from spring_layout.deck.model import RUNS, Deck, Run
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Parts

JOHNSON = "Eight-way tying is eight hitches a spring: Johnson 1919."


TIES_OF: Mapping[Run, str] = {
    "front-to-back": "tie front to back",
    "side-to-side": "tie side to side",
    "diagonal-rising": "diagonal tie from front left to back right",
    "diagonal-falling": "diagonal tie from back left to front right",
}
"""What a spring lacks where a run passes it by."""


def check_ties_per_spring(deck: Deck, parts: Parts) -> list[Finding]:
    """TIES-FEWER (note): tied six ways instead of eight. TIES-MISSING (wrong): a run is missing.

    Short corner ties left off by the pattern make a note; a spring without its tie of a run that
    ties every spring is wrong.
    """
    runs: defaultdict[str, set[Run]] = defaultdict(set)
    for line in parts.ties.lines:
        for spring in line.springs:
            runs[spring].add(line.run)
    return [*_missing(deck, parts, runs), *_fewer(deck, parts, runs)]


def _wanted(deck: Deck) -> list[Run]:
    """The runs that must tie every spring."""
    tying = deck.tying
    every = tying.diagonals == "all"
    chosen = zip(RUNS, (tying.front_to_back, tying.side_to_side, every, every), strict=True)
    return [run for run, is_wanted in chosen if is_wanted]


def _missing(deck: Deck, parts: Parts, runs: Mapping[str, set[Run]]) -> list[Finding]:
    found = []
    for run in _wanted(deck):
        springs = tuple(spring for spring in parts.labels if run not in runs[spring])
        if springs:
            found.append(
                Finding(
                    code="TIES-MISSING",
                    severity="wrong",
                    stage="ties",
                    message=f"{springs_named(parts, springs)} "
                    f"{'has' if len(springs) == 1 else 'have'} no {TIES_OF[run]}.",
                    mend="Move the springs into rows, or join the tie there.",
                    source=JOHNSON,
                    springs=springs,
                    place=middle(parts, springs),
                )
            )
    return found


def _fewer(deck: Deck, parts: Parts, runs: Mapping[str, set[Run]]) -> list[Finding]:
    """The note about springs that the left-off corner ties leave with fewer ways."""
    if deck.tying.diagonals != "two-or-more":
        return []
    full = 2 * (deck.tying.front_to_back + deck.tying.side_to_side + 2)
    ways = {spring: 2 * len(runs[spring]) for spring in parts.labels}
    springs = tuple(spring for spring in parts.labels if ways[spring] < full)
    if not springs:
        return []
    least = min(ways[spring] for spring in springs)
    return [
        Finding(
            code="TIES-FEWER",
            severity="note",
            stage="ties",
            message=f"{_by_ways(parts, springs, ways)} instead of {number_word(full)}: the short "
            "corner ties are left off.",
            mend="Fine for most seats; to tie every spring all ways choose all diagonals.",
            source=JOHNSON,
            springs=springs,
            value=float(least),
            limit=float(full),
            place=middle(parts, springs),
        )
    ]


def _by_ways(parts: Parts, springs: Iterable[str], ways: Mapping[str, int]) -> str:
    """ "A1 and A3 are tied six ways, B2 four ways", most ways first."""
    groups = defaultdict(list)
    for spring in springs:
        groups[ways[spring]].append(spring)
    (most, first), *rest = sorted(groups.items(), reverse=True)
    are = "is" if len(first) == 1 else "are"
    said = [f"{springs_named(parts, first)} {are} tied {number_word(most)} ways"]
    said += [f"{springs_named(parts, group)} {number_word(count)} ways" for count, group in rest]
    return ", ".join(said)


def check_one_net(deck: Deck, parts: Parts) -> list[Finding]:
    """NET-SPLIT (wrong): pressing one spring does not move the whole deck."""
    nets = nets_of(parts)
    if len(nets) < 2:
        return []
    if not parts.ties.lines:
        return [_no_net(parts, len(nets))]
    least = min(nets, key=len)
    are, they = ("is", "it") if len(least) == 1 else ("are", "they")
    return [
        Finding(
            code="NET-SPLIT",
            severity="wrong",
            stage="ties",
            message=f"The ties make {number_word(len(nets))} nets instead of one: "
            f"{springs_named(parts, least)} {are} tied to none of the rest, so {they} will not "
            "move with them.",
            mend="Tie another run, or join a tie across.",
            source="Pressing one spring must move the whole deck: common practice; no source.",
            springs=least,
            value=float(len(nets)),
            limit=1.0,
            place=middle(parts, least),
        )
    ]


def _no_net(parts: Parts, springs: int) -> Finding:
    """The finding about a deck of ``springs`` without a single tie."""
    fault = Fault(
        "NET-SPLIT",
        "wrong",
        "ties",
        "Switch on the ties front to back and side to side.",
        "Pressing one spring must move the whole deck: common practice; no source.",
        1.0,
    )
    message = "There are no ties, so no spring holds another and each moves by itself."
    return fault.found(message, float(springs), tuple(parts.labels), None)


def nets_of(parts: Parts) -> list[tuple[str, ...]]:
    """The springs that hang together by ties and cross knots, net by net from the back.

    Ties that meet at a cross knot between springs hold each other too.
    """
    root: dict[str | int, str | int] = {spring: spring for spring in parts.labels}
    root |= {line.number: line.number for line in parts.ties.lines}
    for line in parts.ties.lines:
        _join(root, line.number, line.springs)
    for crossing in parts.ties.crossings:
        _join(root, crossing.tied_by, crossing.lines)
    nets = defaultdict(list)
    for spring in parts.labels:
        nets[_root_of(root, spring)].append(spring)
    return [tuple(net) for net in nets.values()]


def _join(root: dict[str | int, str | int], one: str | int, others: Iterable[str | int]) -> None:
    for other in others:
        root[_root_of(root, other)] = _root_of(root, one)


def _root_of(root: dict[str | int, str | int], one: str | int) -> str | int:
    while root[one] != one:
        root[one] = root[root[one]]
        one = root[one]
    return one
