"""What holds for every edit of every deck."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spring_layout.deck import edits
from spring_layout.deck.files import deck_to_bytes, read_deck
from spring_layout.deck.model import RUNS
from spring_layout.deck.opening import outline_of
from spring_layout.deck.shapes import straight_frame, tapered_frame
from spring_layout.deck.symmetry import is_symmetric, mirrored_frame
from tests.deck.strategies import decks
from tests.decks import SEAT_COIL

LENGTHS = st.sampled_from(
    [0, 1, -2.5, 7.5, 60, 120, 180, 250, -40, 300, 2e4, 1e9, float("nan"), float("inf")]
)
SOME = st.integers(0, 9)
ENDS = st.sampled_from(["start", "finish"])


@st.composite
def hands(draw):
    """What a hand might do to a deck: a function of the deck, its arguments good or bad."""
    length, other = draw(LENGTHS), draw(LENGTHS)
    some, more, flag = draw(SOME), draw(SOME), draw(st.booleans())
    run, end = draw(st.sampled_from(RUNS)), draw(ENDS)
    rail = draw(st.sampled_from(["back", "right", "front", "left", "none", "top"]))
    nowhere = draw(st.integers(0, 9)) == 0

    def one(deck, number):
        """The id of a spring of the deck; now and then one that is not there."""
        return "s99" if nowhere or not deck.springs else deck.springs[number % len(deck.springs)].id

    def two(deck):
        return [one(deck, some), one(deck, more)]

    def side(deck):
        return some if nowhere else some % len(deck.frame.sides)

    return draw(
        st.sampled_from(
            [
                lambda d: edits.add_spring(d, length, other),
                lambda d: edits.add_springs(d, [(200, 200), (length, 150)]),
                lambda d: edits.move_springs(d, two(d), length, other, symmetric=flag),
                lambda d: edits.place_spring(d, one(d, some), length, other),
                lambda d: edits.remove_springs(d, two(d)),
                lambda d: edits.rename_spring(d, one(d, some), f"s{more}"),
                lambda d: edits.hold_springs(d, two(d), flag),
                lambda d: edits.turn_springs(d, two(d), length),
                lambda d: edits.mirror_springs(d, two(d)),
                lambda d: edits.add_mirrored(d, two(d)),
                lambda d: edits.paste_springs(d, d.springs[:some], length, 3),
                lambda d: edits.replace_springs(d, d.springs[some:]),
                lambda d: edits.mirror_deck(d),
                lambda d: edits.move_corner(d, side(d), (length, other), symmetric=flag),
                lambda d: edits.insert_corner(d, side(d), length, symmetric=flag),
                lambda d: edits.remove_corner(d, side(d), symmetric=flag),
                lambda d: edits.bow_side(d, side(d), length, symmetric=flag),
                lambda d: edits.set_rail(d, side(d), rail),
                lambda d: edits.change_side(d, side(d), rail_width=length, nail_line=other),
                lambda d: edits.set_rails(d, rail_top=length),
                lambda d: edits.make_symmetric(d),
                lambda d: edits.set_frame(d, straight_frame(300, 350), drop_outside=flag),
                lambda d: edits.set_frame(d, tapered_frame(800, 900, 800), drop_outside=flag),
                lambda d: edits.join_springs(d, run, *two(d)),
                lambda d: edits.part_springs(d, run, *two(d)),
                lambda d: edits.clear_pairing(d, run, *two(d)),
                lambda d: edits.move_anchor(d, run, one(d, more), end, side(d), length),
                lambda d: edits.clear_anchor(d, run, two(d), end),
                lambda d: edits.set_tying(d, tied_height=length, tied_height_back=other),
                lambda d: edits.set_limits(d, gap_most=length),
                lambda d: edits.set_twine(d, step=length, tail_wraps=some),
                lambda d: edits.set_webbing(d, front_to_back=[length, other]),
                lambda d: edits.change_coil(d, "seat", wire=length),
                lambda d: edits.add_coil(d, SEAT_COIL),
                lambda d: edits.rename_coil(d, "seat", f"c{some}"),
            ]
        )
    )


def after(deck, hand):
    """The deck after the edit, or the same deck where it was refused in one sentence."""
    try:
        return hand(deck)
    except ValueError as refused:
        sentence = str(refused)
    assert sentence.endswith(".")
    assert len(sentence.splitlines()) == 1
    return deck


def check_hands(deck, done):
    """Whatever the hands do, each step can be saved and opened again as it was."""
    before = deck_to_bytes(deck)
    for hand in done:
        edited = after(deck, hand)
        assert read_deck(deck_to_bytes(edited)) == edited
        assert hash(edited) == hash(read_deck(deck_to_bytes(edited)))
        assert deck_to_bytes(deck) == before
        deck, before = edited, deck_to_bytes(edited)


@settings(max_examples=120)
@given(decks(), st.lists(hands(), min_size=1, max_size=8))
def test_no_edit_makes_a_deck_that_the_reader_refuses(deck, done):
    check_hands(deck, done)


@pytest.mark.larger
@settings(max_examples=500)
@given(decks(), st.lists(hands(), min_size=1, max_size=12))
def test_no_long_row_of_edits_makes_a_deck_that_the_reader_refuses(deck, done):
    check_hands(deck, done)


@given(decks())
def test_a_deck_mirrored_twice_is_the_same_deck(deck):
    mirrored = edits.mirror_deck(deck)
    assert edits.mirror_deck(mirrored) == deck
    assert read_deck(deck_to_bytes(mirrored)) == mirrored


@given(decks())
def test_a_mirrored_deck_has_left_and_right_and_the_diagonals_changed_about(deck):
    mirrored = edits.mirror_deck(deck)
    swap = {"left": "right", "right": "left"}
    rails = sorted(side.rail for side in deck.frame.sides)
    assert sorted(swap.get(side.rail, side.rail) for side in mirrored.frame.sides) == rails
    runs = {"diagonal-rising": "diagonal-falling", "diagonal-falling": "diagonal-rising"}
    assert [p.run for p in mirrored.tying.joins] == [
        runs.get(p.run, p.run) for p in deck.tying.joins
    ]
    for spring, image in zip(deck.springs, mirrored.springs, strict=True):
        assert image.y == spring.y


@given(decks())
def test_the_mirrored_tack_point_is_where_the_mirror_shows_it(deck):
    mirrored = edits.mirror_deck(deck)
    x0, _, x1, _ = outline_of(deck.frame).bounds
    for anchor, image in zip(deck.tying.anchors, mirrored.tying.anchors, strict=True):
        x, y = outline_of(deck.frame).sides[anchor.side].point(anchor.along)
        there = outline_of(mirrored.frame).sides[image.side].point(image.along)
        assert there == pytest.approx([x0 + x1 - x, y], abs=0.01)
        assert mirrored.frame.sides[image.side].bow == deck.frame.sides[anchor.side].bow


@given(decks())
def test_a_frame_made_the_same_on_both_sides_is_its_own_mirror_image(deck):
    even = edits.make_symmetric(deck)
    assert is_symmetric(even.frame)
    for corner, image in zip(even.frame.corners, mirrored_frame(even.frame).corners, strict=True):
        assert any(pytest.approx(image, abs=0.01) == other for other in even.frame.corners), corner


@given(decks(), st.integers(-50, 50), st.integers(-50, 50))
def test_springs_moved_there_and_back_are_where_they_were(deck, dx, dy):
    every = [spring.id for spring in deck.springs]
    try:
        moved = edits.move_springs(deck, every, dx, dy)
    except ValueError:
        return
    assert edits.move_springs(moved, every, -dx, -dy) == deck
