"""The plan: everything the program works out from a deck. ``make_plan`` is the only way to it."""

from dataclasses import dataclass

from spring_layout.checks import all_findings
from spring_layout.deck.model import Deck
from spring_layout.planning.finding import Finding
from spring_layout.planning.heights import heights_of
from spring_layout.planning.labels import labels_of, rows_of
from spring_layout.planning.parts import Parts
from spring_layout.planning.spacing import spaces_of
from spring_layout.planning.standing import standing_of
from spring_layout.planning.twine import twine_of
from spring_layout.planning.tying import ties_of


@dataclass(frozen=True, eq=False)
class Plan:
    """The parts of the plan and its findings, worst first."""

    parts: Parts
    findings: tuple[Finding, ...]

    @property
    def deck(self) -> Deck:
        """The deck that was planned."""
        return self.parts.deck


def make_plan(deck: Deck) -> Plan:
    """The plan of a valid ``deck``: pure, the same every time.

    Raises OutlineError where the frame makes no opening; ``deck.validate`` tells beforehand.
    """
    standing = standing_of(deck)
    rows = rows_of(standing)
    labels = labels_of(rows)
    spaces = spaces_of(standing)
    heights = heights_of(standing, spaces)
    ties = ties_of(standing)
    twine = twine_of(deck, ties, heights)
    parts = Parts(
        deck=deck,
        standing=standing,
        labels=labels,
        rows=rows,
        spaces=spaces,
        heights=heights,
        ties=ties,
        twine=twine,
    )
    return Plan(parts, all_findings(parts))
