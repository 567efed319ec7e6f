"""Heights, hitches, twine, webbing and sewing over random decks of every shape."""

import math
from collections import Counter

import msgspec
import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from spring_layout.deck.model import Deck
from spring_layout.plan import Plan, make_plan
from spring_layout.planning.coil_shape import rings_of
from tests.random_decks import deck_of, mirrored, random_deck, recipes

replace = msgspec.structs.replace
few = settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))


def check_hitches(plan: Plan) -> None:
    parts = plan.parts
    rings = {
        name: {ring.number: ring for ring in rings_of(plan.deck.coil_of(plan.deck.spring(name)), z)}
        for name, z in zip(parts.standing.ids, parts.heights.tied.tolist(), strict=True)
    }
    for hitch in parts.hitches.in_order:
        spring, ring = plan.deck.spring(hitch.spring), rings[hitch.spring][hitch.ring]
        off = math.dist(hitch.place[:2], (spring.x, spring.y))
        assert off == pytest.approx(ring.radius, abs=1e-6)
        assert hitch.place[2] == pytest.approx(ring.height)


def check_counts(plan: Plan) -> None:
    parts = plan.parts
    passed = Counter(spring for line in parts.ties.lines for spring in line.springs)
    own = Counter(h.spring for h in parts.hitches.in_order if h.end != "return")
    assert own == Counter({spring: 2 * count for spring, count in passed.items()})


def check_twine(plan: Plan) -> None:
    parts = plan.parts
    rows = zip(parts.ties.lines, parts.twine.lines, parts.counts, strict=True)
    for line, twine, count in rows:
        straight = math.dist(line.path[0], line.path[-1])
        assert twine.drape >= straight - 1e-6
        assert 0 <= twine.cut_length - count.total + 1e-3 < plan.deck.twine.step + 1e-3
    assert parts.twine.cut_total == pytest.approx(sum(t.cut_length for t in parts.twine.lines))
    made = len(parts.ties.crossings)
    assert sum(count.cross_knots > 0 for count in parts.counts) <= made


def check_webbing(plan: Plan) -> None:
    for run in ("front-to-back", "side-to-side"):
        strips = plan.parts.webbing.of(run)
        places = sorted({strip.at for strip in strips})
        assert (np.diff(places) >= plan.deck.webbing.width - 1e-6).all()
        assert all(strip.cut_length > strip.span > 0 for strip in strips)


def check_sewing(plan: Plan) -> None:
    sewn = [(s.spring, s.point) for s in plan.stitching.stitches]
    assert len(set(sewn)) == len(sewn) == 4 * len(plan.deck.springs)
    assert plan.stitching.least <= plan.stitching.route_length + 1e-9


def check_all(deck: Deck) -> None:
    plan = make_plan(deck)
    check_hitches(plan)
    check_counts(plan)
    check_twine(plan)
    check_webbing(plan)
    check_sewing(plan)


@few
@given(recipes(most=12))
def test_the_rest_of_the_plan_holds_together(recipe):
    check_all(deck_of(recipe))


@pytest.mark.larger
@pytest.mark.parametrize("seed", range(40))
def test_it_holds_together_for_up_to_sixty_springs(seed):
    check_all(random_deck(seed))


@few
@given(recipes(most=12), st.floats(1, 25))
def test_raising_the_tied_height_never_shortens_any_ties_twine(recipe, more):
    """While the tops stand above the rails, on a level deck with return ties."""
    deck = deck_of(recipe)
    tops = max(deck.frame.top_of(i) for i in range(len(deck.frame.sides)))
    tying = replace(deck.tying, tied_height=tops + 5, tied_height_back=None)
    low = make_plan(replace(deck, tying=tying))
    high = make_plan(replace(deck, tying=replace(tying, tied_height=tops + 5 + more)))
    for before, after in zip(low.parts.counts, high.parts.counts, strict=True):
        assert after.total >= before.total - 1e-9


@few
@given(recipes(most=12))
def test_a_mirrored_deck_takes_the_same_twine_and_webbing(recipe):
    deck = deck_of(recipe)
    here, there = make_plan(deck).parts, make_plan(mirrored(deck)).parts
    if not (here.ties.proved and there.ties.proved):
        return
    assert sorted(c.way for c in here.counts) == pytest.approx(
        sorted(c.way for c in there.counts), abs=0.05
    )
    assert here.webbing.total == pytest.approx(there.webbing.total)
