import math

import pytest

from spring_layout.deck import edits
from spring_layout.deck.opening import outline_of
from spring_layout.deck.shapes import round_frame, straight_frame, tapered_frame
from spring_layout.deck.symmetry import is_symmetric
from tests.decks import grid_deck

BACK, RIGHT, FRONT, LEFT = range(4)


@pytest.fixture
def deck():
    """Nine springs in a frame of 500 by 500 mm."""
    return grid_deck()


def with_tack_point(deck, side, along, spring="s2", run="front-to-back", end="finish"):
    return edits.move_anchor(deck, run, spring, end, side, along)


def tack_points(deck):
    return [(anchor.side, anchor.along) for anchor in deck.tying.anchors]


def area(deck):
    return outline_of(deck.frame).polygon.area


def test_a_corner_is_moved(deck):
    moved = edits.move_corner(deck, 2, (520, 510))
    assert moved.frame.corners == ((0, 0), (500, 0), (520, 510), (0, 500))
    assert deck.frame.corners[2] == (500, 500)


def test_with_both_sides_the_same_the_other_corner_moves_as_in_a_mirror(deck):
    moved = edits.move_corner(deck, 2, (520, 510), symmetric=True)
    assert moved.frame.corners == ((0, 0), (500, 0), (520, 510), (-20, 510))
    assert is_symmetric(moved.frame)


def test_a_corner_in_the_middle_stays_in_the_middle(deck):
    pointed = edits.insert_corner(deck, FRONT, 250)
    moved = edits.move_corner(pointed, 3, (300, 560), symmetric=True)
    assert moved.frame.corners[3] == (250, 560)
    assert is_symmetric(moved.frame)


def test_a_frame_that_is_not_the_same_on_both_sides_says_so(deck):
    lopsided = edits.move_corner(deck, 2, (520, 510))
    for edit in (
        lambda: edits.move_corner(lopsided, 0, (-5, 0), symmetric=True),
        lambda: edits.bow_side(lopsided, 1, 5, symmetric=True),
        lambda: edits.insert_corner(lopsided, 0, 50, symmetric=True),
        lambda: edits.remove_corner(lopsided, 0, symmetric=True),
    ):
        with pytest.raises(ValueError, match="make it so first"):
            edit()


def test_a_lopsided_frame_is_made_the_same_on_both_sides(deck):
    lopsided = edits.bow_side(edits.move_corner(deck, 2, (520, 510)), RIGHT, 10)
    even = edits.make_symmetric(lopsided)
    assert is_symmetric(even.frame)
    assert [side.bow for side in even.frame.sides] == [0, 5, 0, 5]
    assert edits.make_symmetric(even) == even


def test_an_outline_that_would_cross_itself_is_refused_with_the_reason(deck):
    with pytest.raises(ValueError, match="would cross itself there; keep the corner"):
        edits.move_corner(deck, 2, (490, -10))


def test_a_frame_that_would_leave_a_spring_outside_is_refused(deck):
    with pytest.raises(ValueError, match="Spring s1 stands outside"):
        edits.move_corner(deck, 0, (300, 300))


@pytest.mark.parametrize("number", [-1, 4])
def test_a_corner_or_side_that_is_not_there_is_told(deck, number):
    for edit in (
        lambda: edits.move_corner(deck, number, (0, 0)),
        lambda: edits.remove_corner(deck, number),
        lambda: edits.insert_corner(deck, number, 10),
        lambda: edits.bow_side(deck, number, 10),
        lambda: edits.bow_side(deck, number, 10, symmetric=True),
        lambda: edits.set_rail(deck, number, "none"),
    ):
        with pytest.raises(ValueError, match="the frame has 4"):
            edit()


def test_a_side_is_bowed_and_its_partner_with_it(deck):
    assert [s.bow for s in edits.bow_side(deck, FRONT, 20).frame.sides] == [0, 0, 20, 0]
    both = edits.bow_side(deck, RIGHT, 12, symmetric=True)
    assert [s.bow for s in both.frame.sides] == [0, 12, 0, 12]


def test_a_bow_past_the_half_circle_is_refused(deck):
    with pytest.raises(ValueError, match="half circle"):
        edits.bow_side(deck, FRONT, 251)


def test_a_corner_put_into_a_straight_side_leaves_the_shape(deck):
    more = edits.insert_corner(deck, RIGHT, 200)
    assert more.frame.corners[2] == (500, 200)
    assert [side.rail for side in more.frame.sides] == ["back", "right", "right", "front", "left"]
    assert area(more) == pytest.approx(area(deck))


@pytest.mark.parametrize("bow", [18, -18, 250])
def test_a_corner_put_into_a_bowed_side_leaves_the_arc(deck, bow):
    bowed = edits.bow_side(edits.remove_springs(deck, ["s8"]), FRONT, bow)
    more = edits.insert_corner(bowed, FRONT, 180)
    whole = outline_of(bowed.frame).sides[FRONT]
    parts = outline_of(more.frame).sides[FRONT : FRONT + 2]
    assert sum(part.length for part in parts) == pytest.approx(whole.length, abs=0.01)
    assert [part.curvature for part in parts] == pytest.approx([whole.curvature] * 2, rel=1e-4)
    assert area(more) == pytest.approx(area(bowed), rel=1e-4)


def test_with_both_sides_the_same_two_corners_are_put_in(deck):
    more = edits.insert_corner(deck, RIGHT, 200, symmetric=True)
    assert more.frame.corners == ((0, 0), (500, 0), (500, 200), (500, 500), (0, 500), (0, 200))
    across = edits.insert_corner(deck, FRONT, 100, symmetric=True)
    assert across.frame.corners[3:5] == ((400, 500), (100, 500))
    middle = edits.insert_corner(deck, FRONT, 250, symmetric=True)
    assert middle.frame.corners[3:] == ((250, 500), (0, 500))


@pytest.mark.parametrize("along", [0, 500, -3, 900])
def test_a_corner_cannot_be_put_on_a_sides_end(deck, along):
    with pytest.raises(ValueError, match="between the ends of side 3"):
        edits.insert_corner(deck, FRONT, along)


def test_taking_the_corner_out_again_gives_the_frame_back(deck):
    assert edits.remove_corner(edits.insert_corner(deck, RIGHT, 200), 2).frame == deck.frame
    both = edits.insert_corner(deck, RIGHT, 200, symmetric=True)
    assert edits.remove_corner(both, 2, symmetric=True).frame == deck.frame


def test_the_longer_sides_rail_stays_when_a_corner_goes(deck):
    bare = edits.set_rail(edits.insert_corner(deck, RIGHT, 200), 1, "none")
    assert edits.remove_corner(bare, 2).frame.sides[RIGHT].rail == "right"


def test_the_first_corner_can_go(deck):
    more = edits.insert_corner(deck, LEFT, 450)
    assert edits.remove_corner(edits.remove_springs(more, ["s1"]), 0).frame.corners == (
        (500, 0),
        (500, 500),
        (0, 500),
        (0, 50),
    )


def test_a_round_frame_needs_its_two_corners(deck):
    with pytest.raises(ValueError, match="last two corners"):
        edits.remove_corner(edits.set_frame(deck, round_frame(600), drop_outside=True), 0)


def test_a_rail_has_its_own_measurements_or_the_frames(deck):
    own = edits.change_side(deck, FRONT, rail_width=60, rail_top=70, nail_line=15)
    assert (own.frame.width_of(FRONT), own.frame.top_of(FRONT)) == (60, 70)
    assert own.frame.nail_line_of(FRONT) == 15
    assert edits.change_side(own, FRONT, rail_width=None).frame.width_of(FRONT) == 45
    thick = edits.set_rails(own, rail_width=50, rail_top=80)
    assert [thick.frame.width_of(i) for i in range(4)] == [50, 50, 60, 50]
    assert [thick.frame.top_of(i) for i in range(4)] == [80, 80, 70, 80]


@pytest.mark.parametrize(
    ("field", "value", "says"),
    [
        ("rail_width", 0, "over 0"),
        ("rail_width", "wide", "must be a number or null"),
        ("rail", "top", 'must be one of "back"'),
        ("bow", math.nan, "Side 3 .front.: bow is nan"),
        ("colour", "red", "no setting “colour”"),
        ("extra", "{}", "no setting “extra”"),
    ],
)
def test_a_measurement_that_cannot_be_is_refused(deck, field, value, says):
    with pytest.raises(ValueError, match=says):
        edits.change_side(deck, FRONT, **{field: value})


def test_moved_tack_points_go_with_their_side_when_corners_come_and_go(deck):
    deck = with_tack_point(deck, LEFT, 120)
    more = edits.insert_corner(deck, RIGHT, 200)
    assert tack_points(more) == [(4, 120)]
    assert tack_points(edits.remove_corner(more, 2)) == [(LEFT, 120)]


def test_a_moved_tack_point_keeps_its_place_when_its_side_is_cut_in_two(deck):
    deck = with_tack_point(with_tack_point(deck, BACK, 120), BACK, 300, spring="s3")
    assert tack_points(edits.insert_corner(deck, BACK, 200)) == [(0, 120), (1, 100)]


def test_a_moved_tack_point_is_drawn_back_onto_a_side_that_grows_shorter(deck):
    deck = with_tack_point(deck, RIGHT, 480)
    assert tack_points(edits.move_corner(deck, 2, (500, 460))) == [(RIGHT, 460)]


def test_moved_tack_points_go_with_the_rail_they_were_on(deck):
    deck = with_tack_point(with_tack_point(deck, BACK, 250), FRONT, 250, end="start")
    assert tack_points(edits.set_rail(deck, BACK, "none")) == [(FRONT, 250)]
    assert tack_points(edits.remove_corner(edits.insert_corner(deck, BACK, 100), 1)) == [(2, 250)]


def test_another_frame_keeps_tack_points_only_where_it_has_as_many_sides(deck):
    deck = with_tack_point(deck, BACK, 250)
    wider = edits.set_frame(deck, straight_frame(600, 600))
    assert tack_points(wider) == [(BACK, 250)]
    assert tack_points(edits.set_frame(deck, round_frame(700), drop_outside=True)) == []


def test_springs_outside_another_frame_stop_it_or_are_taken_away(deck):
    deck = edits.join_springs(deck, "side-to-side", "s2", "s3")
    narrow = tapered_frame(300, 320, 500)
    with pytest.raises(ValueError, match="Spring s3 stands outside"):
        edits.set_frame(deck, narrow)
    kept = edits.set_frame(deck, narrow, drop_outside=True)
    assert [spring.id for spring in kept.springs] == ["s1", "s2", "s4", "s5", "s7", "s8"]
    assert kept.tying.joins == ()
