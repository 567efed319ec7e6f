"""Sheet sizes against the published ones.

A-sizes: ISO 216, seen as listed in a public mirror of php-pdf's page-size.xml. Letter, tabloid
(ANSI A and B): ASME Y14.1, seen in Wikipedia's article on it; ANSI C, D and E of the same series:
from memory, not seen. Legal, 8 1/2 x 14 in: seen on a-size.com; it is not in Y14.1. Points are
1/72 in, CSS pixels 1/96 in (CSS Values and Units, absolute lengths).
"""

import itertools
import math

import pytest

from spring_layout.drawing.paper import PAPERS

MM = {
    "a4": (210, 297),
    "a3": (297, 420),
    "a2": (420, 594),
    "a1": (594, 841),
    "a0": (841, 1189),
    "letter": (215.9, 279.4),
    "legal": (215.9, 355.6),
    "tabloid": (279.4, 431.8),
}
POINTS = {
    "a4": (595.276, 841.890),
    "a3": (841.890, 1190.551),
    "a2": (1190.551, 1683.780),
    "a1": (1683.780, 2383.937),
    "a0": (2383.937, 3370.394),
    "letter": (612, 792),
    "legal": (612, 1008),
    "tabloid": (792, 1224),
}
FROM_MEMORY_INCHES = {"ansi-c": (17, 22), "ansi-d": (22, 34), "ansi-e": (34, 44)}


@pytest.mark.parametrize("name", MM)
def test_sheets_are_of_the_published_size(name):
    paper = PAPERS[name]
    assert (paper.width, paper.height) == pytest.approx(MM[name], abs=1e-9)


@pytest.mark.parametrize("name", POINTS)
def test_sheets_are_of_the_published_size_in_points(name):
    paper = PAPERS[name]
    points = paper.width / 25.4 * 72, paper.height / 25.4 * 72
    assert points == pytest.approx(POINTS[name], abs=0.0006)


@pytest.mark.parametrize("name", FROM_MEMORY_INCHES)
def test_the_larger_ansi_sheets_are_as_remembered(name):
    paper = PAPERS[name]
    assert (paper.width / 25.4, paper.height / 25.4) == pytest.approx(FROM_MEMORY_INCHES[name])


def test_each_a_size_is_half_the_one_before():
    """ISO 216: half the larger sheet, the long edge rounded down to a whole millimetre."""
    sizes = [MM[name] for name in ("a0", "a1", "a2", "a3", "a4")]
    for (width, height), smaller in itertools.pairwise(sizes):
        assert smaller == (math.floor(height / 2), width)


def test_every_paper_is_checked_here():
    assert set(PAPERS) == set(MM) | set(FROM_MEMORY_INCHES)
