"""What the checks say of joins, partings and tack points that the user sets against a rule."""

from spring_layout.deck.model import MovedAnchor, Pairing
from spring_layout.plan import make_plan
from tests.checks.made import told, with_
from tests.decks import grid_deck


def wishing(**wishes):
    deck = grid_deck()
    return with_(deck, tying=with_(deck.tying, **wishes))


def tack(along, spring="s2", side=0, end="finish"):
    return MovedAnchor(run="front-to-back", spring=spring, end=end, side=side, along=along)


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


def test_a_parting_leaves_two_ties_and_is_told_only_where_it_breaks_a_rule():
    deck = wishing(parts=(Pairing(run="front-to-back", springs=("s5", "s2")),))
    plan = make_plan(deck)
    runs = [line for line in plan.parts.ties.lines if line.run == "front-to-back"]
    assert not any({"s5", "s2"} <= set(line.springs) for line in runs)
    told_wrong = any(finding.severity == "wrong" for finding in plan.findings)
    assert told_wrong == bool(plan.parts.ties.breaks)
