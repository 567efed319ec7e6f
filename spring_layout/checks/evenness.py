"""Gaps that differ too much along one row or one column."""

from collections.abc import Sequence

import numpy as np

from spring_layout.checks.words import length, listed, middle, springs_named
from spring_layout.deck.model import Deck
from spring_layout.geometry.spacing import gaps
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Parts
from spring_layout.tolerances import SAME_PLACE


def check_evenness(deck: Deck, parts: Parts) -> list[Finding]:
    """GAP-UNEVEN (doubtful): gaps along one row, or one column, that differ too much."""
    columns = [line.springs for line in parts.ties.lines if line.run == "front-to-back"]
    rows = [_uneven(deck, parts, "row", row) for row in parts.rows]
    return [
        finding
        for finding in (*rows, *(_uneven(deck, parts, "column", c) for c in columns))
        if finding
    ]


def _uneven(deck: Deck, parts: Parts, what: str, springs: Sequence[str]) -> Finding | None:
    """The finding about one row or column, None where its gaps are even enough."""
    if len(springs) < 3:
        return None
    rows = np.array([parts.standing.index[spring] for spring in springs])
    gap = gaps(parts.standing.centres, parts.standing.radii, np.stack([rows[:-1], rows[1:]], 1))
    limit, spread = deck.spacing.limits.gap_spread, float(np.ptp(gap))
    if spread <= limit + SAME_PLACE:
        return None
    least, most = (springs[i : i + 2] for i in (int(gap.argmin()), int(gap.argmax())))
    return Finding(
        code="GAP-UNEVEN",
        severity="doubtful",
        stage="springs",
        message=f"The gaps in the {what} {listed([parts.labels[s] for s in springs])} are uneven: "
        f"{_gap(deck, float(gap.min()))} between {springs_named(parts, least)}, "
        f"{length(deck, float(gap.max()))} between {springs_named(parts, most)}.",
        mend="Space evenly.",
        source="Even springing is common practice; the limit has no source.",
        springs=tuple(springs),
        value=spread,
        limit=limit,
        place=middle(parts, most),
    )


def _gap(deck: Deck, mm: float) -> str:
    return length(deck, mm) if mm > SAME_PLACE else "none"
