"""The sewing-in of the feet in words, for the report and the sheets on paper."""

from itertools import groupby, pairwise

from spring_layout.planning.parts import Parts
from spring_layout.planning.stitching import StitchingPlan


def working_lengths(parts: Parts, plan: StitchingPlan) -> list[str]:
    """What each working length of stitching twine sews, in order, a line of words each.

    "C3 back, right, front, left; C2 right": a foot that is begun with one length and ended with
    the next stands with both.
    """
    bounds = [*plan.new_lengths, len(plan.stitches)]
    return [_way(parts, plan, start, end) for start, end in pairwise(bounds)]


def _way(parts: Parts, plan: StitchingPlan, start: int, end: int) -> str:
    feet = groupby(plan.stitches[start:end], key=lambda stitch: stitch.spring)
    return "; ".join(
        f"{parts.labels[spring]} {', '.join(stitch.point for stitch in stitches)}"
        for spring, stitches in feet
    )
