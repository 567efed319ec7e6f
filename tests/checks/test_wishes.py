"""What the checks say of joins, partings and tack points that the user sets against a rule."""

import math

import pytest

from spring_layout.deck.model import MovedAnchor, Pairing, Side
from spring_layout.plan import make_plan
from tests.checks.made import by_code, framed, tied, told, with_
from tests.decks import grid_deck


def wishing(**wishes):
    deck = grid_deck()
    return with_(deck, tying=with_(deck.tying, **wishes))


def tack(along, spring="s2", side=0, end="finish"):
    return MovedAnchor(run="front-to-back", spring=spring, end=end, side=side, along=along)


def parting(one, other):
    return Pairing(run="front-to-back", springs=(one, other))


def test_a_tack_point_moved_into_the_corner_is_told():
    found = told(wishing(anchors=(tack(10, spring="s1"),)))
    (finding,) = found["ANCHOR-CORNER"]
    assert finding.value == 10
    assert finding.limit == 25
    assert finding.sides == (0,)
    assert found["WISH-ANCHOR"][0].severity == "wrong"
    assert found["WISH-ANCHOR"][0].message == (
        "The tack point of tie 3 moved by hand on the back rail is to blame for what is wrong "
        "there."
    )


def test_a_tack_point_moved_beside_another_is_told():
    beside = (tack(250), tack(262, spring="s3"))
    found = told(wishing(anchors=beside))
    assert found["ANCHOR-CLOSE"][0].severity == "doubtful"
    assert found["ANCHOR-CLOSE"][0].value < 20


def test_of_two_tack_points_for_one_end_the_one_left_out_is_told():
    twice = (tack(240), tack(260, spring="s5"))
    (finding,) = told(wishing(anchors=twice))["WISH-ANCHOR"]
    assert finding.message.endswith(
        "is left out: that end is set by another tack point moved by hand."
    )


def test_a_tack_point_moved_a_little_breaks_nothing():
    assert not {"WISH-ANCHOR", "ANCHOR-CLOSE", "ANCHOR-CORNER"} & set(
        told(wishing(anchors=(tack(240),)))
    )


def test_a_join_that_bends_sharply_is_told():
    found = told(wishing(joins=(Pairing(run="front-to-back", springs=("s8", "s4")),)))
    assert {"WISH-JOIN"} & set(found)
    assert all(finding.severity == "wrong" for finding in found["WISH-JOIN"])
    assert "C2 and B1 is to blame for what is wrong with tie" in found["WISH-JOIN"][0].message


def test_a_join_against_the_run_cannot_be_kept():
    found = told(wishing(joins=(Pairing(run="side-to-side", springs=("s1", "s7")),)))
    assert found["WISH-JOIN"][0].springs == ("s1", "s7")


def test_a_join_beside_another_of_the_same_spring_is_left_out():
    joins = (
        Pairing(run="front-to-back", springs=("s5", "s2")),
        Pairing(run="front-to-back", springs=("s5", "s1")),
    )
    messages = [finding.message for finding in told(wishing(joins=joins))["WISH-JOIN"]]
    assert any("B2 and A1 is left out: one of them is joined to another" in m for m in messages)


def test_a_parting_that_breaks_no_rule_leaves_two_ties_and_is_not_told():
    plan = make_plan(wishing(parts=(parting("s7", "s4"),)))
    runs = [line for line in plan.parts.ties.lines if line.run == "front-to-back"]
    assert not any({"s7", "s4"} <= set(line.springs) for line in runs)
    assert len(runs) == 4
    assert not [finding for finding in plan.findings if finding.severity == "wrong"]


def test_a_parting_that_leaves_no_way_past_a_spring_is_told():
    """The tie that ends at C2 has to go on to the back rail over B2."""
    plan = make_plan(wishing(parts=(parting("s5", "s2"),)))
    runs = [line for line in plan.parts.ties.lines if line.run == "front-to-back"]
    assert not any({"s5", "s2"} <= set(line.springs) for line in runs)
    found = by_code(plan.findings)
    (over,) = found["TIE-OVER-SPRING"]
    (wish,) = found["WISH-PART"]
    assert over.springs == ("s5",)
    assert wish.springs == ("s5", "s2")
    assert wish.lines == over.lines
    assert wish.severity == over.severity == "wrong"
    assert "B2 and A2 is to blame for what is wrong with tie" in wish.message


def test_a_join_over_the_spring_between_is_told_as_what_it_does_to_both_ties():
    """C1 joined to A1 leads over B1, whose own tie must squeeze past and turn to its tack point."""
    joins = (Pairing(run="front-to-back", springs=("s7", "s1")),)
    plan = make_plan(wishing(joins=joins))
    ties = {line.springs: line.number for line in plan.parts.ties.lines}
    joined, alone = ties["s7", "s1"], ties["s4",]
    found = by_code(plan.findings)
    (over,) = found["TIE-OVER-SPRING"]
    assert (over.springs, over.lines, over.value, over.limit) == (("s4",), (joined,), 0, 46)
    (clash,) = found["TIE-CLASH"]
    assert set(clash.lines) == {joined, alone}
    assert clash.message.endswith(", front to back, cross or touch.")
    (wish,) = found["WISH-JOIN"]
    assert (wish.springs, wish.lines) == (("s7", "s1"), (joined,))
    assert {f.severity for f in (over, clash, wish)} == {"wrong"}


def test_a_tack_point_far_to_the_side_turns_its_tie_too_far():
    """From A2 at x 250, 130.5 mm before the nail line, to x 400: atan(150 / 130.5)."""
    (turn,) = told(wishing(anchors=(tack(400),)))["ANCHOR-TURN"]
    assert turn.value == pytest.approx(math.degrees(math.atan2(150, 108 + 22.5)))
    assert turn.limit == 25
    assert turn.severity == "wrong"
    assert turn.message == "Tie 1 turns by 49 degrees between A2 and the tack point."


def test_a_join_across_a_notch_leaves_the_opening():
    """The notch in the back is 120 mm wide, and the joined springs stand on either side of it."""
    rails = ("back", "right", "back", "left", "back", "right", "front", "left")
    corners = ((0, 0), (200, 0), (200, 200), (320, 200), (320, 0), (520, 0), (520, 500), (0, 500))
    deck = framed(grid_deck(), corners=corners, sides=tuple(Side(rail=r, bow=0) for r in rails))
    places = [(100, 100), (420, 100), (100, 260), (420, 260), (100, 400), (260, 400), (420, 400)]
    springs = tuple(
        with_(spring, x=x, y=y) for spring, (x, y) in zip(deck.springs, places, strict=False)
    )
    deck = tied(with_(deck, springs=springs), diagonals="none")
    assert "TIE-LEAVES" not in told(deck)
    joined = tied(deck, joins=(Pairing(run="side-to-side", springs=("s1", "s2")),))
    found = told(joined)
    (leaves,) = found["TIE-LEAVES"]
    assert leaves.severity == "wrong"
    assert leaves.value == pytest.approx(120, abs=0.5)
    assert leaves.springs == ("s1", "s2")
    assert leaves.message.endswith(
        "leaves the opening on the way and lies over the frame for 4 3/4 in."
    )
    assert found["WISH-JOIN"][0].lines == leaves.lines


def open_sided(side=0, **wishes):
    sides = list(grid_deck().frame.sides)
    sides[side] = with_(sides[side], rail="none")
    return framed(wishing(**wishes), sides=tuple(sides))


def test_a_tack_point_moved_onto_a_side_without_a_rail_is_left_out_and_counted_nowhere():
    bare, moved = make_plan(open_sided()), make_plan(open_sided(anchors=(tack(240),)))
    assert moved.parts.ties.lines == bare.parts.ties.lines
    assert moved.materials == bare.materials
    found = told(open_sided(anchors=(tack(240),)))
    (finding,) = found["WISH-ANCHOR"]
    assert finding.message.endswith(
        "moved by hand on the open back side is left out: there is no rail to take it."
    )
    assert found["ANCHOR-NONE"]


def test_a_tack_point_of_ties_that_are_switched_off_is_noted():
    (finding,) = told(wishing(anchors=(tack(240),), front_to_back=False))["WISH-IDLE"]
    assert finding.severity == "note"
    assert finding.message == (
        "The tack point moved by hand is not used: no tie runs front to back over A2."
    )


def test_joins_and_tack_points_of_diagonals_that_are_left_out_are_noted():
    corner = MovedAnchor(run="diagonal-rising", spring="s1", end="start", side=3, along=400)
    (finding,) = told(wishing(anchors=(corner,)))["WISH-IDLE"]
    assert finding.message.endswith("no tie runs from front left to back right over A1.")
    joins = tuple(
        Pairing(run="side-to-side", springs=pair) for pair in (("s1", "s2"), ("s4", "s5"))
    )
    (finding,) = told(wishing(joins=joins, side_to_side=False))["WISH-IDLE"]
    assert finding.message == (
        "2 joins made by hand are not used: no tie runs side to side over A1, A2, B1 and B2."
    )


def test_wishes_that_are_used_or_left_out_for_a_reason_are_no_idle_ones():
    joins = (Pairing(run="side-to-side", springs=("s1", "s7")),)
    parts = (Pairing(run="front-to-back", springs=("s5", "s2")),)
    assert "WISH-IDLE" not in told(wishing(anchors=(tack(240),), joins=joins, parts=parts))
