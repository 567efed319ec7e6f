"""The twine as the user sets it, their own ten knots, and what a picked tie takes."""

import pytest

from spring_layout.deck import edits
from spring_layout.gui.panels.pages.twine import TieCount, TwineSettings
from spring_layout.gui.selection import Picked, TieKey
from spring_layout.planning.cutting import hanks_cut
from spring_layout.planning.twine_geometry import hitch_twine, wrapped
from tests.gui.hands import Hands

INCH = 25.4


@pytest.fixture
def twine(hands: Hands) -> TwineSettings:
    """The twine's rows on the page of the ties."""
    hands.bench.choose_stage("ties")
    return hands.window.particulars.ties_page.twine


@pytest.fixture
def count(hands: Hands, twine: TwineSettings) -> TieCount:
    """What the first tie takes."""
    plan = hands.bench.planner.plan
    assert plan is not None
    line = plan.parts.ties.lines[0]
    hands.bench.selection.pick(Picked(tie=TieKey(line.run, line.springs[0])))
    return hands.window.particulars.tie_page.count


def test_ten_of_the_users_own_hitches_replace_the_model(hands: Hands, twine: TwineSettings) -> None:
    wire = hands.deck.coils[0].wire
    assert hitch_twine(hands.deck.twine, wire) == wrapped("clove", wire, 3.0)
    assert twine.by_model.isHidden()
    hands.type(twine.ten_hitches, "24")
    hands.type(twine.ten_knots, "10")
    assert hitch_twine(hands.deck.twine, wire) == pytest.approx(2.4 * INCH)
    assert "A hitch now counts 2 3/8 in" in twine.each.text()
    assert "one other 1 in" in twine.each.text()
    twine.by_model.click()
    assert hands.deck.twine.ten_hitches is None
    assert hands.deck.twine.ten_cross_knots is None
    assert hands.bench.document.undo_stack.undoText() == "Count by the model"


def test_every_setting_of_the_twine_is_one_step(hands: Hands, twine: TwineSettings) -> None:
    before = hands.deck
    hands.type(twine.diameter, "4 mm")
    twine.hitch.choose("overhand")
    twine.cross.choose("clove")
    twine.returns.click()
    hands.type(twine.fold, "2")
    hands.type(twine.wraps, "3")
    hands.type(twine.allowance, "4")
    hands.type(twine.step, "1")
    hands.type(twine.hank, "50 ft")
    twine.rule.choose("doubled-4")
    made = hands.deck.twine
    assert (made.diameter, made.hitch, made.cross_knot) == (4, "overhand", "clove")
    assert (made.return_tie, made.tail_wraps, made.rule) == (False, 3, "doubled-4")
    lengths = (made.fold_back, made.allowance, made.step, made.hank)
    assert lengths == pytest.approx((2 * INCH, 4 * INCH, INCH, 600 * INCH))
    assert hands.bench.document.undo_stack.count() == 10
    for _ in range(10):
        hands.act("undo")
    assert hands.deck == before


def test_the_picked_tie_tells_what_its_twine_is_made_up_of(hands: Hands, count: TieCount) -> None:
    plan = hands.bench.planner.plan
    assert plan is not None
    counted, row = plan.parts.counts[0], plan.parts.twine.lines[0]
    length = hands.bench.length
    assert count.facts["way"].text() == length(counted.way)
    assert count.facts["hitches"].text() == length(counted.hitches)
    assert count.total.text() == length(counted.total)
    assert count.rule.text() == length(row.rule_length)
    assert count.short.isHidden()


def test_a_rule_of_thumb_that_is_too_short_says_by_how_much(hands: Hands, count: TieCount) -> None:
    hands.bench.choose_stage("ties")
    hands.window.particulars.ties_page.twine.rule.choose("single-1.67")
    assert not count.short.isHidden()
    assert count.short.text().startswith("The rule of thumb would leave this tie ")


def test_a_length_that_cannot_be_is_refused(hands: Hands, twine: TwineSettings) -> None:
    hands.type(twine.ten_hitches, "0")
    assert twine.ten_hitches.property("refused") == "true"
    assert hands.deck.twine.ten_hitches is None


def test_every_field_has_a_name_and_a_tooltip(twine: TwineSettings) -> None:
    lengths = [twine.diameter, twine.fold, twine.allowance, twine.step, twine.hank]
    for field in [*lengths, twine.ten_hitches, twine.ten_knots, twine.wraps]:
        assert field.accessibleName()
        assert field.toolTip()


def test_wire_knots_are_turned_clear_of_ties_in_one_step(hands: Hands) -> None:
    hands.bench.choose_stage("ties")
    knots = hands.window.particulars.ties_page.knots
    hands.bench.attempt("Turn", lambda deck: edits.turn_springs(deck, ["s1", "s5"], 0.0))
    assert knots.under.text() != "none"
    before = hands.deck
    knots.turn.click()
    assert knots.under.text() == "none"
    assert not knots.turn.isEnabled()
    assert hands.bench.document.undo_stack.undoText() == "Turn the wire knots clear"
    hands.act("undo")
    assert hands.deck == before


def test_pieces_are_shared_out_over_hanks(hands: Hands, twine: TwineSettings) -> None:
    assert not twine.share.isEnabled()
    hands.type(twine.hank, "30 ft")
    assert twine.shared.isHidden()
    twine.share.click()
    plan = hands.bench.planner.plan
    assert plan is not None
    cutting = hanks_cut(plan.deck, plan.parts.twine)
    assert cutting is not None
    assert twine.shared.text().count("hank ") == len(cutting.hanks)
    hands.type(twine.allowance, "8")
    assert twine.shared.isHidden(), "other pieces have to be shared out anew"
