"""Suggested layouts: what comes out for frames of every kind, and what never does."""

import math

import msgspec
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spring_layout.deck.model import Frame, Side, Spring
from spring_layout.planning.placing.layouts import Layout
from spring_layout.planning.placing.propose import NoRoomError, propose
from spring_layout.planning.placing.symmetry import symmetries
from spring_layout.planning.spacing import evenness_of, spaces_of
from spring_layout.planning.standing import standing_of
from tests.decks import SEAT_COIL, grid_deck, straight_frame
from tests.placing_frames import FRAMES, frame_named


def deck_with(frame, top_diameter=92.0, units="mm"):
    coil = msgspec.structs.replace(SEAT_COIL, top_diameter=top_diameter)
    return msgspec.structs.replace(grid_deck(), frame=frame, coils=(coil,), springs=(), units=units)


def set_up(deck, layout):
    springs = tuple(
        Spring(id=f"s{i}", coil="seat", x=x, y=y, held=False)
        for i, (x, y) in enumerate(layout.places)
    )
    return standing_of(msgspec.structs.replace(deck, springs=springs))


@pytest.fixture(scope="module", params=sorted(FRAMES))
def offered(request):
    deck = deck_with(frame_named(request.param))
    return deck, propose(deck, "seat", 50, 40)


def test_there_is_a_choice_of_two_to_four_that_differ(offered):
    _, layouts = offered
    assert 2 <= len(layouts) <= 4
    assert len({(layout.pattern, layout.count) for layout in layouts}) == len(layouts)


def test_no_rings_touch_and_none_passes_the_edge(offered):
    deck, layouts = offered
    for layout in layouts:
        spaces = spaces_of(set_up(deck, layout))
        assert np.nanmin(spaces.gap) > 0
        assert spaces.clearance.min() >= 0


def test_the_numbers_are_those_of_the_springs_once_they_stand(offered):
    deck, layouts = offered
    for layout in layouts:
        standing = set_up(deck, layout)
        even = evenness_of(standing, spaces_of(standing))
        told = (layout.gap_least, layout.gap_most, layout.clearance_least, layout.clearance_most)
        assert told == pytest.approx(
            (even.gap_least, even.gap_most, even.rim_least, even.rim_most), abs=5e-3
        )
        area = standing.outline.polygon.area / layout.count
        assert layout.area_per_spring == pytest.approx(area)
        assert layout.count == len(layout.places) == sum(layout.counts)
        assert layout.columns == max(layout.counts)


def corner_seat(turned: bool) -> Frame:
    """A window seat round a corner, 500 mm deep; ``turned``: its short leg goes to the back."""
    rails = ("back", "right", "front", "right", "front", "left")
    corners = [(0, 0), (1400, 0), (1400, 500), (500, 500), (500, 1200), (0, 1200)]
    if turned:
        corners = [(1400 - x, 1200 - y) for x, y in corners]
        rails = ("front", "left", "back", "left", "back", "right")
    sides = tuple(Side(rail=rail, bow=0) for rail in rails)
    return Frame(corners=tuple(corners), sides=sides, rail_width=50, rail_top=60)


@pytest.mark.parametrize("turned", [False, True])
def test_both_legs_of_a_corner_seat_are_filled(turned):
    deck = deck_with(corner_seat(turned))
    for layout in propose(deck, "seat", 50, 40):
        standing = set_up(deck, layout)
        even = evenness_of(standing, spaces_of(standing))
        assert even.rim_most is not None
        assert even.rim_most < 2.5 * 40
        assert max(layout.counts) >= 2 * min(layout.counts)


def test_rows_are_told_from_the_back_and_springs_from_the_left(offered):
    _, layouts = offered
    for layout in layouts:
        assert sorted(i for row in layout.rows for i in row) == list(range(layout.count))
        assert tuple(len(row) for row in layout.rows) == layout.counts
        if layout.pattern != "ring":
            y = [np.mean([layout.places[i][1] for i in row]) for row in layout.rows]
            assert y == sorted(y)
            for row in layout.rows:
                x = [layout.places[i][0] for i in row]
                assert x == sorted(x)


def test_a_symmetric_frame_gets_symmetric_layouts(offered):
    deck, layouts = offered
    for layout in layouts:
        standing = set_up(deck, layout)
        none = np.zeros(layout.count, bool)
        motions = symmetries(standing.outline, standing.centres, standing.radii, none)
        mirrors = [motion for motion in motions if np.allclose(motion.matrix, np.diag([-1.0, 1.0]))]
        assert mirrors, layout.title
        assert mirrors[0].moved(standing.centres) == pytest.approx(
            standing.centres[mirrors[0].image], abs=2e-3
        )


def test_every_layout_says_what_speaks_for_it(offered):
    _, layouts = offered
    for layout in layouts:
        assert layout.title.startswith(f"{layout.count} spring")
        assert layout.why.count(".") >= 2
        assert layout.why.endswith(".")
        assert "asked" in layout.why


def test_the_same_frame_gets_the_same_layouts_every_time():
    deck = deck_with(straight_frame(300, 300))
    assert propose(deck, "seat", 50, 40) == propose(deck, "seat", 50, 40)


# What the trade would expect


def first(frame, gap, clearance, top_diameter=92.0):
    return propose(deck_with(frame, top_diameter), "seat", gap, clearance)[0]


def test_a_square_stool_gets_nine_in_three_rows_of_three():
    layout = first(straight_frame(), 50, 40)
    assert (layout.pattern, layout.counts) == ("square", (3, 3, 3))
    pitch = 92 + 224 / 180 * 50
    xs = sorted({round(x) for x, _ in layout.places})
    assert xs == pytest.approx([250 - pitch, 250, 250 + pitch], abs=1)


def test_a_hall_bench_gets_three_rows_of_eight():
    assert first(straight_frame(1200, 450), 50, 40).counts == (8, 8, 8)


def test_a_round_ottoman_gets_one_in_the_middle_and_a_ring_of_six():
    layout = first(frame_named("round"), 50, 40)
    assert (layout.pattern, layout.counts) == ("ring", (1, 6))
    away = [math.dist(place, (260, 260)) for place in layout.places]
    assert away[0] == pytest.approx(0, abs=0.5)
    assert away[1:] == pytest.approx([np.mean(away[1:])] * 6, abs=0.5)


def test_an_octagon_counts_as_round_and_a_square_does_not():
    angles = [math.pi / 8 + math.pi / 4 * i for i in range(8)]
    corners = tuple((260 + 280 * math.cos(a), 260 + 280 * math.sin(a)) for a in angles)
    rails = ("front", "front", "left", "left", "back", "back", "right", "right")
    sides = tuple(Side(rail=rail, bow=0) for rail in rails)
    octagon = Frame(corners=corners, sides=sides, rail_width=45, rail_top=75)
    assert "ring" in {layout.pattern for layout in propose(deck_with(octagon), "seat", 50, 40)}
    square = propose(deck_with(straight_frame()), "seat", 50, 40)
    assert "ring" not in {layout.pattern for layout in square}


def test_columns_fan_with_a_tapered_frame():
    frame = msgspec.structs.replace(
        frame_named("tapered"), corners=((0, 0), (380, 0), (460, 380), (-80, 380))
    )
    layouts = propose(deck_with(frame, 80), "seat", 40, 30)
    grid = next(one for one in layouts if one.pattern == "square" and one.columns > 2)
    back, front = ([grid.places[i][0] for i in row] for row in (grid.rows[0], grid.rows[-1]))
    assert front[-1] - front[0] >= back[-1] - back[0] - 0.5


def test_closer_wishes_get_more_springs():
    wide = first(straight_frame(350, 350), 60, 50).count
    close = first(straight_frame(350, 350), 15, 15).count
    assert close > wide


def test_close_springing_nearly_touches_but_never_does():
    for layout in propose(deck_with(straight_frame(400, 300)), "seat", 4, 4):
        assert layout.gap_least > 0


@pytest.mark.parametrize("wishes", [(50, 0), (0, 40), (0, 0)])
def test_a_wish_of_nothing_still_gets_layouts(wishes):
    layouts = propose(deck_with(straight_frame(350, 300)), "seat", *wishes)
    assert layouts
    for layout in layouts:
        assert layout.clearance_least > -0.02
        assert layout.gap_least is None or layout.gap_least > 0


def test_a_frame_that_takes_one_spring_gets_one_in_the_middle():
    layouts = propose(deck_with(straight_frame(130, 130)), "seat", 50, 40)
    assert layouts[0].count == 1
    assert layouts[0].places[0] == pytest.approx((65, 65), abs=0.1)
    assert layouts[0].title == "1 spring in the middle"
    assert layouts[0].gap_least is None


def test_wishes_are_the_decks_own_unless_given():
    deck = deck_with(straight_frame(300, 300))
    assert propose(deck, "seat") == propose(deck, "seat", 50, 40)


def test_a_very_large_deck_is_laid_out_without_evening_every_spring():
    deck = deck_with(straight_frame(2400, 1500))
    layout = propose(deck, "seat", 50, 40)[0]
    assert layout.count > 150
    assert layout.gap_least > 30


def test_it_can_be_stopped_on_the_way():
    asked = []

    def go_on(done, of):
        asked.append((done, of))
        return done < 3

    layouts = propose(deck_with(straight_frame()), "seat", 50, 40, go_on=go_on)
    assert len(layouts) <= 3
    assert [done for done, _ in asked] == [0, 1, 2, 3]
    assert all(of >= 4 for _, of in asked)


def sound_layouts(width, depth, taper, bow, top):
    corners = ((0, 0), (width, 0), (width + taper / 2, depth), (-taper / 2, depth))
    sides = tuple(
        Side(rail=rail, bow=rise)
        for rail, rise in (("back", 0), ("right", 0), ("front", bow), ("left", 0))
    )
    deck = deck_with(Frame(corners=corners, sides=sides, rail_width=45, rail_top=75), top)
    layouts = propose(deck, "seat", 45, 35, most=2)
    assert layouts
    for layout in layouts:
        spaces = spaces_of(set_up(deck, layout))
        assert spaces.clearance.min() >= 0
        assert layout.count == 1 or np.nanmin(spaces.gap) > 0


@settings(max_examples=2, deadline=None)
@given(
    st.integers(250, 420),
    st.integers(250, 420),
    st.integers(-60, 100),
    st.integers(0, 40),
    st.integers(70, 110),
)
def test_tapered_and_bowed_chair_frames_get_sound_layouts(width, depth, taper, bow, top):
    sound_layouts(width, depth, taper, bow, top)


@pytest.mark.larger
@settings(max_examples=10, deadline=None)
@given(
    st.integers(300, 900),
    st.integers(300, 700),
    st.integers(-60, 100),
    st.integers(0, 60),
    st.integers(60, 110),
)
def test_tapered_and_bowed_frames_of_any_size_get_sound_layouts(width, depth, taper, bow, top):
    sound_layouts(width, depth, taper, bow, top)


# Bad cases


def test_a_frame_too_small_for_any_spring_says_by_how_much():
    with pytest.raises(NoRoomError, match=r"92 mm across, and the widest ring .* 80 mm"):
        propose(deck_with(straight_frame(80, 300)), "seat", 50, 40)


def test_lengths_are_told_in_the_decks_units():
    with pytest.raises(NoRoomError, match=r"3 5/8 in across.*3 1/8 in"):
        propose(deck_with(straight_frame(80, 300), units="in"), "seat", 50, 40)


def test_an_unknown_spring_size_is_refused():
    with pytest.raises(ValueError, match="No spring size is called 'giant'"):
        propose(deck_with(straight_frame()), "giant")


@pytest.mark.parametrize("bad", [-5.0, math.nan])
def test_a_wish_that_is_no_distance_is_refused(bad):
    with pytest.raises(ValueError, match="must be 0 or more"):
        propose(deck_with(straight_frame()), "seat", bad, 40)


def test_a_wish_larger_than_the_opening_still_gets_what_fits():
    layouts = propose(deck_with(straight_frame()), "seat", 2000, 2000)
    assert layouts
    assert "much closer than you asked" in layouts[0].why


def test_layouts_are_plain_values():
    layout = propose(deck_with(straight_frame()), "seat", 50, 40)[0]
    assert isinstance(layout, Layout)
    assert hash(layout) == hash(layout)


def test_eight_springs_round_one_stand_in_line_with_it_all_eight_ways():
    frame = Frame(
        corners=((-275.0, 0.0), (275.0, 0.0)),
        sides=(Side(rail="back", bow=275), Side(rail="front", bow=275)),
        rail_width=40,
        rail_top=60,
    )
    layouts = propose(deck_with(frame, 89), "seat", 50.8, 44.5)
    (ring,) = [layout for layout in layouts if layout.counts == (1, 8)]
    around = np.array(ring.places[1:]) - ring.places[0]
    turned = np.degrees(np.arctan2(around[:, 1], around[:, 0])) / 45
    assert np.abs(turned - np.round(turned)).max() < 1e-3


def test_rows_in_a_tapered_chair_frame_share_its_depth():
    """17 in at the back, 21 in front, 19 deep, bowed by 1 1/2: no rail is left far from a row."""
    half_back, half_front, depth = 8.5 * 25.4, 10.5 * 25.4, 19 * 25.4
    corners = ((-half_back, 0.0), (half_back, 0.0), (half_front, depth), (-half_front, depth))
    rails = (("back", 0.0), ("right", 0.0), ("front", 38.1), ("left", 0.0))
    sides = tuple(Side(rail=rail, bow=bow) for rail, bow in rails)
    frame = Frame(corners=corners, sides=sides, rail_width=50, rail_top=60)
    first = propose(deck_with(frame, 89), "seat", 50.8, 44.5)[0]
    assert first.counts == (3, 3, 3)
    assert first.clearance_most < 1.5 * 44.5
