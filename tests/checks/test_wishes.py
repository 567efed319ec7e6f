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
    assert "moved by hand on the back rail breaks a rule" in found["WISH-ANCHOR"][0].message


def test_a_tack_point_moved_beside_another_is_told():
    beside = (tack(250), tack(262, spring="s3"))
    found = told(wishing(anchors=beside))
    assert found["ANCHOR-CLOSE"][0].severity == "doubtful"
    assert found["ANCHOR-CLOSE"][0].value < 20


def test_a_tack_point_moved_a_little_breaks_nothing():
    assert not {"WISH-ANCHOR", "ANCHOR-CLOSE", "ANCHOR-CORNER"} & set(
        told(wishing(anchors=(tack(240),)))
    )


def test_a_join_that_bends_sharply_is_told():
    found = told(wishing(joins=(Pairing(run="front-to-back", springs=("s8", "s4")),)))
    assert {"WISH-JOIN"} & set(found)
    assert all(finding.severity == "wrong" for finding in found["WISH-JOIN"])


def test_a_join_against_the_run_cannot_be_kept():
    found = told(wishing(joins=(Pairing(run="side-to-side", springs=("s1", "s7")),)))
    assert found["WISH-JOIN"][0].springs == ("s1", "s7")


def test_a_parting_leaves_two_ties_and_is_told_only_where_it_breaks_a_rule():
    deck = wishing(parts=(Pairing(run="front-to-back", springs=("s5", "s2")),))
    plan = make_plan(deck)
    runs = [line for line in plan.parts.ties.lines if line.run == "front-to-back"]
    assert not any({"s5", "s2"} <= set(line.springs) for line in runs)
    told_wrong = any(finding.severity == "wrong" for finding in plan.findings)
    assert told_wrong == bool(plan.parts.ties.breaks)
