import pytest

from spring_layout.deck import edits
from spring_layout.deck.model import Limits
from tests.decks import grid_deck


@pytest.fixture
def deck():
    """Nine springs, s1 at the back left, in a frame of 500 by 500 mm."""
    return grid_deck()


@pytest.mark.parametrize(
    ("run", "pair"),
    [
        ("front-to-back", ("s4", "s1")),
        ("side-to-side", ("s1", "s2")),
        ("diagonal-rising", ("s4", "s2")),
        ("diagonal-falling", ("s1", "s5")),
    ],
)
def test_springs_are_joined_in_the_direction_of_the_run_however_they_are_named(deck, run, pair):
    one = edits.join_springs(deck, run, *pair)
    assert one.tying.joins[0].springs == pair
    assert edits.join_springs(deck, run, *reversed(pair)) == one
    assert edits.join_springs(one, run, *reversed(pair)) == one


def test_the_same_two_springs_are_either_joined_or_parted(deck):
    joined = edits.join_springs(deck, "side-to-side", "s1", "s2")
    parted = edits.part_springs(joined, "side-to-side", "s2", "s1")
    assert (parted.tying.joins, len(parted.tying.parts)) == ((), 1)
    assert edits.join_springs(parted, "side-to-side", "s1", "s2") == joined


def test_a_join_on_one_run_leaves_a_part_on_another(deck):
    both = edits.part_springs(deck, "side-to-side", "s1", "s2")
    both = edits.join_springs(both, "diagonal-rising", "s1", "s2")
    assert (len(both.tying.joins), len(both.tying.parts)) == (1, 1)


def test_what_was_joined_or_parted_by_hand_is_cleared(deck):
    tied = edits.join_springs(deck, "side-to-side", "s1", "s2")
    tied = edits.part_springs(tied, "side-to-side", "s2", "s3")
    assert edits.clear_pairing(tied, "side-to-side", "s2", "s1").tying.joins == ()
    assert edits.clear_pairings(tied) == deck


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("sideways", "s1", "s2"), "no run “sideways”"),
        (("side-to-side", "s1", "s99"), "no spring “s99”"),
        (("side-to-side", "s1", "s1"), "paired with itself"),
    ],
)
def test_a_pair_that_cannot_be_is_refused(deck, arguments, says):
    for edit in (edits.join_springs, edits.part_springs, edits.clear_pairing):
        with pytest.raises(ValueError, match=says):
            edit(deck, *arguments)


def test_a_tack_point_is_moved_and_moved_again(deck):
    once = edits.move_anchor(deck, "front-to-back", "s2", "finish", 0, 240.0004)
    assert [(a.side, a.along) for a in once.tying.anchors] == [(0, 240.0)]
    twice = edits.move_anchor(once, "front-to-back", "s2", "finish", 0, 260)
    assert [(a.side, a.along) for a in twice.tying.anchors] == [(0, 260.0)]


def test_a_tack_point_moved_through_another_spring_of_the_tie_replaces_the_first(deck):
    once = edits.move_anchor(deck, "front-to-back", "s2", "finish", 0, 240)
    tie = ("s8", "s5", "s2")
    again = edits.move_anchor(once, "front-to-back", "s5", "finish", 0, 260, line_springs=tie)
    assert [(a.spring, a.along) for a in again.tying.anchors] == [("s5", 260.0)]


def test_tack_points_go_back_to_where_they_are_worked_out(deck):
    moved = edits.move_anchor(deck, "front-to-back", "s2", "finish", 0, 240)
    both = edits.move_anchor(moved, "front-to-back", "s2", "start", 2, 240)
    assert edits.clear_anchor(both, "front-to-back", ["s8", "s5", "s2"], "start") == moved
    assert edits.clear_anchor(moved, "side-to-side", ["s2"], "finish") == moved
    assert edits.clear_anchors(both) == deck


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("sideways", "s1", "start", 0, 10), "no run “sideways”"),
        (("side-to-side", "s99", "start", 0, 10), "no spring “s99”"),
        (("side-to-side", "s1", "middle", 0, 10), "a start and a finish"),
        (("side-to-side", "s1", "start", 4, 10), "there is no side 4"),
        (("side-to-side", "s1", "start", 0.5, 10), "must be a whole number"),
        (("side-to-side", "s1", "start", 0, 501), "beyond the end of side 1"),
        (("side-to-side", "s1", "start", 0, -1), "must be from 0"),
        (("side-to-side", "s1", "start", 0, float("nan")), "along is nan"),
    ],
)
def test_a_tack_point_that_cannot_be_is_refused(deck, arguments, says):
    with pytest.raises(ValueError, match=says):
        edits.move_anchor(deck, *arguments)


@pytest.mark.parametrize(
    ("edit", "fields", "part"),
    [
        (edits.set_tying, {"crown": 6, "diagonals": "all", "tied_height_back": 100}, "tying"),
        (edits.set_spacing, {"gap": 0, "clearance": 30}, "spacing"),
        (edits.set_twine, {"rule": "doubled-4", "tail_wraps": 3, "return_tie": False}, "twine"),
        (edits.set_seat, {"finished_height": 450, "cushion": 0}, "seat"),
        (edits.set_webbing, {"school": "fr", "gap": 0, "front_to_back": [100, 200]}, "webbing"),
        (edits.set_stitching, {"points": 3, "loops": 2}, "stitching"),
        (edits.set_work, {"minutes_per_spring": 9.5}, "work"),
    ],
)
def test_every_setting_is_set_and_set_back(deck, edit, fields, part):
    changed = edit(deck, **fields)
    values = {name: getattr(getattr(changed, part), name) for name in fields}
    assert {k: list(v) if isinstance(v, tuple) else v for k, v in values.items()} == fields
    before = {name: getattr(getattr(deck, part), name) for name in fields}
    assert edit(changed, **before) == deck


@pytest.mark.parametrize(
    ("edit", "fields", "says"),
    [
        (edits.set_tying, {"tied_height": 0}, "over 0"),
        (edits.set_tying, {"diagonals": "some"}, 'one of "all"'),
        (edits.set_tying, {"front_to_back": 1}, "true or false"),
        (edits.set_spacing, {"gap": -1}, "from 0"),
        (edits.set_limits, {"squeeze_most": 1.5}, "from 0 to 1"),
        (edits.set_limits, {"bend_doubtful": 181}, "from 0 to 180 degrees"),
        (edits.set_twine, {"tail_wraps": 2.5}, "a whole number"),
        (edits.set_twine, {"step": 0}, "over 0"),
        (edits.set_seat, {"floor_to_webbing": -1}, "over 0"),
        (edits.set_webbing, {"side_to_side": ["left"]}, "a list of numbers or null"),
        (edits.set_webbing, {"side_to_side": [float("inf")]}, "strip 1 is a number beyond reason"),
        (edits.set_seat, {"legs": 4}, "no setting “legs”"),
    ],
)
def test_a_setting_that_cannot_be_is_refused(deck, edit, fields, says):
    with pytest.raises(ValueError, match=says):
        edit(deck, **fields)


def test_limits_are_set_and_put_back(deck):
    set_ = edits.set_limits(deck, gap_most=90, squeeze_most=0.4)
    assert (set_.spacing.limits.gap_most, set_.spacing.limits.squeeze_most) == (90, 0.4)
    assert edits.reset_limits(set_) == deck
    assert edits.reset_limits(set_).spacing.limits == Limits()


def test_name_note_and_units_are_set(deck):
    named = edits.set_units(edits.set_note(edits.set_name(deck, "Settle"), "Two\nlines"), "mm")
    assert (named.name, named.note, named.units) == ("Settle", "Two\nlines", "mm")
    with pytest.raises(ValueError, match='one of "in", "mm"'):
        edits.set_units(deck, "ft")
    with pytest.raises(ValueError, match="keep it to 200"):
        edits.set_name(deck, "n" * 201)
    with pytest.raises(ValueError, match="cannot be printed"):
        edits.set_note(deck, "\x00")


def test_webbing_strips_are_placed_moved_and_left_to_be_worked_out(deck):
    placed = edits.set_strips(deck, "front-to-back", [100, 250, 400])
    moved = edits.move_strip(placed, "front-to-back", 1, 245)
    assert moved.webbing.front_to_back == (100, 245, 400)
    assert edits.set_strips(moved, "front-to-back", None) == deck
    for run, number in (("side-to-side", 0), ("front-to-back", 3), ("front-to-back", -1)):
        with pytest.raises(ValueError, match="There is no strip"):
            edits.move_strip(placed, run, number, 200)
    with pytest.raises(ValueError, match="not “diagonal-rising”"):
        edits.set_strips(deck, "diagonal-rising", [100])
