"""Ties: read under the pointer, picked, tack points dragged, springs joined and parted, order."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from spring_layout.gui.selection import Picked, TieKey
from spring_layout.planning.parts import Line
from tests.gui.hands import Hands


@pytest.fixture
def tying(hands: Hands) -> Hands:
    """Hands in the stage of the ties, on nine springs tied eight ways."""
    hands.bench.choose_stage("ties")
    return hands


def tie(hands: Hands, run: str, spring: str) -> Line:
    """The tie of that run over that spring."""
    plan = hands.bench.planner.plan
    assert plan is not None
    return next(k for k in plan.parts.ties.lines if k.run == run and spring in k.springs)


def between(line: Line, i: int) -> tuple[float, float]:
    """A third of the way along a stretch of a tie, clear of springs and cross knots."""
    (x0, y0), (x1, y1) = line.path[i], line.path[i + 1]
    return x0 + 0.62 * (x1 - x0), y0 + 0.62 * (y1 - y0)


def test_pointing_at_a_tie_reads_it(tying: Hands) -> None:
    line = tie(tying, "front-to-back", "s5")
    tying.move(between(line, 1), held=False)
    told = tying.view.note.text()
    assert told.startswith(f"Tie {line.number}, front to back")
    assert "over C2, B2, A2" in told
    assert "cut " in told
    assert tying.view.deck_scene.hovered == TieKey("front-to-back", line.springs[0])


def test_pointing_at_a_cross_knot_reads_it(tying: Hands) -> None:
    plan = tying.bench.planner.plan
    assert plan is not None
    knot = next(c for c in plan.parts.ties.crossings if c.spring == "s5")
    tying.move(knot.place, held=False)
    assert "Cross knot" in tying.view.note.text()
    assert "over B2" in tying.view.note.text()
    assert f"made with {knot.tied_by}" in tying.view.note.text()


def test_a_click_picks_a_tie_and_its_page_tells_of_it(tying: Hands) -> None:
    line = tie(tying, "side-to-side", "s2")
    tying.click(between(line, 1))
    page = tying.window.particulars.tie_page
    assert tying.window.particulars.page is page
    assert page.title.text() == f"Tie {line.number}"
    assert page.facts["Over"].text() == "A1, A2, A3"
    assert "left" in page.facts["From"].text()


def test_the_picked_tie_is_picked_in_the_table_too(tying: Hands) -> None:
    tying.window.tabs.setCurrentWidget(tying.window.tie_table)
    line = tie(tying, "side-to-side", "s2")
    tying.click(between(line, 1))
    picked = tying.window.tie_table.selectionModel().selectedRows()
    assert [index.row() for index in picked] == [line.number - 1]
    tying.window.tie_table.selectRow(0)
    assert tying.bench.picked_line() == tying.bench.line(1)


def test_a_tack_point_is_dragged_along_its_rail(tying: Hands) -> None:
    line = tie(tying, "front-to-back", "s5")
    start = line.anchors[0]
    assert start is not None
    tying.drag([start, (start[0] + 5, start[1]), (start[0] + 12, start[1])])
    (moved,) = tying.deck.tying.anchors
    assert (moved.run, moved.end, moved.side) == ("front-to-back", "start", 2)
    now = tie(tying, "front-to-back", "s5").anchors[0]
    assert now is not None
    assert now[0] == pytest.approx(start[0] + 12, abs=0.6)


def test_a_moved_tack_point_is_put_back(tying: Hands) -> None:
    line = tie(tying, "front-to-back", "s5")
    start = line.anchors[0]
    assert start is not None
    tying.drag([start, (start[0] + 5, start[1]), (start[0] + 12, start[1])])
    page = tying.window.particulars.tie_page
    button = page.loose["start"]
    assert button.isVisible()
    assert not page.loose["finish"].isVisible()
    button.click()  # type: ignore[attr-defined]  # it is a button
    assert tying.deck.tying.anchors == ()
    assert tie(tying, "front-to-back", "s5").anchors[0] == start


def test_arrows_nudge_the_tack_points_of_the_picked_tie(tying: Hands) -> None:
    line = tie(tying, "front-to-back", "s5")
    tying.click(between(line, 1))
    tying.key(Qt.Key.Key_Right)
    start, finish = tie(tying, "front-to-back", "s5").anchors
    assert start is not None
    assert finish == line.anchors[1]
    assert start[0] - line.anchors[0][0] == pytest.approx(25.4 / 16, abs=0.01)  # type: ignore[index]  # it has one
    tying.key(Qt.Key.Key_Left, Qt.KeyboardModifier.ControlModifier)
    finish = tie(tying, "front-to-back", "s5").anchors[1]
    assert finish[0] - line.anchors[1][0] == pytest.approx(-25.4 / 16, abs=0.01)  # type: ignore[index]  # it has one


def test_a_held_arrow_moves_a_tack_point_in_one_step(tying: Hands) -> None:
    line = tie(tying, "front-to-back", "s5")
    tying.key(Qt.Key.Key_BracketRight)
    tying.bench.selection.pick(Picked(tie=TieKey(line.run, line.springs[0])))
    for _ in range(5):
        QTest.keyPress(tying.view, Qt.Key.Key_Right)
    assert tying.bench.document.undo_stack.count() == 0
    QTest.keyRelease(tying.view, Qt.Key.Key_Right)
    start = tie(tying, "front-to-back", "s5").anchors[0]
    assert start is not None
    assert line.anchors[0] is not None
    assert start[0] - line.anchors[0][0] == pytest.approx(5 * 25.4 / 16, abs=0.01)
    stack = tying.bench.document.undo_stack
    assert (stack.count(), stack.undoText()) == (1, "Move a tack point")


def test_escape_takes_a_held_arrow_back(tying: Hands) -> None:
    line, before = tie(tying, "front-to-back", "s5"), tying.deck
    tying.bench.selection.pick(Picked(tie=TieKey(line.run, line.springs[0])))
    QTest.keyPress(tying.view, Qt.Key.Key_Right)
    tying.key(Qt.Key.Key_Escape)
    QTest.keyRelease(tying.view, Qt.Key.Key_Right)
    assert tying.deck == before
    assert not tying.bench.document.is_previewing


def test_brackets_walk_in_the_order_of_tying(tying: Hands) -> None:
    tying.key(Qt.Key.Key_BracketRight)
    assert tying.bench.picked_line() == tying.bench.line(1)
    tying.key(Qt.Key.Key_BracketRight)
    assert tying.bench.picked_line() == tying.bench.line(2)


def test_a_click_on_a_stretch_parts_its_springs(tying: Hands) -> None:
    tying.tool("join")
    line = tie(tying, "side-to-side", "s2")
    tying.click(between(line, 1))
    (part,) = tying.deck.tying.parts
    assert (part.run, part.springs) == ("side-to-side", ("s1", "s2"))
    assert tying.bench.document.undo_stack.undoText() == "Part A1 and A2"
    assert "s1" not in tie(tying, "side-to-side", "s2").springs


def test_a_drag_from_spring_to_spring_joins_them(tying: Hands) -> None:
    tying.tool("join")
    line = tie(tying, "side-to-side", "s2")
    tying.click(between(line, 1))
    tying.press(tying.place_of("s1"))
    tying.move(tying.place_of("s2"))
    names = [tying.bench.label(name) for name in ("s1", "s2")]  # parting made them other rows
    assert tying.view.note.text() == f"Join {names[0]} and {names[1]}, side to side"
    tying.release(tying.place_of("s2"))
    assert tying.deck.tying.parts == ()
    assert [join.springs for join in tying.deck.tying.joins] == [("s1", "s2")]


def test_the_stretch_to_the_rail_is_not_parted(tying: Hands) -> None:
    tying.tool("join")
    line = tie(tying, "side-to-side", "s2")
    (x0, y0), (x1, y1) = line.path[0], line.path[1]
    tying.click((x0 + 0.3 * (x1 - x0), y0 + 0.3 * (y1 - y0)))
    assert tying.deck.tying.parts == ()
    assert "leads to the rail" in tying.window.status.hint.text()


def test_two_picked_springs_are_joined_and_parted_by_buttons(tying: Hands) -> None:
    tying.bench.selection.pick_springs(["s1", "s5"])
    page = tying.window.particulars.spring_page
    assert page.run.currentData() == "diagonal-falling"
    page.part.click()
    assert [part.run for part in tying.deck.tying.parts] == ["diagonal-falling"]
    page.clear.click()
    assert tying.deck.tying.parts == ()


def test_a_run_is_switched_off_and_on(tying: Hands) -> None:
    page = tying.window.particulars.ties_page
    page.side.click()
    plan = tying.bench.planner.plan
    assert plan is not None
    assert {line.run for line in plan.parts.ties.lines} == {
        "front-to-back",
        "diagonal-rising",
        "diagonal-falling",
    }
    page.side.click()
    assert tying.deck.tying.side_to_side


def test_the_short_corner_ties_come_with_all_diagonals(tying: Hands) -> None:
    page = tying.window.particulars.ties_page
    assert page.facts["Pieces"].text() == "12"  # the square nine-spring deck, common practice
    page.diagonals.choose("all")
    assert page.facts["Pieces"].text() == "16"


def test_the_slider_walks_through_the_tying_order(tying: Hands) -> None:
    steps = tying.window.particulars.ties_page.steps
    steps.slider.setValue(3)
    scene = tying.view.deck_scene
    assert scene.step == 3
    pens = {t.line.number: t.spans[0].pen() for t in scene.ties.ties.values()}
    waiting = scene.ties._pens.ties_waiting
    assert [number for number, pen in sorted(pens.items()) if pen != waiting] == [1, 2, 3]
    assert pens[3].widthF() > pens[2].widthF()
    assert steps.words.text().startswith("3 of 12: front to back")
    steps.on.click()
    assert scene.step == 4
    steps.slider.setValue(0)
    assert scene.step is None


def test_ties_follow_a_spring_while_it_is_dragged(hands: Hands) -> None:
    start = hands.place_of("s5")
    hands.press(start)
    hands.move((start[0] + 25, start[1] + 25), Qt.KeyboardModifier.AltModifier)
    line = hands.view.deck_scene.ties.ties[("front-to-back", ("s8", "s5", "s2"))]
    assert line.drawn[2] == pytest.approx((start[0] + 25, start[1] + 25), abs=0.01)
    hands.key(Qt.Key.Key_Escape)
    line = hands.view.deck_scene.ties.ties[("front-to-back", ("s8", "s5", "s2"))]
    assert line.drawn[2] == pytest.approx(start)
