"""The plan: everything the program works out from a deck. ``make_plan`` is the only way to it."""

from dataclasses import dataclass, replace
from functools import cached_property

import msgspec

from spring_layout.checks import all_findings
from spring_layout.deck.model import Deck
from spring_layout.planning.finding import Finding
from spring_layout.planning.heights import heights_of
from spring_layout.planning.hitches import hitches_of
from spring_layout.planning.labels import labels_of, rows_of
from spring_layout.planning.materials import Material, materials_of
from spring_layout.planning.parts import Parts
from spring_layout.planning.spacing import spaces_of
from spring_layout.planning.standing import standing_of
from spring_layout.planning.stitching import StitchingPlan, stitching_of
from spring_layout.planning.twine import twine_of
from spring_layout.planning.twine_geometry import counted, counts_of
from spring_layout.planning.tying import ties_of
from spring_layout.planning.webbing import webbing_of
from spring_layout.words import Words


@dataclass(frozen=True, eq=False)
class Plan:
    """The parts of the plan and its findings, worst first.

    The sewing-in route and the list of materials, which rests on it, are worked out when they are
    first asked for: with many springs they take too long to wait for while a spring is dragged.
    """

    parts: Parts
    findings: tuple[Finding, ...]

    @property
    def deck(self) -> Deck:
        """The deck that was planned."""
        return self.parts.deck

    @cached_property
    def stitching(self) -> StitchingPlan:
        """The stitches of the feet in the order they are sewn."""
        return stitching_of(self.deck)

    @cached_property
    def materials(self) -> tuple[Material, ...]:
        """What to buy and cut."""
        return materials_of(self.parts, self.stitching)

    def in_words(self, words: Words) -> "Plan":
        """The same plan told in these words: its findings, its materials, its sheets, its report.

        A plan is made in American words; one that has been retold cannot be told back.
        """
        findings = tuple(_retold(finding, words) for finding in self.findings)
        told = Plan(replace(self.parts, words=words), findings)
        if "stitching" in vars(self):  # what has been worked out takes long and stays true
            vars(told)["stitching"] = self.stitching
        return told


def _retold(finding: Finding, words: Words) -> Finding:
    message, mend = words.retold(finding.message), words.retold(finding.mend)
    return msgspec.structs.replace(finding, message=message, mend=mend)


def make_plan(deck: Deck) -> Plan:
    """The plan of a valid ``deck``: pure, the same every time.

    Raises OutlineError where the frame makes no opening; ``deck.validate`` tells beforehand.
    """
    standing = standing_of(deck)
    ties = ties_of(standing)  # before the rows: these are lines of the same deck, kept from here
    rows = rows_of(standing)
    labels = labels_of(rows)
    spaces = spaces_of(standing)
    heights = heights_of(standing, spaces)
    hitches = hitches_of(deck, standing, heights, ties)
    counts = counts_of(deck, hitches, ties)
    twine = counted(twine_of(deck, ties, heights), deck, counts)
    parts = Parts(
        deck=deck,
        standing=standing,
        labels=labels,
        rows=rows,
        spaces=spaces,
        heights=heights,
        ties=ties,
        twine=twine,
        hitches=hitches,
        counts=counts,
        webbing=webbing_of(standing),
    )
    return Plan(parts, all_findings(parts))
