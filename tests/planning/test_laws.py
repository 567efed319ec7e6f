"""Laws of tying: what may change when a deck is seen in a mirror, moved, turned or relisted.

A mirrored deck gets the mirrored lines, anchors and crossings (rising and falling diagonals
change places); so does a moved and a half-turned one; order and names of the springs change
nothing. A deck that is its own image may choose between equally good sets, always the same one.
"""

import math
from collections.abc import Callable

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from spring_layout.deck.model import Deck, Run
from spring_layout.planning.parts import Crossing, Line, Ties
from spring_layout.planning.standing import standing_of
from spring_layout.planning.tying import ties_of
from tests.decks import grid_deck
from tests.random_decks import (
    Recipe,
    deck_of,
    half_turned,
    mirrored,
    moved,
    plain_tying,
    random_deck,
    recipe_of,
    recipes,
    relisted,
    renamed,
    replace_struct,
    with_random_wishes,
)

SAME = 0.01
Place = tuple[float, float]
Key = tuple[Run, tuple[str, ...]]


def tied(deck: Deck) -> Ties:
    return ties_of(standing_of(deck))


# What an image does to runs, directions and places.


class Image:
    """A law: how the deck changes, and with it each run (turned about or not) and place."""

    def __init__(
        self,
        deck: Callable[[Deck], Deck],
        runs: dict[Run, tuple[Run, bool]],
        place: Callable[[float, float], Place],
    ) -> None:
        self.deck, self.runs, self.place = deck, runs, place

    def line(self, line: Line) -> tuple[Key, list[Place | None]]:
        """The key and anchors that the image of ``line`` must have."""
        run, is_turned = self.runs[line.run]
        anchors = [self.place(*a) if a else None for a in line.anchors]
        springs = line.springs[::-1] if is_turned else line.springs
        return (run, springs), anchors[::-1] if is_turned else anchors


MIRROR = Image(
    mirrored,
    {
        "front-to-back": ("front-to-back", False),
        "side-to-side": ("side-to-side", True),
        "diagonal-rising": ("diagonal-falling", True),
        "diagonal-falling": ("diagonal-rising", True),
    },
    lambda x, y: (-x, y),
)
HALF_TURN = Image(
    half_turned,
    {
        "front-to-back": ("front-to-back", True),
        "side-to-side": ("side-to-side", True),
        "diagonal-rising": ("diagonal-rising", True),
        "diagonal-falling": ("diagonal-falling", True),
    },
    lambda x, y: (-x, -y),
)
SAME_RUNS: dict[Run, tuple[Run, bool]] = {run: (run, False) for run in MIRROR.runs}
MOVE = Image(lambda d: moved(d, 317, -1204), SAME_RUNS, lambda x, y: (x + 317, y - 1204))
# Moved by a millimetre as well, so that no earlier answer can be given again.
RELIST = Image(lambda d: moved(relisted(d, 5), 1, 1), SAME_RUNS, lambda x, y: (x + 1, y + 1))
LAWS = {"mirror": MIRROR, "half turn": HALF_TURN, "move": MOVE, "list anew": RELIST}


def assert_image(law: Image, deck: Deck) -> None:
    """The ties of the image are the image of the ties."""
    before, after = tied(deck), tied(law.deck(deck))
    wanted = dict(law.line(line) for line in before.lines)
    got = {(line.run, line.springs): list(line.anchors) for line in after.lines}
    assert set(got) == set(wanted)
    for key, anchors in wanted.items():
        assert _near(got[key], anchors), (key, got[key], anchors)
    _assert_knots(law, before, after)
    assert after.cost == pytest.approx(before.cost, abs=1e-6)
    assert after.proved == before.proved
    assert sorted(b.kind for b in after.breaks) == sorted(b.kind for b in before.breaks)


def _near(places: list[Place | None], wanted: list[Place | None]) -> bool:
    return all(
        (a is None and b is None) or (a is not None and b is not None and math.dist(a, b) <= SAME)
        for a, b in zip(places, wanted, strict=True)
    )


def _assert_knots(law: Image, before: Ties, after: Ties) -> None:
    image = {line.number: law.line(line)[0] for line in before.lines}
    wanted = [(_keys(c, image), law.place(*c.place), c.spring) for c in before.crossings]
    own = {line.number: (line.run, line.springs) for line in after.lines}
    got = [(_keys(c, own), c.place, c.spring) for c in after.crossings]
    assert len(got) == len(wanted)
    for keys, place, spring in wanted:
        assert any(keys == k and spring == s and math.dist(place, p) <= SAME for k, p, s in got), (
            keys,
            place,
        )


def _keys(crossing: Crossing, keys: dict[int, Key]) -> frozenset[Key]:
    return frozenset(keys[number] for number in crossing.lines)


# Decks that are their own image.


def is_own_image(deck: Deck) -> bool:
    """Whether some mirror or half turn brings the deck onto itself (rails' names aside)."""
    upside_down = half_turned(mirrored(deck))
    return any(
        _looks(other) == _looks(deck) for other in (mirrored(deck), half_turned(deck), upside_down)
    )


def _looks(deck: Deck) -> tuple[object, ...]:
    """All that the eye sees of a deck, from its upper left: springs, corners, sides."""
    x0 = min(x for x, _ in deck.frame.corners)
    y0 = min(y for _, y in deck.frame.corners)
    corners = [(round(x - x0, 3), round(y - y0, 3)) for x, y in deck.frame.corners]
    sides = [
        (corner, side.bow, deck.frame.nail_line_of(i), side.rail == "none")
        for i, (corner, side) in enumerate(zip(corners, deck.frame.sides, strict=True))
    ]
    springs = [(round(s.x - x0, 3), round(s.y - y0, 3), s.coil) for s in deck.springs]
    return sorted(sides), sorted(springs)


def lopsided(recipe: Recipe) -> Deck:
    """The recipe's deck; those that are their own image are drawn again."""
    deck = deck_of(recipe)
    assume(not is_own_image(deck))
    return deck


@pytest.mark.parametrize("law", ["mirror", "half turn"])
@settings(max_examples=12, deadline=None, derandomize=True)
@given(recipe=recipes(most=24))
def test_an_image_of_the_deck_gets_the_image_of_its_ties(law: str, recipe: Recipe) -> None:
    assert_image(LAWS[law], lopsided(recipe))


@pytest.mark.parametrize("law", ["move", "list anew"])
@settings(max_examples=10, deadline=None, derandomize=True)
@given(recipe=recipes(most=24))
def test_moving_or_relisting_a_deck_changes_nothing(law: str, recipe: Recipe) -> None:
    assert_image(LAWS[law], deck_of(recipe))


@settings(max_examples=10, deadline=None, derandomize=True)
@given(recipe=recipes(most=24), names=st.randoms(use_true_random=False))
def test_renaming_the_springs_changes_nothing_but_names(recipe: Recipe, names: object) -> None:
    deck = deck_of(recipe)
    order = [s.id for s in deck.springs]
    names.shuffle(order)
    new = {old.id: f"k{i}" for old, i in zip(deck.springs, order, strict=True)}
    before, after = tied(deck), tied(renamed(deck, new))
    assert [(ln.run, tuple(new[s] for s in ln.springs), ln.anchors) for ln in before.lines] == [
        (ln.run, ln.springs, ln.anchors) for ln in after.lines
    ]
    assert [c.place for c in before.crossings] == [c.place for c in after.crossings]


def even_deck(rows: int, columns: int, pattern: str) -> Deck:
    """Square rows, or rows shifted by turns with one spring less; all gaps alike."""
    deck = replace_struct(grid_deck(rows, columns), tying=plain_tying())
    if pattern == "square":
        return deck
    shifted = [i // columns % 2 for i in range(len(deck.springs))]
    springs = tuple(
        replace_struct(spring, x=spring.x + 71 * shift)
        for i, (spring, shift) in enumerate(zip(deck.springs, shifted, strict=True))
        if not (shift and i % columns == columns - 1)
    )
    return replace_struct(deck, springs=springs)


@pytest.mark.parametrize(("rows", "columns"), [(3, 3), (4, 3), (2, 5), (5, 5)])
@pytest.mark.parametrize("pattern", ["square", "staggered"])
def test_a_deck_that_is_its_own_image_is_tied_the_same_way_every_time(
    rows: int, columns: int, pattern: str
) -> None:
    deck = even_deck(rows, columns, pattern)
    assert is_own_image(deck)
    for law in (MOVE, RELIST):
        assert_image(law, deck)


@pytest.mark.parametrize("law", ["mirror", "half turn"])
@pytest.mark.parametrize(("rows", "columns"), [(3, 4), (4, 5), (6, 4)])
@pytest.mark.parametrize("pattern", ["square", "staggered"])
def test_even_rows_in_a_lopsided_frame_still_obey_the_laws(
    law: str, rows: int, columns: int, pattern: str
) -> None:
    """Every gap alike, so that many sets cost the same: geometry must choose between them."""
    deck = even_deck(rows, columns, pattern)
    back, right, *rest = deck.frame.sides
    sides = (back, replace_struct(right, nail_line=9.0), *rest)
    deck = replace_struct(deck, frame=replace_struct(deck.frame, sides=sides))
    assert not is_own_image(replace_struct(deck, springs=deck.springs[1:]))
    assert_image(LAWS[law], replace_struct(deck, springs=deck.springs[1:]))


@settings(max_examples=10, deadline=None, derandomize=True)
@given(recipe=recipes(most=16), seed=st.integers(0, 1000))
def test_tying_other_decks_in_between_changes_nothing(recipe: Recipe, seed: int) -> None:
    deck = deck_of(recipe)
    first = tied(deck)
    tied(with_random_wishes(deck, seed))
    tied(replace_struct(deck, tying=plain_tying(diagonals="none")))
    tied(replace_struct(deck, frame=replace_struct(deck.frame, rail_width=80)))
    assert tied(deck) == first


CROWDED = (26, 29, 37, 40, 46, 47, 48, 50, 53, 56)
"""Seeds of decks with crowded rails, where tacks that want one place once chose by their side."""


@pytest.mark.larger
@pytest.mark.parametrize("law", LAWS)
@pytest.mark.parametrize("seed", [*range(10), *CROWDED])
def test_the_laws_hold_on_many_decks(law: str, seed: int) -> None:
    deck = random_deck(seed)
    if law in ("mirror", "half turn") and is_own_image(deck):
        jittery = Recipe(**{**vars(recipe_of(seed)), "jitter": 0.1, "rows": 3, "columns": 4})
        deck = deck_of(jittery)
    assert_image(LAWS[law], deck)


def test_mirroring_twice_gives_the_deck_back() -> None:
    for seed in range(10):
        deck = random_deck(seed)
        assert mirrored(mirrored(deck)) == deck
        assert half_turned(half_turned(deck)) == deck
