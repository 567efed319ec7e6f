"""Cutting pieces of twine from hanks with the least waste."""

import itertools

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spring_layout.planning.cutting import MOST_PROVED, cutting_of, hanks_cut, least_hanks
from spring_layout.planning.parts import LineTwine, TwinePlan
from tests.decks import grid_deck


def fewest_by_trying_all(lengths: list[int], hank: int) -> int:
    """Every way of putting the pieces into hanks, one piece after another."""

    def tried(left: list[int], rests: list[int]) -> int:
        if not left:
            return len(rests)
        piece, *others = left
        ways = [
            tried(others, [*rests[:i], rests[i] - piece, *rests[i + 1 :]])
            for i in range(len(rests))
            if rests[i] >= piece
        ]
        return min([*ways, tried(others, [*rests, hank - piece])])

    return tried(lengths, [])


def test_twelve_pieces_of_a_small_seat_come_from_two_hanks():
    pieces = [1500.0] * 6 + [1800.0] * 2 + [1100.0] * 4
    cutting = cutting_of(pieces, 10_000)
    assert len(cutting.hanks) == 2
    assert cutting.proved
    assert sum(cutting.rests) == pytest.approx(20_000 - sum(pieces))


def test_where_longest_first_begins_a_hank_too_many_the_exact_choice_does_not():
    """By hand: 44 + 34 + 22 and 36 + 33 + 31 fill two hanks; longest first begins a third."""
    pieces = [44.0, 36.0, 34.0, 33.0, 31.0, 22.0]
    cutting = cutting_of(pieces, 100)
    assert [sorted(pieces[i] for i in hank) for hank in cutting.hanks] in (
        [[22, 34, 44], [31, 33, 36]],
        [[31, 33, 36], [22, 34, 44]],
    )
    assert cutting.waste == pytest.approx(0)


def test_pieces_that_just_fill_a_hank_share_it():
    cutting = cutting_of([30.1, 30.2, 39.7], 100)
    assert cutting.hanks == ((2, 1, 0),)
    assert cutting.rests[0] == pytest.approx(0, abs=1e-9)


def test_a_piece_longer_than_a_hank_is_told_and_the_rest_is_cut():
    cutting = cutting_of([1200.0, 300.0, 2000.0], 1000)
    assert cutting.too_long == (0, 2)
    assert cutting.hanks == ((1,),)


def test_nothing_to_cut_takes_no_hank():
    cutting = cutting_of([], 1000)
    assert (cutting.hanks, cutting.fewest, cutting.waste, cutting.proved) == ((), 0, 0, True)


def test_pieces_over_half_a_hank_never_share():
    assert least_hanks([51, 51, 51], 100) == 3
    assert least_hanks([50, 50, 50], 100) == 2
    assert least_hanks([70, 70, 35, 35], 100) == 3


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(5, 100), min_size=1, max_size=8))
def test_no_other_cutting_begins_fewer_hanks(lengths):
    cutting = cutting_of(lengths, 100)
    assert len(cutting.hanks) == fewest_by_trying_all(lengths, 100)
    assert cutting.proved


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(1, 1000), max_size=60))
def test_every_piece_is_cut_once_and_no_hank_is_overrun(lengths):
    cutting = cutting_of(lengths, 1000)
    assert sorted(itertools.chain(*cutting.hanks)) == list(range(len(lengths)))
    assert all(rest >= -1e-3 for rest in cutting.rests)
    assert cutting.fewest <= len(cutting.hanks)


def test_pieces_that_need_the_extra_hank_are_proved_to():
    """Seven of 40 make 280, less than three hanks of 100, but only two come from a hank."""
    cutting = cutting_of([40.0] * 7, 100)
    assert (len(cutting.hanks), cutting.fewest) == (4, 4)


def test_what_cannot_be_decided_in_the_cases_allowed_keeps_the_first_laying(monkeypatch):
    monkeypatch.setattr("spring_layout.planning.cutting._into", lambda *_: [])
    cutting = cutting_of([44.0, 36.0, 34.0, 33.0, 31.0, 22.0], 100)
    assert (len(cutting.hanks), cutting.fewest, cutting.proved) == (3, 2, False)


def test_a_large_cutting_says_how_far_it_may_be_from_the_least():
    pieces = [44.0, 36.0, 34.0, 33.0, 31.0, 22.0] * (MOST_PROVED // 6 + 2)
    cutting = cutting_of(pieces, 100)
    assert cutting.fewest == 2 * len(pieces) // 6
    assert len(cutting.hanks) >= cutting.fewest
    assert cutting.proved == (len(cutting.hanks) == cutting.fewest)


def from_hanks(units, hank, cut_lengths):
    deck = msgspec.structs.replace(
        grid_deck(), units=units, twine=msgspec.structs.replace(grid_deck().twine, hank=hank)
    )
    rows = tuple(LineTwine(i, 0.0, 0.0, mm) for i, mm in enumerate(cut_lengths, 1))
    return hanks_cut(deck, TwinePlan(rows, sum(cut_lengths), "over-springs-3"))


def test_a_hank_gives_the_pieces_as_they_are_cut_in_the_decks_units():
    """Two pieces of 1410 mm fill 2820 mm; cut at 56 in each they need 112 in, and it has 111."""
    assert from_hanks("mm", 2820.0, [1410.0, 1410.0]).hanks == ((0, 1),)
    cutting = from_hanks("in", 2820.0, [1410.0, 1410.0])
    assert cutting.hanks == ((0,), (1,))
    assert cutting.rests == pytest.approx([55 * 25.4] * 2)
    assert from_hanks("in", 112 * 25.4, [1410.0, 1410.0]).rests == pytest.approx([0])


def test_what_a_hank_holds_beyond_a_whole_step_is_not_cut_from():
    """In mm the cut list shows 1405 as 1410, so a hank of 2819 mm gives one such piece."""
    assert from_hanks("mm", 2819.0, [1405.0, 1405.0]).hanks == ((0,), (1,))


def test_a_hank_shorter_than_a_step_gives_nothing():
    assert from_hanks("mm", 5.0, [1400.0]).too_long == (0,)


def test_without_a_hank_nothing_is_shared_out():
    assert from_hanks("in", None, [1400.0]) is None
