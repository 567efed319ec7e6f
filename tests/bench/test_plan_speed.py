"""How long a plan takes, for 9, 60, 400 and 1000 springs, and how that grows (tying, rule 12).

The bars: single milliseconds at 9 springs, 30 ms at 60, well under a second at 400, and a growth
of no more than about n^1.5. Every plan is of a new deck, since what is solved is kept for the next
plan of the same deck. Time is CPU time of this process. Run with
``pytest tests/bench/test_plan_speed.py -m bench``.
"""

import math
import random
import statistics
import time
from itertools import count, pairwise

import msgspec
import pytest

from spring_layout.deck.model import Deck
from spring_layout.plan import make_plan
from tests.decks import grid_deck

replace = msgspec.structs.replace

SIZES = {9: (3, 3), 60: (6, 10), 400: (20, 20), 1000: (25, 40)}
ROUNDS = {9: 60, 60: 20, 400: 6, 1000: 3}

PITCH = 142.0
JITTERS = {"regular": 0.0, "lightly jittered": 0.05}
"""Share of the pitch that every spring is off its place."""


def new_deck(springs: int, jitter: float, number: int) -> Deck:
    """A deck of so many springs that was never planned before: it stands elsewhere each time."""
    draw, off = random.Random(number), float(number)
    deck = grid_deck(*SIZES[springs], pitch=PITCH)
    frame = deck.frame
    return replace(
        deck,
        springs=tuple(
            replace(
                spring,
                x=spring.x + off + draw.uniform(-jitter, jitter) * PITCH,
                y=spring.y + draw.uniform(-jitter, jitter) * PITCH,
            )
            for spring in deck.springs
        ),
        frame=replace(frame, corners=tuple((x + off, y) for x, y in frame.corners)),
    )


@pytest.fixture(scope="module")
def medians(tell_at_the_end):
    """The median time of each size, s, by (kind, springs); tells the growth between them."""
    found: dict[tuple[str, int], float] = {}
    yield found
    for kind in JITTERS:
        sizes = sorted(size for name, size in found if name == kind)
        times = ", ".join(f"{n} springs {found[kind, n] * 1e3:.1f} ms" for n in sizes)
        growth = ", ".join(
            f"n^{math.log(found[kind, b] / found[kind, a]) / math.log(b / a):.2f} from {a} to {b}"
            for a, b in pairwise(sizes)
        )
        tell_at_the_end(f"{kind} decks: {times}; growth {growth or 'not measured'}")


@pytest.mark.benchmark(timer=time.process_time)
@pytest.mark.parametrize("springs", SIZES)
@pytest.mark.parametrize("kind", JITTERS)
def test_a_plan_of_a_new_deck(benchmark, medians, kind, springs):
    numbers = count(1)

    def another():
        return (new_deck(springs, JITTERS[kind], next(numbers)),), {}

    plan = benchmark.pedantic(make_plan, setup=another, rounds=ROUNDS[springs], warmup_rounds=1)
    assert len(plan.parts.labels) == springs
    if benchmark.stats:
        medians[kind, springs] = statistics.median(benchmark.stats.stats.data)


@pytest.mark.benchmark(timer=time.process_time)
@pytest.mark.parametrize("springs", SIZES)
def test_a_plan_of_a_deck_whose_height_alone_changed(benchmark, springs):
    """What a change that moves no spring and no rail takes: the lines are those of before."""
    deck, heights = new_deck(springs, 0.05, 0), count(110)
    make_plan(deck)

    def another():
        return (replace(deck, tying=replace(deck.tying, tied_height=next(heights) / 1.0)),), {}

    plan = benchmark.pedantic(make_plan, setup=another, rounds=5, warmup_rounds=1)
    assert len(plan.parts.labels) == springs
