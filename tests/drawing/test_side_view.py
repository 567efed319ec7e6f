"""The side view: the deck cut upright, true to the plan's heights, hitches and lengths."""

import math
from collections.abc import Sequence
from itertools import pairwise

import pytest
import shapely

from spring_layout.deck import edits
from spring_layout.drawing.primitives import Path, polyline
from spring_layout.drawing.side_view import Across, SightError, side_picture, side_view
from spring_layout.drawing.side_view_coil import Upright
from spring_layout.drawing.side_view_section import section_of
from spring_layout.plan import make_plan
from spring_layout.planning.webbing import goes_over
from tests.decks import grid_deck
from tests.drawing.cut import A4, SCREEN, nine, sample
from tests.drawing.reading import of_kind

# along a tie --------------------------------------------------------------------------------------


def long(way: Sequence[tuple[float, ...]]) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(way))


def test_a_straight_tie_is_as_long_as_its_twine_is_counted_by() -> None:
    plan = nine()
    rows = [k for k in plan.parts.ties.lines if k.run in ("front-to-back", "side-to-side")]
    for line in rows:
        (tie,) = section_of(plan.parts, line.number).ties
        count = plan.parts.counts[line.number - 1]
        assert long(tie.way) == pytest.approx(count.way)
        assert sum(long(back) for back in tie.returns) == pytest.approx(count.returns)
        assert len(tie.returns) == 2


@pytest.mark.parametrize("name", ["tapered-dining-chair", "bow-fronted-easy-chair"])
def test_a_bent_tie_laid_out_flat_keeps_its_lengths_from_ring_to_ring(name: str) -> None:
    plan = sample(name)
    for line, hitched in zip(plan.parts.ties.lines, plan.parts.hitches.lines, strict=True):
        (tie,) = section_of(plan.parts, line.number).ties
        flat = [math.dist(a, b) for a, b in pairwise(tie.way)]
        real = [math.dist(a, b) for a, b in pairwise(hitched.way)]
        over = hitched.way.index(hitched.along[0].place)
        for i, (drawn, counted) in enumerate(zip(flat, real, strict=True)):
            if (i - over) % 2:  # from one ring to the next, to the rail's edge or a tack point
                assert drawn == pytest.approx(counted)
            else:  # over a spring, where a tie that bends takes the shorter way
                assert drawn >= counted - 1e-9


def test_every_hitch_sits_at_the_edge_of_its_own_ring() -> None:
    plan = sample("tapered-dining-chair")
    for line in plan.parts.ties.lines:
        section = section_of(plan.parts, line.number)
        places = {
            (round(s.u + side * ring.radius, 6), round(ring.height, 6), ring.number)
            for s in section.springs
            for ring in s.rings
            for side in (-1, 1)
        }
        for hitch in section.hitches:
            assert (round(hitch.place[0], 6), round(hitch.place[1], 6), hitch.ring) in places


def test_springs_stand_as_far_apart_as_in_plan_and_as_high_as_they_are_tied() -> None:
    plan = sample("bow-fronted-easy-chair")
    line = plan.parts.ties.lines[0]
    springs = section_of(plan.parts, 1).springs
    assert [s.spring for s in springs] == list(line.springs)
    apart = [b.u - a.u for a, b in pairwise(springs)]
    assert apart == pytest.approx([math.dist(a, b) for a, b in pairwise(line.centres)])
    row = plan.parts.standing.index
    assert [s.tied for s in springs] == [plan.parts.heights.tied[row[s.spring]] for s in springs]


def test_a_square_rail_is_as_wide_as_it_is_and_a_diagonal_cuts_it_slantwise() -> None:
    plan = nine()
    straight = section_of(plan.parts, 1)
    assert [r.finish - r.start for r in straight.rails] == pytest.approx([45.0, 45.0])
    assert [r.top for r in straight.rails] == [75.0, 75.0]
    assert straight.opening[1] - straight.opening[0] == pytest.approx(500.0)
    cut = section_of(plan.parts, Across((250.0, 0.1), 45.0))
    # at 45 degrees over the right rail: its width over the cosine
    assert cut.rails[-1].finish - cut.rails[-1].start == pytest.approx(45.0 * math.sqrt(2))


def test_the_tack_points_lie_on_the_rails_tops() -> None:
    plan = sample("tapered-dining-chair")
    for line in plan.parts.ties.lines:
        section = section_of(plan.parts, line.number)
        for u, z in section.ties[0].tacks:
            assert any(r.start < u < r.finish and r.top == z for r in section.rails)


def test_the_strip_under_a_tie_goes_over_and_under_those_across_by_turns() -> None:
    plan = nine()
    line = next(k for k in plan.parts.ties.lines if k.run == "front-to-back")
    strips = section_of(plan.parts, line.number).strips
    across = [s for s in strips if s.run == "side-to-side"]
    assert len(across) == len(plan.parts.webbing.of("side-to-side"))
    along = max(strips, key=lambda s: s.finish - s.start)
    number = [s.at for s in plan.parts.webbing.of("front-to-back")].index(line.centres[0][0])
    levels = [level for _, _, level in along.levels]
    # u runs from the front, the strips across are numbered from the back
    count = len(across)
    expected = [1 if goes_over(number, count - 1 - i) else -1 for i in range(count)]
    assert levels == expected


def test_the_names_of_the_ends_are_those_of_the_rails() -> None:
    plan = nine()
    names = {line.run: section_of(plan.parts, line.number).ends for line in plan.parts.ties.lines}
    assert names["front-to-back"] == ("FRONT", "BACK")
    assert names["side-to-side"] == ("LEFT", "RIGHT")


def test_an_end_that_meets_no_rail_has_neither_rail_nor_tack_point() -> None:
    deck = edits.set_rail(grid_deck(), 2, "none")
    plan = make_plan(deck)
    line = next(k for k in plan.parts.ties.lines if k.run == "front-to-back")
    section = section_of(plan.parts, line.number)
    assert len(section.ties[0].tacks) == 1
    assert section.ends[1] == "BACK"
    assert section.ends[0] == ""
    assert all(r.start > section.springs[-1].u for r in section.rails)
    side_picture(plan, line.number, SCREEN)


def test_an_open_end_is_not_called_by_the_name_of_the_other() -> None:
    plan = make_plan(edits.set_rail(grid_deck(), 1, "none"))
    line = next(k for k in plan.parts.ties.lines if k.run == "side-to-side")
    assert section_of(plan.parts, line.number).ends == ("LEFT", "")
    middle = Across((250.0, 250.0), 0.0)
    assert section_of(plan.parts, middle).ends == ("LEFT", "")


def test_a_cut_along_the_line_where_two_rails_meet_meets_a_rail_at_both_ends() -> None:
    section = section_of(sample("round-ottoman").parts, Across((0.0, 0.0), 0.0))
    assert len(section.rails) == 2
    for rail in section.rails:
        assert rail.finish - rail.start == pytest.approx(40.0, abs=0.1)
    assert all(section.ends)


def test_cross_knots_lie_on_the_twine() -> None:
    plan = sample("square-stool")
    line = plan.parts.ties.lines[0]
    section = section_of(plan.parts, line.number)
    mine = [c for c in plan.parts.ties.crossings if line.number in c.lines]
    assert len(section.knots) == len(mine)
    way = shapely.LineString(section.ties[0].way)
    for place, _ in section.knots:
        assert way.distance(shapely.Point(place)) < 1e-6


# straight across ----------------------------------------------------------------------------------


def test_a_cut_through_the_middle_row_leaves_away_what_lies_before_it() -> None:
    plan = nine()
    section = section_of(plan.parts, Across((0.0, 250.0), 0.0))
    cut = {s.spring for s in section.springs if s.is_cut}
    beyond = {s.spring for s in section.springs if not s.is_cut}
    assert cut == {"s4", "s5", "s6"}
    assert beyond == {"s1", "s2", "s3"}, "the back row lies beyond, the front row is taken away"
    assert section.ends == ("LEFT", "RIGHT")


def test_the_rail_beyond_a_cut_is_seen_and_the_one_before_it_is_not() -> None:
    plan = nine()
    section = section_of(plan.parts, Across((250.0, 250.0), 0.0))
    rails = {plan.deck.frame.sides[rail.side].rail: rail for rail in section.beyond}
    assert "front" not in rails
    assert (rails["back"].start, rails["back"].finish) == pytest.approx(section.reach)
    assert rails["back"].top == plan.deck.frame.top_of(rails["back"].side)
    drawn = side_picture(plan, Across((250.0, 250.0), 0.0), SCREEN)
    seen = [item for item in of_kind(drawn, "rail") if isinstance(item, Path)]
    assert len(seen) == len(section.beyond)


def test_a_cut_the_other_way_round_is_seen_from_the_back() -> None:
    plan = nine()
    section = section_of(plan.parts, Across((0.0, 250.0), 180.0))
    assert {s.spring for s in section.springs if not s.is_cut} == {"s7", "s8", "s9"}
    assert section.ends == ("RIGHT", "LEFT")


def test_a_tie_that_runs_with_the_cut_shows_its_way_and_others_only_their_hitches() -> None:
    plan = nine()
    section = section_of(plan.parts, Across((0.0, 250.0), 0.0))
    runs = {tie.run for tie in section.ties}
    assert runs == {"side-to-side"}
    assert {hitch.run for hitch in section.hitches} == {
        "front-to-back",
        "side-to-side",
        "diagonal-rising",
        "diagonal-falling",
    }


def test_where_nothing_is_to_be_seen_one_sentence_says_so() -> None:
    plan = nine()
    with pytest.raises(SightError, match="no tie 13; give a number from 1 to 12"):
        side_view(plan, 13, A4)
    with pytest.raises(SightError, match="does not meet the opening"):
        side_view(plan, Across((0.0, 9000.0), 0.0), A4)
    bare = edits.remove_springs(grid_deck(), [f"s{i}" for i in range(1, 10)])
    with pytest.raises(SightError, match="no ties"):
        side_view(make_plan(bare), 1, A4)


def test_a_bare_frame_can_be_cut_too() -> None:
    bare = edits.remove_springs(grid_deck(), [f"s{i}" for i in range(1, 10)])
    drawing = side_picture(make_plan(bare), Across((250.0, 250.0), 0.0), SCREEN)
    assert len(of_kind(drawing, "hatching")) == 2


def test_a_polyline_of_a_cut_is_scaled_and_turned_upright() -> None:
    view = Upright(5.0, 10.0, 40.0)
    assert view.line([(0.0, 0.0), (50.0, 100.0)]) == polyline([(10.0, 40.0), (20.0, 20.0)])
    assert view.length(50.0) == 10.0
