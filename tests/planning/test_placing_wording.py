"""The words that a suggested layout is offered with: its name, and what speaks for it."""

import pytest

from spring_layout.planning.placing.measure import Wish
from spring_layout.planning.placing.wording import title_of, why_of
from spring_layout.planning.spacing import Evenness

EVEN = Evenness(50.0, 50.0, 40.0, 52.0)


@pytest.mark.parametrize(
    ("pattern", "counts", "title"),
    [
        ("square", (1,), "1 spring in the middle"),
        ("square", (3, 3, 3), "9 springs, 3 rows of 3"),
        ("square", (4,), "4 springs in one row"),
        ("square", (1, 1), "2 springs, one behind the other"),
        ("staggered", (2, 1, 2), "5 springs, staggered 2-1-2"),
        ("fitted", (3, 4), "7 springs, rows of 3-4"),
        ("ring", (1, 6), "7 springs, 1 in the middle, 6 around"),
        ("ring", (1, 6, 12), "19 springs, 1 in the middle, 6 and 12 around"),
        ("ring", (5,), "5 springs, a ring of 5"),
        ("ring", (4, 9), "13 springs, a ring of 9 round one of 4"),
    ],
)
def test_a_layout_has_a_short_name(pattern, counts, title):
    assert title_of(pattern, counts) == title
    assert why_of(pattern, counts, EVEN, Wish(50, 46), "mm").endswith("asked.")


@pytest.mark.parametrize(
    ("gap", "clearance", "told"),
    [
        (0, 0, "Gaps of 50 mm, 40 to 52 mm from the rails; no distance was asked for."),
        (50, 0, "Gaps of 50 mm, as you asked; 40 to 52 mm from the rails."),
        (52, 46, "Gaps of 50 mm, as you asked; 40 to 52 mm from the rails, about as you asked."),
        (55, 46, "Gaps of 50 mm and 40 to 52 mm from the rails: about as you asked."),
        (
            50,
            40,
            "Gaps of 50 mm, as you asked; 40 to 52 mm from the rails, some wider than you asked.",
        ),
        (
            70,
            55,
            "Gaps of 50 mm, closer than you asked; 40 to 52 mm from the rails, some closer "
            "than you asked.",
        ),
        (120, 120, "Gaps of 50 mm and 40 to 52 mm from the rails: much closer than you asked."),
        (35, 30, "Gaps of 50 mm and 40 to 52 mm from the rails: wider than you asked."),
        (20, 15, "Gaps of 50 mm and 40 to 52 mm from the rails: much wider than you asked."),
    ],
)
def test_the_reason_says_how_near_each_distance_comes_to_its_wish(gap, clearance, told):
    assert why_of("square", (3, 3), EVEN, Wish(gap, clearance), "mm").endswith(told)


def test_gaps_that_miss_the_wish_both_ways_are_never_what_was_asked():
    """Their mean share of the wish is 1; the layout was once told to be what was asked for."""
    uneven = Evenness(30.0, 83.0, 40.0, 40.0)
    why = why_of("square", (3, 3), uneven, Wish(50, 40), "mm")
    assert why.endswith(
        "Gaps of 30 to 83 mm, some closer and some wider than you asked; 40 mm from the rails, as "
        "you asked."
    )


@pytest.mark.parametrize(
    ("pattern", "counts", "merit"),
    [
        ("square", (1, 1, 1), "A single row: quick to tie, but no diagonal tie joins its springs."),
        ("fitted", (1, 2, 3), "Each row holds what its width takes"),
        ("ring", (1, 6, 12), "One under the sitter and six and twelve around it follow"),
        ("ring", (4, 9), "Rings follow a round frame evenly and leave the middle free."),
    ],
)
def test_what_speaks_for_a_layout_is_true_of_it(pattern, counts, merit):
    assert why_of(pattern, counts, EVEN, Wish(50, 46), "mm").startswith(merit)


def test_a_ring_of_many_is_told_in_figures():
    assert "and 13 around it" in why_of("ring", (1, 13), EVEN, Wish(50, 46), "mm")
