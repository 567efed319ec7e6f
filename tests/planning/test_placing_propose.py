"""Suggested layouts: what comes out for frames of every kind, and what never does."""

import math

import msgspec
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spring_layout.deck.model import Frame, Side, Spring
from spring_layout.planning.placing.layouts import Layout
from spring_layout.planning.placing.measure import Wish
from spring_layout.planning.placing.propose import NoRoomError, propose
from spring_layout.planning.placing.symmetry import symmetries
from spring_layout.planning.placing.wording import title_of, why_of
from spring_layout.planning.spacing import Evenness, evenness_of, spaces_of
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


# Words

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
