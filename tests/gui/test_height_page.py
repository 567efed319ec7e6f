"""The height as the user sets it: the stack, what follows, slope, crown, rails, springs to buy."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from spring_layout.deck import edits
from spring_layout.gui.panels.pages.height import HeightPage
from spring_layout.planning.height_stack import free_heights_to_buy, outcome_of
from tests.decks import grid_deck
from tests.drawing.reading import texts
from tests.gui.hands import Hands

INCH = 25.4


@pytest.fixture
def page(hands: Hands) -> HeightPage:
    """The page of the height, on nine springs tied to 115 mm, the floor not known."""
    hands.bench.settings.keep("follows", "finished_height")
    hands.window.height_page.fold.button.setChecked(False)
    QTest.mouseClick(hands.window.stages.buttons["height"], Qt.MouseButton.LeftButton)
    shown = hands.window.particulars.page
    assert isinstance(shown, HeightPage)
    return shown


def steps(hands: Hands) -> tuple[int, str]:
    stack = hands.bench.document.undo_stack
    return stack.count(), stack.undoText()


def measure(hands: Hands, page: HeightPage) -> None:
    """Webbing 9 in up, a 4 in cushion, tied to 5 in (common practice, no source)."""
    hands.type(page.fields["floor_to_webbing"], "9")
    hands.type(page.fields["cushion"], "4")
    hands.type(page.fields["tied_height"], "5")


@pytest.mark.parametrize("part", ["finished_height", "floor_to_webbing"])
def test_a_height_that_was_decided_can_be_left_open_again(
    hands: Hands, page: HeightPage, part: str
) -> None:
    page.follows.choose("cushion")
    before = hands.deck
    hands.type(page.fields[part], "16")
    assert getattr(hands.deck.seat, part) == pytest.approx(16 * INCH)
    hands.type(page.fields[part], " ")
    assert getattr(hands.deck.seat, part) is None
    assert page.fields[part].text() == ""
    hands.bench.document.undo_stack.undo()
    hands.bench.document.undo_stack.undo()
    assert hands.deck == before


# what follows ---------------------------------------------------------------------------------


def test_the_finished_height_follows_at_first(hands: Hands, page: HeightPage) -> None:
    assert not page.missing.isHidden()
    assert "Give the floor to the webbing" in page.missing.text()
    measure(hands, page)
    assert page.missing.isHidden()
    assert page.fields["finished_height"].text() == "18 in"
    assert not page.fields["finished_height"].isEnabled()
    assert hands.deck.seat.finished_height is None


def test_the_tied_height_follows_where_the_user_wants_so(hands: Hands, page: HeightPage) -> None:
    measure(hands, page)
    page.follows.choose("tied_height")
    assert hands.deck.seat.finished_height == pytest.approx(18 * INCH)
    assert not page.fields["tied_height"].isEnabled()
    hands.type(page.fields["finished_height"], "17 1/2")
    assert hands.deck.tying.tied_height == pytest.approx(4.5 * INCH)
    assert page.fields["tied_height"].text() == "4 1/2 in"
    assert steps(hands)[1] == "Finished height"
    hands.act("undo")
    assert hands.deck.tying.tied_height == pytest.approx(5 * INCH)
    assert page.fields["finished_height"].text() == "18 in"


@pytest.mark.parametrize(
    ("follows", "typed", "field"),
    [
        ("cushion", ("tied_height", "4"), "cushion"),
        ("over_springs", ("cushion", "3"), "over_springs"),
        ("floor_to_webbing", ("cushion", "3"), "floor_to_webbing"),
    ],
)
def test_any_part_can_follow_and_the_finished_height_stays(
    hands: Hands, page: HeightPage, follows: str, typed: tuple[str, str], field: str
) -> None:
    measure(hands, page)
    page.follows.choose(follows)
    before = getattr(hands.deck.seat, field)
    hands.type(page.fields[typed[0]], typed[1])
    assert getattr(hands.deck.seat, field) == pytest.approx(before + INCH)
    plan = hands.bench.planner.plan
    assert plan is not None
    assert plan.parts.heights.finished_height == pytest.approx(18 * INCH)


def test_what_follows_is_one_step_and_undone_with_it(hands: Hands, page: HeightPage) -> None:
    measure(hands, page)
    before = steps(hands)[0]
    page.follows.choose("cushion")
    pinned = hands.deck
    assert steps(hands) == (before + 1, "Let the cushion follow")
    hands.type(page.fields["tied_height"], "4 1/2")
    assert steps(hands)[0] == before + 2
    hands.act("undo")
    assert hands.deck == pinned


def test_a_stack_that_leaves_no_room_is_refused_with_the_reason(
    hands: Hands, page: HeightPage
) -> None:
    measure(hands, page)
    page.follows.choose("over_springs")
    before = hands.deck
    hands.type(page.fields["cushion"], "5")
    assert hands.deck == before
    assert "1 in too high" in hands.window.status.hint.text()
    assert page.fields["cushion"].property("refused") == "true"
    assert page.fields["cushion"].text() == "5"


def test_a_finished_height_that_was_typed_stays_and_another_part_follows(
    hands: Hands, page: HeightPage
) -> None:
    hands.type(page.fields["finished_height"], "18")
    assert "The tied height follows" in hands.window.status.hint.text()
    assert page.follower == "tied_height"
    hands.type(page.fields["cushion"], "4")
    hands.type(page.fields["floor_to_webbing"], "9")
    assert hands.deck.seat.finished_height == pytest.approx(18 * INCH)
    assert page.fields["finished_height"].text() == "18 in"
    assert page.fields["tied_height"].text() == "5 in"


def test_a_finished_height_that_gives_way_is_told(hands: Hands, page: HeightPage) -> None:
    measure(hands, page)
    page.follows.choose("tied_height")
    page.advice.use.click()
    assert hands.deck.seat.finished_height is None
    told = hands.window.status.hint.text()
    assert told.startswith("The finished height follows: ")
    assert told.endswith(" instead of 18 in.")


def test_the_picture_tells_the_figures_of_the_fields(hands: Hands, page: HeightPage) -> None:
    hands.type(page.fields["cushion"], "3 15/16")
    drawing = page.picture.drawing
    assert drawing is not None
    assert any("3 15/16 in" in told.words for told in texts(drawing))


def test_what_follows_is_remembered_for_the_next_deck(hands: Hands, page: HeightPage) -> None:
    measure(hands, page)
    page.follows.choose("tied_height")
    assert hands.bench.settings.text("follows") == "tied_height"
    hands.bench.document.replace(grid_deck(), None)
    assert page.follower == "tied_height"
    assert page.follows.currentText() == "the tied height"


def test_lengths_are_read_in_the_decks_units(hands: Hands, page: HeightPage) -> None:
    hands.act("millimetres")
    hands.type(page.fields["floor_to_webbing"], "230")
    assert hands.deck.seat.floor_to_webbing == pytest.approx(230)
    hands.type(page.fields["cushion"], "4 in")
    assert page.fields["cushion"].text() == "101.6 mm"


# the picture ----------------------------------------------------------------------------------


def test_the_picture_of_the_stack_is_live(hands: Hands, page: HeightPage) -> None:
    measure(hands, page)
    assert page.picture.drawing is not None
    assert "= 18 in" in [t.words for t in texts(page.picture.drawing)]
    hands.type(page.fields["cushion"], "3")
    assert "= 17 in" in [t.words for t in texts(page.picture.drawing)]
    assert "finished 17 in from the floor" in page.picture.accessibleDescription()


def test_a_picture_that_nobody_sees_waits(hands: Hands, page: HeightPage) -> None:
    hands.bench.choose_stage("springs")
    before = page.picture.drawing
    hands.bench.attempt("Cushion", lambda deck: edits.set_seat(deck, cushion=20.0))
    assert page.picture.drawing is before
    hands.bench.choose_stage("height")
    assert page.picture.drawing is not before


# slope, crown, rails --------------------------------------------------------------------------


def test_a_seat_that_falls_to_the_back_and_is_made_level_again(
    hands: Hands, page: HeightPage
) -> None:
    assert page.level.isHidden()
    hands.type(page.back, "4")
    assert hands.deck.tying.tied_height_back == pytest.approx(4 * INCH)
    assert page.facts["Springs stand at"].text() == "4 to 4 1/2 in"
    page.level.click()
    assert hands.deck.tying.tied_height_back is None
    assert page.back.text() == ""
    assert page.back.placeholderText() == "as in front"


def test_the_crown_raises_the_middle(hands: Hands, page: HeightPage) -> None:
    hands.type(page.crown, "1/2")
    assert hands.deck.tying.crown == pytest.approx(INCH / 2)
    assert page.facts["Springs stand at"].text() == "4 1/2 to 5 in"


def test_where_it_is_measured_and_how_the_cushion_sinks(hands: Hands, page: HeightPage) -> None:
    measure(hands, page)
    hands.type(page.crown, "1")
    page.measured.choose("middle")
    assert page.fields["finished_height"].text() == "19 in"
    hands.type(page.sink, "1/2")
    assert page.fields["finished_height"].text() == "18 1/2 in"


def test_rails_of_different_heights(hands: Hands, page: HeightPage) -> None:
    hands.type(page.rails.fields["back"], "4")
    assert hands.deck.frame.top_of(0) == pytest.approx(4 * INCH)
    assert hands.deck.frame.top_of(2) == 75
    assert page.rails.all.text() == ""
    assert page.rails.all.placeholderText() == "differ"
    hands.type(page.rails.all, "3")
    assert [hands.deck.frame.top_of(i) for i in range(4)] == pytest.approx([3 * INCH] * 4)
    assert steps(hands) == (2, "Height of the rails")


def test_a_rail_that_is_not_there_takes_no_height(hands: Hands, page: HeightPage) -> None:
    hands.bench.attempt("Open front", lambda deck: edits.set_rail(deck, 2, "none"))
    assert not page.rails.fields["front"].isEnabled()
    assert page.rails.fields["front"].placeholderText() == "no rail"


# springs to buy -------------------------------------------------------------------------------


def test_the_schools_free_heights_stand_with_their_sources(hands: Hands, page: HeightPage) -> None:
    told = [one.text() for one in page.advice.advice]
    advice = free_heights_to_buy(115.0, 75.0)
    for words, one in zip(told, advice, strict=True):
        assert words.startswith(hands.bench.length(one.usual))
    assert "tied down by a quarter" in told[0]
    assert "French" in told[1]
    assert "1 1/2 to 3 in" in told[2]
    assert page.advice.advice[0].toolTip() == advice[0].source


def test_what_comes_out_with_springs_at_hand(hands: Hands, page: HeightPage) -> None:
    measure(hands, page)
    before = hands.deck
    hands.type(page.advice.free, "7")
    assert hands.deck == before, "asking changes nothing"
    out = outcome_of(hands.deck, 7 * INCH)
    assert f"Tied to about {hands.bench.length(out.tied[1])}" in page.advice.outcome.text()
    assert out.finished is not None
    assert hands.bench.length(out.finished[1]) in page.advice.outcome.text()
    page.advice.use.click()
    assert hands.deck.tying.tied_height == pytest.approx(7 * INCH * 0.75)
    hands.act("undo")
    assert hands.deck == before


def test_tying_to_what_springs_give_lets_another_part_follow(
    hands: Hands, page: HeightPage
) -> None:
    measure(hands, page)
    page.follows.choose("tied_height")
    page.advice.use.click()
    assert page.follower == "finished_height"
    assert hands.deck.tying.tied_height == pytest.approx(152 * 0.75)


def test_a_spring_of_no_height_is_refused(hands: Hands, page: HeightPage) -> None:
    hands.type(page.advice.free, "-2")
    assert page.advice.free.property("refused") == "true"
    assert "some height" in page.advice.free.toolTip()


# who sits how ---------------------------------------------------------------------------------


def test_who_sits_how_is_folded_away_and_names_its_source(hands: Hands, page: HeightPage) -> None:
    measure(hands, page)
    assert page.sitters.isHidden()
    page.fold.button.click()
    assert page.fold.is_open
    assert not page.sitters.isHidden()
    assert "ANSUR II" in page.sitters.text()
    # 18 in is 457.2 mm: of men 1 - Phi((457.2 - 454.8) / 24.82), about 46 %; of women 3 %
    assert "46% of men and 3% of women" in page.sitters.text()


def test_without_a_finished_height_nobody_is_told_how_they_sit(
    hands: Hands, page: HeightPage
) -> None:
    assert "not known" in page.sitters.text()


# by keyboard and by ear -----------------------------------------------------------------------


def test_every_field_has_a_name_and_a_tooltip(page: HeightPage) -> None:
    fields = [*page.fields.values(), page.back, page.crown, page.sink, page.advice.free]
    for field in [*fields, *page.rails.fields.values(), page.rails.all]:
        assert field.accessibleName()
        assert field.toolTip()
    assert page.follows.toolTip()
    assert page.picture.accessibleName()


def test_british_words_where_the_deck_is_in_millimetres(hands: Hands, page: HeightPage) -> None:
    hands.act("millimetres")
    words = [page.follows.itemText(i) for i in range(page.follows.count())]
    assert "the floor to the web" in words


def test_a_check_of_the_height_is_counted_at_its_stage(hands: Hands, page: HeightPage) -> None:
    assert hands.window.stages.buttons["height"].accessibleName() == "Height, clear"
    hands.type(page.fields["tied_height"], "5 7/8")
    assert hands.window.stages.buttons["height"].accessibleName() == "Height, 1 check"
